//! The photographs of one piece: seen, and developed to plates and the colour ladder. Plates of a
//! photograph that has not changed are taken from the last run.

use super::inputs::Inputs;
use super::palette::{PALETTE, palette};
use super::sights::sight;
use super::stamp::{PhotoStamp, Stamp};
use crate::disk::{self, DiskError};
use crate::picture::{Ask, Developed, LadderAsk, PlateWords, Side, develop, inscribe};
use crate::quantity::{Length, Reading};
use crate::read::{PieceFolder, same_name};
use crate::record::{At, Photo, Piece, Sight, Top, Trouble, View};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// The largest photograph that is read: a 16-bit TIFF of the most pixels that are developed.
pub(super) const LARGEST_PHOTO: u64 = 1600 * 1024 * 1024;
/// The ladder's plate in the output folder.
pub(super) const LADDER: &str = "plates/colour-ladder.svg";
/// Width and height of the ladder in millimetres; papers scale it.
const LADDER_MM: (f64, f64) = (3.2, 100.0);

/// One photograph, developed.
pub(super) struct Print {
    /// Its path below `photos/`.
    pub file: String,
    /// What was seen in it.
    pub sight: Sight,
    /// The original's digest.
    pub sha256: String,
    /// Its plates, if there are any.
    pub plates: Option<Plates>,
    ask: String,
}

/// The plates of one photograph.
pub(super) struct Plates {
    /// Their name before `-print.jpg`, `-screen.jpg` and `-thumb.jpg`.
    pub name: String,
    /// For print.
    pub print: Vec<u8>,
    /// Pixels of the print plate.
    pub print_size: (u32, u32),
    /// For the screen.
    pub screen: Vec<u8>,
    /// For lists.
    pub thumb: Vec<u8>,
}

impl Plates {
    fn all(&mut self) -> [&mut Vec<u8>; 3] {
        [&mut self.print, &mut self.screen, &mut self.thumb]
    }
}

/// All of a piece's photographs.
#[derive(Default)]
pub(super) struct Album {
    /// In the order of piece.yaml, each file once.
    pub prints: Vec<Print>,
    /// The colour ladder as SVG.
    pub ladder: Option<String>,
    /// The piece's colours with their areas, as JSON.
    pub palette: Option<String>,
}

impl Album {
    /// Sights by path below `photos/`, for the checks.
    pub fn sights(&self) -> BTreeMap<String, Sight> {
        self.prints
            .iter()
            .map(|p| (p.file.clone(), p.sight.clone()))
            .collect()
    }

    /// The photograph of a record's entry.
    pub fn print(&self, photo: &Photo) -> Option<&Print> {
        self.prints.iter().find(|p| p.file == photo.file.value)
    }

    /// Writes into every plate what is to be told with it, in place of what it told before.
    pub fn inscribe(&mut self, words: impl Fn(&Print) -> PlateWords) {
        for print in &mut self.prints {
            let words = words(print);
            for plate in print.plates.iter_mut().flat_map(Plates::all) {
                *plate = inscribe(plate, &words);
            }
        }
    }

    /// Plates by name, with the photograph that each was made from.
    pub fn plate_names(&self) -> Vec<(String, String)> {
        let named = |p: &Print| Some((p.plates.as_ref()?.name.clone(), p.file.clone()));
        self.prints.iter().filter_map(named).collect()
    }

    /// What the stamp should remember.
    pub fn stamps(&self) -> Vec<PhotoStamp> {
        self.prints
            .iter()
            .map(|p| PhotoStamp {
                file: p.file.clone(),
                sha256: p.sha256.clone(),
                ask: p.ask.clone(),
                sight: p.sight.clone(),
                plate: p.plates.as_ref().map(|x| x.name.clone()),
                print: p.plates.as_ref().map_or((0, 0), |x| x.print_size),
            })
            .collect()
    }

