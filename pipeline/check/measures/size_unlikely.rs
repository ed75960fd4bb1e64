//! Sizes that no tapestry has: mostly a slip of the unit.

use crate::check::words::other_unit;
use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::{Length, Reading};
use crate::record::{At, Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("size-unlikely");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A measured height or width is over 30 m or under 1 cm, or the thickness is over 60 mm. \
          Mostly the unit is a slip: `1660 cm` for `1660 mm`, `40 cm` for `4.0 mm`.",
    bad: Example {
        piece: "measured: {height: 1214 cm, width: 3660 cm}\nphotos:",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 1214 mm, width: 3660 mm}\nphotos:",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// Bounds in millimetres: no source. The largest tapestry that is woven in one piece is far below
/// 30 m, the smallest miniature well above 1 cm, and a pile of 60 mm is a rug.
const FACE: std::ops::RangeInclusive<f64> = 10.0..=30_000.0;
const THICKNESS: std::ops::RangeInclusive<f64> = 0.1..=60.0;
/// What a reading with another unit must come to, to be offered.
const COMMON_FACE: std::ops::RangeInclusive<f64> = 100.0..=8_000.0;
const COMMON_THICKNESS: std::ops::RangeInclusive<f64> = 0.5..=40.0;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let m = &subject.piece.measured;
    let mut tell = |what: &str, reading: &At<Reading<Length>>, bounds, common| {
        let bounds: std::ops::RangeInclusive<f64> = bounds;
        let common: std::ops::RangeInclusive<f64> = common;
        let mm = reading.value.value.mm();
        if bounds.contains(&mm) {
            return;
        }
        let size = if mm > *bounds.end() { "large" } else { "small" };
        let remedy = match other_unit(&reading.value, |mm| common.contains(&mm)) {
            Some(text) => format!("did you mean `{text}`?"),
            None => "look at the number and its unit".to_string(),
        };
        findings.push(KIND.at(
            &reading.place,
            format!(
                "`{}` is a very {size} {what} for a tapestry",
                reading.value.text
            ),
            remedy,
        ));
    };
    for height in &m.height {
        tell("height", height, FACE, COMMON_FACE);
    }
    for width in &m.width {
        tell("width", width, FACE, COMMON_FACE);
    }
    if let Some(thickness) = &m.thickness {
        tell("thickness", thickness, THICKNESS, COMMON_THICKNESS);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn the_bounds_hold_on_both_sides() {
        let count = |measured: &str| {
            let piece = format!("measured: {{{measured}}}").leak();
            let example = Example {
                piece,
                ..Example::PLAIN
            };
            found(&CHECK, &example).len()
        };
        assert_eq!(count("height: 30 m, width: 1 cm, thickness: 60 mm"), 0);
        assert_eq!(count("height: 30.1 m, width: 9 mm, thickness: 61 mm"), 3);
    }
}
