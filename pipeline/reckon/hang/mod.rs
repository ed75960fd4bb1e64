//! Hanging: weight and line load, the support and what is cut for it, the bar on its brackets, the fixings,
//! and what the weight does to slits. Every figure that carries weight overhead comes with its caution;
//! nothing here rates a wall, a screw or a tape.

mod bar;
mod bar_entries;
pub mod beam;
mod cuts;
mod example;
mod fixings;
mod held_entries;
mod load;
mod materials;
mod places;
mod section;
mod slits;
mod support;
#[cfg(test)]
mod tests;

pub use bar::{Held, HungBar, SEEN, Stretch};
pub use cuts::Cut;
pub use fixings::{FACTOR, Fixings, Pull};
pub use load::{GRAVITY, Load, uneven};
pub use materials::{Material, material};
pub use places::best as best_places;
pub use section::Section;
pub use slits::Slits;
pub use support::Chosen;

use super::{Entry, Masses, Size};
use crate::record::Piece;

/// How the piece hangs. Without a mass nothing is reckoned.
#[derive(Debug, Clone, PartialEq)]
pub struct Hanging {
    /// What hangs.
    pub load: Load,
    /// What carries it.
    pub support: Chosen,
    /// The bar, where material and section are written.
    pub bar: Option<HungBar>,
    /// The load on the wall.
    pub fixings: Fixings,
    /// What the weight does to slits.
    pub slits: Slits,
}

impl Hanging {
    /// Reckons how the piece hangs; `None` where its mass is not known.
    pub fn of(piece: &Piece, size: &Size, masses: &Masses) -> Option<Hanging> {
        let load = Load::of(piece, size, masses)?;
        let hanging = piece.hanging.as_ref();
        let support = Chosen::of(piece, load.width.value);
        let advised = support.bar_length();
        let bar = hanging.and_then(|h| HungBar::of(&load, h, advised));
        let thickness = size.thickness.as_ref().map_or(0.0, |t| t.value.mm());
        let fixings = Fixings::of(&load, hanging, bar.as_ref(), &support, thickness);
        let slits = Slits::of(piece, Some(&load));
        Some(Hanging {
            load,
            support,
            bar,
            fixings,
            slits,
        })
    }

    /// The ledger's entries.
    pub fn entries(&self) -> Vec<Entry> {
        let bar_length = self.bar.as_ref().map(|bar| bar.length);
        let mut all = self.load.entries(bar_length);
        all.extend(self.support.entries(&self.load));
        match &self.bar {
            Some(bar) => all.extend(bar.entries(&self.load)),
            None => {
                let width = self.load.width.value;
                let length = self.support.bar_length().unwrap_or(width);
                all.extend(example::entries(&self.load, length));
            }
        }
        all.extend(self.fixings.entries());
        all.extend(self.slits.entries());
        all
    }
}