    /// Path and bytes of every plate, for the output folder.
    pub fn files(&self) -> Vec<(String, &[u8])> {
        let mut files = Vec::new();
        for plates in self.prints.iter().filter_map(|p| p.plates.as_ref()) {
            files.push((
                format!("plates/{}-print.jpg", plates.name),
                plates.print.as_slice(),
            ));
            files.push((
                format!("plates/{}-screen.jpg", plates.name),
                plates.screen.as_slice(),
            ));
            files.push((
                format!("plates/{}-thumb.jpg", plates.name),
                plates.thumb.as_slice(),
            ));
        }
        if let Some(ladder) = &self.ladder {
            files.push((LADDER.to_string(), ladder.as_bytes()));
        }
        if let Some(palette) = &self.palette {
            files.push((PALETTE.to_string(), palette.as_bytes()));
        }
        files
    }
}

/// Where plates of the last run lie, if there was one with the same program.
pub(super) struct Former<'a> {
    pub folder: &'a Path,
    pub stamp: &'a Stamp,
}

/// Develops every photograph that the record lists and the folder holds. `cancelled` is looked at
/// between photographs.
pub(super) fn develop_all(
    folder: &PieceFolder,
    piece: &Piece,
    inputs: Option<&Inputs>,
    former: Option<&Former>,
    cancelled: &(dyn Fn() -> bool + Sync),
) -> Result<Album, DiskError> {
    let names = plate_names(piece);
    let front = piece.photo(View::Front).map(|p| p.file.value.clone());
    let mut seen = BTreeSet::new();
    let wanted: Vec<(&Photo, &disk::Found)> = piece
        .photos
        .iter()
        .filter(|photo| seen.insert(photo.file.value.clone()))
        .filter_map(|photo| {
            let found = file_of(folder, photo)?;
            Some((photo, found))
        })
        .collect();
    let developed: Vec<Option<(Print, Option<String>)>> = wanted
        .par_iter()
        .map(|(photo, found)| {
            if cancelled() {
                return Ok(None);
            }
            let is_front = front.as_ref() == Some(&photo.file.value);
            let ask = ask(piece, photo, is_front);
            let name = names.get(&photo.file.value).cloned().unwrap_or_default();
            let digest = inputs.and_then(|i| i.of_file(&found.relative));
            if let Some(kept) = former.and_then(|f| kept(f, photo, digest?, &ask, is_front)) {
                return Ok(Some(kept));
            }
            one(photo, found, &ask, name, digest).map(Some)
        })
        .collect::<Result<_, DiskError>>()?;
    let mut album = Album::default();
    for (print, ladder) in developed.into_iter().flatten() {
        album.ladder = album.ladder.or(ladder);
        album.prints.push(print);
    }
    album.palette = palette(piece, &album.prints);
    Ok(album)
}

/// The file that a listed photograph means.
pub(super) fn file_of<'a>(folder: &'a PieceFolder, photo: &Photo) -> Option<&'a disk::Found> {
    let files = &folder.listing.files;
    let there = files
        .iter()
        .filter_map(|f| f.relative.strip_prefix("photos/"));
    let name = same_name(there, &photo.file.value)?;
    files
        .iter()
        .find(|f| f.relative.strip_prefix("photos/") == Some(name))
}

fn one(
    photo: &Photo,
    found: &disk::Found,
    ask: &Ask,
    name: String,
    digest: Option<&str>,
) -> Result<(Print, Option<String>), DiskError> {
    let bytes = match disk::read_limited(&found.path, LARGEST_PHOTO) {
        Err(error @ DiskError::TooLarge { .. }) => {
            let print = Print {
                file: photo.file.value.clone(),
                sight: Sight {
                    trouble: Some(Trouble::Damaged(error.complaint())),
                    ..Sight::default()
                },
                sha256: digest.unwrap_or_default().to_string(),
                plates: None,
                ask: format!("{ask:?}"),
            };
            return Ok((print, None));
        }
        read => read?,
    };
    let Developed {
        facts,
        print,
        screen,
        thumb,
        ladder,
        measures,
    } = develop(&bytes, ask);
    let plates = print
        .zip(screen)
        .zip(thumb)
        .map(|((print, screen), thumb)| Plates {
            name,
            print_size: (print.width, print.height),
            print: print.jpeg,
            screen: screen.jpeg,
            thumb: thumb.jpeg,
        });
    let sight = sight(&facts, measures.as_ref(), ladder.as_ref());
    let ladder = ladder.map(|l| l.to_svg(LADDER_MM.0, LADDER_MM.1));
    let print = Print {
        file: photo.file.value.clone(),
        sight,
        sha256: digest.unwrap_or_default().to_string(),
        plates,
        ask: format!("{ask:?}"),
    };
    Ok((print, ladder))
}

