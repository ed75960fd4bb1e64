//! What two ordinary places would do to the piece, where nobody said how much light it gets. They are
//! called examples in every line, so that nobody takes them for the piece's own light.

use super::Weakest;
use super::told::{CIE, ESTIMATE, FADE_TABLE, round2};
use crate::reckon::ledger::Entry;
use crate::reckon::printed::significant;

/// A light level with its name for the entries, what it is, lux, hours a day and days.
const EXAMPLES: [(&str, &str, f64, f64, f64); 2] = [
    (
        "museum",
        "a museum, 50 lx for 8 hours on 300 days",
        50.0,
        8.0,
        300.0,
    ),
    (
        "home",
        "a wall at home, 150 lx for 12 hours every day",
        150.0,
        12.0,
        365.0,
    ),
];

/// The entries of both examples.
pub(super) fn examples(weakest: &Weakest) -> Vec<Entry> {
    let mut all = Vec::new();
    for (key, place, lux, hours, days) in EXAMPLES {
        let dose = lux * hours * days;
        let allowed = weakest.responsivity().a_year();
        let worked = format!("{lux} × {hours} × {days} = {} lx h", significant(dose, 6));
        let name = |rest: &str| format!("light.example-{key}.{rest}");
        let share = Entry::number(
            name("share"),
            format!("only an example: share of a year's allowance in {place}"),
            100.0 * dose / allowed,
            "%",
        )
        .by("E h n / H_year", format!("{worked}, over {allowed}"))
        .source(CIE);
        all.push(share);
        for (uv, rest, with) in [
            (false, "years-no-uv", "ultraviolet blocked"),
            (true, "years-with-uv", "daylight through plain glass"),
        ] {
            let (least, most) = weakest.fade_dose(uv);
            let years = Entry::range(
                name(rest),
                format!("only an example: years until a fade can be noticed in {place}, {with}"),
                (round2(least / dose), round2(most / dose)),
                "years",
            )
            .by("J / 2H to 2 J / H", worked.clone())
            .source(FADE_TABLE);
            all.push(years);
        }
    }
    all.into_iter()
        .map(|entry| entry.from(["light.weakest"]).caution(ESTIMATE))
        .collect()
}
