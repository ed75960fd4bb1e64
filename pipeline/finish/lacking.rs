//! Where the characters stand that no letters of the papers have: file, line and field, so that the
//! weaver need not look for them.

use crate::check::while_setting;
use crate::read::{PieceFolder, Sources};
use crate::record::{Finding, Piece, Place};
use std::sync::Arc;

/// No more findings than this for one piece: a text in another script has them on every line.
const MOST: usize = 12;

/// A finding for each line that holds characters the papers could not print.
pub(super) fn findings(
    missing: &str,
    folder: &PieceFolder,
    piece: &Piece,
    sources: &Sources,
) -> Vec<Finding> {
    if missing.is_empty() {
        return Vec::new();
    }
    let files: [Arc<str>; 2] = [folder.file("piece.yaml"), "studio.yaml".into()];
    let mut found: Vec<Finding> = files
        .iter()
        .filter_map(|file| Some((file, sources.get(file)?)))
        .flat_map(|(file, text)| in_text(missing, file, text))
        .collect();
    if found.is_empty() {
        // Written in a way that a look at the lines does not show, as `\u6f6e`.
        found.push(finding(&piece.title.place, missing, None));
    }
    found.truncate(MOST);
    found
}

fn in_text(missing: &str, file: &Arc<str>, text: &str) -> Vec<Finding> {
    let lines: Vec<&str> = text.lines().map(without_remark).collect();
    let mut out = Vec::new();
    for (row, line) in lines.iter().enumerate() {
        let mut lacking = String::new();
        for c in line.chars().filter(|c| missing.contains(*c)) {
            if !lacking.contains(c) {
                lacking.push(c);
            }
        }
        let Some(first) = line.chars().position(|c| missing.contains(c)) else {
            continue;
        };
        let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let place = Place {
            file: file.clone(),
            line: number(row + 1),
            column: number(first + 1),
            length: 1,
        };
        out.push(finding(&place, &lacking, field(&lines, row, first)));
    }
    out
}

fn finding(place: &Place, lacking: &str, field: Option<&str>) -> Finding {
    let within = field.map_or(String::new(), |name| format!("`{name}`: "));
    while_setting::KIND.at(
        place,
        format!("{within}the papers' letters have no `{lacking}`; another sign stands for it there"),
        "write it with letters of the Latin, Greek or Cyrillic scripts, or give letters that have it \
         with `--fonts`",
    )
}

/// A line without the remark at its end.
fn without_remark(line: &str) -> &str {
    if line.trim_start().starts_with('#') {
        return "";
    }
    line.split_once(" #").map_or(line, |(before, _)| before)
}

/// The field that a character of a line belongs to: the last key before it, or, in a text of several
/// lines, the key that the text hangs from.
fn field<'a>(lines: &[&'a str], row: usize, column: usize) -> Option<&'a str> {
    let line = lines.get(row)?;
    let end = line
        .char_indices()
        .nth(column)
        .map_or(line.len(), |(i, _)| i);
    if let Some(name) = line.get(..end).and_then(last_key) {
        return Some(name);
    }
    let deep = |l: &str| l.len() - l.trim_start().len();
    let above = lines.get(..row)?.iter().rev();
    let head = above
        .filter(|l| !l.trim().is_empty())
        .find(|l| deep(l) < deep(line))?;
    last_key(head)
}

/// The last `key:` of a piece of a line.
fn last_key(text: &str) -> Option<&str> {
    let (before, _) = text
        .rsplit_once(": ")
        .or_else(|| text.trim_end().rsplit_once(':'))?;
    let start = before
        .rfind(|c: char| !(c.is_ascii_alphanumeric() || c == '_'))
        .map_or(0, |i| i + 1);
    before.get(start..).filter(|name| !name.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> Vec<(u32, u32, String)> {
        in_text("潮🌊", &"piece.yaml".into(), text)
            .into_iter()
            .map(|f| (f.place.line, f.place.column, f.message))
            .collect()
    }

    #[test]
    fn the_field_and_the_line_of_a_lacking_character_are_named() {
        let found =
            told("# 潮\ntitle: Tide 潮🌊 潮\nweft:\n  - {name: 潮 blue, count: NeW 2/8} # 潮\n");
        assert_eq!(found.len(), 2);
        assert_eq!((found[0].0, found[0].1), (2, 13));
        assert!(found[0].2.starts_with("`title`: "), "{}", found[0].2);
        assert!(found[0].2.contains("`潮🌊`"));
        assert_eq!(found[1].0, 4);
        assert!(found[1].2.starts_with("`name`: "), "{}", found[1].2);
    }

    #[test]
    fn a_text_of_several_lines_is_named_by_the_key_above_it() {
        let found = told("statement: |\n  One line.\n\n  And 潮 here.\n");
        assert_eq!(found[0].0, 4);
        assert!(found[0].2.starts_with("`statement`: "), "{}", found[0].2);
    }
}
