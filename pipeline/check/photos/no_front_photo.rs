//! A piece without a front photograph.

use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind, Place, View};

const KIND: FindingKind = FindingKind::warning("no-front-photo");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "No photograph of the whole front is listed. The papers are made, but without plate and \
          without the colour ladder, and the record number can not bind the piece to its picture.",
    bad: Example {
        piece: "photos: [{file: knot.jpg, view: detail, alt: A soumak row in buoy red}]",
        photos: &[("knot.jpg", Seen::Upright(3000, 3000))],
        ..Example::PLAIN
    },
    good: Example {
        piece: "photos: [{file: front.jpg, view: front, alt: Bands}, {file: knot.jpg, view: detail, alt: A soumak row in buoy red}]",
        photos: &[
            ("front.jpg", Seen::Upright(4980, 3642)),
            ("knot.jpg", Seen::Upright(3000, 3000)),
        ],
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    if piece.photo(View::Front).is_some() {
        return;
    }
    let place: &Place = piece
        .photos
        .first()
        .map_or(&piece.place, |photo| &photo.view.place);
    let guess = subject
        .files
        .iter()
        .filter_map(|file| file.strip_prefix("photos/"))
        .find(|file| file.to_lowercase().contains("front"));
    findings.push(KIND.at(
        place,
        "no photograph has `view: front`",
        format!(
            "photograph the whole front straight on, in even light, and list it: `photos: [{{file: {}, view: front, alt: …}}]`",
            guess.unwrap_or("front.jpg").escape_debug()
        ),
    ));
}
