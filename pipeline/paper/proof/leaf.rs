//! A page of a finished paper as a small picture, for the contact sheet.

use hayro::hayro_interpret::InterpreterSettings;
use hayro::hayro_syntax::Pdf;
use hayro::vello_cpu::color::palette::css::WHITE;
use hayro::{RenderCache, RenderSettings, render};
use jpeg_encoder::{ColorType, Encoder};

/// The widest a page stands on the contact sheet, mm, and the pixels an inch that it is shown with.
pub(super) const WIDE_MM: f64 = 61.0;
const PIXELS_AN_INCH: f64 = 220.0;
/// The longest side in pixels: a care label alone is no wider than a stamp and stands at its own size.
const MOST: f64 = 800.0;
const QUALITY: u8 = 85;

/// A page as a picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Leaf {
    /// The picture.
    pub jpeg: Vec<u8>,
    /// Width and height of the page itself, mm.
    pub size: (f64, f64),
}

/// The pages of a paper that was made here; why not, where the file can not be read as one.
pub fn leaves(pdf: Vec<u8>) -> Result<Vec<Leaf>, String> {
    let pdf = Pdf::new(pdf).map_err(|e| format!("it can not be read as a PDF: {e:?}"))?;
    let cache = RenderCache::new();
    let settings = InterpreterSettings::default();
    pdf.pages()
        .iter()
        .map(|page| {
            let (wide, tall) = page.render_dimensions();
            let (wide, tall) = (f64::from(wide), f64::from(tall));
            // What is smaller than its place on the sheet is shown as large as it is.
            let shown = (wide / 72.0 * 25.4).min(WIDE_MM) / 25.4 * PIXELS_AN_INCH;
            let scale = (shown / wide).min(MOST / wide.max(tall));
            let map = render(
                page,
                &cache,
                &settings,
                &RenderSettings {
                    x_scale: scale as f32,
                    y_scale: scale as f32,
                    bg_color: WHITE,
                    ..RenderSettings::default()
                },
            );
            let rgb: Vec<u8> = (map.data().iter()).flat_map(|p| [p.r, p.g, p.b]).collect();
            let mut jpeg = Vec::new();
            Encoder::new(&mut jpeg, QUALITY)
                .encode(&rgb, map.width(), map.height(), ColorType::Rgb)
                .map_err(|e| format!("its picture can not be made: {e}"))?;
            Ok(Leaf {
                jpeg,
                size: (wide / 72.0 * 25.4, tall / 72.0 * 25.4),
            })
        })
        .collect()
}
