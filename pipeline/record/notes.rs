//! The process notes: one entry a day at the loom.

use super::place::{At, Place};
use crate::quantity::{Day, Hours, Length, Reading};

/// The notes of one piece.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Notes {
    /// The entries in the order they are written.
    pub entries: Vec<Note>,
}

/// One entry.
#[derive(Debug, Clone, PartialEq)]
pub struct Note {
    /// Where its heading stands.
    pub place: Place,
    /// The day.
    pub day: At<Day>,
    /// Hours at work that day.
    pub hours: Option<At<Reading<Hours>>>,
    /// Height woven so far.
    pub height: Option<At<Reading<Length>>>,
    /// The text under the heading.
    pub text: String,
}
