//! What is known of a photo, and what can be wrong with it, in words a check can print.
//!
//! Only types and their sentences; how each fact is found stands in the neighbouring files.

use super::crop::CornerTrouble;
use serde::Serialize;
use std::fmt;

/// Width and height in pixels.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Size {
    pub width: u32,
    pub height: u32,
}

impl Size {
    /// The number of pixels.
    pub fn pixels(self) -> u64 {
        u64::from(self.width) * u64::from(self.height)
    }

    /// The longer of the two edges, pixels.
    pub fn long_edge(self) -> u32 {
        self.width.max(self.height)
    }
}

/// What a file is, by its content and never by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Format {
    Jpeg,
    Png,
    Tiff,
    WebP,
    Heic,
    Avif,
    /// Sensor data as a camera wrote them (DNG and the makers' own kinds).
    CameraRaw,
    /// A kind of picture that is known by sight but not read here.
    OtherPicture(&'static str),
    /// Something else, named.
    NotAPicture(&'static str),
    Unknown,
}

impl fmt::Display for Format {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Jpeg => "JPEG",
            Self::Png => "PNG",
            Self::Tiff => "TIFF",
            Self::WebP => "WebP",
            Self::Heic => "HEIC",
            Self::Avif => "AVIF",
            Self::CameraRaw => "camera raw",
            Self::OtherPicture(name) | Self::NotAPicture(name) => name,
            Self::Unknown => "unknown",
        })
    }
}

/// Everything one look at a photo yields besides its pixels.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhotoFacts {
    pub format: Format,
    /// The picture as it lies in the file.
    pub stored: Option<Size>,
    /// The picture after it was turned the way EXIF asks for.
    pub upright: Option<Size>,
    /// EXIF orientation, 1 to 8; 1 where none is given.
    pub orientation: u8,
    pub colour: ColourFacts,
    pub private: Private,
    /// When it was taken, as EXIF says: `2026-06-21T14:05:09`, with `+02:00` where the zone is known.
    pub taken: Option<String>,
    /// The focal length as EXIF states it for film of 36 × 24 mm, millimetres (CIPA DC-008, tag 0xA405).
    pub focal_35mm: Option<u32>,
    /// Why there are no plates, if there are none.
    pub fault: Option<Fault>,
    /// What a check may wish to say of a photo that can be used.
    pub notes: Vec<Note>,
}

impl PhotoFacts {
    /// The facts of a file of which nothing but its kind is known yet.
    pub(super) fn of(format: Format) -> Self {
        Self {
            format,
            stored: None,
            upright: None,
            orientation: 1,
            colour: ColourFacts {
                found: ProfileFound::Nothing,
                treatment: Treatment::NotTreated,
            },
            private: Private::default(),
            taken: None,
            focal_35mm: None,
            fault: None,
            notes: Vec::new(),
        }
    }

    pub(super) fn with_fault(mut self, fault: Fault) -> Self {
        self.fault = Some(fault);
        self
    }
}

/// Which private facts an original carries. That they are there is all that is kept of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
pub struct Private {
    /// A place, in the GPS directory or in XMP.
    pub gps: bool,
    /// Serial numbers of camera or lens.
    pub serials: bool,
    /// Owner of the camera, or artist.
    pub owner: bool,
    /// A small second picture, which may show what was cropped away.
    pub thumbnail: bool,
    /// A maker's note: closed data that may hold any of these.
    pub maker_note: bool,
}

impl Private {
    /// Whether there is anything that must not travel with a public copy.
    pub fn any(self) -> bool {
        self.gps || self.serials || self.owner || self.thumbnail || self.maker_note
    }
}

/// The colour space a photo claims, and what was made of the claim.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ColourFacts {
    pub found: ProfileFound,
    pub treatment: Treatment,
}

/// What the file says of its colours.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ProfileFound {
    /// Neither a profile nor a word in EXIF.
    Nothing,
    /// EXIF says sRGB.
    ExifSrgb,
    /// EXIF says "uncalibrated" and the interoperability index is R03, which means Adobe RGB (DCF 2.0).
    ExifAdobeRgb,
    /// EXIF says "uncalibrated" and nothing more.
    ExifUncalibrated,
    /// An embedded ICC profile, with the name it gives itself.
    Profile { name: String },
    /// An embedded ICC profile that cannot be read.
    BrokenProfile,
}

/// What was done about it. All plates are sRGB in the end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Treatment {
    /// The pixels were not read.
    NotTreated,
    /// Taken as sRGB, for want of anything better or because it is.
    TakenAsSrgb,
    /// Converted from Adobe RGB on the word of EXIF.
    TakenAsAdobeRgb,
    /// Converted by the profile's curves and matrix: relative colorimetric, out-of-gamut parts clipped.
    ByCurves,
    /// Converted by the profile's tables, perceptual.
    ByTables,
    /// Printing inks without a usable profile: an estimate, not a measurement.
    InksEstimated,
    /// The profile does not fit the pixels or cannot be read: taken as sRGB.
    ProfileSetAside,
}

/// Why a photo yields no plates.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, thiserror::Error)]
#[serde(rename_all = "kebab-case", tag = "kind")]
pub enum Fault {
    #[error("the file is empty")]
    Empty,
    #[error("this is not a picture: it looks like {looks_like}")]
    NotAPicture { looks_like: &'static str },
    #[error(
        "the file ends before the picture does ({length} bytes are there); copy it again from the camera or card"
    )]
    Truncated { length: u64 },
    #[error("the picture is damaged: {reason}")]
    Damaged { reason: String },
    #[error(
        "{width} × {height} pixels is more than the {limit_pixels} that are read; save a smaller copy"
    )]
    TooLarge {
        width: u32,
        height: u32,
        limit_pixels: u64,
    },
    #[error(
        "{format} is kept in the archive but not read here ({because}); put a TIFF or JPEG of it beside it"
    )]
    NotReadHere { format: Format, because: String },
}

/// What a check may wish to say of a photo that can be used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, thiserror::Error)]
#[serde(rename_all = "kebab-case")]
pub enum Note {
    /// A moving picture; its first picture is shown.
    #[error("it is a moving picture: the first of its pictures is shown")]
    Moving,
    /// The JPEG has stray bytes between its parts; it was read all the same.
    #[error("the file has stray bytes between its parts, and was read all the same")]
    StrayBytes,
    /// The corners given for the front photo cannot be used; the middle of the photo was taken.
    #[error("the corners cannot be used: {0}; the middle of the photo was taken for the piece")]
    Corners(CornerTrouble),
    /// No corners were given for the front photo; the middle of the photo was taken.
    #[error("no corners are given: the middle of the photo was taken for the piece")]
    CornersAssumed,
    /// The corners bound another shape than the measured height and width; the plates show the whole photo.
    #[error(
        "the corners bound another shape than the measured height and width: the photo was not squared up"
    )]
    NotSquared,
    /// The long edge is shorter than a print plate's.
    #[error("the photo is {long_edge} pixels long; {wanted} print well on a page")]
    Small { long_edge: u32, wanted: u32 },
}
