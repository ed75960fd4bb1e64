//! Numbers of a series that no piece has.

use super::members::consistent;
use crate::check::words::numbers;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("series-gap");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Below the highest number of a series some number belongs to no piece in the archive. That \
          piece may be lost, sold before you kept records, or not yet entered.",
    bad: Example {
        piece: "series: {name: Slack Water, number: 1, of: 9}",
        beside: "title: High Water\nseries: {name: Slack Water, number: 4, of: 9}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "series: {name: Slack Water, number: 1, of: 9}",
        beside: "title: High Water\nseries: {name: Slack Water, number: 2, of: 9}",
        ..Example::PLAIN
    },
    rule: Rule::Archive(rule),
};

/// More missing than this, and the archive holds only a part of the series on purpose.
const MOST: usize = 50;

fn rule(subjects: &[Subject], findings: &mut Vec<Finding>) {
    for (members, reasoned) in consistent(subjects) {
        // Only below the highest number that a piece is known by: the rest may not be woven yet.
        let numbered = members
            .iter()
            .filter_map(|m| Some((m, *m.numbers().iter().max()?)));
        let Some((top, highest)) = numbered.max_by_key(|(_, n)| *n) else {
            continue;
        };
        let missing: Vec<u32> = reasoned
            .gaps
            .iter()
            .flat_map(|(a, b)| *a..=*b)
            .take_while(|n| *n < highest)
            .take(MOST + 1)
            .collect();
        if missing.is_empty() || missing.len() > MOST || members.len() < 2 {
            continue;
        }
        if let Some(number) = &top.series.number {
            findings.push(KIND.at(
                &number.place,
                format!(
                    "`{}` goes up to {highest}, but no piece here has number {}",
                    top.series.name.value,
                    numbers(&missing)
                ),
                "enter the missing piece if there is one; of a number that is not sure write the choices: `number: [2, 3]`",
            ));
        }
    }
}
