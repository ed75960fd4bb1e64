//! The pictures of a show's pieces, from what was finished of them.

use super::arrange::{Arranged, Entry};
use crate::finish::KeptPlate;
use crate::paper::{Picture, ShowPlates};
use crate::record::{Photo, View};
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
    Screen,
}

/// The fronts of all pieces. What can not be read is as good as not there: the findings say so.
pub(super) fn held(show: &Arranged, fine: Fine) -> Vec<Held> {
    show.entries.iter().map(|e| of(e, fine)).collect()
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
        Fine::Screen => kept.screen(front),
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
