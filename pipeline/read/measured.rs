//! Measures, display and care.

use super::fields::Fields;
use super::kinds;
use super::packing::within;
use crate::quantity::QuantityError;
use crate::record::{Air, Care, Display, Lit, Measured, Show};

pub(super) fn measured(mut f: Fields) -> Option<Measured> {
    let height = f.readings("height");
    let height = f.needed("height", (!height.is_empty()).then_some(height), "121.4 cm");
    let width = f.readings("width");
    let width = f.needed("width", (!width.is_empty()).then_some(width), "166.0 cm");
    let mut diagonals = f.readings("diagonals");
    let pair = match (diagonals.pop(), diagonals.pop(), diagonals.len()) {
        (Some(q), Some(p), 0) => Some([p, q]),
        (None, ..) => None,
        (Some(one), ..) => {
            f.desk().add(kinds::WRONG_SHAPE.at(
                &one.place,
                "`diagonals` must be two readings",
                "write top left to bottom right, then the other: `diagonals: [205.3 cm, 206.1 cm]`",
            ));
            None
        }
    };
    let measured = Measured {
        on: f.day("on"),
        by: f.text("by"),
        height: height.unwrap_or_default(),
        width: width.unwrap_or_default(),
        diagonals: pair,
        thickness: f.reading("thickness"),
        mass: f.reading("mass"),
        at: f.group("at").map(|mut a| {
            let air = Air {
                temperature: a.reading("temperature"),
                humidity: a.reading("humidity"),
            };
            a.done();
            air
        }),
    };
    f.done();
    (!measured.height.is_empty() && !measured.width.is_empty()).then_some(measured)
}

pub(super) fn display(mut f: Fields) -> Display {
    let display = Display {
        place: f.text("place"),
        light: f.reading("light"),
        hours_a_day: f.number("hours_a_day"),
        days: f.parsed("days", days),
        filtered: f.yes_no("filtered"),
        show: f.group("show").and_then(show),
    };
    f.done();
    display
}

fn show(mut f: Fields) -> Option<Show> {
    let open = lit(&mut f);
    let days = f.parsed("days", days);
    let days = f.needed("days", days, "84");
    let extra = f.group("extra").and_then(|mut e| {
        let extra = lit(&mut e);
        e.done();
        extra
    });
    let filtered = f.yes_no("filtered");
    f.done();
    Some(Show {
        open: open?,
        days: days?,
        extra,
        filtered,
    })
}

fn lit(f: &mut Fields) -> Option<Lit> {
    let light = f.reading("light");
    let light = f.needed("light", light, "50 lx");
    let hours = f.parsed("hours_a_day", |t| {
        within(t, 0.0, 24.0, "the hours of one day, 0 to 24")
    });
    let hours = f.needed("hours_a_day", hours, "7");
    Some(Lit {
        light: light?,
        hours_a_day: hours?,
    })
}

/// Days of one year.
fn days(text: &str) -> Result<f64, QuantityError> {
    within(text, 0.0, 366.0, "the days of one year, 0 to 366")
}

pub(super) fn care(mut f: Fields) -> Care {
    let care = Care {
        cleaning: f.text("cleaning"),
        because: f.text("because"),
    };
    f.done();
    care
}
