//! Owners whose times overlap.

use super::spans::{neighbours, spans};
use crate::check::days::written;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("owner-overlap");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "An owner's time begins before the former owner's has ended. Owners in common are one entry; \
          else one of the dates is a slip.",
    bad: Example {
        piece: "owners: [{from: 2026-07/2031-05, public: Harbour Office}, {from: 2028-02, public: Private collection}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "owners: [{from: 2026-07/2028-02, public: Harbour Office}, {from: 2028-02, public: Private collection}]",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let all = spans(&subject.piece.owners);
    for (former, next) in neighbours(&all) {
        let (a, b) = (&former.owner.from, &next.owner.from);
        let overlap = former
            .ended
            .zip(next.begun)
            .is_some_and(|((ended, _), (_, begun))| begun < ended);
        let message = if former.open && next.begun.is_some() {
            format!(
                "the owner before, from `{}`, is said to have it still, but the next begins `{}`",
                written(a),
                written(b)
            )
        } else if overlap {
            format!(
                "this owner begins `{}`, before the former one, `{}`, has ended",
                written(b),
                written(a)
            )
        } else {
            continue;
        };
        findings.push(
            KIND.at(
                &b.place,
                message,
                "mend one of the dates; owners in common are one entry",
            )
            .and(&a.place, "the owner before"),
        );
    }
}
