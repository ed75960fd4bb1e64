//! Listed photographs of a kind that is archived but not read.

use super::listed::seen;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind, Trouble};

const KIND: FindingKind = FindingKind::warning("photo-not-read");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A listed photograph is of a kind that is not read here (HEIC, AVIF, a camera's raw file). \
          It is archived untouched, but no paper can show it.",
    bad: Example {
        piece: "photos: [{file: front.heic, view: front, alt: Bands of green}]",
        photos: &[("front.heic", Seen::NotReadHere("HEIC"))],
        ..Example::PLAIN
    },
    good: Example {
        piece: "photos: [{file: front.tif, view: front, alt: Bands of green}]",
        photos: &[
            ("front.heic", Seen::NotReadHere("HEIC")),
            ("front.tif", Seen::Upright(4980, 3642)),
        ],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for (photo, sight) in seen(subject) {
        let Some(Trouble::NotReadHere(what)) = &sight.trouble else {
            continue;
        };
        let file = &photo.file.value;
        let stem = |name: &str| {
            name.rsplit_once('.')
                .map_or(name, |(s, _)| s)
                .to_lowercase()
        };
        let beside = subject
            .sights
            .iter()
            .find(|(name, sight)| sight.size.is_some() && stem(name) == stem(file));
        let remedy = match beside {
            Some((name, _)) => format!("list `{}`, which lies beside it", name.escape_debug()),
            None => "export a TIFF or JPEG beside it and list that; leave this one where it is"
                .to_string(),
        };
        findings.push(KIND.at(
            &photo.file.place,
            format!("`{file}` ({what}) is archived as it is, but no paper can show it"),
            remedy,
        ));
    }
}
