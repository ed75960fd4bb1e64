//! A series whose pieces do not agree how many they are.

use super::members::all_series;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("series-count-differs");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The pieces of one series give different counts in `of`. A certificate says `4 of 9`, so they must agree.",
    bad: Example {
        piece: "series: {name: Slack Water, number: 4, of: 9}",
        beside: "title: High Water\nseries: {name: Slack Water, number: 5, of: 8}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "series: {name: Slack Water, number: 4, of: 9}",
        beside: "title: High Water\nseries: {name: Slack Water, number: 5, of: 9}",
        ..Example::PLAIN
    },
    rule: Rule::Archive(rule),
};

fn rule(subjects: &[Subject], findings: &mut Vec<Finding>) {
    for members in all_series(subjects) {
        let counts: Vec<_> = members
            .iter()
            .filter_map(|m| Some((m, m.series.of.as_ref()?)))
            .collect();
        let votes = |of: u32| counts.iter().filter(|(_, c)| c.value == of).count();
        // What most pieces say counts as right; the first of equals.
        let Some((usual_member, usual)) = counts
            .iter()
            .rev()
            .max_by_key(|(_, c)| votes(c.value))
            .copied()
        else {
            continue;
        };
        for (member, of) in counts.iter().filter(|(_, c)| c.value != usual.value) {
            findings.push(
                KIND.at(
                    &of.place,
                    format!(
                        "`{}` has {} pieces here, but {} in `{}`",
                        member.series.name.value,
                        of.value,
                        usual.value,
                        usual_member.piece.title.value
                    ),
                    format!("write the same in all, such as `of: {}`", usual.value),
                )
                .and(&usual.place, "the other count"),
            );
        }
    }
}
