//! Front photographs in uneven light.

use super::listed::seen;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("light-uneven");

/// Own rule: light that differs by more than 35 % of its mean across the picture, half a stop from its
/// darkest to its brightest end: 1.175 / 0.825 = 1.42, and 2^½ = 1.41.
const UNEVEN: f64 = 0.35;

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The light falls off across the front photograph by more than half a stop, as the wall around the \
          piece shows: the wall's brightness differs by over 35 % of its mean. The same yarn then has two \
          colours on the plate and in the colour ladder. Seen only where `corners` are given and plain wall \
          shows on more than one side.",
    bad: Example {
        photos: &[
            ("front.jpg", Seen::Uneven(0.58)),
            ("back.jpg", Seen::Uneven(0.1)),
        ],
        ..Example::PLAIN
    },
    good: Example {
        photos: &[
            ("front.jpg", Seen::Uneven(0.12)),
            ("back.jpg", Seen::Uneven(0.1)),
        ],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for (photo, sight) in seen(subject) {
        let uneven = sight.looks.and_then(|looks| looks.uneven);
        let Some(uneven) = uneven.filter(|share| *share > UNEVEN) else {
            continue;
        };
        findings.push(KIND.at(
            &photo.file.place,
            format!(
                "the light in `{}` is uneven: across the wall it differs by {:.0} % of its mean",
                photo.file.value,
                uneven * 100.0
            ),
            "light it from both sides alike, or from one large window far away, and photograph it again",
        ));
    }
}
