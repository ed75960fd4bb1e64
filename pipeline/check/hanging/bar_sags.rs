//! A bar that sags so far that it is seen.

use super::reckoned::{on_brackets, section_place};
use crate::check::words::plain;
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::Size;
use crate::reckon::hang::{Chosen, SEEN};
use crate::record::{Finding, FindingKind, Support};

const KIND: FindingKind = FindingKind::warning("bar-sags");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "Under the piece and its own weight the bar would sag, for good, by more than a three-hundredth \
          of the distance between its brackets (an end beyond the last bracket counts twice). The top \
          edge would be seen to hang, and the cloth would be pulled out of shape. A higher section helps \
          most: stiffness grows with the third power of the height.",
    bad: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, mass: 4.31 kg}\n\
                hanging: {support: sleeve, bar: {material: pine, section: round 25 mm, length: 164 cm}, brackets: [2 cm, 162 cm]}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "measured: {height: 121.4 cm, width: 166.0 cm, mass: 4.31 kg}\n\
                hanging: {support: sleeve, bar: {material: pine, section: 18 x 70 mm, length: 164 cm}, brackets: [37 cm, 127 cm]}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let Some((written, bar, held)) = on_brackets(subject) else {
        return;
    };
    let Some(place) = written.bar.as_ref().map(section_place) else {
        return;
    };
    if held.steepest <= SEEN {
        return;
    }
    let sag = held.lasting.1.abs();
    // In a sleeve brackets stand at the ends alone.
    let sleeve = Chosen::of(subject.piece, Size::of(subject.piece).width.value.mm()).support
        == Some(Support::Sleeve);
    let better = match &bar.best {
        Some((at, sag)) if !sleeve => format!(
            "; with {} brackets at {} it would sag {} mm in time",
            at.len(),
            at.iter()
                .map(|x| format!("{} cm", plain((x / 10.0 * 10.0).round() / 10.0)))
                .collect::<Vec<_>>()
                .join(", "),
            plain(*sag * bar.material.creep.1)
        ),
        _ => String::new(),
    };
    findings.push(KIND.at(
        place,
        format!(
            "the {} bar `{}` would sag up to {} mm in time, {} cm from its left end: more than a three-hundredth of its span",
            bar.material.name,
            bar.section_text,
            plain(sag),
            plain((held.sag_at).round() / 10.0)
        ),
        if sleeve {
            "take a higher or stiffer section".to_string()
        } else {
            format!("take a higher or stiffer section, or other brackets{better}")
        },
    ));
}
