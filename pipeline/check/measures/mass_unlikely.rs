//! A mass on the scale that does not go with the size.

use crate::check::words::{mean, other_unit, plain};
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("mass-unlikely");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The weighed mass over the measured face is under 0.3 or over 6 kg a square metre. A \
          tapestry has between one and three, so mostly the unit of the mass is a slip. What hangs \
          on a wall is reckoned from this figure.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, mass: 4.31 g}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, mass: 4.31 kg}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// kg/m²: common practice, no source. From a fine silk web without lining to a knotted, lined one.
const SENSIBLE: std::ops::RangeInclusive<f64> = 0.3..=6.0;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let m = &subject.piece.measured;
    let (Some(mass), Some(height), Some(width)) = (&m.mass, mean(&m.height), mean(&m.width)) else {
        return;
    };
    let square_metres = height * width / 1e6;
    // Where the size itself is a slip, it has its own finding.
    if !(1e-4..=900.0).contains(&square_metres) {
        return;
    }
    let density = mass.value.value.kg() / square_metres;
    if SENSIBLE.contains(&density) {
        return;
    }
    let fits = |g: f64| (0.6..=4.0).contains(&(g / 1000.0 / square_metres));
    let remedy = match other_unit(&mass.value, fits) {
        Some(text) => format!("did you mean `{text}`?"),
        None => "look at the mass and its unit, and at the measured height and width".to_string(),
    };
    let how = if density > *SENSIBLE.end() {
        "more"
    } else {
        "less"
    };
    findings.push(KIND.at(
        &mass.place,
        format!(
            "`{}` over {} m² is {} kg/m², {how} than a tapestry weighs",
            mass.value.text,
            plain(square_metres),
            if density < 0.01 {
                format!("{density:.4}")
            } else {
                plain(density)
            },
        ),
        remedy,
    ));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    fn with(mass: &str) -> Vec<Finding> {
        let piece = format!("measured: {{height: 1 m, width: 1 m, mass: {mass}}}").leak();
        let example = Example {
            piece,
            ..Example::PLAIN
        };
        found(&CHECK, &example)
    }

    #[test]
    fn the_bounds_hold_on_both_sides() {
        for (mass, count) in [("0.3 kg", 0), ("6 kg", 0), ("299 g", 1), ("6.01 kg", 1)] {
            assert_eq!(with(mass).len(), count, "{mass}");
        }
    }

    #[test]
    fn each_slip_of_the_unit_is_guessed() {
        // 1 lb = 453.59237 g and 1 oz = 1/16 lb exactly (agreement of 1959): 64 oz are 1.81 kg.
        for (wrong, right) in [
            ("1.8 g", "1.8 kg"),
            ("1800 kg", "1800 g"),
            ("64 kg", "64 oz"),
        ] {
            let remedy = &with(wrong)[0].remedy;
            assert!(remedy.contains(right), "{wrong}: {remedy}");
        }
    }
}
