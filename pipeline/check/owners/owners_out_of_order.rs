//! Owners that do not stand in the order of time.

use super::spans::spans;
use crate::check::days::written;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("owners-out-of-order");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The owners are not listed in the order of time, first owner first. The last one counts as \
          the owner now, whose name and address the papers for the owner use.",
    bad: Example {
        piece: "owners: [{from: 2028-05, public: Private collection}, {from: 2026-07, public: Harbour Office}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "owners: [{from: 2026-07, public: Harbour Office}, {from: 2028-05, public: Private collection}]",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let all = spans(&subject.piece.owners);
    for pair in all.windows(2) {
        let (former, next) = (&pair[0], &pair[1]);
        if next.before(former) && former.sure && next.sure {
            let (a, b) = (&former.owner.from, &next.owner.from);
            findings.push(
                KIND.at(
                    &b.place,
                    format!(
                        "an owner from `{}` stands below one from `{}`",
                        written(b),
                        written(a)
                    ),
                    "list the owners in the order of time, the present one last, or mend the date",
                )
                .and(&a.place, "the owner above"),
            );
        }
    }
}
