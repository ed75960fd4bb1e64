//! Squares that the map says nothing of.

use super::places::{mapped, said};
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::community::missing;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("squares-without-maker");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The wall has squares that no line of the map names. Who made them is lost with the people who remember it.",
    bad: Example {
        piece: "makers: {roll: [{name: Ada Quill, age: adult, consent: yes}, {name: Rufus Tallow, age: adult, consent: yes}], squares: {rows: 1, columns: 2, map: squares.csv}}",
        more: &[("pieces/p/squares.csv", "row,column,maker\n1,1,Ada Quill\n")],
        ..Example::PLAIN
    },
    good: Example {
        piece: "makers: {roll: [{name: Ada Quill, age: adult, consent: yes}, {name: Rufus Tallow, age: adult, consent: yes}], squares: {rows: 1, columns: 2, map: squares.csv}}",
        more: &[(
            "pieces/p/squares.csv",
            "row,column,maker\n1,1,Ada Quill\n1,2,Rufus Tallow\n",
        )],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some((_, squares)) = mapped(subject) else {
        return;
    };
    // More squares than anybody sews together are a slip that others find.
    let Some(all) = squares.count() else {
        return;
    };
    let missing = missing(squares);
    let (Some(map), false) = (&squares.map, missing.is_empty()) else {
        return;
    };
    findings.push(KIND.at(
        &map.place,
        format!(
            "of {all} squares {} no maker on the map: {}",
            if missing.len() == 1 {
                "1 has".to_string()
            } else {
                format!("{} have", missing.len())
            },
            said(&missing)
        ),
        "add their lines to the map while somebody still knows",
    ));
}
