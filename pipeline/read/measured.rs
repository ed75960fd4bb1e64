//! Measures, display and care.

use super::fields::Fields;
use super::kinds;
use super::packing::within;
use crate::quantity::{Length, QuantityError, Reading};
use crate::record::{Air, At, Care, Display, Lit, Measured, Show};

/// A tape read in eighths gives `36 3/8 in` and `36 1/2 in`: of lengths in inches written side by side the
/// finest fraction tells how all of them were read.
fn read_alike(lists: &mut [&mut [At<Reading<Length>>]]) {
    let inches = |r: &Reading<Length>| r.text.ends_with("in") && !r.text.contains(['.', ',']);
    let all = lists.iter().flat_map(|list| list.iter());
    let finest = all
        .filter(|r| inches(&r.value))
        .map(|r| r.value.half_place)
        .reduce(|a, b| if b < a { b } else { a });
    for reading in lists.iter_mut().flat_map(|list| list.iter_mut()) {
        if let Some(finest) = finest.filter(|_| inches(&reading.value)) {
            reading.value.half_place = finest;
        }
    }
}

pub(super) fn measured(mut f: Fields) -> Option<Measured> {
    let mut height = f.readings("height");
    let mut width = f.readings("width");
    let mut diagonals = f.readings("diagonals");
    read_alike(&mut [&mut height, &mut width, &mut diagonals]);
    let height = f.needed("height", (!height.is_empty()).then_some(height), "121.4 cm");
    let width = f.needed("width", (!width.is_empty()).then_some(width), "166.0 cm");
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
