//! The one fact that would settle the most numbers of a series.

use super::members::consistent;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("series-ask");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Several pieces of a series are not sure of their numbers, and to know the number of one would settle others \
          too, whatever it is. Of all such questions this is the one that settles the most in its worst answer.",
    bad: Example {
        piece: "series: {name: Slack Water, number: [2, 3], of: 9}",
        beside: "title: High Water\nseries: {name: Slack Water, number: [2, 3], of: 9}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "series: {name: Slack Water, number: 3, of: 9}",
        beside: "title: High Water\nseries: {name: Slack Water, number: 2, of: 9}",
        ..Example::PLAIN
    },
    rule: Rule::Archive(rule),
};

fn rule(subjects: &[Subject], findings: &mut Vec<Finding>) {
    for (members, reasoned) in consistent(subjects) {
        let Some(question) = reasoned.question.filter(|q| q.at_least > 1) else {
            continue;
        };
        let m = &members[question.piece];
        let place = m
            .series
            .number
            .as_ref()
            .map_or(&m.series.name.place, |n| &n.place);
        findings.push(KIND.at(
            place,
            format!(
                "to know which number this piece has settles {} pieces of `{}`, whichever it is",
                question.at_least, m.series.name.value
            ),
            "look for it: on the back, in letters, lists of shows, old photographs, or ask its owner",
        ));
    }
}
