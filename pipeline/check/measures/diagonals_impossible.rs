//! Diagonals that no piece with such sides can have.

use super::frame::Frame;
use crate::check::words::{like, mean};
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::error("diagonals-impossible");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "No flat piece with the measured sides can have the measured diagonals. The area is \
          reckoned from them, and the mass and the load on the wall from the area, so one reading \
          must be mended.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, diagonals: [250.3 cm, 206.1 cm]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, diagonals: [205.3 cm, 206.1 cm]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// Excess of squares beyond which a reading is wrong: 4 % of the squares is 2 % of the lengths, ten
/// times what a tape slips by (own choice, no source).
const EXCESS: f64 = 0.04;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let m = &subject.piece.measured;
    let Some(([p, q], frame)) = m.diagonals.as_ref().zip(Frame::of(subject.piece)) else {
        return;
    };
    let excess = frame.excess();
    let longest = frame.sides.iter().copied().fold(1.0, f64::max);
    let coarse = 4.0 * frame.slack / longest;
    if frame.closes() && excess.abs() <= EXCESS + coarse {
        return;
    }
    let (Some(height), Some(width)) = (mean(&m.height), mean(&m.width)) else {
        return;
    };
    let square = libm::hypot(height, width);
    let off = |mm: f64| (mm - square).abs();
    // The one further from a square piece's diagonal is the likelier slip.
    let (odd, other) = if off(frame.p) >= off(frame.q) {
        (p, q)
    } else {
        (q, p)
    };
    findings.push(
        KIND.at(
            &odd.place,
            format!(
                "no piece of this height and width has the diagonals `{}` and `{}`",
                p.value.text, q.value.text
            ),
            format!(
                "measure them again, corner to corner: if the piece is square both are near {}; or else the height or the width is wrong",
                like(&odd.value, square)
            ),
        )
        .and(&other.place, "the other diagonal"),
    );
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    fn count(measured: &str) -> usize {
        let piece = format!("measured: {{{measured}}}").leak();
        let example = Example {
            piece,
            ..Example::PLAIN
        };
        found(&CHECK, &example).len()
    }

    #[test]
    fn real_pieces_pass_and_slips_do_not() {
        // Corners (0,0), (1200,5), (1195,1810), (−5,1800) mm: sides and diagonals by Pythagoras.
        assert_eq!(
            count(
                "width: [1200 mm, 1200 mm], height: [1800 mm, 1805 mm], diagonals: [2169 mm, 2162 mm]"
            ),
            0
        );
        assert_eq!(
            count("width: 30 cm, height: 40 cm, diagonals: [50 cm, 50 cm]"),
            0
        );
        assert_eq!(
            count("width: 30 cm, height: 40 cm, diagonals: [72 cm, 20 cm]"),
            1
        );
        assert_eq!(
            count("width: 300 mm, height: 400 mm, diagonals: [515 mm, 515 mm]"),
            1
        );
        assert_eq!(
            count("width: 300 mm, height: 400 mm, diagonals: [485 mm, 485 mm]"),
            1
        );
    }
}
