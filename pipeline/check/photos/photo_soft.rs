//! Photographs that are not sharp.

use super::listed::seen;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind, View};

const KIND: FindingKind = FindingKind::note("photo-soft");

/// Edges spread by more than so many pixels of the plate are soft. Own rule: from a tenth to nine tenths
/// such an edge is 2.56 × 1.6 = 4.1 pixels wide, 0.35 mm at 300 to the inch. Of 26 photographs of cloth every
/// one blurred by 3 pixels lies above it, and of those blurred by 1 pixel or left sharp none.
const SOFT: f64 = 1.6;

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A photograph of the cloth is not sharp: the camera moved, or it looked at something nearer or \
          farther. Measured is how far edges are spread, in pixels of the print plate; over 1.6 pixels the \
          softness is seen on paper. Much grain can hide it.",
    bad: Example {
        photos: &[
            ("front.jpg", Seen::Spread(2.7)),
            ("back.jpg", Seen::Spread(0.6)),
        ],
        ..Example::PLAIN
    },
    good: Example {
        photos: &[
            ("front.jpg", Seen::Spread(0.6)),
            ("back.jpg", Seen::Spread(0.6)),
        ],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// Views in which the cloth itself is to be seen sharp.
const CLOTH: &[View] = &[View::Front, View::Back, View::Detail, View::Signature];

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for (photo, sight) in seen(subject) {
        let spread = sight.looks.and_then(|looks| looks.spread);
        let Some(spread) = spread.filter(|s| *s > SOFT && CLOTH.contains(&photo.view.value)) else {
            continue;
        };
        findings.push(KIND.at(
            &photo.file.place,
            format!(
                "`{}` is not sharp: edges are spread by {spread:.1} pixels of the plate",
                photo.file.value
            ),
            "put the camera on a stand, focus on the cloth and let go with the self-timer",
        ));
    }
}
