//! A tube thinner than the cloth should be bent on.

use crate::check::words::like;
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::Roll;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("tube-too-thin");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "`packing.tube` is thinner than is advised for the piece: 100 mm for cloth up to 3 mm, 150 mm for thicker cloth, \
        200 mm for a lined, embroidered or heavy one. These steps are our own rule; a tight bend stretches the outer face \
        and leaves creases in a lining.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, thickness: 4 mm}\npacking: {tube: 75 mm}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, thickness: 4 mm}\npacking: {tube: 150 mm}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let packing = subject.piece.packing.as_ref();
    let Some(tube) = packing.and_then(|p| p.tube.as_ref()) else {
        return;
    };
    let Some(advised) = Roll::of_piece(subject.piece).tube.advised else {
        return;
    };
    if tube.value.value.mm() >= advised.tube.mm() {
        return;
    }
    findings.push(KIND.at(
        &tube.place,
        format!(
            "a tube of `{}` is thin for this piece: {}",
            tube.text, advised.why
        ),
        format!(
            "roll it on a tube of {} or more, or pad the tube with soft batting up to that",
            like(tube, advised.tube.mm())
        ),
    ));
}