/// The plates of the last run, if original, wish and plates are the same.
fn kept(
    former: &Former,
    photo: &Photo,
    digest: &str,
    ask: &Ask,
    front: bool,
) -> Option<(Print, Option<String>)> {
    let was = former
        .stamp
        .photos
        .iter()
        .find(|p| p.file == photo.file.value)?;
    if was.sha256 != digest || was.ask != format!("{ask:?}") {
        return None;
    }
    let take = |path: &str| {
        former
            .stamp
            .holds(former.folder, path)
            .then(|| disk::read_limited(&former.folder.join(path), LARGEST_PHOTO).ok())?
    };
    let plates = match &was.plate {
        None => None,
        Some(name) => Some(Plates {
            print: take(&format!("plates/{name}-print.jpg"))?,
            screen: take(&format!("plates/{name}-screen.jpg"))?,
            thumb: take(&format!("plates/{name}-thumb.jpg"))?,
            print_size: was.print,
            name: name.clone(),
        }),
    };
    let ladder = match (front, &plates) {
        (true, Some(_)) => Some(String::from_utf8(take(LADDER)?).ok()?),
        _ => None,
    };
    let print = Print {
        file: was.file.clone(),
        sight: was.sight.clone(),
        sha256: was.sha256.clone(),
        plates,
        ask: was.ask.clone(),
    };
    Some((print, ladder))
}

/// The ladder is asked of the front photograph alone. Where the weaving began in it follows from the
/// edge that hangs at the top: with the left selvedge up, the start is at the left. The front is squared up
/// to the measured proportion, by the means of the readings.
fn ask(piece: &Piece, photo: &Photo, front: bool) -> Ask {
    Ask {
        proportion: front.then(|| proportion(piece)).flatten(),
        ladder: front.then(|| LadderAsk {
            corners: photo.corners.as_ref().map(|c| c.value.0),
            began: match piece.top() {
                Top::Finish => Side::Foot,
                Top::Start => Side::Top,
                Top::Left => Side::Left,
                Top::Right => Side::Right,
            },
        }),
    }
}

/// Width over height as it hangs, by the means of the readings.
fn proportion(piece: &Piece) -> Option<f64> {
    let mean = |readings: &[At<Reading<Length>>]| {
        let sum: f64 = readings.iter().map(|r| r.value.value.mm()).sum();
        (sum > 0.0).then(|| sum / readings.len() as f64)
    };
    Some(mean(&piece.measured.width)? / mean(&piece.measured.height)?)
}

/// A plain name for each photograph's plates: the photograph's own without its ending, in letters,
/// figures and hyphens; of two that would be the same the later gets a number.
fn plate_names(piece: &Piece) -> BTreeMap<String, String> {
    let mut names = BTreeMap::new();
    let mut taken = BTreeSet::new();
    for photo in &piece.photos {
        let file = &photo.file.value;
        if names.contains_key(file) {
            continue;
        }
        let stem = file
            .rsplit_once('.')
            .map_or(file.as_str(), |(stem, _)| stem);
        let mut plain = String::new();
        for c in stem.chars() {
            match c {
                c if c.is_ascii_alphanumeric() => plain.push(c.to_ascii_lowercase()),
                _ if plain.ends_with('-') || plain.is_empty() => {}
                _ => plain.push('-'),
            }
        }
        let plain = plain.trim_end_matches('-');
        let base = if plain.is_empty() {
            "photo"
        } else {
            &plain[..plain.len().min(60)]
        };
        let name = (1_u32..)
            .map(|n| {
                if n == 1 {
                    base.to_string()
                } else {
                    format!("{base}-{n}")
                }
            })
            .find(|name| !taken.contains(name))
            .unwrap_or_default();
        taken.insert(name.clone());
        names.insert(file.clone(), name);
    }
    names
}
