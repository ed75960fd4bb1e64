//! The piece rolled up: on which tube, which way, how thick; then the parcel and what it passes through.

mod geometry;
mod parcel;
mod passage;
mod told;
mod way;

pub use geometry::{Wound, longest_in_box, ring_diameter, strain, wound};
pub use parcel::Parcel;
pub use passage::Passage;
pub use way::{Advised, Tube, Way};

use super::figure::Figure;
use super::ledger::Entry;
use super::mass::Masses;
use super::size::Size;
use super::uncertain::Uncertain;
use super::web::Web;
use crate::quantity::{Length, Reading};
use crate::record::{At, Packing, Piece};
use std::f64::consts::PI;

/// Interleaf where none is said: two layers of tissue of 0.1 mm (common practice, no source).
const INTERLEAF_MM: f64 = 0.2;
/// How much thicker the layers lie than they measure, where it is not said: own rule, between 1.05 for
/// a hard cloth rolled tight and 1.2 for a soft one.
const LOFT: f64 = 1.1;

/// The piece on its tube.
#[derive(Debug, Clone, PartialEq)]
pub struct Roll {
    /// Which yarns go round the tube, both tube lengths, and the reasons.
    pub way: Way,
    /// The tube's diameter: advised, and taken.
    pub tube: Tube,
    /// How the roll lies on the tube, where the thickness is known.
    pub wound: Option<OnTube>,
    /// The parcel.
    pub parcel: Option<Parcel>,
    /// Doors, lifts and vans, in the order of the record.
    pub passages: Vec<Passage>,
}

/// A roll on its tube.
#[derive(Debug, Clone, PartialEq)]
pub struct OnTube {
    /// Cloth and interleaf as they lie, a layer.
    pub layer: Figure<Length>,
    /// Interleaf taken.
    pub interleaf: Figure<Length>,
    /// Loft taken, and whether it was said.
    pub loft: (f64, bool),
    /// Outer diameter by ring area.
    pub diameter: Figure<Length>,
    /// Turns by ring area.
    pub turns: Uncertain,
    /// Turn by turn.
    pub by_turn: Wound,
    /// Stretch of the outer face on the innermost turn, a fraction.
    pub strain: Uncertain,
}

impl Roll {
    /// Rolls a piece that nothing else has been reckoned for.
    pub fn of_piece(piece: &Piece) -> Roll {
        let size = Size::of(piece);
        let masses = Masses::of(piece, &Web::of(piece, &size), &size);
        Roll::of(piece, &size, &masses)
    }

    /// Rolls the piece.
    pub fn of(piece: &Piece, size: &Size, masses: &Masses) -> Roll {
        let plain = Packing::default();
        let packing = piece.packing.as_ref().unwrap_or(&plain);
        let way = Way::of(piece, packing, size);
        let tube = Tube::of(piece, packing, size, masses);
        let wound = OnTube::of(packing, size, &way, &tube);
        let parcel = wound.as_ref().map(|w| Parcel::of(packing, w, &way, masses));
        let passages = match &wound {
            Some(w) => packing
                .openings
                .iter()
                .map(|o| Passage::of(o, way.tube_length.value, Length::from_mm(w.by_turn.widest)))
                .collect(),
            None => Vec::new(),
        };
        Roll {
            way,
            tube,
            wound,
            parcel,
            passages,
        }
    }

    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let mut all = self.told();
        if let (Some(parcel), Some(wound)) = (&self.parcel, &self.wound) {
            all.extend(parcel.entries(&self.way, wound));
        }
        for (i, passage) in self.passages.iter().enumerate() {
            all.extend(passage.entries(i));
        }
        all
    }
}

impl OnTube {
    fn of(packing: &Packing, size: &Size, way: &Way, tube: &Tube) -> Option<OnTube> {
        let cloth = size.thickness.as_ref()?;
        let core = tube.taken.as_ref()?;
        let length = &way.rolled;
        let (c, l, d) = (cloth.value.mm(), length.value.mm(), core.value.mm());
        if !(c > 0.0 && l > 0.0 && d > 0.0) {
            return None;
        }
        let interleaf = said(&packing.interleaf, "packing.interleaf", INTERLEAF_MM);
        let loft = packing.loft.as_ref().map_or(LOFT, |l| l.value);
        let layer = (cloth.number() + interleaf.number()).times(loft);
        let t = layer.value;
        let outer = ring_diameter(d, l, t);
        let diameter = Uncertain::derived(
            outer,
            &[
                (core.number(), d / outer),
                (length.number(), 2.0 * t / (PI * outer)),
                (&layer, 2.0 * l / (PI * outer)),
            ],
        );
        let turns = &(&diameter - core.number()) / &layer.times(2.0);
        let sum = d + c;
        let strain = Uncertain::derived(
            strain(d, c),
            &[
                (cloth.number(), d / (sum * sum)),
                (core.number(), -c / (sum * sum)),
            ],
        );
        let from: Vec<String> = (cloth.from.iter())
            .chain(&length.from)
            .chain(&core.from)
            .chain(&interleaf.from)
            .cloned()
            .chain(packing.loft.is_some().then(|| "packing.loft".to_string()))
            .collect();
        Some(OnTube {
            layer: Figure::new(layer, cloth.from.iter().chain(&interleaf.from).cloned()),
            interleaf,
            loft: (loft, packing.loft.is_some()),
            diameter: Figure::new(diameter, from),
            turns,
            by_turn: wound(d, l, t),
            strain,
        })
    }
}

/// A length of the packing as it was written, or the assumption, which nobody doubts and no field has.
fn said(reading: &Option<At<Reading<Length>>>, field: &str, assumed_mm: f64) -> Figure<Length> {
    match reading {
        Some(r) => Figure::read(&r.value, field),
        None => setting(reading, field, assumed_mm),
    }
}

/// A setting of the packing: chosen, not measured, so nobody doubts it. From no field where it is assumed.
fn setting(reading: &Option<At<Reading<Length>>>, field: &str, assumed_mm: f64) -> Figure<Length> {
    let (mm, from) = match reading {
        Some(r) => (r.value.value.mm(), field),
        None => (assumed_mm, ""),
    };
    Figure::new(Uncertain::exact(mm), Some(from).filter(|f| !f.is_empty()))
}

/// "as said", or "assumed", for the words of an entry.
fn assumed(figure: &Figure<Length>) -> &'static str {
    if figure.from.is_empty() {
        "assumed"
    } else {
        "as said"
    }
}
