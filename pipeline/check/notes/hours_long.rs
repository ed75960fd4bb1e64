//! Days of work longer than anybody works.

use super::by_day::work_days;
use crate::check::words::plain;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind, Kind};

const KIND: FindingKind = FindingKind::warning("hours-long");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The entries of one day in notes.md make more than 16 hours. It may be so before an \
          opening; more often a decimal mark is missing or two days share a date. Community pieces, \
          on which several work at once, are let be.",
    bad: Example {
        notes: "## 2026-03-04 · 18 h · 42 cm\nThe lower bank.\n",
        ..Example::PLAIN
    },
    good: Example {
        notes: "## 2026-03-04 · 8 h · 42 cm\nThe lower bank.\n",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// Common practice, no source.
const LONG: f64 = 16.0;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let together = piece
        .kind
        .as_ref()
        .is_some_and(|k| k.value == Kind::Community);
    if together || piece.makers.is_some() {
        return;
    }
    for (day, work) in work_days(&piece.notes) {
        if !(work.hours > LONG && work.hours <= 24.0) {
            continue;
        }
        if let Some(place) = work.place() {
            findings.push(KIND.at(
                place,
                format!(
                    "{day} has {} hours of work ({})",
                    plain(work.hours),
                    work.written()
                ),
                "if it was so, leave it; else look at the decimal mark and at the date",
            ));
        }
    }
}
