//! What was seen in a photograph's file: its shape, its troubles, the private facts it carries. The
//! pictures' own module finds this out; rules judge by it.

use serde::{Deserialize, Serialize};

/// What was seen in one photograph.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Sight {
    /// Width and height in pixels, upright, if they could be told.
    pub size: Option<(u32, u32)>,
    /// The focal length as EXIF states it for film of 36 × 24 mm, millimetres.
    #[serde(default)]
    pub focal: Option<u32>,
    /// The day on which it was taken, as EXIF says: `2026-06-21`.
    #[serde(default)]
    pub taken: Option<String>,
    /// It is a moving picture, of which the first is shown.
    #[serde(default)]
    pub moving: bool,
    /// What is wrong with the file.
    pub trouble: Option<Trouble>,
    /// Private facts in the original, in words: "the place it was taken", "the camera's serial number".
    pub private: Vec<String>,
    /// What is wrong with the corners given for it.
    pub corners: Option<String>,
    /// A remark on its colours, where they could not be taken as they are meant.
    pub colour: Option<String>,
    /// What its pixels say of it, once they were decoded.
    pub looks: Option<Looks>,
    /// The colours of the piece in it, the most frequent first; for the front photograph alone.
    pub palette: Vec<Shade>,
}

/// What the pixels of a photograph say of it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Looks {
    /// Width and height of the piece by its corners, or of the photograph: pixels of the original, upright.
    pub across: (u32, u32),
    /// How far edges are spread: a standard deviation in pixels of the print plate.
    pub spread: Option<f64>,
    /// Share of the piece that is white without drawing, 0 to 1.
    pub burnt: f64,
    /// Share of the piece that is black without drawing, 0 to 1.
    pub drowned: f64,
    /// By how much the light on the wall differs across the picture, as a share of its mean.
    pub uneven: Option<f64>,
    /// 64 bits that are nearly the same for the same picture.
    pub likeness: Option<u64>,
}

/// One of a piece's colours as its photograph shows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shade {
    /// Red, green and blue in sRGB, 0 to 255.
    pub srgb: [u8; 3],
    /// Its share of the piece's area in thousandths.
    pub thousandths: u32,
}

/// What is wrong with a photograph's file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum Trouble {
    /// Nothing in it.
    Empty,
    /// No picture at all; what it looks like.
    NotAPicture(String),
    /// It ends too early.
    CutShort,
    /// It can not be read; why.
    Damaged(String),
    /// More pixels than are read.
    TooLarge {
        /// Width in pixels.
        width: u64,
        /// Height in pixels.
        height: u64,
        /// The most megapixels that are read.
        most_megapixels: u64,
    },
    /// A kind of picture that is archived but not read; which.
    NotReadHere(String),
}
