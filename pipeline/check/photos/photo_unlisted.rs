//! Photographs that lie in the folder and are not listed.

use crate::check::words::listed;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::read::same_name;
use crate::record::{Finding, FindingKind, Place};

const KIND: FindingKind = FindingKind::warning("photo-unlisted");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A photograph lies in the folder `photos` and is not listed in piece.yaml. It is archived, \
          but no paper shows it. A camera's raw file beside a listed photograph of the same name \
          needs no listing.",
    bad: Example {
        piece: "photos: [{file: front.jpg, view: front, alt: Bands}]",
        photos: &[
            ("front.jpg", Seen::Upright(4980, 3642)),
            ("back.jpg", Seen::Upright(4980, 3642)),
        ],
        ..Example::PLAIN
    },
    good: Example {
        piece: "photos: [{file: front.jpg, view: front, alt: Bands}, {file: back.jpg, view: back, alt: Tails of yarn}]",
        photos: &[
            ("front.jpg", Seen::Upright(4980, 3642)),
            ("back.jpg", Seen::Upright(4980, 3642)),
        ],
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

/// Endings of names that photographs have.
const ENDINGS: &[&str] = &[
    "jpg", "jpeg", "jpe", "png", "tif", "tiff", "webp", "heic", "heif", "avif", "dng", "cr2",
    "cr3", "nef", "arw", "orf", "raf", "rw2", "pef", "srw", "gif", "bmp", "jxl",
];

/// So many are named one by one; more are one finding.
const ONE_BY_ONE: usize = 3;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let there: Vec<&str> = subject
        .files
        .iter()
        .filter_map(|file| file.strip_prefix("photos/"))
        .collect();
    let meant: Vec<&str> = subject
        .piece
        .photos
        .iter()
        .filter_map(|photo| same_name(there.iter().copied(), &photo.file))
        .collect();
    // A listed name that is not there may well be one of those that are: that has its own finding.
    if meant.len() < subject.piece.photos.len() {
        return;
    }
    let split = |file: &str| {
        let (stem, ending) = file.rsplit_once('.').unwrap_or((file, ""));
        (stem.to_lowercase(), ending.to_lowercase())
    };
    let unlisted: Vec<&str> = there
        .iter()
        .copied()
        .filter(|file| ENDINGS.contains(&split(file).1.as_str()))
        .filter(|file| !meant.contains(file))
        .filter(|file| !meant.iter().any(|m| split(m).0 == split(file).0))
        .collect();
    let photos = format!("pieces/{}/photos", subject.piece.slug);
    if unlisted.len() > ONE_BY_ONE {
        findings.push(KIND.at(
            &Place::file(&photos.into()),
            format!(
                "{} photographs are not listed in piece.yaml: {}",
                unlisted.len(),
                listed(&unlisted)
            ),
            "list those that papers shall show: `{file: …, view: detail, alt: …}`",
        ));
        return;
    }
    for file in unlisted {
        let shown = file.escape_debug().to_string();
        findings.push(KIND.at(
            &Place::file(&format!("{photos}/{shown}").into()),
            format!("`{shown}` is not listed in piece.yaml"),
            format!("if papers shall show it, add to `photos`: `{{file: {shown}, view: detail, alt: …}}`; else leave it, it is archived"),
        ));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn raw_files_beside_a_listed_one_and_other_papers_are_let_be() {
        let example = Example {
            photos: &[
                ("front.jpg", Seen::Upright(10, 10)),
                ("FRONT.DNG", Seen::NotReadHere("a camera's raw file")),
                ("order.txt", Seen::NotAPicture("text")),
            ],
            ..Example::PLAIN
        };
        assert!(found(&CHECK, &example).is_empty());
    }

    #[test]
    fn many_are_one_finding() {
        let up = Seen::Upright(10, 10);
        let example = Example {
            photos: vec![
                ("front.jpg", up),
                ("1.jpg", up),
                ("2.jpg", up),
                ("3.jpg", up),
                ("4.jpg", up),
            ]
            .leak(),
            ..Example::PLAIN
        };
        assert_eq!(found(&CHECK, &example).len(), 1);
    }
}
