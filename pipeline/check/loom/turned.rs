//! What cutting off the loom did to width and height, reckoned for both ways the piece may hang.

use crate::check::words::mean;
use crate::quantity::{Length, Reading};
use crate::record::{At, Piece};
use std::ops::RangeInclusive;

/// Draw-in, as a fraction of the width in the loom: 1 to 3 % is commonly borne (from memory), and too
/// much weft makes a web wider. Bounds are common practice, no source.
pub(in crate::check) const DRAW_IN: RangeInclusive<f64> = -0.03..=0.12;
/// Take-up, as a fraction of the woven height: 1 to 5 % off the loom (from memory), up to 10 % by
/// weave. Bounds are common practice, no source.
pub(in crate::check) const TAKE_UP: RangeInclusive<f64> = -0.03..=0.12;

/// The finished piece laid over the loom's figures one way.
pub(in crate::check) struct Laid {
    /// Lost across the warp, where `loom.width` is known.
    pub draw_in: Option<f64>,
    /// Lost along the warp, where `loom.woven` is known.
    pub take_up: Option<f64>,
    /// Finished extent across the warp, mm.
    pub across: f64,
    /// Finished extent along the warp, mm.
    pub along: f64,
}

impl Laid {
    /// Lays the piece on its side, or as it hangs.
    pub fn of(piece: &Piece, sideways: bool) -> Option<Laid> {
        let height = mean(&piece.measured.height)?;
        let width = mean(&piece.measured.width)?;
        let (across, along) = if sideways {
            (height, width)
        } else {
            (width, height)
        };
        let lost = |on: &Option<At<Reading<Length>>>, off: f64| {
            let on = on.as_ref()?.value.value.mm();
            (on > 0.0).then(|| (on - off) / on)
        };
        Some(Laid {
            draw_in: lost(&piece.loom.width, across),
            take_up: lost(&piece.loom.woven, along),
            across,
            along,
        })
    }

    /// Whether draw-in is what weaving does, or not known.
    pub fn width_fits(&self) -> bool {
        self.draw_in.is_none_or(|d| DRAW_IN.contains(&d))
    }

    /// Whether take-up is what cutting off does, or not known.
    pub fn height_fits(&self) -> bool {
        self.take_up.is_none_or(|t| TAKE_UP.contains(&t))
    }

    /// Whether all that is known fits.
    pub fn fits(&self) -> bool {
        self.width_fits() && self.height_fits()
    }
}
