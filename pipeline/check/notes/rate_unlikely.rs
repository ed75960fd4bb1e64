//! Hours of work that do not go with the size of the piece.

use crate::check::words::plain;
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::{Size, TimeAtWork, Web};
use crate::record::{Finding, FindingKind, Kind};

const KIND: FindingKind = FindingKind::warning("rate-unlikely");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The face over all noted hours is under 1 or over 350 cm² an hour. Weavers give 20 to 120 as \
          usual, from a fine warp to a coarse one. Mostly days are missing from the notes, or a \
          measure or the hours have the wrong unit. It is looked at only where five days or more are \
          noted, every one with its hours, and where noted heights run over the whole height. \
          Community pieces, on which several work at once, are let be.",
    bad: Example {
        notes: "## 2026-03-02 · 6 h\n## 2026-03-03 · 6 h\n## 2026-03-04 · 6 h\n## 2026-03-05 · 6 h\n## 2026-03-06 · 6 h\n## 2026-03-09 · 6 h\n",
        ..Example::PLAIN
    },
    good: Example {
        notes: "## 2026-03-02 · 6 h · 4 cm\n## 2026-03-03 · 6 h · 8 cm\n## 2026-03-04 · 6 h · 12 cm\n## 2026-03-05 · 6 h · 16 cm\n## 2026-03-06 · 6 h · 20 cm\nFrom here on I forgot to write.\n",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// cm² an hour. Three times the fastest and a twentieth of the slowest rate that a weaver gives as
/// usual (J. Soroka, "How long does it take to weave a tapestry?": 23 to 116 in weeks of 40 hours);
/// the factors are our own rule.
const SENSIBLE: std::ops::RangeInclusive<f64> = 1.0..=350.0;

/// Days that tell of a whole piece at least (own rule).
const LEAST_DAYS: usize = 5;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let community = |kind: Kind| kind == Kind::Community;
    if piece.makers.is_some() || piece.kind.as_ref().is_some_and(|k| community(k.value)) {
        return;
    }
    let size = Size::of(piece);
    let web = Web::of(piece, &size);
    let Some(time) = TimeAtWork::of(piece, &web, &size) else {
        return;
    };
    let Some(rate) = time.whole_rate.as_ref().map(|r| r.value) else {
        return;
    };
    if time.days < LEAST_DAYS || !time.is_complete() || SENSIBLE.contains(&rate) {
        return;
    }
    let mut hours = piece.notes.entries.iter().filter_map(|e| e.hours.as_ref());
    let Some(last) = hours.next_back() else {
        return;
    };
    let (how, where_to) = if rate > *SENSIBLE.end() {
        (
            "faster than anybody weaves",
            "look for days missing from the notes and at the measured height and width; if only some days were noted, leave it",
        )
    } else {
        (
            "slower than anybody weaves",
            "look at the hours (`min` is minutes, `h` hours) and at the units of the measured height and width; if it was so, leave it",
        )
    };
    findings.push(
        KIND.at(
            &last.place,
            format!(
                "{} m² in {} h are {} cm² an hour, {how}",
                plain(size.area.value.m2()),
                plain(time.hours.hours()),
                plain((rate * 10.0).round() / 10.0)
            ),
            where_to,
        )
        .and(&piece.place, "the piece"),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    fn count(days: usize, hours: &str, more: &'static str) -> usize {
        let notes: String = (0..days)
            .map(|d| format!("## 2026-{:02}-{:02} · {hours}\n", 3 + d / 28, 1 + d % 28))
            .collect();
        let example = Example {
            piece: more,
            notes: notes.leak(),
            ..Example::PLAIN
        };
        found(&CHECK, &example).len()
    }

    #[test]
    fn a_plausible_commission_is_let_be_and_a_slip_is_found() {
        // Source, common practice: two square metres are woven in 40 days of 6 hours, not in 6 of them, and
        // not in 40 days of 6 months each.
        assert_eq!(count(40, "6 h", ""), 0);
        assert_eq!(count(6, "6 h", ""), 1);
        assert_eq!(count(60, "400 h", ""), 1);
        assert_eq!(
            count(4, "6 h", ""),
            0,
            "four days tell nothing of the whole"
        );
        assert_eq!(count(6, "6 h", "kind: community"), 0);
        assert_eq!(
            count(6, "6 h · 40 cm", ""),
            0,
            "the notes do not reach the end"
        );
    }

    #[test]
    fn one_day_without_hours_silences_it() {
        let notes = "## 2026-03-01\n## 2026-03-02 · 6 h\n## 2026-03-03 · 6 h\n## 2026-03-04 · 6 h\n## 2026-03-05 · 6 h\n## 2026-03-06 · 6 h\n";
        for piece in ["", "missing_hours: estimate"] {
            let example = Example {
                piece,
                notes,
                ..Example::PLAIN
            };
            assert!(found(&CHECK, &example).is_empty(), "{piece}");
        }
    }
}
