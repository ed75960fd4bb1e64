//! The map of squares is named but not there.

use super::places::not_there;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("squares-map-missing");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "`makers.squares.map` names a file that does not lie in the piece's folder. Who made which \
          square could not be told from the archive.",
    bad: Example {
        piece: "makers: {squares: {rows: 1, columns: 1, map: square.csv}}",
        more: &[(
            "pieces/p/squares.csv",
            "row,column,maker\n1,1,Rufus Tallow\n",
        )],
        ..Example::PLAIN
    },
    good: Example {
        piece: "makers: {squares: {rows: 1, columns: 1, map: squares.csv}}",
        more: &[(
            "pieces/p/squares.csv",
            "row,column,maker\n1,1,Rufus Tallow\n",
        )],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let makers = subject.piece.makers.as_ref();
    let Some(map) = makers.and_then(|m| m.squares.as_ref()?.map.as_ref()) else {
        return;
    };
    if let Some(remedy) = not_there(
        subject,
        map,
        "put the map beside piece.yaml, or leave `map` out",
    ) {
        let message = format!("there is no `{}` in the piece's folder", map.value);
        findings.push(KIND.at(&map.place, message, remedy));
    }
}
