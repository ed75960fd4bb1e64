//! Corners that can not be those of the piece in its photograph.

use super::listed::seen;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("photo-corners");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The `corners` of a photograph can not be the corners of the piece in it: one lies outside \
          the picture, two are the same, or the four do not span a plain four-sided figure. The \
          photograph can not be squared up by them.",
    bad: Example {
        piece: "photos: [{file: front.jpg, view: front, alt: Bands, corners: [[112, 88], [58900, 130], [5850, 4302], [90, 4260]]}]",
        photos: &[(
            "front.jpg",
            Seen::Corners("the corner 58900, 130 lies outside the picture, which is 6000 × 4400"),
        )],
        ..Example::PLAIN
    },
    good: Example {
        piece: "photos: [{file: front.jpg, view: front, alt: Bands, corners: [[112, 88], [5890, 130], [5850, 4302], [90, 4260]]}]",
        photos: &[("front.jpg", Seen::Upright(6000, 4400))],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for (photo, sight) in seen(subject) {
        let (Some(corners), Some(wrong)) = (&photo.corners, &sight.corners) else {
            continue;
        };
        findings.push(KIND.at(
            &corners.place,
            format!("`corners` of `{}`: {wrong}", photo.file.value),
            "read the four corners again in an image viewer: pixels across and down from the top left of the upright photograph; or leave `corners` out",
        ));
    }
}
