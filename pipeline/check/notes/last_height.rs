//! The height noted last against the woven height of the loom.

use crate::check::words::like;
use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::Length;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("last-height");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The greatest height in notes.md does not end where `loom.woven` says the weaving ended. \
          Hems are allowed for, and so is a weaver who stopped noting heights before the end.",
    bad: Example {
        piece: "loom: {woven: 124 cm}",
        notes: "## 2026-03-04 · 5 h · 42 cm\n## 2026-05-20 · 5 h · 142 cm\n",
        ..Example::PLAIN
    },
    good: Example {
        piece: "loom: {woven: 124 cm}",
        notes: "## 2026-03-04 · 5 h · 42 cm\n## 2026-05-20 · 5 h · 124 cm\n",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// What a tape along a web under tension may be off by (common practice, no source).
const LOOSE: f64 = 0.05;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let Some(woven) = &piece.loom.woven else {
        return;
    };
    let entries = &piece.notes.entries;
    let heights = entries.iter().filter_map(|e| e.height.as_ref());
    let Some(last) = heights.reduce(|a, b| if b.value.value > a.value.value { b } else { a })
    else {
        return;
    };
    let hems: Length = piece
        .loom
        .hems
        .iter()
        .flat_map(|h| [&h.start, &h.finish])
        .flatten()
        .map(|r| r.value.value)
        .sum();
    // Without hems in piece.yaml a common hem of 25 mm at each end may still have been noted.
    let hems = hems.mm().max(50.0);
    let (noted, full) = (last.value.value.mm(), woven.value.value.mm());
    let too_high = noted > (full + hems) * (1.0 + LOOSE);
    // Work went on after the last noted height: then she has only stopped noting it.
    let days = |with_height: bool| {
        entries
            .iter()
            .filter(|e| e.height.is_some() == with_height && (with_height || e.hours.is_some()))
            .map(|e| e.day.value)
            .max()
    };
    let noted_to_the_end = days(false) <= days(true);
    let too_low = noted < full * (1.0 - LOOSE) && noted_to_the_end;
    if too_high || too_low {
        findings.push(
            KIND.at(
                &last.place,
                format!(
                    "the notes end at `{}`, but `loom.woven` is `{}`",
                    last.value.text, woven.value.text
                ),
                format!(
                    "if the notes are right, write `woven: {}`; else mend the height in the notes",
                    like(&woven.value, noted)
                ),
            )
            .and(&woven.place, "the woven height"),
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn hems_and_a_weaver_who_stops_noting_are_allowed_for() {
        let count = |notes| {
            let example = Example {
                piece: "loom: {woven: 124 cm}",
                notes,
                ..Example::PLAIN
            };
            found(&CHECK, &example).len()
        };
        assert_eq!(count("## 2026-05-20 · 5 h · 129 cm\n"), 0);
        assert_eq!(
            count("## 2026-05-20 · 5 h · 60 cm\n## 2026-05-21 · 6 h\n"),
            0
        );
        assert_eq!(count("## 2026-05-20 · 5 h · 60 cm\n"), 1);
    }
}
