//! Listed photographs that are empty, cut short, damaged, too large, or no pictures.

use super::listed::seen;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind, Trouble};

const KIND: FindingKind = FindingKind::error("photo-unreadable");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A listed photograph can not be read: the file is empty, ends too early, is damaged, holds \
          more pixels than are read, or is not a picture whatever its name says. The papers would be \
          made without it, and a damaged original should not be archived unnoticed.",
    bad: Example {
        photos: &[("front.jpg", Seen::CutShort)],
        ..Example::PLAIN
    },
    good: Example {
        photos: &[("front.jpg", Seen::Upright(4980, 3642))],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

const AGAIN: &str =
    "copy it again from the camera or the card, and look at it before you put it here";

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for (photo, sight) in seen(subject) {
        let file = &photo.file.value;
        let (message, remedy) = match &sight.trouble {
            None | Some(Trouble::NotReadHere(_)) => continue,
            Some(Trouble::Empty) => (format!("`{file}` is empty"), AGAIN.to_string()),
            Some(Trouble::CutShort) => (format!("`{file}` ends too early"), AGAIN.to_string()),
            Some(Trouble::Damaged(why)) => {
                (format!("`{file}` is damaged: {why}"), AGAIN.to_string())
            }
            Some(Trouble::NotAPicture(what)) => (
                format!("`{file}` is not a picture; it looks like {what}"),
                "put the photograph itself here, or take the line out of `photos`".to_string(),
            ),
            Some(Trouble::TooLarge {
                width,
                height,
                most_megapixels,
            }) => (
                format!(
                    "`{file}` has {width} × {height} pixels; no more than {most_megapixels} megapixels are read"
                ),
                "export a smaller copy beside it and list that; the large one is archived as it is"
                    .to_string(),
            ),
        };
        findings.push(KIND.at(&photo.file.place, message, remedy));
    }
}
