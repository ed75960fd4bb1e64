//! What only the making of the papers and bundles can find. It is raised there; here it is explained.

use super::{Check, Example, Rule};
use crate::record::FindingKind;

/// A file of the studio's own face that can not be used.
pub(crate) const OWN_FACE: FindingKind = FindingKind::error("own-paper");

pub const OWN_PAPER: Check = Check {
    kind: OWN_FACE,
    doc: "A file in `papers/` can not be used: a template or a file of words with a mistake in it, or \
          something that lies outside that folder. A file there takes the place of the program's own \
          of the same name (`certificate.typ`, `words/de.yaml`); take it away, and the program's own \
          serves again. No paper is made with a face that is broken.",
    bad: Example {
        more: &[("papers/certificate.typ", "#let title = ")],
        ..Example::PLAIN
    },
    good: Example {
        more: &[("papers/certificate.typ", "#let title = [Certificate]")],
        ..Example::PLAIN
    },
    rule: Rule::WhileSetting,
};

/// A time-stamp that does not fit.
pub(crate) const TIME_STAMP: FindingKind = FindingKind::warning("time-stamp");

pub const TIME_STAMP_UNFIT: Check = Check {
    kind: TIME_STAMP,
    doc: "The file `record.tsr` in the piece's folder is no time-stamp (RFC 3161), or it is one for another \
          record. It is archived as it is; but only a time-stamp for the record as it is now comes to lie \
          beside the record in the bundles.",
    bad: Example {
        more: &[("pieces/p/record.tsr", "stamped on 2 July 2026")],
        ..Example::PLAIN
    },
    good: Example {
        more: &[("pieces/p/record-2026.tsr", "kept for a former record")],
        ..Example::PLAIN
    },
    rule: Rule::WhileSetting,
};

/// Characters that the papers' letters lack.
pub(crate) const KIND: FindingKind = FindingKind::warning("letters-lacking");

pub const LETTERS_LACKING: Check = Check {
    kind: KIND,
    doc: "The record holds characters that the papers' letters lack; a plain mark stands in their \
          place on the papers. The letters are Latin, Greek and Cyrillic, with the usual signs. The \
          record itself keeps every character. A face that has them can be given with `--fonts`.",
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
