//! Photographs without words for those who can not see them.

use crate::check::words::listed;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("no-alt-text");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A photograph has no `alt`: a sentence that says what it shows, read aloud to those who can \
          not see it. Without it the papers only say which view it is.",
    bad: Example {
        piece: "photos: [{file: front.jpg, view: front}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "photos: [{file: front.jpg, view: front, alt: Green and grey bands lie level across the whole width}]",
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let mute: Vec<_> = subject
        .piece
        .photos
        .iter()
        .filter(|photo| photo.alt.is_none())
        .collect();
    let Some(first) = mute.first() else {
        return;
    };
    let names: Vec<&str> = mute.iter().map(|photo| photo.file.as_str()).collect();
    findings.push(KIND.at(
        &first.file.place,
        format!("no `alt` says what {} shows", listed(&names)),
        "add `alt: …`: one sentence on what is to be seen, not what it means",
    ));
}
