//! Stretches of time without an owner.

use super::spans::{neighbours, spans};
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("owner-gap");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Between the end of one ownership and the beginning of the next nobody is named. A gap in \
          the provenance is better known than hidden: the papers show both dates as they are.",
    bad: Example {
        piece: "owners: [{from: 2026-07/2028-05, public: Harbour Office}, {from: 2031-02, public: Private collection}]",
        ..Example::PLAIN
    },
    good: Example {
        piece: "owners: [{from: 2026-07/2028-05, public: Harbour Office}, {from: 2028-05, public: Private collection}]",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let all = spans(&subject.piece.owners);
    for (former, next) in neighbours(&all) {
        let (Some((_, ended)), Some((begun, _))) = (former.ended, next.begun) else {
            continue;
        };
        if begun.ordinal() > ended.ordinal() + 1 {
            findings.push(
                KIND.at(
                    &next.owner.from.place,
                    format!("no owner is named after {ended} and before {begun}"),
                    "add whoever had it then, even as `public: not known`, or mend the dates",
                )
                .and(&former.owner.from.place, "the owner before"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    fn messages(a: &str, b: &str) -> Vec<String> {
        let piece = format!("owners: [{{from: {a}}}, {{from: {b}}}]").leak();
        let example = Example {
            piece,
            ..Example::PLAIN
        };
        found(&CHECK, &example)
            .into_iter()
            .map(|f| f.message)
            .collect()
    }

    #[test]
    fn the_missing_stretch_is_named_and_the_next_day_is_no_gap() {
        assert!(messages("1990/1998", "1999").is_empty());
        assert!(messages("1990/1998~", "2005").is_empty(), "about is about");
        assert!(messages("1990", "2005").is_empty(), "no end is written");
        let gap = messages("1990/1998", "2003-06");
        assert!(gap[0].contains("after 1998-12-31 and before 2003-06-01"));
    }
}
