//! Photographs: looked at, turned upright, brought to sRGB, made into plates, and read for their colours.
//!
//! Pure computation on bytes. One call of [`develop`] decodes one original once and yields what the papers
//! need of it: facts, plates for print, screen and lists, and (for the front photo) the colour ladder.
//! [`inscribe`] writes into a plate what it shows. [`look`] yields the facts alone, without decoding pixels. Both may be called from many threads
//! at once; neither keeps anything between calls, and the same bytes give the same result.
//!
//! Left to others: opening files, reading the record, judging whether a fault is an error, and the layout
//! of plates and ladder on a page.

mod colour;
mod crop;
mod curve;
mod decode;
mod develop;
mod edges;
mod evenness;
mod exif;
mod facts;
mod family;
mod find;
mod homography;
mod jpeg;
mod jpeg_pixels;
mod ladder;
mod likeness;
mod linear;
mod measures;
mod oklab;
mod palette;
mod plate;
mod sharpness;
mod shrink;
mod sniff;
mod square;
mod srgb;
mod structure;
mod swatches;
mod tiff;
mod tints;
mod wall;
mod warp;
mod xmp;

pub use crop::{CornerTrouble, Side};
pub use develop::{
    Ask, Developed, Glance, LadderAsk, MAX_PIXELS, develop, find_corners, glance, look, smaller,
};
pub use facts::{
    ColourFacts, Fault, Format, Note, PhotoFacts, Private, ProfileFound, Size, Treatment,
};
pub use family::{Family, families};
pub use find::{FoundCorners, NotFound, Sureness};
pub use ladder::{BANDS, Band, Ladder, Shade, Strip};
pub use measures::Measures;
pub use oklab::Oklab;
pub use plate::{PRINT_EDGE, Plate, SCREEN_EDGE, THUMB_EDGE};
pub use srgb::{Rgb8, decode_srgb, encode_srgb, srgb_profile};
pub use swatches::{Yarn, palette_json};
pub use tints::Tints;
pub use xmp::{PlateWords, Work, inscribe, of_work};
