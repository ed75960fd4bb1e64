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
    /// What is wrong with the file.
    pub trouble: Option<Trouble>,
    /// Private facts in the original, in words: "the place it was taken", "the camera's serial number".
    pub private: Vec<String>,
    /// What is wrong with the corners given for it.
    pub corners: Option<String>,
    /// A remark on its colours, where they could not be taken as they are meant.
    pub colour: Option<String>,
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
