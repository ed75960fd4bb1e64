//! Days with more than 24 hours of work.

use super::by_day::work_days;
use crate::check::words::plain;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind, Kind};

const KIND: FindingKind = FindingKind::error("hours-impossible");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The entries of one day in notes.md make more than 24 hours. Hours are what cost and \
          estimates are reckoned from. Community pieces, on which several work at once, are let be.",
    bad: Example {
        notes: "## 2026-03-04 · 55 h · 42 cm\nThe lower bank.\n",
        ..Example::PLAIN
    },
    good: Example {
        notes: "## 2026-03-04 · 5.5 h · 42 cm\nThe lower bank.\n",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    // Where many weave, their hours of one day are noted together.
    let piece = subject.piece;
    let together = piece
        .kind
        .as_ref()
        .is_some_and(|k| k.value == Kind::Community);
    if together || piece.makers.is_some() {
        return;
    }
    for (day, work) in work_days(&piece.notes) {
        let Some(place) = work.place().filter(|_| work.hours > 24.0 + 1e-9) else {
            continue;
        };
        let tenth = work.hours / 10.0;
        let remedy = match work.entries.len() {
            1 if tenth <= 16.0 => format!(
                "did you mean `{} h`? Hours of several days need an entry for each day",
                plain(tenth)
            ),
            1 => "hours of several days need an entry for each day".to_string(),
            _ => "look at the dates: two days may have been written with one date".to_string(),
        };
        let finding = KIND.at(
            place,
            format!(
                "{day} has {} hours ({}), and a day has 24",
                plain(work.hours),
                work.written()
            ),
            remedy,
        );
        findings.push(match work.first() {
            Some(first) => finding.and(first, "the first entry of that day"),
            None => finding,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn entries_of_one_day_are_added_up() {
        let count = |notes| {
            let example = Example {
                notes,
                ..Example::PLAIN
            };
            found(&CHECK, &example).len()
        };
        assert_eq!(count("## 2026-03-04 · 12 h\n## 2026-03-04 · 12 h\n"), 0);
        assert_eq!(
            count("## 2026-03-04 · 13 h\n## 2026-03-05 · 1 h\n## 2026-03-04 · 12 h\n"),
            1
        );
    }
}
