//! A centre of mass beside the piece.

use crate::check::words::like;
use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::Reading;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("centre-outside");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The centre of mass lies at or beyond the edge of the piece, where it can not be. It is measured \
          from the middle of the width; nothing is reckoned of the bar until it lies within.",
    bad: Example {
        piece: "hanging: {centre_of_mass: 84 cm right, bar: {material: pine, section: 18 x 70 mm, length: 160 cm}}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "hanging: {centre_of_mass: 1 cm right, bar: {material: pine, section: 18 x 70 mm, length: 160 cm}}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let centre = piece
        .hanging
        .as_ref()
        .and_then(|h| h.centre_of_mass.as_ref());
    let Some(centre) = centre else {
        return;
    };
    let widths = piece.measured.width.iter();
    let Some(width) = widths.max_by(|a, b| a.value.value.mm().total_cmp(&b.value.value.mm()))
    else {
        return;
    };
    let half = width.value.value.mm() / 2.0;
    if centre.value.by.mm().abs() < half {
        return;
    }
    let reading: &Reading<_> = &width.value;
    findings.push(
        KIND.at(
            &centre.place,
            format!("a centre of mass `{}` of the middle lies beside the piece, whose edge is {} from there", centre.value.text, like(reading, half)),
            "write how far it lies from the middle of the width: hang the piece or its bar on one string until it hangs level, and measure from the string to the middle",
        )
        .and(&width.place, "the width"),
    );
}
