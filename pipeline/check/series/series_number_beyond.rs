//! Numbers beyond the end of a series.

use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("series-number-beyond");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A piece's number in its series is greater than `of`, the count of the series. The \
          certificate would say `11 of 9`.",
    bad: Example {
        piece: "series: {name: Slack Water, number: 11, of: 9}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "series: {name: Slack Water, number: 1, of: 9}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some(series) = &subject.piece.series else {
        return;
    };
    let (Some(numbers), Some(of)) = (&series.number, &series.of) else {
        return;
    };
    if let Some(beyond) = numbers.value.iter().find(|n| **n > of.value) {
        findings.push(
            KIND.at(
                &numbers.place,
                format!("`{beyond}` is beyond the {} of `{}`", of.value, series.name.value),
                format!("mend the number, or write `of: {beyond}` in every piece of the series if it has grown"),
            )
            .and(&of.place, "how many there are"),
        );
    }
}
