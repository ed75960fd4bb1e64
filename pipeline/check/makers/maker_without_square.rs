//! People on the roll who have no square on the map.

use super::places::mapped;
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::community::folded;
use crate::record::{Finding, FindingKind, Maker};
use std::collections::BTreeSet;

const KIND: FindingKind = FindingKind::note("maker-without-square");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Somebody on the roll has no square on the map. That is right for helpers who wove none; else a line of the map is missing or names somebody in their place.",
    bad: Example {
        piece: "makers: {roll: [{name: Ada Quill, age: adult, consent: yes}, {name: Rufus Tallow, age: adult, consent: yes}], squares: {rows: 1, columns: 2, map: squares.csv}}",
        more: &[(
            "pieces/p/squares.csv",
            "row,column,maker\n1,1,Ada Quill\n1,2,Ada Quill\n",
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
    let Some((makers, squares)) = mapped(subject) else {
        return;
    };
    let made: BTreeSet<String> = squares
        .made
        .iter()
        .flat_map(|s| &s.makers)
        .map(|m| folded(m))
        .collect();
    let without: Vec<&Maker> = makers
        .roll
        .iter()
        .filter(|m| !made.contains(&folded(&m.name)))
        .collect();
    let Some(first) = without.first() else {
        return;
    };
    let lines: Vec<String> = without
        .iter()
        .take(MOST)
        .map(|m| m.name.place.line.to_string())
        .collect();
    let more = if without.len() > MOST { ", …" } else { "" };
    let (has, line) = if without.len() == 1 {
        ("has", "line")
    } else {
        ("have", "lines")
    };
    findings.push(KIND.at(
        &first.name.place,
        format!(
            "of {} people on the roll {} {has} no square on the map: {line} {}{more}",
            makers.roll.len(),
            without.len(),
            lines.join(", ")
        ),
        "leave it so for those who helped without a square of their own; else mend the map",
    ));
}

/// Lines that are told one by one.
const MOST: usize = 12;
