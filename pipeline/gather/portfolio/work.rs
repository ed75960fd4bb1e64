//! One work of the portfolio: what its page needs, and where its plates lie.

use super::Edition;
use crate::finish::{Kept, KeptPlate};
use crate::paper::{PublicView, StudioView};
use crate::picture::{Family, Rgb8, families};
use crate::quantity::Dimension;
use crate::read::Archive;
use crate::reckon::Reckoning;
use crate::record::{Photo, Piece, RecordNumber, Studio, View, declared};
use rayon::prelude::*;
use std::path::Path;

/// A colour counts for the filter from 8 % of the front on (own rule).
const COUNTS: u32 = 80;

/// One work.
pub(super) struct Work<'a> {
    pub piece: &'a Piece,
    pub reckoning: Reckoning,
    pub public: PublicView,
    /// What the studio alone may know; nothing in the public edition.
    pub private: Option<StudioView>,
    pub number: RecordNumber,
    pub kept: Option<Kept>,
    pub front: Option<Picture<'a>>,
    pub further: Vec<Picture<'a>>,
    pub colours: Vec<Family>,
    /// The year it was finished.
    pub year: Option<i32>,
}

/// A photograph with its plates.
pub(super) struct Picture<'a> {
    pub photo: &'a Photo,
    pub thumb: KeptPlate,
    pub screen: KeptPlate,
    pub print: KeptPlate,
}

impl<'a> Picture<'a> {
    fn of(kept: &Kept, photo: &'a Photo) -> Option<Picture<'a>> {
        Some(Picture {
            photo,
            thumb: kept.thumb(photo)?,
            screen: kept.screen(photo)?,
            print: kept.print(photo)?,
        })
    }
}

/// Every piece that could be read, the latest first; of one year and day by title.
pub(super) fn works<'a>(
    archive: &'a Archive,
    studio: &'a Studio,
    out: &Path,
    edition: Edition,
) -> Vec<Work<'a>> {
    let mut all: Vec<Work> = archive
        .pieces
        .par_iter()
        .filter_map(|folder| folder.piece.as_ref())
        .map(|piece| work(studio, piece, out, edition))
        .collect();
    all.sort_by(|a, b| {
        let key = |w: &Work<'a>| (w.piece.made.latest().or(w.piece.made.earliest()), w.piece);
        let ((a_day, a), (b_day, b)) = (key(a), key(b));
        // What has no day comes last.
        b_day
            .cmp(&a_day)
            .then_with(|| a.title.value.cmp(&b.title.value))
            .then_with(|| a.slug.cmp(&b.slug))
    });
    all
}

fn work<'a>(studio: &Studio, piece: &'a Piece, out: &Path, edition: Edition) -> Work<'a> {
    let reckoning = Reckoning::of(studio, piece);
    let kept = Kept::of(out, studio, piece);
    let number = kept.as_ref().map_or_else(
        || RecordNumber::of(&declared(studio, piece, None)),
        |k| k.number.clone(),
    );
    let front = piece.photo(View::Front);
    let shows = |photo: &&Photo| {
        let is_front = front.is_some_and(|f| std::ptr::eq(f, *photo));
        !is_front && may_be_shown(piece, photo)
    };
    let (front_picture, further, colours) = match &kept {
        None => (None, Vec::new(), Vec::new()),
        Some(kept) => {
            let palette: Vec<(Rgb8, u32)> = front
                .map(|f| kept.palette(f))
                .unwrap_or_default()
                .iter()
                .map(|shade| {
                    let [r, g, b] = shade.srgb;
                    (Rgb8 { r, g, b }, shade.thousandths)
                })
                .collect();
            let further = piece.photos.iter().filter(shows);
            (
                front.and_then(|f| Picture::of(kept, f)),
                further.filter_map(|p| Picture::of(kept, p)).collect(),
                families(&palette, COUNTS),
            )
        }
    };
    let day = piece.made.latest().or(piece.made.earliest());
    Work {
        public: PublicView::of(studio, piece, &reckoning, &number),
        private: (edition == Edition::Studio)
            .then(|| StudioView::of(studio, piece, &reckoning, &number, Vec::new())),
        year: day.map(|d| d.year),
        front: front_picture,
        further,
        colours,
        number,
        reckoning,
        kept,
        piece,
    }
}

/// A photograph of the piece where it hangs shows somebody's room: it is shown only where that room is public.
fn may_be_shown(piece: &Piece, photo: &Photo) -> bool {
    let place = piece.display.as_ref().and_then(|d| d.place.as_ref());
    photo.view.value != View::Installed || place.is_some_and(|p| p.value == "public")
}

impl Work<'_> {
    /// The group of its size: under half a square metre, under two, above (own rule).
    pub fn size_group(&self) -> &'static str {
        match self.reckoning.size.area.value.base() {
            a if a < 0.5 => "small",
            a if a <= 2.0 => "middle",
            _ => "large",
        }
    }

    /// The technique without what is said after a comma, for the filter.
    pub fn technique_group(&self) -> Option<String> {
        let technique = self.piece.technique.as_ref()?;
        let first = technique.split([',', ';', '(']).next()?.trim();
        let mut letters = first.chars();
        let capital: String = letters.next()?.to_uppercase().collect();
        Some(capital + letters.as_str())
    }
}
