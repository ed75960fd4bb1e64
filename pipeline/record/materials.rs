//! Loom, warp, weft and what is not the woven face.

use super::place::{At, Place};
use crate::quantity::{Cost, Humidity, Length, Mass, Reading, Sett, YarnCount};

/// The loom and the web on it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Loom {
    /// What kind of loom.
    pub kind: Option<At<String>>,
    /// Closeness of the warp.
    pub sett: Option<At<Reading<Sett>>>,
    /// Number of warp ends.
    pub ends: Option<At<u32>>,
    /// Width in the loom.
    pub width: Option<At<Reading<Length>>>,
    /// Woven height without hems, on the loom under tension.
    pub woven: Option<At<Reading<Length>>>,
    /// Length of each end as strung.
    pub warp_length: Option<At<Reading<Length>>>,
    /// The plain-woven hems.
    pub hems: Option<Hems>,
    /// What is left of each warp end beyond the hem, at each end of the piece, tied or darned in.
    pub tails: Option<At<Reading<Length>>>,
}

/// The hems at both ends of the weaving, as woven.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Hems {
    /// Where the weaving began.
    pub start: Option<At<Reading<Length>>>,
    /// Where it ended.
    pub finish: Option<At<Reading<Length>>>,
}

/// A fibre's share of a yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct Share {
    /// The fibre as written.
    pub fibre: At<String>,
    /// Percent of the yarn's mass.
    pub percent: At<f64>,
}

/// The warp yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct Warp {
    /// Where it stands.
    pub place: Place,
    /// What the yarn is called.
    pub yarn: Option<At<String>>,
    /// Its count.
    pub count: Option<At<YarnCount>>,
    /// What it is made of.
    pub fibre: Vec<Share>,
    /// What it cost. Private.
    pub cost: Option<At<Cost>>,
}

/// One yarn of the weft.
#[derive(Debug, Clone, PartialEq)]
pub struct Weft {
    /// Where it stands.
    pub place: Place,
    /// Her name for it.
    pub name: Option<At<String>>,
    /// Its count.
    pub count: Option<At<YarnCount>>,
    /// What it is made of.
    pub fibre: Vec<Share>,
    /// How much of it is in the piece.
    pub used: Option<Used>,
    /// Relative humidity of the air that the yarn had lain in when it was weighed.
    pub humidity: Option<At<Reading<Humidity>>>,
    /// Whether it is there for looks alone, visible and separable from the rest.
    pub decorative: Option<At<bool>>,
    /// What dyed it.
    pub dye: Option<At<String>>,
    /// Its colour as seen in a photograph of the yarn. A help in reading the palette, so no part of what the
    /// record number names.
    pub colour: Option<At<Srgb>>,
    /// Fastness to light on the blue wool scale, 1 to 8, lower and upper (ISO 105-B02).
    pub light: Option<At<(u8, u8)>>,
    /// Fastness to washing on the grey scale, 1 to 5, lower and upper (ISO 105-C06).
    pub wash: Option<At<(u8, u8)>>,
    /// What it cost. Private.
    pub cost: Option<At<Cost>>,
}

/// Red, green and blue in sRGB (IEC 61966-2-1), 0 to 255 each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Srgb(pub [u8; 3]);

/// How the used mass of a weft yarn is known.
#[derive(Debug, Clone, PartialEq)]
pub enum Used {
    /// Given.
    Given(At<Reading<Mass>>),
    /// Weighed before and after.
    Weighed(Skein),
    /// Reeled off by length.
    Reeled(At<Reading<Length>>),
}

/// A yarn weighed before and after the weaving.
#[derive(Debug, Clone, PartialEq)]
pub struct Skein {
    /// Before.
    pub before: At<Reading<Mass>>,
    /// After.
    pub after: At<Reading<Mass>>,
}

/// A part that is not the woven face: a lining, a heading.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Its name as written, such as `lining`.
    pub name: At<String>,
    /// What it is made of.
    pub fibre: Vec<Share>,
    /// Its mass.
    pub used: Option<At<Reading<Mass>>>,
    /// How it holds, for a heading: hook-and-loop, sleeve, rings.
    pub method: Option<At<String>>,
    /// How deep it is.
    pub depth: Option<At<Reading<Length>>>,
    /// Whether it is no textile and comes from an animal: horn, leather, bone, feather.
    pub animal_origin: Option<At<bool>>,
    /// What it cost. Private.
    pub cost: Option<At<Cost>>,
}

/// What the weaver decides about the fibre label where the law leaves a choice.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Label {
    /// Whether the warp counts.
    pub warp: Option<At<WarpCounts>>,
}

/// Whether the covered warp of a hanging counts towards its fibre content.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WarpCounts {
    /// It counts: the cautious course, and what is done where nothing is said.
    Counted,
    /// It is a binding warp that is no part of the right side (Regulation (EU) No 1007/2011, Annex
    /// VII (d)).
    LeftOut,
}

impl WarpCounts {
    /// How it is written.
    pub const ALL: &'static [(&'static str, WarpCounts)] = &[
        ("counted", WarpCounts::Counted),
        ("left out", WarpCounts::LeftOut),
    ];
}

/// What was done after cutting off.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Finishing {
    /// How the warp ends were secured.
    pub warp_ends: Option<At<String>>,
    /// What became of the hems.
    pub hems: Option<At<String>>,
    /// What became of the slits.
    pub slits: Option<At<String>>,
    /// How the piece was blocked.
    pub blocking: Option<At<String>>,
    /// Treatment against moths.
    pub mothproofing: Option<At<String>>,
}
