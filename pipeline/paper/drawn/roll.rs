//! The drawings of the packing sheet: the roll end on, layer by layer, and the roll in its box from
//! the side. Lengths are real ones, mm.

use super::CarrierView;
use super::elevation::ruler;
use super::print::{long, plain};
use super::scale::{Ruler, fitting, ruler_length};
use crate::paper::words::{Words, fill};
use serde::Serialize;

/// Room for the roll end on, and for the box from the side, on paper, mm.
const END_ROOM: (f64, f64) = (50.0, 50.0);
const SIDE_ROOM: (f64, f64) = (78.0, 44.0);

/// The roll end on, as it was reckoned: one circle a turn.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct End {
    pub one_to: u32,
    alt: String,
    /// Across the tube.
    tube: f64,
    /// One layer of cloth and interleaf.
    layer: f64,
    /// Whole turns.
    whole: u32,
    /// The share of the last turn that is begun.
    part: f64,
    /// The greatest width across.
    widest: f64,
    tube_label: String,
    roll_label: String,
    ruler: Ruler,
}

/// Tube, cloth and box from the side.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Side {
    pub one_to: u32,
    alt: String,
    tube: [f64; 2],
    cloth: [f64; 2],
    /// Length and width outside.
    outer: [f64; 2],
    tube_label: String,
    cloth_label: String,
    length_label: String,
    width_label: String,
    ruler: Ruler,
}

/// More layers than this are not drawn one by one.
const MOST_LAYERS: f64 = 400.0;

impl CarrierView {
    /// The roll end on, where it is reckoned.
    pub(super) fn end(&self, w: &Words) -> Option<End> {
        let (wound, tube) = (self.roll.wound.as_ref()?, self.roll.tube.taken.as_ref()?);
        let m = self.public.measures;
        let (across, widest) = (tube.value.mm(), wound.by_turn.widest);
        // Turns to within a hair of a whole number are that number.
        let whole = libm::floor(wound.by_turn.turns + 1e-9).clamp(0.0, MOST_LAYERS);
        let one_to = fitting(widest, widest, END_ROOM);
        let (real, parts) = ruler_length(one_to);
        let words = &w.drawn.packing;
        Some(End {
            alt: fill(
                &words.section_alt,
                &[
                    ("one_to", &one_to.to_string()),
                    ("tube", &long(across, m, w)),
                    ("turns", &plain(wound.by_turn.turns, 2, w)),
                    ("roll", &long(widest, m, w)),
                ],
            ),
            tube: across,
            layer: wound.layer.value.mm(),
            whole: whole as u32,
            part: (wound.by_turn.turns - whole).clamp(0.0, 1.0),
            widest,
            tube_label: format!("{} {}", words.tube_label, long(across, m, w)),
            roll_label: format!("{} {}", long(widest, m, w), words.roll_label),
            ruler: ruler(one_to, real, parts, w),
            one_to,
        })
    }

    /// The roll and its box from the side, where they are reckoned.
    pub(super) fn side(&self, w: &Words) -> Option<Side> {
        let (wound, parcel) = (self.roll.wound.as_ref()?, self.roll.parcel.as_ref()?);
        let tube = self.roll.tube.taken.as_ref()?;
        let way = &self.roll.way;
        let m = self.public.measures;
        let outer = parcel.outer.map(|l| l.mm());
        let one_to = fitting(outer[0], outer[1], SIDE_ROOM);
        let (real, parts) = ruler_length(one_to);
        let (length, ends) = (way.tube_length.value.mm(), way.ends.value.mm());
        let cloth = length - 2.0 * ends;
        Some(Side {
            alt: fill(
                &w.drawn.packing.side_alt,
                &[
                    ("one_to", &one_to.to_string()),
                    ("length", &long(length, m, w)),
                    ("ends", &long(ends, m, w)),
                ],
            ),
            tube: [length, tube.value.mm()],
            cloth: [cloth, wound.by_turn.widest],
            tube_label: long(length, m, w),
            cloth_label: long(cloth, m, w),
            length_label: long(outer[0], m, w),
            width_label: long(outer[1], m, w),
            ruler: ruler(one_to, real, parts, w),
            outer,
            one_to,
        })
    }
}
