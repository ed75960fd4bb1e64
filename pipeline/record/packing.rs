//! How the piece will be rolled and sent: tube, interleaf, parcel, and the ways it must pass.

use super::place::At;
use crate::quantity::{Length, Mass, Reading};

/// How a piece is rolled and packed. Everything may stay out.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Packing {
    /// Outer diameter of the tube.
    pub tube: Option<At<Reading<Length>>>,
    /// Thickness of the interleaf, all its layers together.
    pub interleaf: Option<At<Reading<Length>>>,
    /// How much thicker the layers lie on the roll than they measure: 1 is tight.
    pub loft: Option<At<f64>>,
    /// The side that lies outward on the roll.
    pub face: Option<At<Face>>,
    /// The yarns that go round the tube.
    pub round: Option<At<Round>>,
    /// Bare tube beyond the cloth at each end.
    pub ends: Option<At<Reading<Length>>>,
    /// Room between roll and box, all round.
    pub clearance: Option<At<Reading<Length>>>,
    /// Thickness of the box's wall.
    pub wall: Option<At<Reading<Length>>>,
    /// Mass of tube, wrapping and box together, as weighed.
    pub weighs: Option<At<Reading<Mass>>>,
    /// Cubic centimetres that a carrier counts as one kilogram.
    pub divisor: Option<At<f64>>,
    /// Doors, lifts and vans it must pass.
    pub openings: Vec<Opening>,
}

/// A door, or a room such as a lift or a van.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// What it is.
    pub what: At<String>,
    /// Clear width.
    pub width: At<Reading<Length>>,
    /// Clear height.
    pub height: At<Reading<Length>>,
    /// Clear depth; a door has none.
    pub depth: Option<At<Reading<Length>>>,
}

/// The side that lies outward on a roll.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Face {
    /// The face outward.
    Out,
    /// The face inward.
    In,
}

impl Face {
    /// How it is written.
    pub const ALL: &'static [(&'static str, Face)] = &[("out", Face::Out), ("in", Face::In)];
}

/// The yarns that go round the tube.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Round {
    /// The warps go round it.
    Warp,
    /// The wefts go round it; the warps lie along the tube.
    Weft,
}

impl Round {
    /// How it is written.
    pub const ALL: &'static [(&'static str, Round)] =
        &[("warp", Round::Warp), ("weft", Round::Weft)];
}
