//! Plates: the JPEGs that go into papers and pages.
//!
//! A plate is always encoded anew from pixels, so nothing of the original's side data can travel with it.
//! It holds a JFIF header, the sRGB profile and the picture, to which `xmp` adds words; colours are not
//! subsampled (4:4:4) in any size, for the sake of fine textile detail. No plate is larger than its photograph.
//! Nothing is sharpened: shrinking in linear light keeps the contrast of the finest ribs (an outside check
//! measures it), and sharpening would only draw halos around them.

use super::linear::Light;
use super::srgb;
use jpeg_encoder::{ColorType, Encoder, SamplingFactor};

/// The longest edge of a plate for print, pixels: 245 mm at 300 to the inch, the tallest field that the
/// templates' margins leave on any sheet (A4: 297 mm less 24 and 28).
pub const PRINT_EDGE: u32 = 2900;
/// The longest edge of a plate for the screen, pixels.
pub const SCREEN_EDGE: u32 = 1600;
/// The longest edge of a thumb, a plate for lists, pixels.
pub const THUMB_EDGE: u32 = 400;

pub(super) const PRINT_QUALITY: u8 = 88;
pub(super) const SCREEN_QUALITY: u8 = 82;
pub(super) const THUMB_QUALITY: u8 = 80;

/// A picture ready to be placed: upright, sRGB, without private facts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plate {
    /// A baseline JPEG with an sRGB profile and no other side data.
    pub jpeg: Vec<u8>,
    /// Pixels.
    pub width: u32,
    /// Pixels.
    pub height: u32,
}

/// Encodes upright sRGB light.
pub(super) fn plate(light: &Light, quality: u8) -> Plate {
    let (width, height) = (light.size.width, light.size.height);
    let values = light.to_srgb();
    let mut jpeg = Vec::with_capacity(values.len() / 4);
    let mut encoder = Encoder::new(&mut jpeg, quality);
    encoder.set_sampling_factor(SamplingFactor::F_1_1);
    encoder
        .add_icc_profile(srgb::srgb_profile())
        .expect("the sRGB profile is short");
    encoder
        .encode(&values, width as u16, height as u16, ColorType::Rgb)
        .expect("a plate's edges are 1 to 2900 pixels and memory takes every byte");
    Plate {
        jpeg,
        width,
        height,
    }
}
