//! Owners of a piece that was not yet begun.

use super::spans::spans;
use crate::check::days::{sure, written};
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("owner-before-made");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The first owner has the piece from a date before its making began.",
    bad: Example {
        piece: "owners: [{from: 2025-07, public: Harbour Office}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "owners: [{from: 2026-07, public: Harbour Office}]",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let all = spans(&piece.owners);
    let Some(first) = all.first() else {
        return;
    };
    let (Some((_, begun)), Some(made)) = (first.begun, piece.made.value.earliest()) else {
        return;
    };
    if begun < made && first.sure && sure(&piece.made.value) {
        let from = &first.owner.from;
        findings.push(
            KIND.at(
                &from.place,
                format!(
                    "an owner from `{}` of a piece made `{}`",
                    written(from),
                    piece.made_text
                ),
                "mend one of the dates; an order placed before the making belongs to `money.stages`",
            )
            .and(&piece.made.place, "when it was made"),
        );
    }
}
