//! What an owner may know of how the piece is kept: the owner's view, its weight and support, the light it
//! gets, and what threatens it. Costs, hours and notes are not in it.

use crate::paper::OwnerView;
use crate::paper::letters::line;
use crate::reckon::hang::Chosen;
use crate::reckon::{Component, Dose, Reckoning, Uncertain, Weakest};
use crate::record::{Face, Piece, RecordNumber, Studio, Support};

/// What an owner may know of how a piece is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct KeeperView {
    /// The owner's part.
    pub owner: OwnerView,
    /// The mass, kg.
    pub(super) mass: Option<Uncertain>,
    /// What it is made to hang by.
    pub(super) support: Option<Support>,
    /// The yarn that fades first.
    pub(super) weakest: Option<Weakest>,
    /// Yarns whose fastness to light nobody knows.
    pub(super) of_unknown_fastness: Vec<String>,
    /// A year of light where it hangs.
    pub(super) home: Option<Dose>,
    /// Fibres that insects eat, by the record's names.
    pub(super) eaten: Vec<&'static str>,
    /// Whether the fibres of a part are not known.
    pub(super) fibres_unknown: bool,
    /// What was done against moths, as written.
    pub(super) treated: Option<String>,
    /// Whether something speaks against freezing.
    pub(super) not_to_freeze: bool,
    /// Whether the record tells of open, loose or brittle places.
    pub(super) light_hand: bool,
    /// Across the least tube, mm.
    pub(super) tube: Option<f64>,
    /// How long a tube, mm.
    pub(super) tube_length: f64,
    /// Which face lies outward on the roll.
    pub(super) face: Face,
}

impl KeeperView {
    /// The owner's part of how a piece is kept.
    pub fn of(
        studio: &Studio,
        piece: &Piece,
        reckoning: &Reckoning,
        number: &RecordNumber,
    ) -> KeeperView {
        let (light, upkeep, roll) = (&reckoning.light, &reckoning.upkeep, &reckoning.roll);
        let mut eaten: Vec<&'static str> = Vec::new();
        for component in Component::all(piece) {
            for fibre in component.fibres.iter().filter(|f| f.protein) {
                if !eaten.contains(&fibre.name) {
                    eaten.push(fibre.name);
                }
            }
        }
        KeeperView {
            owner: OwnerView::of(studio, piece, reckoning, number),
            mass: (reckoning.masses.stated()).map(|m| m.number().times(1e-3)),
            support: Chosen::of(piece, reckoning.size.width.value.mm()).support,
            weakest: light.weakest.clone(),
            of_unknown_fastness: light.unknown.iter().map(|n| line(n)).collect(),
            home: light.home.clone(),
            eaten,
            fibres_unknown: !upkeep.pests.unknown.is_empty(),
            treated: upkeep.pests.treated.as_ref().map(|t| line(t)),
            not_to_freeze: !upkeep.pests.against_freezing.is_empty(),
            light_hand: !upkeep.light_hand.is_empty(),
            tube: roll.tube.taken.as_ref().map(|t| t.value.mm()),
            tube_length: roll.way.tube_length.value.mm(),
            face: roll.way.face,
        }
    }
}
