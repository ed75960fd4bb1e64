//! More pieces than the series is said to have.

use super::members::contradictory;
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::series::Statement;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("series-count-short");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "There are more pieces of a series in the archive than `of` says that it has, so that not each can have a number \
          of its own.",
    bad: Example {
        piece: "series: {name: Slack Water, number: 1, of: 1}",
        beside: "title: High Water\nseries: {name: Slack Water, of: 1}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "series: {name: Slack Water, number: 1, of: 2}",
        beside: "title: High Water\nseries: {name: Slack Water, of: 2}",
        ..Example::PLAIN
    },
    rule: Rule::Archive(rule),
};

fn rule(subjects: &[Subject], findings: &mut Vec<Finding>) {
    for (members, conflict) in contradictory(subjects) {
        if conflict.statements != [Statement::Count] {
            continue;
        }
        if let Some((m, of)) = members
            .iter()
            .find_map(|m| Some((m, m.series.of.as_ref()?)))
        {
            findings.push(KIND.at(
                &of.place,
                format!(
                    "`{}` has {} here, but {} pieces belong to it",
                    m.series.name.value,
                    of.value,
                    members.len()
                ),
                format!(
                    "write `of: {}` in every piece of the series, or take out what is not of it",
                    members.len()
                ),
            ));
        }
    }
}
