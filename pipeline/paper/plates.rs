//! Pictures handed to a paper as bytes, ready to print.

/// The pictures of one piece.
#[derive(Debug, Clone, Default)]
pub struct Plates<'a> {
    /// The whole front.
    pub front: Option<Picture<'a>>,
    /// A detail, or the piece where it hangs: for the catalogue page.
    pub second: Option<Picture<'a>>,
    /// The colour ladder as SVG, the start of the weaving at its foot.
    pub ladder_svg: Option<&'a str>,
}

/// One picture.
#[derive(Debug, Clone)]
pub struct Picture<'a> {
    /// The JPEG file, embedded byte for byte.
    pub jpeg: &'a [u8],
    /// Width in pixels.
    pub width: u32,
    /// Height in pixels.
    pub height: u32,
    /// What it shows, in words.
    pub alt: String,
    /// Who took it.
    pub credit: Option<String>,
}

/// A picture as the templates see it.
#[derive(Debug, Clone, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Plate {
    /// Width over height.
    ratio: f64,
    /// The widest it may stand without being enlarged beyond its pixels, in millimetres.
    widest: f64,
    alt: String,
}

/// No plate is printed with fewer pixels an inch than this: common practice asks for 300 and bears
/// a little less, no source.
const LEAST_PIXELS_AN_INCH: f64 = 250.0;

impl<'a> Plates<'a> {
    /// The ladder without any picture.
    pub(super) fn ladder_alone(&self) -> Plates<'a> {
        Plates {
            ladder_svg: self.ladder_svg,
            ..Plates::default()
        }
    }

    /// The ladder and the front.
    pub(super) fn front_alone(&self) -> Plates<'a> {
        Plates {
            second: None,
            ..self.clone()
        }
    }
}

impl Picture<'_> {
    pub(super) fn plate(&self, alt: String) -> Plate {
        let (w, h) = (f64::from(self.width.max(1)), f64::from(self.height.max(1)));
        Plate {
            ratio: w / h,
            widest: w / LEAST_PIXELS_AN_INCH * 25.4,
            alt: if self.alt.trim().is_empty() {
                alt
            } else {
                super::letters::line(&self.alt)
            },
        }
    }
}
