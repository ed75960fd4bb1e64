//! Moving pictures among the photographs.

use super::listed::seen;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("photo-moving");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A listed photograph is a moving picture: several pictures in one file. A paper shows the first \
          of them, which may not be the one that is meant.",
    bad: Example {
        photos: &[("front.webp", Seen::Moving)],
        piece: "photos: [{file: front.webp, view: front, alt: A blue door.}]",
        ..Example::PLAIN
    },
    good: Example {
        photos: &[("front.webp", Seen::Upright(4980, 3642))],
        piece: "photos: [{file: front.webp, view: front, alt: A blue door.}]",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for (photo, _) in seen(subject).filter(|(_, sight)| sight.moving) {
        findings.push(KIND.at(
            &photo.file.place,
            format!(
                "`{}` is a moving picture; papers show its first picture",
                photo.file.value
            ),
            "export the picture that is meant as a TIFF or JPEG, and list that",
        ));
    }
}
