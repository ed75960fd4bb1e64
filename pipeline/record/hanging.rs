//! How the piece is to be hung: the support, the bar and its brackets, the fixings in the wall, and
//! what becomes of slits under the weight. As written; nothing is reckoned here.

use super::place::{At, Place};
use crate::quantity::{Length, Reading};

/// The section `hanging` of piece.yaml.
#[derive(Debug, Clone, PartialEq)]
pub struct Hanging {
    /// Where it stands.
    pub place: Place,
    /// What carries the piece.
    pub support: Option<At<Support>>,
    /// The bar or batten.
    pub bar: Option<Bar>,
    /// Where brackets (or the batten's screws) hold the bar, from its left end, seen from the front.
    pub brackets: Vec<At<Reading<Length>>>,
    /// How many fixings go into the wall.
    pub fixings: Option<At<u32>>,
    /// How many times the load each fixing is to be chosen for.
    pub factor: Option<At<f64>>,
    /// Where the centre of mass lies, seen from the front.
    pub centre_of_mass: Option<At<OffCentre>>,
    /// The longest slit that is not sewn.
    pub longest_slit: Option<At<Reading<Length>>>,
    /// What became of the slits, where `finishing` does not tell or tells it in other words.
    pub slits: Option<At<SlitsLeft>>,
}

/// What carries the piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Support {
    /// Loop tape on the back, its hook side on a batten.
    HookAndLoop,
    /// A sewn sleeve with a batten or rod in it.
    Sleeve,
    /// Webbing on the back, fastened to a batten.
    Batten,
    /// A bar that is seen, the piece tied to it or turned over it.
    Bar,
}

impl Support {
    /// How it is written.
    pub const ALL: &'static [(&'static str, Support)] = &[
        ("hook-and-loop", Support::HookAndLoop),
        ("sleeve", Support::Sleeve),
        ("batten", Support::Batten),
        ("bar", Support::Bar),
    ];

    /// The way of hanging that a word stands for.
    pub fn named(word: &str) -> Option<Support> {
        let named = Support::ALL.iter().find(|(known, _)| *known == word);
        named.map(|(_, support)| *support)
    }

    /// The word it is written with.
    pub fn word(self) -> &'static str {
        let named = Support::ALL.iter().find(|(_, s)| *s == self);
        named.map_or("", |(word, _)| word)
    }
}

/// A bar or batten.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Where it stands.
    pub place: Place,
    /// What it is made of.
    pub material: Option<At<BarMaterial>>,
    /// Its section.
    pub section: Option<At<BarSection>>,
    /// How long it is.
    pub length: Option<At<Reading<Length>>>,
}

/// What a bar is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BarMaterial {
    /// Pine.
    Pine,
    /// Spruce.
    Spruce,
    /// Douglas fir.
    Fir,
    /// Alder.
    Alder,
    /// Ash.
    Ash,
    /// Beech.
    Beech,
    /// Oak.
    Oak,
    /// Aluminium.
    Aluminium,
    /// Steel.
    Steel,
    /// Acrylic.
    Acrylic,
}

impl BarMaterial {
    /// How it is written.
    pub const ALL: &'static [(&'static str, BarMaterial)] = &[
        ("pine", BarMaterial::Pine),
        ("spruce", BarMaterial::Spruce),
        ("fir", BarMaterial::Fir),
        ("alder", BarMaterial::Alder),
        ("ash", BarMaterial::Ash),
        ("beech", BarMaterial::Beech),
        ("oak", BarMaterial::Oak),
        ("aluminium", BarMaterial::Aluminium),
        ("aluminum", BarMaterial::Aluminium),
        ("steel", BarMaterial::Steel),
        ("acrylic", BarMaterial::Acrylic),
    ];

    /// The way of hanging that a word stands for.
    pub fn named(word: &str) -> Option<Support> {
        let named = Support::ALL.iter().find(|(known, _)| *known == word);
        named.map(|(_, support)| *support)
    }

    /// The word it is written with.
    pub fn word(self) -> &'static str {
        let named = BarMaterial::ALL.iter().find(|(_, m)| *m == self);
        named.map_or("", |(word, _)| word)
    }
}

/// The section of a bar and the words it was written with.
#[derive(Debug, Clone, PartialEq)]
pub struct BarSection {
    /// Its shape.
    pub shape: BarShape,
    /// As written.
    pub text: String,
}

/// The shape of a section as the bar hangs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BarShape {
    /// A rectangle.
    Flat {
        /// Out from the wall.
        thick: Length,
        /// Upright.
        high: Length,
    },
    /// A rod.
    Round {
        /// Its diameter.
        across: Length,
    },
    /// A round tube.
    Tube {
        /// Its outer diameter.
        across: Length,
        /// Its wall.
        wall: Length,
    },
    /// A rectangular tube.
    Box {
        /// Out from the wall.
        thick: Length,
        /// Upright.
        high: Length,
        /// Its wall.
        wall: Length,
    },
}

/// How far the centre of mass lies beside the middle of the width.
#[derive(Debug, Clone, PartialEq)]
pub struct OffCentre {
    /// How far; above zero to the right, seen from the front.
    pub by: Length,
    /// The standard uncertainty that the writing implies (GUM 4.3.7).
    pub u: Length,
    /// As written.
    pub text: String,
}

/// What became of the slits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SlitsLeft {
    /// All are sewn or interlocked.
    Sewn,
    /// Open.
    Open,
    /// Some are sewn, some open.
    Partly,
    /// There are none.
    None,
}

impl SlitsLeft {
    /// How it is written.
    pub const ALL: &'static [(&'static str, SlitsLeft)] = &[
        ("sewn", SlitsLeft::Sewn),
        ("open", SlitsLeft::Open),
        ("partly", SlitsLeft::Partly),
        ("none", SlitsLeft::None),
    ];
}
