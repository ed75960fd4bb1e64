//! A front photograph with somewhat few pixels for its plate.

use super::photo_coarse::COARSE;
use super::plate_room::{LEAST_PRINTED, full};
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("photo-small");

/// Common practice, no source: printers ask for 300 pixels to the inch.
const FINE: f64 = 300.0;

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The front photograph has fewer than 300 pixels to the inch where its plate is as large as the \
          catalogue page has room for it. Under 250 to the inch the plate is printed smaller. Under 150 \
          it is told as photo-coarse.",
    bad: Example {
        photos: &[
            ("front.jpg", Seen::Upright(1400, 1024)),
            ("back.jpg", Seen::Upright(4980, 3642)),
        ],
        ..Example::PLAIN
    },
    good: Example {
        photos: &[
            ("front.jpg", Seen::Upright(4980, 3642)),
            ("back.jpg", Seen::Upright(4980, 3642)),
        ],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some(plate) = full(subject).filter(|plate| (COARSE..FINE).contains(&plate.an_inch)) else {
        return;
    };
    let smaller = if plate.an_inch < LEAST_PRINTED {
        let width = plate.width * plate.an_inch / LEAST_PRINTED;
        format!(", so it is printed {width:.0} mm wide")
    } else {
        String::new()
    };
    findings.push(KIND.at(
        &plate.photo.file.place,
        format!(
            "`{}` has {:.0} pixels to the inch on a plate {:.0} mm wide{smaller}",
            plate.photo.file.value, plate.an_inch, plate.width
        ),
        format!(
            "it will do; a photograph with {:.0} pixels across the piece prints as finely as a press can",
            libm::ceil(plate.width / 25.4 * FINE / 10.0) * 10.0
        ),
    ));
}
