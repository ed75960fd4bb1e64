//! A piece without photographs of its back or its signature.

use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind, View};

const KIND: FindingKind = FindingKind::note("views-missing");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "No photograph of the back is listed, or none of the signature though an inscription is recorded. \
          Front, back and signature together let a piece be known again after a theft or a fire. A missing \
          front is told as no-front-photo.",
    bad: Example {
        piece: "inscription: OB 26, lower right\nphotos: [{file: front.jpg, view: front, alt: Bands}]",
        photos: &[("front.jpg", Seen::Upright(4980, 3642))],
        ..Example::PLAIN
    },
    good: Example {
        piece: "inscription: OB 26, lower right\nphotos: [{file: front.jpg, view: front, alt: Bands}, {file: back.jpg, view: back, alt: Ends of yarn}, {file: ob.jpg, view: signature, alt: The letters OB}]",
        photos: &[
            ("front.jpg", Seen::Upright(4980, 3642)),
            ("back.jpg", Seen::Upright(4980, 3642)),
            ("ob.jpg", Seen::Upright(2000, 1400)),
        ],
        ..Example::PLAIN
    },
    rule: Rule::Silence(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let Some(front) = piece.photo(View::Front) else {
        return;
    };
    let signed = piece.inscription.as_ref().is_some_and(|words| {
        let words = words.value.to_lowercase();
        !["none", "no ", "unsigned", "not signed"]
            .iter()
            .any(|none| words.starts_with(none))
    });
    let back = piece.photo(View::Back).is_none();
    let signature = signed && piece.photo(View::Signature).is_none();
    let (message, remedy) = match (back, signature) {
        (false, false) => return,
        (true, false) => (
            "no photograph has `view: back`",
            "photograph the back once before a lining hides it, and list it with `view: back`",
        ),
        (false, true) => (
            "no photograph has `view: signature`, though an inscription is recorded",
            "photograph the signature close up and list it with `view: signature`",
        ),
        (true, true) => (
            "no photograph has `view: back`, and none `view: signature`, though an inscription is recorded",
            "photograph the back and, close up, the signature, and list them with these views",
        ),
    };
    findings.push(KIND.at(&front.file.place, message, remedy));
}
