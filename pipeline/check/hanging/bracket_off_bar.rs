//! Brackets beside the bar.

use crate::check::words::like;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("bracket-off-bar");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A bracket stands farther from the bar's left end than the bar is long. Brackets are measured \
          from the left end of the bar, seen from the front; nothing is reckoned of the bar until they lie on it.",
    bad: Example {
        piece: "hanging: {bar: {material: pine, section: 18 x 70 mm, length: 160 cm}, brackets: [20 cm, 165 cm]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "hanging: {bar: {material: pine, section: 18 x 70 mm, length: 160 cm}, brackets: [20 cm, 140 cm]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let hanging = subject.piece.hanging.as_ref();
    let bar = hanging.and_then(|h| h.bar.as_ref());
    let (Some(hanging), Some(length)) = (hanging, bar.and_then(|b| b.length.as_ref())) else {
        return;
    };
    for bracket in &hanging.brackets {
        if bracket.value.value.mm() > length.value.value.mm() {
            findings.push(
                KIND.at(
                    &bracket.place,
                    format!(
                        "a bracket at `{}` lies beside the bar, which ends at {}",
                        bracket.value.text,
                        like(&bracket.value, length.value.value.mm())
                    ),
                    "write how far it stands from the bar's left end, or look at the bar's length",
                )
                .and(&length.place, "the bar's length"),
            );
        }
    }
}
