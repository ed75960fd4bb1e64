//! Files whose names are one name on another computer.

use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind, Place};
use std::collections::BTreeMap;
use unicode_normalization::UnicodeNormalization;

const KIND: FindingKind = FindingKind::warning("names-alike");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Two files differ only in capitals, or in how an accent is stored. On many computers they \
          are one name, so unpacking the bundle there would lose one of them.",
    bad: Example {
        more: &[
            ("pieces/p/Letter.txt", "Dear Ottilie"),
            ("pieces/p/letter.txt", "Dear Ottilie, again"),
        ],
        ..Example::PLAIN
    },
    good: Example {
        more: &[
            ("pieces/p/letter-1.txt", "Dear Ottilie"),
            ("pieces/p/letter-2.txt", "Dear Ottilie, again"),
        ],
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let mut first: BTreeMap<String, &String> = BTreeMap::new();
    for file in subject.files {
        let folded: String = file.nfc().collect::<String>().to_lowercase();
        match first.get(&folded) {
            None => {
                first.insert(folded, file);
            }
            Some(other) => {
                let place = |file: &str| {
                    let path = format!("pieces/{}/{}", subject.piece.slug, file.escape_debug());
                    Place::file(&path.into())
                };
                findings.push(
                    KIND.at(
                        &place(file),
                        format!(
                            "`{}` and `{}` are one name on many computers",
                            other.escape_debug(),
                            file.escape_debug()
                        ),
                        "rename one of them",
                    )
                    .and(&place(other), "the other one"),
                );
            }
        }
    }
}
