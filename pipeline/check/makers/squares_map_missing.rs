//! The map of squares is named but not there.

use crate::check::{Check, Example, Rule, Subject};
use crate::read::{nearest, same_name};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("squares-map-missing");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "`makers.squares.map` names a file that does not lie in the piece's folder. Who made which \
          square could not be told from the archive.",
    bad: Example {
        piece: "makers: {squares: {rows: 8, columns: 12, map: square.csv}}",
        more: &[("pieces/p/squares.csv", "A1,Rufus Tallow\n")],
        ..Example::PLAIN
    },
    good: Example {
        piece: "makers: {squares: {rows: 8, columns: 12, map: squares.csv}}",
        more: &[("pieces/p/squares.csv", "A1,Rufus Tallow\n")],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let makers = subject.piece.makers.as_ref();
    let Some(map) = makers.and_then(|m| m.squares.as_ref()?.map.as_ref()) else {
        return;
    };
    let files = || subject.files.iter().map(String::as_str);
    if same_name(files(), map).is_some() {
        return;
    }
    let low = map.to_lowercase();
    let near = files()
        .find(|file| file.to_lowercase() == low)
        .or_else(|| nearest(map, files()));
    findings.push(KIND.at(
        &map.place,
        format!("there is no `{}` in the piece's folder", map.value),
        match near {
            Some(file) => format!("did you mean `{}`?", file.escape_debug()),
            None => "put the map beside piece.yaml, or leave `map` out".to_string(),
        },
    ));
}
