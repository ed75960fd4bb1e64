//! Minors whose names will be printed.

use super::places::of_consent;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Age, Finding, FindingKind, Maker};

const KIND: FindingKind = FindingKind::note("minor-printed");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The names of minors on the roll will be printed, since `consent: yes` stands beside them. \
          Be sure that the yes is a parent's or guardian's, given in the way the law of the place \
          wants it, and that it covers print, web and archive.",
    bad: Example {
        piece: "makers: {roll: [{name: Peony F., age: minor, consent: yes}]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "makers: {roll: [{name: Peony F., age: minor, consent: no}]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some(makers) = &subject.piece.makers else {
        return;
    };
    let minor = |m: &&Maker| m.age.as_ref().is_some_and(|a| a.value == Age::Minor);
    let printed: Vec<&Maker> = makers
        .roll
        .iter()
        .filter(minor)
        .filter(|m| m.may_be_named())
        .collect();
    let (Some(first), Some((table, lines))) = (printed.first(), of_consent(makers, &printed))
    else {
        return;
    };
    let place = if lines.is_empty() {
        first.age.as_ref().map_or(&first.name.place, |a| &a.place)
    } else {
        table
    };
    let how_many = match printed.len() {
        1 => "the name of 1 minor".to_string(),
        n => format!("the names of {n} minors"),
    };
    findings.push(KIND.at(
        place,
        format!("{how_many} will be printed, by the consent on the roll{lines}"),
        "be sure that a parent or guardian gave it, in writing where the law wants that; a first name alone often serves",
    ));
}
