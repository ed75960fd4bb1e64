//! What only the press can find, since it alone knows its letters. The press raises it; here it is
//! explained.

use super::{Check, Example, Rule};
use crate::record::FindingKind;

/// Characters that the papers' letters lack.
pub(crate) const KIND: FindingKind = FindingKind::warning("letters-lacking");

pub const LETTERS_LACKING: Check = Check {
    kind: KIND,
    doc: "The record holds characters that the papers' letters lack; a plain mark stands in their \
          place on the papers. The letters are Latin, Greek and Cyrillic, with the usual signs. The \
          record itself keeps every character.",
    bad: Example {
        piece: "title: 潮汐表",
        ..Example::PLAIN
    },
    good: Example {
        piece: "title: Tide Tables (Cháoxī biǎo)",
        ..Example::PLAIN
    },
    rule: Rule::WhileSetting,
};
