//! A woven height that falls from one day to a later one.

use crate::check::words::other_unit;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind, Note};

const KIND: FindingKind = FindingKind::warning("woven-downwards");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The height woven so far falls by more than 5 cm from one day to a later one. Unpicking an \
          afternoon's work is let be; more is mostly a slip, and the chart of the making would show it.",
    bad: Example {
        notes: "## 2026-03-04 · 5 h · 420 mm\n## 2026-03-05 · 5 h · 45 mm\n",
        ..Example::PLAIN
    },
    good: Example {
        notes: "## 2026-03-04 · 5 h · 420 mm\n## 2026-03-05 · 5 h · 45 cm\n",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// Millimetres that may be unpicked in a day (common practice, no source).
const UNPICKED: f64 = 50.0;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let mut noted: Vec<(&Note, f64)> = subject
        .piece
        .notes
        .entries
        .iter()
        .filter_map(|e| Some((e, e.height.as_ref()?.value.value.mm())))
        .collect();
    // As written, lest one mistyped date spoils its neighbours; newest first is an order too.
    if noted
        .windows(2)
        .all(|w| w[1].0.day.value <= w[0].0.day.value)
    {
        noted.reverse();
    }
    for pair in noted.windows(2) {
        let ((before, was), (after, is)) = (pair[0], pair[1]);
        let (Some(high), Some(low)) = (&before.height, &after.height) else {
            continue;
        };
        if is >= was - UNPICKED || before.day.value == after.day.value {
            continue;
        }
        let near = |mm: f64| (was..was + 300.0).contains(&mm);
        let remedy = match other_unit(&low.value, near) {
            Some(text) => format!("did you mean `{text}`?"),
            None => "write the height woven so far, not that of the day; if you unpicked so much, leave it".to_string(),
        };
        findings.push(
            KIND.at(
                &low.place,
                format!(
                    "the height falls from `{}` on {} to `{}` on {}",
                    high.value.text, before.day.value, low.value.text, after.day.value
                ),
                remedy,
            )
            .and(&high.place, "the height before"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn an_afternoons_unpicking_is_let_be_and_a_unit_slip_is_not() {
        let with = |notes| {
            let example = Example {
                notes,
                ..Example::PLAIN
            };
            found(&CHECK, &example)
        };
        assert!(with("## 2026-03-04 · 42 cm\n## 2026-03-05 · 37 cm\n").is_empty());
        assert_eq!(
            with("## 2026-03-04 · 42 cm\n## 2026-03-05 · 36.9 cm\n").len(),
            1
        );
        assert!(with(CHECK.bad.notes)[0].remedy.contains("`45 cm`"));
    }
}
