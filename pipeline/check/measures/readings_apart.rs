//! Readings of one height or width that differ too much among themselves.

use crate::check::words::{like, percent};
use crate::check::{Check, Example, Rule, Subject};
use crate::quantity::{Length, Reading};
use crate::record::{At, Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("readings-apart");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Several readings of the height, or of the width, lie more than 3 % apart. A piece can be \
          so uneven, but mostly one reading is a slip. The greatest is what the papers print.",
    bad: Example {
        piece: "measured: {height: [121.4 cm, 112.0 cm, 120.8 cm], width: 166.0 cm}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: [121.4 cm, 121.0 cm, 120.8 cm], width: 166.0 cm}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

/// Draw-in of 1 to 3 % is commonly borne (from memory); beyond it a slip is likelier.
const APART: f64 = 0.03;

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let m = &subject.piece.measured;
    for (what, readings) in [("heights", &m.height), ("widths", &m.width)] {
        findings.extend(apart(what, readings));
    }
}

fn apart(what: &str, readings: &[At<Reading<Length>>]) -> Option<Finding> {
    let mm = |r: &At<Reading<Length>>| r.value.value.mm();
    let mut sorted: Vec<&At<Reading<Length>>> = readings.iter().collect();
    sorted.sort_by(|a, b| mm(a).total_cmp(&mm(b)));
    let (least, greatest) = (*sorted.first()?, *sorted.last()?);
    let middle = sorted[sorted.len() / 2];
    let spread = (mm(greatest) - mm(least)) / mm(middle);
    // The writing itself may be coarse: `56 in` is known to half an inch either way.
    let coarse = (least.value.half_place + greatest.value.half_place).mm() / mm(middle);
    if spread <= APART + coarse {
        return None;
    }
    // The odd one out is the reading furthest from the middle one.
    let (odd, other) = if mm(middle) - mm(least) > mm(greatest) - mm(middle) {
        (least, greatest)
    } else {
        (greatest, least)
    };
    let finding = KIND.at(
        &odd.place,
        format!(
            "the {what} lie {} apart: `{}` and `{}`",
            percent(spread),
            least.value.text,
            greatest.value.text
        ),
        if sorted.len() > 2 {
            format!(
                "measure again; the others are near {}",
                like(&odd.value, mm(middle))
            )
        } else {
            "measure both again, and once more in the middle".to_string()
        },
    );
    Some(finding.and(&other.place, "the other one"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn the_odd_reading_is_pointed_at() {
        let findings = found(&CHECK, &CHECK.bad);
        assert_eq!(findings.len(), 1);
        assert!(findings[0].message.contains("`112.0 cm`"));
        assert!(
            findings[0].remedy.contains("120.8 cm"),
            "{}",
            findings[0].remedy
        );
        let column = findings[0].place.column;
        let text = &CHECK.bad.piece[column as usize - 1..];
        assert!(text.starts_with("112.0"), "{text}");
    }

    #[test]
    fn coarse_writing_is_allowed_for() {
        let example = Example {
            piece: "measured: {height: [30 in, 31 in], width: 50 in}",
            ..Example::PLAIN
        };
        assert!(found(&CHECK, &example).is_empty());
    }
}
