//! Measuring before the making was over.

use crate::check::day_slips::meant;
use crate::check::days::{over_from, sure};
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("measured-before-made");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "`measured.on` lies before the end of the making in `made`. A piece is measured as it hangs, \
          so one of the two dates is a slip.",
    bad: Example {
        piece: "measured: {on: 2026-01-21, height: 121.4 cm, width: 166.0 cm}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {on: 2026-06-21, height: 121.4 cm, width: 166.0 cm}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let (Some(on), Some(over)) = (&piece.measured.on, over_from(&piece.made.value)) else {
        return;
    };
    if on.value < over && sure(&piece.made.value) {
        findings.push(
            KIND.at(
                &on.place,
                format!(
                    "measured on `{}`, before the making (`{}`) was over",
                    on.value, piece.made_text
                ),
                match meant(on.value, |d| {
                    d >= over && piece.issued.as_ref().is_none_or(|i| d <= i.value)
                }) {
                    Some(day) => format!(
                        "did you mean `{day}`? `measured.on` is the day of the tape, `made` begins with warping and ends with the last hem"
                    ),
                    None => "mend one of the two dates; `measured.on` is the day of the tape, `made` begins with warping and ends with the last hem".to_string(),
                },
            )
            .and(&piece.made.place, "when it was made"),
        );
    }
}
