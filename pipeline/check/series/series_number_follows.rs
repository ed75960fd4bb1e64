//! Numbers that are not sure as written, and follow from what the other pieces say.

use super::members::consistent;
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::series::Because;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("series-number-follows");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A piece has several numbers it may have in its series, or none, and only one of them is left once the numbers \
          of the others are counted, and the days where studio.yaml says `series_order: by date`. It holds in every way \
          to number the series; nothing is guessed. The papers still say what is written.",
    bad: Example {
        piece: "series: {name: Slack Water, number: [2, 3], of: 9}",
        beside: "title: High Water\nseries: {name: Slack Water, number: 2, of: 9}",
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
        for (i, number, because) in &reasoned.settled {
            let m = &members[*i];
            let place = m
                .series
                .number
                .as_ref()
                .map_or(&m.series.name.place, |n| &n.place);
            let because = match because {
                Because::OnlyLeft => "no other number is left for it",
                Because::OnlyPiece => "no other piece can have it",
            };
            findings.push(KIND.at(
                place,
                format!("this piece is number {number} of `{}`: {because}", m.series.name.value),
                format!("if that is right, write `number: {number}`; if not, another number of the series is wrong"),
            ));
        }
    }
}
