//! Which piece hangs on which wall, and where.
//!
//! A wall is parted by what must be kept clear into stretches. Each piece goes into one stretch or is left over;
//! within a stretch the pieces hang in their order. Of all ways that respect widths, gaps, heights, loads and
//! fixed wishes the one is sought that, in this order of weight,
//!
//! 1. leaves the fewest pieces over,
//! 2. hangs the fewest where the light is too strong for them,
//! 3. makes the visitor meet the fewest pieces before the one listed ahead of them,
//! 4. fills the fullest stretch the least, so that everything has air.
//!
//! First the best way without any break of order is found exactly (dynamic programming over the list); where everything
//! hangs in it, in no stronger light than it must, it is the best of all. Else small changes make it better, and a
//! branch and bound goes on from there. Its steps are counted and not timed, so that the same show gives the same plan
//! on any machine; what it could not prove is told.

mod advice;
mod assign;
mod bound;
mod in_turn;
mod polish;
mod search;
mod spread;
mod stretch;
#[cfg(test)]
mod tests;

pub use advice::{Advice, Change};
pub use assign::{Plan, Score, Spot, hang};
pub use spread::{FLOOR, USUAL_CENTRE};

use crate::quantity::{Length, Mass};

/// A piece to hang.
#[derive(Debug, Clone, PartialEq)]
pub struct Hung {
    /// Its width.
    pub width: Length,
    /// Its height.
    pub height: Length,
    /// What it weighs with its bar, where that is known.
    pub mass: Option<Mass>,
    /// The wall it has to hang on, by its place in the list of walls.
    pub wall: Option<usize>,
    /// On which walls the light is too strong for it; nothing where it bears every one.
    pub too_bright: Vec<usize>,
}

/// A wall without anything on it.
#[derive(Debug, Clone, PartialEq)]
pub struct BareWall {
    /// From corner to corner.
    pub width: Length,
    /// As high as pieces may reach, where that is known.
    pub height: Option<Length>,
    /// What must be kept clear, from and to, from the left corner.
    pub clear: Vec<(Length, Length)>,
    /// The most it may carry in all.
    pub limit: Option<Mass>,
}

/// What the pieces have in common in height, above the floor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Line {
    /// Their middles.
    Centre(Length),
    /// Their top edges.
    Top(Length),
}

/// A show to be hung.
#[derive(Debug, Clone, PartialEq)]
pub struct Rooms {
    /// The walls in the order of the visitor's way.
    pub walls: Vec<BareWall>,
    /// The least free width between two pieces.
    pub gap: Length,
    /// The common line.
    pub line: Line,
}

/// What is wrong with one piece and all walls alike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoPlace {
    /// It is wider than every stretch it may hang in, by so much.
    TooWide(Length),
    /// It is higher than every wall it may hang on, by so much.
    TooHigh(Length),
    /// It is heavier than every wall it may hang on may carry, by so much.
    TooHeavy(Mass),
    /// There is room for it, but not with the others.
    Crowded,
    /// There is no wall at all.
    NoWall,
}
