//! Corners proposed for the front photographs: found by the edges against the wall, shown, never used.

use super::darkroom::{LARGEST_PHOTO, file_of};
use crate::disk;
use crate::picture::{FoundCorners, find_corners};
use crate::read::{Archive, PieceFolder};
use crate::record::{Photo, View};
use rayon::prelude::*;

/// What was found in one front photograph.
pub struct Proposal {
    /// The piece's folder name.
    pub slug: String,
    /// The photograph's path below `photos/`, as piece.yaml lists it.
    pub file: String,
    /// The corners, or why none were found.
    pub found: Result<FoundCorners, String>,
    /// Where `corners` are written already: how far the farthest of them lies from the nearest found one,
    /// pixels.
    pub from_written: Option<f64>,
}

/// Looks for corners in the front photographs of every piece, or only of those named. `done` is told each
/// piece's name, `stop` is asked between photographs.
pub fn propose(
    archive: &Archive,
    only: &[String],
    done: &(dyn Fn(&str) + Sync),
    stop: &(dyn Fn() -> bool + Sync),
) -> Vec<Proposal> {
    let chosen: Vec<&PieceFolder> = archive
        .pieces
        .iter()
        .filter(|folder| only.is_empty() || only.contains(&folder.slug))
        .collect();
    let proposals: Vec<Vec<Proposal>> = chosen
        .par_iter()
        .map(|folder| {
            let photos = folder.piece.iter().flat_map(|piece| &piece.photos);
            let found = photos
                .filter(|photo| photo.view.value == View::Front && !stop())
                .map(|photo| of_photo(folder, photo))
                .collect();
            done(&folder.slug);
            found
        })
        .collect();
    proposals.into_iter().flatten().collect()
}

fn of_photo(folder: &PieceFolder, photo: &Photo) -> Proposal {
    let found = match file_of(folder, photo) {
        None => Err("there is no such file".to_string()),
        Some(file) => match disk::read_limited(&file.path, LARGEST_PHOTO) {
            Ok(bytes) => find_corners(&bytes).map_err(|reason| reason.to_string()),
            Err(error) => Err(error.complaint()),
        },
    };
    let from_written = photo.corners.as_ref().zip(found.as_ref().ok());
    Proposal {
        slug: folder.slug.clone(),
        file: photo.file.value.clone(),
        from_written: from_written.map(|(written, found)| {
            let nearest = |w: &[f64; 2]| {
                let apart = |f: &[f64; 2]| libm::hypot(f[0] - w[0], f[1] - w[1]);
                found
                    .corners
                    .iter()
                    .map(apart)
                    .fold(f64::INFINITY, f64::min)
            };
            written.value.0.iter().map(nearest).fold(0.0, f64::max)
        }),
        found,
    }
}
