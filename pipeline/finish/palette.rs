//! The palette beside the plates: the colours of the front photograph with their areas, matched to the weft
//! yarns whose colours the record gives.

use super::darkroom::Print;
use crate::picture::{Rgb8, Yarn, palette_json};
use crate::record::Piece;

/// The palette's file in the output folder.
pub(super) const PALETTE: &str = "plates/palette.json";

/// The palette, if a ladder was read from one of the photographs.
pub(super) fn palette(piece: &Piece, prints: &[Print]) -> Option<String> {
    let front = prints.iter().find(|p| !p.sight.palette.is_empty())?;
    let rgb = |[r, g, b]: [u8; 3]| Rgb8 { r, g, b };
    let shades: Vec<(Rgb8, u32)> = front
        .sight
        .palette
        .iter()
        .map(|shade| (rgb(shade.srgb), shade.thousandths))
        .collect();
    let yarns: Vec<Yarn> = piece
        .weft
        .iter()
        .filter_map(|weft| {
            Some(Yarn {
                name: weft.name.as_ref()?.value.clone(),
                colour: rgb(weft.colour.as_ref()?.value.0),
            })
        })
        .collect();
    Some(palette_json(&front.file, &shades, &yarns))
}
