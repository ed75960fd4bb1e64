//! Looking without making: every finding about an archive, nothing written.

use super::darkroom::{Album, develop_all};
use super::{of_interest, time_stamp};
use crate::check::{Subject, check_archive, check_piece, ranked};
use crate::disk::DiskError;
use crate::read::{Archive, PieceFolder, kinds};
use crate::record::{Finding, Piece, Sight, Studio};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};

/// What a survey found.
pub struct Survey {
    /// Every finding, the gravest first.
    pub findings: Vec<Finding>,
    /// How many pieces were looked at.
    pub pieces: usize,
}

/// Looks at every piece, or only at those named. With `photos` photographs are decoded to see what is in them; without,
/// rules that ask this find nothing. `done` is told each piece's name, `stop` is asked between photographs.
pub fn survey(
    archive: &Archive,
    only: &[String],
    photos: bool,
    done: &(dyn Fn(&str) + Sync),
    stop: &(dyn Fn() -> bool + Sync),
) -> Survey {
    let chosen: Vec<&PieceFolder> = archive
        .pieces
        .iter()
        .filter(|folder| only.is_empty() || only.contains(&folder.slug))
        .collect();
    let slugs: Vec<String> = chosen.iter().map(|f| f.slug.clone()).collect();
    let found: Vec<Vec<Finding>> = chosen
        .par_iter()
        .map(|folder| {
            let found = match &folder.piece {
                None => Vec::new(),
                Some(piece) if !photos => {
                    of_piece(archive.studio.as_ref(), folder, piece, &Album::default())
                }
                Some(piece) => match develop_all(folder, piece, None, None, stop) {
                    Ok(album) => of_piece(archive.studio.as_ref(), folder, piece, &album),
                    Err(error) => vec![of_disk(folder, &error)],
                },
            };
            done(&folder.slug);
            found
        })
        .collect();
    let findings = archive
        .findings
        .iter()
        .cloned()
        .chain(across(archive))
        .filter(|f| of_interest(&f.place, &slugs, only.is_empty()))
        .chain(found.into_iter().flatten())
        .collect();
    Survey {
        findings: ranked(findings),
        pieces: chosen.len(),
    }
}

/// What the rules find in one piece.
pub(super) fn of_piece(
    studio: Option<&Studio>,
    folder: &PieceFolder,
    piece: &Piece,
    album: &Album,
) -> Vec<Finding> {
    let mut found = check_piece(&Subject {
        studio,
        piece,
        files: &names(folder),
        sights: &album.sights(),
    });
    if let Some(studio) = studio {
        found.extend(time_stamp::finding_of(studio, folder, piece));
    }
    found
}

/// What the rules find across pieces.
pub(super) fn across(archive: &Archive) -> Vec<Finding> {
    let sights: BTreeMap<String, Sight> = BTreeMap::new();
    let files: Vec<BTreeSet<String>> = archive.pieces.iter().map(names).collect();
    let subjects: Vec<Subject> = archive
        .pieces
        .iter()
        .zip(&files)
        .filter_map(|(folder, files)| {
            Some(Subject {
                studio: archive.studio.as_ref(),
                piece: folder.piece.as_ref()?,
                files,
                sights: &sights,
            })
        })
        .collect();
    check_archive(&subjects)
}

/// A disk's fault while looking, as a finding.
pub(super) fn of_disk(folder: &PieceFolder, error: &DiskError) -> Finding {
    kinds::UNREADABLE_FILE.at(&folder.place("photos"), error.complaint(), error.remedy())
}

fn names(folder: &PieceFolder) -> BTreeSet<String> {
    folder
        .listing
        .files
        .iter()
        .map(|f| f.relative.clone())
        .collect()
}
