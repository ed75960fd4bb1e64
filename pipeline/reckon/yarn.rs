//! Every yarn of the piece, brought to one measure of thickness.

use crate::quantity::YarnCount;
use crate::record::{At, Piece};

/// A yarn and its mass per length.
#[derive(Debug, Clone, PartialEq)]
pub struct Yarn {
    /// Her name for it.
    pub name: String,
    /// The count as written.
    pub count: Option<String>,
    /// How many singles are plied, as far as the count says.
    pub plies: Option<u32>,
    /// Mass per length of the yarn as used, in tex (ISO 1144), by the count system's definition.
    pub tex: Option<f64>,
}

impl Yarn {
    /// Warp and weft in the order of the record.
    pub fn all(piece: &Piece) -> Vec<Yarn> {
        let name = |given: &Option<At<String>>, otherwise: String| {
            given.as_ref().map_or(otherwise, |n| n.value.clone())
        };
        let mut all = vec![Yarn::of(
            name(&piece.warp.yarn, "warp".to_string()),
            &piece.warp.count,
        )];
        for (i, weft) in piece.weft.iter().enumerate() {
            all.push(Yarn::of(
                name(&weft.name, format!("weft {}", i + 1)),
                &weft.count,
            ));
        }
        all
    }

    fn of(name: String, count: &Option<At<YarnCount>>) -> Yarn {
        Yarn {
            name,
            count: count.as_ref().map(|c| c.text.clone()),
            plies: count.as_ref().map(|c| c.plies),
            tex: count.as_ref().map(|c| c.resultant.tex()),
        }
    }
}
