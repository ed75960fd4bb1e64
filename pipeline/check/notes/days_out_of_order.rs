//! Entries of the notes that go back in time.

use crate::check::day_slips::meant;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("days-out-of-order");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "An entry in notes.md has an earlier date than the one above it. Mostly the year or the \
          month is a slip, as in January.",
    bad: Example {
        notes: "## 2026-03-04 · 5 h\n## 2025-03-05 · 5 h\n## 2026-03-06 · 5 h\n",
        ..Example::PLAIN
    },
    good: Example {
        notes: "## 2026-03-04 · 5 h\n## 2026-03-05 · 5 h\n## 2026-03-06 · 5 h\n",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let entries = &subject.piece.notes.entries;
    // Newest first throughout is an order too.
    let backwards = entries.windows(2).all(|w| w[1].day.value <= w[0].day.value);
    if backwards {
        return;
    }
    for (i, pair) in entries.windows(2).enumerate() {
        let (before, after) = (&pair[0].day, &pair[1].day);
        if after.value >= before.value {
            continue;
        }
        let next = entries.get(i + 2).map(|e| e.day.value);
        let earlier = i.checked_sub(1).and_then(|i| entries.get(i));
        let meant_after = meant(after.value, |d| {
            d >= before.value && next.is_none_or(|n| d <= n)
        });
        // Or the entry above is the one that jumped ahead.
        let meant_before = meant(before.value, |d| {
            d <= after.value && earlier.is_none_or(|e| e.day.value <= d)
        });
        let remedy = match (meant_after, meant_before) {
            (Some(day), _) => format!("did you mean `{day}`?"),
            (None, Some(day)) => format!(
                "did you mean `{day}` for the entry above, `{}`?",
                before.value
            ),
            (None, None) => "mend the date, or put the entry where it belongs".to_string(),
        };
        findings.push(
            KIND.at(
                &after.place,
                format!("`{}` stands below `{}`", after.value, before.value),
                remedy,
            )
            .and(&before.place, "the entry above"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn last_years_number_in_january_is_guessed_and_newest_first_is_an_order() {
        let findings = found(&CHECK, &CHECK.bad);
        assert!(findings[0].remedy.contains("`2026-03-05`"), "{findings:?}");
        let example = Example {
            notes: "## 2026-03-06 · 5 h\n## 2026-03-05 · 5 h\n## 2026-03-04 · 5 h\n",
            ..Example::PLAIN
        };
        assert!(found(&CHECK, &example).is_empty());
    }
}
