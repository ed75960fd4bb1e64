//! Brackets where a sleeve covers the bar.

use crate::check::words::like;
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::Size;
use crate::reckon::hang::{Chosen, sleeve};
use crate::record::{Finding, FindingKind, Support};

const KIND: FindingKind = FindingKind::warning("bracket-in-sleeve");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A bracket stands where the sleeve covers the bar. The sleeve is as long as the bar less 25 mm at \
          each end; a bracket in between needs a gap left in the sleeve.",
    bad: Example {
        piece: "hanging: {support: sleeve, bar: {material: aluminium, section: tube 25 x 2 mm, length: 160 cm}, brackets: [20 cm, 140 cm]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "hanging: {support: sleeve, bar: {material: aluminium, section: tube 25 x 2 mm, length: 160 cm}, brackets: [1 cm, 159 cm]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let Some(hanging) = &piece.hanging else {
        return;
    };
    let Some(length) = hanging.bar.as_ref().and_then(|b| b.length.as_ref()) else {
        return;
    };
    let width = Size::of(piece).width.value.mm();
    if Chosen::of(piece, width).support != Some(Support::Sleeve) {
        return;
    }
    let bar = length.value.value.mm();
    let bare = (bar - sleeve(width, Some(bar))) / 2.0;
    // What a tape may be off by does not put a bracket under the cloth.
    let covered = |mm: f64| mm > bare + 1.0 && mm < bar - bare - 1.0;
    let brackets = hanging.brackets.iter();
    for bracket in brackets.filter(|b| covered(b.value.value.mm())) {
        findings.push(
            KIND.at(
                &bracket.place,
                format!(
                    "the sleeve covers the bar where a bracket stands, at `{}`",
                    bracket.value.text
                ),
                format!(
                    "leave a gap in the sleeve there, or hold the bar within {} of its ends",
                    like(&bracket.value, bare)
                ),
            )
            .and(&length.place, "the bar's length"),
        );
    }
}
