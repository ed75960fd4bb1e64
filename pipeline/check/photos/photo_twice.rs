//! Two listed photographs that are the same picture.

use super::listed::seen;
use crate::check::{Check, Example, Rule, Seen, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("photo-twice");

/// Pictures that differ in no more of their 64 bits are the same. Own rule: copies of 26 photographs made
/// half as large, strongly compressed or blurred differ in at most 6, any two of the 26 in at least 16.
const SAME: u32 = 8;

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Two photographs of a piece are the same picture, perhaps in another size or brightness, though \
          they are listed as two. One was likely copied under the wrong name, and the picture that was meant \
          is missing. Seen by 64 bits that sum a picture up from far away.",
    bad: Example {
        photos: &[
            ("front.jpg", Seen::Like(0x66f4_9993_8469_9566)),
            ("back.jpg", Seen::Like(0x66f4_9993_8469_9564)),
        ],
        ..Example::PLAIN
    },
    good: Example {
        photos: &[
            ("front.jpg", Seen::Like(0x66f4_9993_8469_9566)),
            ("back.jpg", Seen::Like(0x3593_dece_c0c2_c9c1)),
        ],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let mut earlier: Vec<(&crate::record::Photo, u64)> = Vec::new();
    for (photo, sight) in seen(subject) {
        let Some(bits) = sight.looks.and_then(|looks| looks.likeness) else {
            continue;
        };
        let file = &photo.file.value;
        let same = earlier.iter().find(|(other, known)| {
            other.file.value != *file && (known ^ bits).count_ones() <= SAME
        });
        if let Some((other, _)) = same {
            findings.push(
                KIND.at(
                    &photo.file.place,
                    format!("`{file}` and `{}` are the same picture", other.file.value),
                    format!(
                        "put the photograph that is meant in the place of one of them, or take `{file}` off the list"
                    ),
                )
                .and(&other.file.place, "the other one"),
            );
        }
        earlier.push((photo, bits));
    }
}
