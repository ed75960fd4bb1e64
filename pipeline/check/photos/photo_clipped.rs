//! Photographs of cloth with parts burnt out or drowned in black.

use super::listed::seen;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind, View};

const KIND: FindingKind = FindingKind::note("photo-clipped");

/// Own rule: a hundredth of the cloth without any drawing is seen.
const SEEN: f64 = 0.01;

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "More than a hundredth of the cloth in a photograph is plain white or plain black: 255 or 0 in red, \
          green and blue at once. There is no weave to be seen there, and the colour ladder reads the wrong \
          colour. Without `corners` the middle of the photograph is looked at.",
    bad: Example {
        photos: &[
            ("front.jpg", Seen::Burnt(0.062)),
            ("back.jpg", Seen::Burnt(0.0)),
        ],
        ..Example::PLAIN
    },
    good: Example {
        photos: &[
            ("front.jpg", Seen::Burnt(0.0004)),
            ("back.jpg", Seen::Burnt(0.0)),
        ],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    for (photo, sight) in seen(subject) {
        let cloth = matches!(photo.view.value, View::Front | View::Back | View::Detail);
        let Some(looks) = sight.looks.filter(|_| cloth) else {
            continue;
        };
        for (share, what, remedy) in [
            (
                looks.burnt,
                "white",
                "photograph it again with less exposure, so that the brightest yarn keeps its threads",
            ),
            (
                looks.drowned,
                "black",
                "photograph it again with more light or exposure, so that the darkest yarn keeps its threads",
            ),
        ] {
            if share > SEEN {
                findings.push(KIND.at(
                    &photo.file.place,
                    format!(
                        "{:.0} % of the cloth in `{}` is plain {what}, without a thread to be seen",
                        share * 100.0,
                        photo.file.value
                    ),
                    remedy,
                ));
            }
        }
    }
}
