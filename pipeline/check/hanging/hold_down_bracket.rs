//! A bracket that the bar would rise from.

use super::reckoned::on_brackets;
use crate::check::words::plain;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("hold-down-bracket");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The bar would rise from one of its brackets, which would have to hold it down. A bar that only \
          lies in its brackets lifts there, the figures for the others no longer hold, and it may tip out.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, mass: 4.31 kg}\n\
                hanging: {bar: {material: pine, section: 18 x 70 mm, length: 160 cm}, brackets: [10 cm, 30 cm]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, mass: 4.31 kg}\n\
                hanging: {bar: {material: pine, section: 18 x 70 mm, length: 160 cm}, brackets: [36 cm, 124 cm]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some((written, _, held)) = on_brackets(subject) else {
        return;
    };
    for (at, reaction) in held.at.iter().zip(&held.reactions) {
        // What is lost in rounding is no force.
        if reaction.value >= -1e-6 {
            continue;
        }
        let bracket = written.brackets.iter().find(|b| b.value.value.mm() == *at);
        if let Some(bracket) = bracket {
            findings.push(KIND.at(
                &bracket.place,
                format!(
                    "the bar rises from the bracket at `{}`, which would have to hold it down with {} N",
                    bracket.value.text,
                    plain(-reaction.value)
                ),
                "move the brackets apart or take this one away; 0.22 of the bar's length from each end is the best place for two",
            ));
        }
    }
}
