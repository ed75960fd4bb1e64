//! The pictures of a show's pieces, from what was finished of them.

use super::arrange::{Arranged, Entry};
use crate::finish::KeptPlate;
use crate::paper::{Picture, ShowPlates};
use crate::picture::smaller;
use crate::record::{Photo, View};
use rayon::prelude::*;
use std::io::Cursor;

/// The pictures of one piece, held in memory.
#[derive(Debug, Default)]
pub(super) struct Held {
    jpeg: Option<(Vec<u8>, (u32, u32))>,
    ladder: Option<String>,
    alt: String,
    credit: Option<String>,
}

/// Which plates: for a book, or small on a drawing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fine {
    Print,
    Thumb,
}

/// Pixels that all plates of a book may have together. The typesetter unpacks every one of them, three octets a pixel,
/// and keeps them until the book is set.
const MOST_PIXELS: u64 = 120_000_000;
/// The longest edge of a plate in a book of so many that they would have more, in pixels: 172 mm at 250 to the inch.
const BOOK_EDGE: u32 = 1700;

/// The fronts of all pieces. What can not be read is as good as not there: the findings say so.
pub(super) fn held(show: &Arranged, fine: Fine) -> Vec<Held> {
    let mut all: Vec<Held> = show.entries.iter().map(|e| of(e, fine)).collect();
    let pixels = |held: &Held| {
        held.jpeg
            .as_ref()
            .map_or(0, |(_, (w, h))| u64::from(*w) * u64::from(*h))
    };
    if all.iter().map(pixels).sum::<u64>() > MOST_PIXELS {
        all.par_iter_mut()
            .filter_map(|held| held.jpeg.as_mut())
            .for_each(|(jpeg, size)| {
                if let Some(plate) = smaller(jpeg, BOOK_EDGE) {
                    *size = (plate.width, plate.height);
                    *jpeg = plate.jpeg;
                }
            });
    }
    all
}

fn of(entry: &Entry, fine: Fine) -> Held {
    let Some(kept) = entry.kept.as_ref().filter(|k| k.current) else {
        return Held::default();
    };
    let Some(front) = entry.piece.photo(View::Front) else {
        return Held {
            ladder: kept.ladder(),
            ..Held::default()
        };
    };
    let plate = match fine {
        Fine::Print => kept.print(front),
        Fine::Thumb => kept.thumb(front),
    };
    let words = |photo: &Photo| photo.alt.as_ref().map(|a| a.value.clone());
    Held {
        jpeg: plate.and_then(|p| read(&p)),
        ladder: kept.ladder(),
        alt: words(front).unwrap_or_default(),
        credit: front.credit.as_ref().map(|c| c.value.clone()),
    }
}

fn read(plate: &KeptPlate) -> Option<(Vec<u8>, (u32, u32))> {
    let jpeg = plate.read().ok()?;
    let reader = image::ImageReader::with_format(Cursor::new(&jpeg), image::ImageFormat::Jpeg);
    let size = reader.into_dimensions().ok()?;
    Some((jpeg, size))
}

/// The same for the papers.
pub(super) fn plates(all: &[Held]) -> Vec<ShowPlates<'_>> {
    all.iter()
        .map(|held| ShowPlates {
            front: held.jpeg.as_ref().map(|(jpeg, (width, height))| Picture {
                jpeg,
                width: *width,
                height: *height,
                alt: held.alt.clone(),
                credit: held.credit.clone(),
            }),
            ladder: held.ladder.as_deref(),
        })
        .collect()
}
