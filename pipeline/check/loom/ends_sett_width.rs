//! Ends, sett and width that do not agree.

use crate::check::words::{like, plain};
use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::{Dimension, Sett};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("ends-sett-width");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Sett times width is not the number of ends, so one of the three is wrong. Any two are \
          enough; where all three are written they are held against each other. Doubled selvedge \
          ends and the rounding of the readings are allowed for.",
    bad: Example {
        piece: "loom: {sett: 3 ends/cm, ends: 306, width: 169 cm}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "loom: {sett: 3 ends/cm, ends: 506, width: 169 cm}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// Ends that doubled selvedges may add on both sides together (common practice, no source).
const SELVEDGES: f64 = 4.0;
/// What counting and nailing may be off by (common practice, no source).
const LOOSE: f64 = 0.02;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let l = &subject.piece.loom;
    let (Some(sett), Some(ends), Some(width)) = (&l.sett, &l.ends, &l.width) else {
        return;
    };
    let counted = f64::from(ends.value);
    let (per_metre, wide) = (sett.value.value.base(), width.value.value.m());
    let reckoned = per_metre * wide;
    // A sett is mostly exact as it is written, so its last place adds no more than the looseness.
    let coarse =
        width.value.half_place.m() / wide + (sett.value.half_place.base() / per_metre).min(LOOSE);
    let allowed = reckoned * (LOOSE + coarse) + SELVEDGES;
    if (counted - reckoned).abs() <= allowed {
        return;
    }
    let other = crate::check::words::other_unit(&sett.value, |base| {
        let unit = base * wide;
        (counted - unit).abs() <= unit * (LOOSE + coarse) + SELVEDGES
    });
    let remedy = match other {
        Some(text) => format!("the three agree with `sett: {text}`"),
        None => format!(
            "one of these is the slip: {:.0} ends, or a width of {}, or a sett of {}",
            reckoned.round(),
            like(&width.value, counted / per_metre * 1000.0),
            in_unit_of(&sett.value.text, counted / wide)
        ),
    };
    findings.push(
        KIND.at(
            &ends.place,
            format!(
                "`{}` ends are not `{}` over `{}`, which makes {:.0}",
                ends.value,
                sett.value.text,
                width.value.text,
                reckoned.round()
            ),
            remedy,
        )
        .and(&sett.place, "the sett"),
    );
}

fn in_unit_of(text: &str, per_metre: f64) -> String {
    if text.contains("cm") {
        format!("{} ends/cm", plain(per_metre / 100.0))
    } else {
        format!("{} epi", plain(Sett::of(per_metre).epi()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    fn with(loom: &str) -> Vec<Finding> {
        let piece = format!("loom: {{{loom}}}").leak();
        let example = Example {
            piece,
            ..Example::PLAIN
        };
        found(&CHECK, &example)
    }

    #[test]
    fn doubled_selvedges_and_rounding_are_allowed_for() {
        assert!(with("sett: 3 ends/cm, ends: 366, width: 122 cm").is_empty());
        assert!(with("sett: 3 ends/cm, ends: 370, width: 122 cm").is_empty());
        assert!(with("sett: 8 epi, ends: 388, width: 48 in").is_empty());
        assert_eq!(with("sett: 3 ends/cm, ends: 336, width: 122 cm").len(), 1);
    }

    #[test]
    fn ends_an_inch_written_as_ends_a_centimetre_are_seen() {
        let findings = with("sett: 8 ends/cm, ends: 384, width: 48 in");
        assert!(
            findings[0].remedy.contains("`sett: 8 ends/in`"),
            "{findings:?}"
        );
    }
}
