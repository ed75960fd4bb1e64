//! Squares in words, and what the checks of the map share.

use crate::check::Subject;
use crate::read::{nearest, same_name};
use crate::record::{At, Maker, Makers, Place, Squares};
use std::collections::BTreeMap;

/// Squares that are named one by one.
const MOST: usize = 24;

/// The makers, and the grid where its map was read.
pub(super) fn mapped<'a>(subject: &Subject<'a>) -> Option<(&'a Makers, &'a Squares)> {
    let makers = subject.piece.makers.as_ref()?;
    let squares = makers.squares.as_ref()?;
    (!squares.made.is_empty()).then_some((makers, squares))
}

/// "row 2: 4, 5; row 7: 1".
pub(super) fn said(squares: &[(u32, u32)]) -> String {
    let mut rows: BTreeMap<u32, Vec<String>> = BTreeMap::new();
    for (row, column) in squares.iter().take(MOST) {
        rows.entry(*row).or_default().push(column.to_string());
    }
    let all: Vec<String> = rows
        .iter()
        .map(|(row, columns)| format!("row {row}: {}", columns.join(", ")))
        .collect();
    let more = squares.len().saturating_sub(MOST);
    let more = if more > 0 {
        format!("; and {more} more")
    } else {
        String::new()
    };
    format!("{}{more}", all.join("; "))
}

/// "1 square", "12 squares".
pub(super) fn count(n: usize, one: &str) -> String {
    format!("{n} {one}{}", if n == 1 { "" } else { "s" })
}

/// What to do about a file that does not lie in the piece's folder; nothing where it does.
pub(super) fn not_there(subject: &Subject, file: &At<String>, otherwise: &str) -> Option<String> {
    let files = || subject.files.iter().map(String::as_str);
    if same_name(files(), file).is_some() {
        return None;
    }
    let low = file.to_lowercase();
    let near = files()
        .find(|other| other.to_lowercase() == low)
        .or_else(|| nearest(file, files()));
    Some(match near {
        Some(near) => format!("did you mean `{}`?", near.escape_debug()),
        None => otherwise.to_string(),
    })
}

/// Where a finding about the consent of some is shown, and what is added to its message. A line of a table would show a
/// name beside what was said about it, so that it is the roll's file that is shown, and the lines are numbers.
pub(super) fn of_consent<'a>(makers: &'a Makers, of: &[&'a Maker]) -> Option<(&'a Place, String)> {
    let first = of.first()?;
    let at = |m: &'a Maker| m.consent.as_ref().map_or(&m.name.place, |c| &c.place);
    let Some(file) = &makers.roll_file else {
        return Some((at(first), String::new()));
    };
    let lines: Vec<String> = of
        .iter()
        .filter(|m| m.name.place.file != makers.place.file)
        .map(|m| at(m).line.to_string())
        .collect();
    if lines.len() < of.len() {
        return Some((at(first), String::new()));
    }
    let more = if lines.len() > MOST { ", …" } else { "" };
    let lines: Vec<String> = lines.into_iter().take(MOST).collect();
    let word = if lines.len() == 1 { "line" } else { "lines" };
    let said = format!(" (`{}`, {word} {}{more})", file.value, lines.join(", "));
    Some((&file.place, said))
}
