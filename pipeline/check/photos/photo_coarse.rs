//! A front photograph with far too few pixels for its plate.

use super::plate_room::{LEAST_PRINTED, full};
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("photo-coarse");

/// Common practice, no source: under 150 pixels to the inch a printed picture is seen to be coarse.
pub(super) const COARSE: f64 = 150.0;

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The front photograph has so few pixels that its plate, as large as the catalogue page has room \
          for it, would have under 150 to the inch. The plate is printed smaller instead, at 250 to the \
          inch, and shows little of the weave. With `corners` only the pixels between them count.",
    bad: Example {
        photos: &[
            ("front.jpg", Seen::Upright(830, 607)),
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
    let Some(plate) = full(subject).filter(|plate| plate.an_inch < COARSE) else {
        return;
    };
    findings.push(KIND.at(
        &plate.photo.file.place,
        format!(
            "`{}` is too coarse for a plate {:.0} mm wide: it would have {:.0} pixels to the inch",
            plate.photo.file.value, plate.width, plate.an_inch
        ),
        format!(
            "take the camera's own file and no copy made for a message or a web page; until then the plate is printed {:.0} mm wide",
            plate.width * plate.an_inch / LEAST_PRINTED
        ),
    ));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn a_plate_is_as_fine_as_its_pixels_over_its_inches() {
        // Source, exact case: 150 mm are 5.9055 in, so 885 pixels across are 149.9 to the inch and 887 are
        // 150.2; a tall plate is 86 mm or 3.3858 in wide, so 507 are 149.7 and 509 are 150.3.
        let coarse = |width: u32, height: u32| {
            let example = Example {
                photos: vec![("front.jpg", Seen::Upright(width, height))].leak(),
                ..Example::PLAIN
            };
            found(&CHECK, &example)
        };
        let findings = coarse(885, 640);
        assert!(findings[0].message.contains("150 mm wide"), "{findings:?}");
        assert!(
            findings[0].remedy.ends_with("printed 90 mm wide"),
            "{findings:?}"
        );
        assert!(coarse(887, 640).is_empty());
        assert_eq!(coarse(507, 700).len(), 1);
        assert!(coarse(509, 700).is_empty());
    }
}
