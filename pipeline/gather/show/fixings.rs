//! Where an installer sets the fixings of a piece: across along the bar, and how high.

use super::arrange::Entry;
use crate::quantity::Length;
use crate::reckon::walls::Spot;
use crate::record::BarShape;

/// Where two supports of an even bar bear it with the least sag, as a share of its length from either end: there the
/// sag at the ends equals that in the middle. Elementary beam theory (0.2232 of the length, from memory).
const FROM_END: f64 = 0.223_2;

/// Half the height of a bar that nobody described, mm: a batten of 50 mm.
const HALF_A_BATTEN: f64 = 25.0;

/// The fixings of one piece on its wall.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fixings {
    /// From the left corner of the wall.
    pub across: Vec<Length>,
    /// Above the floor: the middle of the bar.
    pub above: Length,
    /// Whether the places along the bar stand in the record or come from its section; else they are the usual ones.
    pub known: bool,
    /// Below the piece's top edge.
    pub drop: Length,
}

/// The fixings of a piece that hangs at a spot.
pub(super) fn fixings(entry: &Entry, spot: &Spot) -> Fixings {
    let size = &entry.reckoning.size;
    let hanging = entry.reckoning.hanging.as_ref();
    let bar = hanging.and_then(|h| h.bar.as_ref());
    let width = size.width.value.mm();
    let length = bar
        .map(|bar| bar.length)
        .or_else(|| hanging.and_then(|h| h.support.bar_length()))
        .unwrap_or(width);
    let held = bar
        .and_then(|bar| bar.held.as_ref())
        .map(|held| held.at.clone());
    let known = held.is_some();
    let along = held.unwrap_or_else(|| vec![FROM_END * length, (1.0 - FROM_END) * length]);
    let bar_left = spot.left.mm() + (width - length) / 2.0;
    let section = entry
        .piece
        .hanging
        .as_ref()
        .and_then(|h| h.bar.as_ref()?.section.as_ref());
    let high = section.map_or(2.0 * HALF_A_BATTEN, |s| match s.shape {
        BarShape::Flat { high, .. } | BarShape::Box { high, .. } => high.mm(),
        BarShape::Round { across } | BarShape::Tube { across, .. } => across.mm(),
    });
    let drop = high / 2.0;
    let top = spot.bottom.mm() + size.height.value.mm();
    Fixings {
        across: along
            .into_iter()
            .map(|at| Length::from_mm((bar_left + at).round()))
            .collect(),
        above: Length::from_mm((top - drop).round()),
        known,
        drop: Length::from_mm(drop),
    }
}
