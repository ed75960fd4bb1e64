//! What a carrier may know: the public view, and the roll and its parcel. Openings go without their
//! names, since a name may be an address.

use crate::paper::PublicView;
use crate::paper::letters::line;
use crate::reckon::{Reckoning, Roll};
use crate::record::{Piece, RecordNumber, Studio};

/// What a carrier may know of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct CarrierView {
    /// The public's part.
    pub public: PublicView,
    /// Where the studio is reached, as it allows to be printed.
    pub(super) contact: Option<String>,
    /// The roll, its parcel and what it passes; the openings' names are taken out.
    pub(super) roll: Roll,
    /// The bar that may go along, mm.
    pub(super) bar: Option<f64>,
}

impl CarrierView {
    /// The carrier's part of a piece.
    pub fn of(
        studio: &Studio,
        piece: &Piece,
        reckoning: &Reckoning,
        number: &RecordNumber,
    ) -> CarrierView {
        let mut roll = reckoning.roll.clone();
        for passage in &mut roll.passages {
            passage.what.clear();
        }
        let bar = piece.hanging.as_ref().and_then(|h| h.bar.as_ref());
        CarrierView {
            public: PublicView::of(studio, piece, reckoning, number),
            contact: studio.contact.as_ref().map(|c| line(c)),
            roll,
            bar: bar.and_then(|b| Some(b.length.as_ref()?.value.value.mm())),
        }
    }
}
