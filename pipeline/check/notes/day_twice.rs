//! Days with two entries.

use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};
use std::collections::BTreeMap;

const KIND: FindingKind = FindingKind::note("day-twice");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Two entries in notes.md have the same date. Their hours are added; if the second was \
          another day, mend its date.",
    bad: Example {
        notes: "## 2026-03-04 · 5 h · 42 cm\nMorning.\n\n## 2026-03-04 · 3 h · 44 cm\nEvening.\n",
        ..Example::PLAIN
    },
    good: Example {
        notes: "## 2026-03-04 · 5 h · 42 cm\nMorning.\n\n## 2026-03-05 · 3 h · 44 cm\nEvening.\n",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let mut first = BTreeMap::new();
    for entry in &subject.piece.notes.entries {
        match first.get(&entry.day.value) {
            None => {
                first.insert(entry.day.value, &entry.day.place);
            }
            Some(place) => findings.push(
                KIND.at(
                    &entry.day.place,
                    format!(
                        "`{}` has an entry already; hours are added",
                        entry.day.value
                    ),
                    "if it was another day, mend the date; else leave it",
                )
                .and(place, "the first entry"),
            ),
        }
    }
}
