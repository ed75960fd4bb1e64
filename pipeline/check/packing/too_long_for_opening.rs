//! A roll that does not pass a door, or go into a lift or a van.

use crate::check::words::like;
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::Roll;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("too-long-for-opening");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The rolled piece on its tube does not pass one of `packing.openings`: it is thicker than a door, or longer than the \
        longest rigid roll that lies in a lift or a van at any slant. Corners on the way are not reckoned.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 266.0 cm, thickness: 4 mm}\n\
            packing: {openings: [{what: lift, width: 80 cm, height: 190 cm, depth: 90 cm}]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 266.0 cm, thickness: 4 mm}\n\
            packing: {round: weft, openings: [{what: lift, width: 80 cm, height: 190 cm, depth: 90 cm}]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some(packing) = subject.piece.packing.as_ref() else {
        return;
    };
    let roll = Roll::of_piece(subject.piece);
    for (opening, passage) in packing.openings.iter().zip(&roll.passages) {
        if passage.passes {
            continue;
        }
        let in_hers = |mm: f64| like(&opening.width, mm);
        let message = match passage.slanting {
            Some(longest) if longest.mm() > 0.0 => format!(
                "the roll of {} does not go into `{}`: {} is the longest that does",
                in_hers(passage.length.mm()),
                opening.what.value,
                in_hers(longest.mm())
            ),
            _ => format!(
                "the roll is {} thick and does not pass `{}`",
                in_hers(passage.diameter.mm()),
                opening.what.value
            ),
        };
        let other = roll.way.other_length.value.mm();
        let remedy = match passage.slanting {
            Some(longest) if other <= longest.mm() => format!(
                "rolled the other way its tube is {}: say so with `packing.round`, or take another way in",
                in_hers(other)
            ),
            _ => {
                "look for another way in, such as a window or the stairs, before the day it is sent"
                    .to_string()
            }
        };
        findings.push(KIND.at(&opening.what.place, message, remedy));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::found;

    #[test]
    fn a_roll_too_long_for_the_lift_is_told_the_other_way() {
        let told = found(&CHECK, &CHECK.bad);
        assert_eq!(told.len(), 1);
        assert!(told[0].message.contains("lift"), "{}", told[0].message);
        assert!(
            told[0].remedy.contains("packing.round"),
            "{}",
            told[0].remedy
        );
        assert!(found(&CHECK, &CHECK.good).is_empty());
    }

    #[test]
    fn a_door_is_passed_by_thickness_alone() {
        let door = Example {
            piece: "measured: {height: 121.4 cm, width: 266.0 cm, thickness: 4 mm}\n\
                packing: {openings: [{what: hatch, width: 12 cm, height: 190 cm}, {what: door, width: 80 cm, height: 200 cm}]}",
            ..Example::PLAIN
        };
        let told = found(&CHECK, &door);
        assert_eq!(told.len(), 1);
        assert!(told[0].message.contains("`hatch`"), "{}", told[0].message);
    }
}
