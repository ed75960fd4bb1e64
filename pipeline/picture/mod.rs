//! Photographs: looked at, turned upright, brought to sRGB, made into plates, and read for their colours.
//!
//! Pure computation on bytes. One call of [`develop`] decodes one original once and yields what the papers
//! need of it: facts, a plate for print, a plate for the screen, and (for the front photo) the colour
//! ladder. [`look`] yields the facts alone, without decoding pixels. Both may be called from many threads
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
mod exif;
mod facts;
mod find;
mod homography;
mod jpeg;
mod jpeg_pixels;
mod ladder;
mod linear;
mod oklab;
mod palette;
mod plate;
mod sniff;
mod square;
mod srgb;
mod structure;
mod tiff;
mod wall;

pub use crop::{CornerTrouble, Side};
pub use develop::{Ask, Developed, LadderAsk, MAX_PIXELS, develop, find_corners, look};
pub use facts::{
    ColourFacts, Fault, Format, Note, PhotoFacts, Private, ProfileFound, Size, Treatment,
};
pub use find::{FoundCorners, NotFound, Sureness};
pub use ladder::{BANDS, Band, Ladder, Strip};
pub use oklab::Oklab;
pub use plate::{PRINT_EDGE, Plate, SCREEN_EDGE};
pub use srgb::{Rgb8, decode_srgb, encode_srgb, srgb_profile};
