//! Numbers of a series that no piece has.

use super::members::{all_series, assigned};
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
    for members in all_series(subjects) {
        // A number beyond the count of the series is a slip of its own.
        let counts = members.iter().filter_map(|m| m.series.of.as_ref());
        let most = counts.map(|of| of.value).max().unwrap_or(u32::MAX);
        let given: Vec<u32> = assigned(&members)
            .into_iter()
            .flatten()
            .filter(|n| *n <= most)
            .collect();
        let highest = given.iter().copied().max().unwrap_or(0);
        // A piece without a number may be any of them.
        let unnumbered = members.iter().filter(|m| m.numbers().is_empty()).count();
        let missing: Vec<u32> = (1..highest)
            .filter(|n| !given.contains(n))
            .take(MOST + 1)
            .collect();
        let Some(top) = members.iter().find(|m| m.numbers().contains(&highest)) else {
            continue;
        };
        if missing.len() <= unnumbered || missing.len() > MOST || members.len() < 2 {
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
