//! Photographs whose colours could not be taken as they are meant.

use super::listed::seen;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("photo-colour");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The colours of a photograph could not be taken as they are meant, so its plate and the \
          colour ladder may be off. Mostly the photograph does not say its colour space.",
    bad: Example {
        photos: &[(
            "front.jpg",
            Seen::Colour("its colour profile can not be read, so it is taken as sRGB"),
        )],
        ..Example::PLAIN
    },
    good: Example {
        photos: &[("front.jpg", Seen::Upright(4980, 3642))],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for (photo, sight) in seen(subject) {
        if let Some(remark) = &sight.colour {
            findings.push(KIND.at(
                &photo.file.place,
                format!("`{}`: {remark}", photo.file.value),
                "export it again with its colour profile embedded, sRGB for choice, and compare the plate with the piece in daylight",
            ));
        }
    }
}
