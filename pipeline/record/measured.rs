//! The piece as it hangs: what tape and scale said, where it hangs, how it is cared for.

use super::place::At;
use crate::quantity::{Day, Hours, Humidity, Illuminance, Length, Mass, Reading, Temperature};

/// Readings of the finished piece. Height is the hanging height.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// The day of measuring.
    pub on: Option<At<Day>>,
    /// Who measured.
    pub by: Option<At<String>>,
    /// Height readings, left to right. Never empty.
    pub height: Vec<At<Reading<Length>>>,
    /// Width readings, top to bottom. Never empty.
    pub width: Vec<At<Reading<Length>>>,
    /// Top left to bottom right, then the other.
    pub diagonals: Option<[At<Reading<Length>>; 2]>,
    /// Thickness.
    pub thickness: Option<At<Reading<Length>>>,
    /// Mass on the scale.
    pub mass: Option<At<Reading<Mass>>>,
    /// The air while measuring.
    pub at: Option<Air>,
}

/// Air in a room.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Air {
    /// Temperature.
    pub temperature: Option<At<Reading<Temperature>>>,
    /// Relative humidity.
    pub humidity: Option<At<Reading<Humidity>>>,
}

/// Where the piece hangs now.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Display {
    /// What kind of place.
    pub place: Option<At<String>>,
    /// Light on the piece.
    pub light: Option<At<Reading<Illuminance>>>,
    /// Hours of that light a day.
    pub hours_a_day: Option<At<f64>>,
    /// Days of that light a year.
    pub days: Option<At<f64>>,
    /// Whether ultraviolet is filtered out.
    pub filtered: Option<At<bool>>,
    /// A show it goes to.
    pub show: Option<Show>,
}

/// The light of a show.
#[derive(Debug, Clone, PartialEq)]
pub struct Show {
    /// Light while it is open.
    pub open: Lit,
    /// Days it lasts.
    pub days: At<f64>,
    /// Further light on the same days: cleaning, guarding at night.
    pub extra: Option<Lit>,
    /// Whether ultraviolet is filtered out.
    pub filtered: Option<At<bool>>,
}

/// A light level and its hours a day.
#[derive(Debug, Clone, PartialEq)]
pub struct Lit {
    /// Light on the piece.
    pub light: At<Reading<Illuminance>>,
    /// Hours of it a day.
    pub hours_a_day: At<f64>,
}

/// What the weaver says of cleaning.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Care {
    /// The most that may be done.
    pub cleaning: Option<At<String>>,
    /// Why.
    pub because: Option<At<String>>,
}

impl Display {
    /// Hours of light as a quantity.
    pub fn lit(&self) -> Option<Hours> {
        use crate::quantity::Dimension;
        self.hours_a_day.as_ref().map(|h| Hours::of(h.value))
    }
}
