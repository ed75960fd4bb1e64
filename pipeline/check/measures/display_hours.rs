//! Days with more than 24 hours of light.

use crate::check::words::plain;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("display-hours");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "`display.hours_a_day` is over 24 or below nothing. The dose of light is reckoned from it.",
    bad: Example {
        piece: "display: {light: 120 lx, hours_a_day: 63}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "display: {light: 120 lx, hours_a_day: 9}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let hours = subject.piece.display.as_ref();
    let Some(hours) = hours.and_then(|d| d.hours_a_day.as_ref()) else {
        return;
    };
    if (0.0..=24.0).contains(&hours.value) {
        return;
    }
    let week = hours.value / 7.0;
    findings.push(KIND.at(
        &hours.place,
        format!(
            "`{}` hours of light do not fit into a day",
            plain(hours.value)
        ),
        if (0.0..=24.0).contains(&week) {
            format!(
                "if they are hours a week, write `hours_a_day: {}`",
                plain(week)
            )
        } else {
            "write the hours of one day, 0 to 24".to_string()
        },
    ));
}
