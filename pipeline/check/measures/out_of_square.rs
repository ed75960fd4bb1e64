//! A piece that leans more than weaving explains.

use super::frame::Frame;
use crate::check::words::{mean, percent};
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("out-of-square");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The two diagonals say that one side leans by more than 3 % of the height. If it is so, the \
          piece hangs askew and the papers say it; more often a diagonal was misread.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, diagonals: [200.3 cm, 210.6 cm]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, diagonals: [205.3 cm, 206.1 cm]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// Lean over height: own choice, no published tolerance was found.
const LEAN: f64 = 0.03;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let m = &subject.piece.measured;
    let Some(([p, q], frame)) = m.diagonals.as_ref().zip(Frame::of(subject.piece)) else {
        return;
    };
    let Some(height) = mean(&m.height) else {
        return;
    };
    let lean = frame.lean();
    let share = lean.abs() / height;
    if share <= LEAN || !frame.closes() {
        return;
    }
    let side = if lean > 0.0 { "left" } else { "right" };
    findings.push(
        KIND.at(
            &p.place,
            format!(
                "the diagonals `{}` and `{}` mean that the top stands {:.0} mm to the {side} of the foot, {} of the height",
                p.value.text,
                q.value.text,
                lean.abs(),
                percent(share)
            ),
            "measure both diagonals again, the piece flat and not pulled; if it is so, block it square or leave the figures as they are",
        )
        .and(&q.place, "the other diagonal"),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn the_lean_is_said_in_millimetres() {
        // W 1200, p 2215, q 2110 mm: (2215² − 2110²) / 4800 = 94.6 mm.
        let example = Example {
            piece: "measured: {width: 1200 mm, height: 1800 mm, diagonals: [2215 mm, 2110 mm]}",
            ..Example::PLAIN
        };
        let findings = found(&CHECK, &example);
        assert!(
            findings[0].message.contains("95 mm to the left"),
            "{findings:?}"
        );
    }
}
