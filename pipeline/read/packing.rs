//! Rolling, packing and the ways a roll must pass.

use super::fields::Fields;
use crate::quantity::{ErrorKind, Number, QuantityError};
use crate::record::{Face, Opening, Packing, Round};

pub(super) fn packing(mut f: Fields) -> Packing {
    let packing = Packing {
        tube: f.reading("tube"),
        interleaf: f.reading("interleaf"),
        loft: f.parsed("loft", loft),
        face: f.word("face", Face::ALL),
        round: f.word("round", Round::ALL),
        ends: f.reading("ends"),
        clearance: f.reading("clearance"),
        wall: f.reading("wall"),
        weighs: f.reading("weighs"),
        divisor: f.parsed("divisor", divisor),
        openings: f
            .groups("openings")
            .into_iter()
            .filter_map(opening)
            .collect(),
    };
    f.done();
    packing
}

fn opening(mut f: Fields) -> Option<Opening> {
    let what = f.text("what");
    let what = f.needed("what", what, "lift");
    let width = f.reading("width");
    let width = f.needed("width", width, "90 cm");
    let height = f.reading("height");
    let height = f.needed("height", height, "200 cm");
    let depth = f.reading("depth");
    f.done();
    Some(Opening {
        what: what?,
        width: width?,
        height: height?,
        depth,
    })
}

/// A factor of 1 to 3: layers never lie closer than they measure.
fn loft(text: &str) -> Result<f64, QuantityError> {
    within(text, 1.0, 3.0, "1 for a tight roll, 1.1 for a usual one")
}

/// Cubic centimetres a kilogram.
fn divisor(text: &str) -> Result<f64, QuantityError> {
    within(
        text,
        1.0,
        1e6,
        "the carrier's figure in cm³ a kilogram, such as 5000",
    )
}

/// A plain number between two bounds, or what to write instead.
pub(super) fn within(
    text: &str,
    least: f64,
    most: f64,
    remedy: &str,
) -> Result<f64, QuantityError> {
    let number = Number::parse(text)?.value;
    if (least..=most).contains(&number) {
        return Ok(number);
    }
    Err(QuantityError {
        kind: ErrorKind::Impossible,
        message: format!("`{}` is not between {least} and {most}", text.trim()),
        remedy: format!("write {remedy}"),
    })
}
