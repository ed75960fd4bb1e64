//! More light in a year than museums allow the weakest yarn.

use crate::check::words::plain;
use crate::check::{Check, Example, Rule, Subject};
use crate::reckon::Light;
use crate::record::{Finding, FindingKind};

const KIND: FindingKind = FindingKind::note("light-too-strong");

pub const CHECK: Check = Check {
    kind: KIND,
    doc: "A year's light where the piece hangs, lux × hours × days, is more than museums allow its most fugitive yarn \
        (CIE 157:2004: 15,000 lux hours for blue wool 1 to 3, 150,000 for 4 to 6, 600,000 for 7 and 8). A home is seldom as \
        dim as a museum; the owner should know what the light costs.",
    bad: Example {
        piece: "weft: [{name: weld yellow, fibre: {wool: 100}, used: 410 g, count: NeW 2/8, light: 3}]\n\
            display: {light: 120 lx, hours_a_day: 9}",
        ..Example::PLAIN
    },
    good: Example {
        piece: "weft: [{name: weld yellow, fibre: {wool: 100}, used: 410 g, count: NeW 2/8, light: 3}]\n\
            display: {light: 40 lx, hours_a_day: 4, days: 90}",
        ..Example::PLAIN
    },
    rule: Rule::Piece(rule),
};

fn rule(subject: &Subject, findings: &mut Vec<Finding>) {
    let display = subject.piece.display.as_ref();
    let Some(place) = display.and_then(|d| d.light.as_ref()) else {
        return;
    };
    let light = Light::of(subject.piece);
    let (Some(home), Some(weakest)) = (light.home, light.weakest) else {
        return;
    };
    let class = weakest.responsivity();
    let share = home.share(class).value;
    if share <= 1.0 {
        return;
    }
    findings.push(KIND.at(
        &place.place,
        format!(
            "a year there brings {} times the light that museums allow `{}` ({})",
            plain((share * 10.0).round() / 10.0),
            weakest.name,
            class.said()
        ),
        "dim it, shorten the hours, keep daylight off, or let it rest in the dark for part of the year and say so with \
         `days`",
    ));
}
