//! A bar that could break.

use super::reckoned::{on_brackets, section_place};
use crate::check::words::plain;
use crate::check::{Check, Example, Rule, Subject};
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::warning("bar-overstressed");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "The bar's greatest bending stress, times the factor (`factor`, else 5), is above the stress at \
          which sound pieces of its wood broke on average. Knots, years and a tug by a child take much of \
          what is left. Have the bar judged by a competent person before anything hangs from it.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, mass: 4.31 kg}\n\
                hanging: {support: sleeve, bar: {material: pine, section: round 16 mm, length: 164 cm}, brackets: [2 cm, 162 cm]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, mass: 4.31 kg}\n\
                hanging: {support: sleeve, bar: {material: pine, section: 18 x 70 mm, length: 164 cm}, brackets: [2 cm, 162 cm]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some((written, bar, held)) = on_brackets(subject) else {
        return;
    };
    let place = written.bar.as_ref().map(section_place);
    let (Some(place), Some(strength)) = (place, bar.material.strength) else {
        return;
    };
    let factor = written
        .factor
        .as_ref()
        .map_or(crate::reckon::hang::FACTOR, |f| f.value);
    let stress = held.stress.value;
    if stress * factor > strength {
        findings.push(KIND.at(
            place,
            format!(
                "the {} bar `{}` is bent to {} MPa; times {} this is above the {} MPa at which sound pieces broke",
                bar.material.name,
                bar.section_text,
                plain(stress),
                plain(factor),
                plain(strength)
            ),
            "take a higher section or more brackets, and have it judged by a competent person before anything hangs from it",
        ));
    }
}
