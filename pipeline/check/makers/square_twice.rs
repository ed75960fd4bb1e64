//! A square that stands on the map more than once.

use super::places::{count, mapped, said};
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind, Square};
use std::collections::BTreeMap;

const KIND: FindingKind = FindingKind::warning("square-twice");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A square has more than one line on the map: it was written twice, or two people are said to have made it. Where two did make it together, write both names in one cell with ` + ` between them.",
    bad: Example {
        piece: "makers: {roll: [{name: Ada Quill, age: adult, consent: yes}, {name: Rufus Tallow, age: adult, consent: yes}], squares: {rows: 1, columns: 2, map: squares.csv}}",
        more: &[(
            "pieces/p/squares.csv",
            "row,column,maker\n1,1,Ada Quill\n1,1,Rufus Tallow\n1,2,Rufus Tallow\n",
        )],
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
    let mut seen: BTreeMap<(u32, u32), &Square> = BTreeMap::new();
    let (mut same, mut other) = (Vec::new(), Vec::new());
    for square in &squares.made {
        let at = (square.row, square.column);
        let Some(first) = seen.get(&at) else {
            seen.insert(at, square);
            continue;
        };
        let names = |s: &Square| s.makers.iter().map(|m| m.value.clone()).collect::<Vec<_>>();
        let list = if names(first) == names(square) {
            &mut same
        } else {
            &mut other
        };
        list.push((at, *first, square));
    }
    let remedies = [
        (
            same,
            "stand twice on the map with the same maker",
            "take one of the two lines out",
        ),
        (
            other,
            "have two makers on the map",
            "take out the line that is wrong; where two made it together, write both in one cell: `Ada Quill + Rufus Tallow`",
        ),
    ];
    for (list, what, remedy) in remedies {
        let Some((_, first, again)) = list.first() else {
            continue;
        };
        let places: Vec<(u32, u32)> = list.iter().map(|l| l.0).collect();
        let message = format!(
            "{} {what}: {}",
            count(places.len(), "square"),
            said(&places)
        );
        findings.push(
            KIND.at(&again.place, message, remedy)
                .and(&first.place, "its first line"),
        );
    }
}
