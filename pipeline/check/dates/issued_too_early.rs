//! Papers dated before the piece was made or measured.

use crate::check::day_slips::meant;
use crate::check::days::{over_from, sure};
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("issued-too-early");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "`issued`, the day that stands on the papers, lies before the piece was measured or before \
          its making was over. The papers would vouch for what was not yet there.",
    bad: Example {
        piece: "issued: 2026-06-02\nmeasured: {on: 2026-06-21, height: 121.4 cm, width: 166.0 cm}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "issued: 2026-07-02\nmeasured: {on: 2026-06-21, height: 121.4 cm, width: 166.0 cm}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let piece = subject.piece;
    let Some(issued) = &piece.issued else {
        return;
    };
    if let Some(on) = piece
        .measured
        .on
        .as_ref()
        .filter(|on| issued.value < on.value)
    {
        findings.push(
            KIND.at(
                &issued.place,
                format!(
                    "the papers are dated `{}`, before the measuring on `{}`",
                    issued.value, on.value
                ),
                match meant(issued.value, |d| d >= on.value) {
                    Some(day) => format!("did you mean `{day}`? Else mend `measured.on`"),
                    None => format!(
                        "write `issued: {}` or a later day, or mend `measured.on`",
                        on.value
                    ),
                },
            )
            .and(&on.place, "the day of measuring"),
        );
        return;
    }
    let over = over_from(&piece.made.value).filter(|over| issued.value < *over);
    if let Some(over) = over.filter(|_| sure(&piece.made.value)) {
        findings.push(
            KIND.at(
                &issued.place,
                format!(
                    "the papers are dated `{}`, before the making (`{}`) was over",
                    issued.value, piece.made_text
                ),
                format!("write `issued: {over}` or a later day, or mend `made`"),
            )
            .and(&piece.made.place, "when it was made"),
        );
    }
}
