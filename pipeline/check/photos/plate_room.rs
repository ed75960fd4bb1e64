//! How finely the front plate is printed where it fills the room that the catalogue page leaves it.

use super::listed::seen;
use crate::check::Subject;
use crate::record::{PaperSize, Photo, View};

/// The front plate at its full size.
pub(in crate::check) struct Full<'a> {
    pub photo: &'a Photo,
    /// Its width there, millimetres.
    pub width: f64,
    /// Pixels of the original to the inch there.
    pub an_inch: f64,
}

/// Sheet widths, millimetres (ISO 216; 8 1/2 in).
const A4: f64 = 210.0;
const LETTER: f64 = 215.9;
/// The part of the sheet's width between the margins, as the templates set them: 34 and 26 of 210.
const BETWEEN_MARGINS: f64 = 150.0 / 210.0;
/// A plate not wider than so much of its height has the words beside it, which take 56 mm and a gap of 8.
const TALL: f64 = 0.75;
const WORDS: f64 = 64.0;
/// The most height there is under a title and above a caption, millimetres (own estimate from the page).
const HEIGHT: f64 = 200.0;
/// Under so many pixels to the inch a plate is printed smaller rather than coarser.
pub(in crate::check) const LEAST_PRINTED: f64 = 250.0;

/// The first front photograph that was read, at its full size on the page. Its pixels are those between
/// its corners, or all of them without corners.
pub(in crate::check) fn full<'a>(subject: &'a Subject) -> Option<Full<'a>> {
    let (photo, (width, height)) = seen(subject)
        .filter(|(photo, _)| photo.view.value == View::Front)
        .find_map(|(photo, sight)| Some((photo, sight.looks.map(|l| l.across).or(sight.size)?)))?;
    let (wide, high) = (f64::from(width.max(1)), f64::from(height.max(1)));
    let ratio = wide / high;
    let sheet = match subject.studio.map(|s| s.paper) {
        Some(PaperSize::Letter) => LETTER,
        _ => A4,
    };
    let room = sheet * BETWEEN_MARGINS - if ratio <= TALL { WORDS } else { 0.0 };
    let width = room.min(HEIGHT * ratio);
    Some(Full {
        photo,
        width,
        an_inch: wide / width * 25.4,
    })
}
