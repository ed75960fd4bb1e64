//! A bar on one bracket.

use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("one-bracket");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "All brackets stand at one place, so the bar would tip like a balance as soon as the piece is \
          hung a little aside. Two at least are wanted.",
    bad: Example {
        piece: "hanging: {bar: {material: pine, section: 18 x 70 mm, length: 160 cm}, brackets: 80 cm}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "hanging: {bar: {material: pine, section: 18 x 70 mm, length: 160 cm}, brackets: [36 cm, 124 cm]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let brackets = subject.piece.hanging.iter().flat_map(|h| &h.brackets);
    let mut brackets = brackets.map(|b| (b.value.value.mm(), b));
    let Some((at, first)) = brackets.next() else {
        return;
    };
    if brackets.all(|(other, _)| other == at) {
        findings.push(KIND.at(
            &first.place,
            format!("the bar is held at `{}` only", first.value.text),
            "write two brackets or more; 0.22 of the bar's length from each end is the best place for two",
        ));
    }
}
