//! What an installer may know: the public view, and how the piece hangs. No owner, address or price is
//! in it, and no place that it hangs at.

use crate::paper::PublicView;
use crate::paper::letters::line;
use crate::reckon::hang::{Chosen, Hanging};
use crate::reckon::{Reckoning, Uncertain};
use crate::record::{self, Piece, RecordNumber, Studio};

/// What an installer may know of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct InstallerView {
    /// The public's part.
    pub public: PublicView,
    /// Where the studio is reached, as it allows to be printed.
    pub(super) contact: Option<String>,
    /// The mass, kg, and whether it was weighed.
    pub(super) mass: Option<(Uncertain, bool)>,
    /// As reckoned, where there is a mass.
    pub(super) hung: Option<Hanging>,
    /// As written.
    pub(super) written: Option<record::Hanging>,
    /// The support, known without a mass too.
    pub(super) support: Chosen,
}

impl InstallerView {
    /// The installer's part of a piece.
    pub fn of(
        studio: &Studio,
        piece: &Piece,
        reckoning: &Reckoning,
        number: &RecordNumber,
    ) -> InstallerView {
        let masses = &reckoning.masses;
        let mass = masses.stated().map(|m| m.number().times(1e-3));
        InstallerView {
            public: PublicView::of(studio, piece, reckoning, number),
            contact: studio.contact.as_ref().map(|c| line(c)),
            mass: mass.map(|m| (m, masses.weighed.is_some())),
            hung: reckoning.hanging.clone(),
            written: piece.hanging.clone(),
            support: Chosen::of(piece, reckoning.size.width.value.mm()),
        }
    }
}
