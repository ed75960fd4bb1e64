//! Bringing together what several machines finished, each in an output folder of its own. Nothing is made anew, and no
//! issued bundle is ever overwritten.

use super::stamp::Stamp;
use crate::bundle::BundleName;
use crate::disk::{self, DiskError, Lock};
use crate::read::Archive;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// What came of a merge.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Merged {
    /// Pieces whose output was taken over.
    pub taken: Vec<String>,
    /// Pieces that were there already, the same.
    pub same: usize,
    /// Bundles that were taken over.
    pub bundles: Vec<String>,
    /// What was left where it is, and why.
    pub left: Vec<(PathBuf, String)>,
    /// Pieces of the archive that nobody has finished.
    pub lacking: Vec<String>,
}

/// Why a merge was given up.
#[derive(Debug, thiserror::Error)]
pub enum MergeError {
    /// The machine.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// A folder that is no output folder.
    #[error("{}: this is no folder of finished pieces", .0.display())]
    NoOutput(PathBuf),
}

/// Brings the output of several folders together in `out`. Of each piece the files are compared with their stamp first:
/// what is damaged or half there is left where it is. Where `out` has a piece already, the one that was finished from
/// other inputs takes its place only if the bundle it belongs to is newer.
///
/// # Errors
/// Where a folder is no output folder, or the machine fails.
pub fn merge(
    archive: &Archive,
    out: &Path,
    folders: &[PathBuf],
    waiting: &mut dyn FnMut(),
    stop: &dyn Fn() -> bool,
) -> Result<Merged, MergeError> {
    for folder in folders {
        disk::subfolders(folder).map_err(|_| MergeError::NoOutput(folder.clone()))?;
    }
    disk::make_folder(out)?;
    let lock = Lock::take(out, waiting, stop)?;
    let shelf = out.join("bundles");
    disk::make_folder(&shelf)?;
    disk::sweep_leftovers(out, &lock)?;
    disk::sweep_leftovers(&shelf, &lock)?;
    let mut merged = Merged::default();
    let known: BTreeSet<&str> = archive.pieces.iter().map(|p| p.slug.as_str()).collect();
    for folder in folders {
        bundles(&folder.join("bundles"), &shelf, &mut merged)?;
        let here = disk::subfolders(folder)?.folders;
        let pieces: Vec<&String> = here.iter().filter(|f| known.contains(f.as_str())).collect();
        let done: Vec<(&String, Result<State, DiskError>)> = pieces
            .into_par_iter()
            .map(|slug| (slug, piece(&folder.join(slug), &out.join(slug))))
            .collect();
        for (slug, state) in done {
            match state? {
                State::Taken => merged.taken.push(slug.clone()),
                State::Same => merged.same += 1,
                State::Left(why) => merged.left.push((folder.join(slug), why)),
            }
        }
        if stop() {
            break;
        }
    }
    merged.lacking = known
        .into_iter()
        .filter(|slug| Stamp::read(&out.join(slug)).is_none())
        .map(str::to_string)
        .collect();
    Ok(merged)
}

enum State {
    Taken,
    Same,
    Left(String),
}

/// One piece's output folder.
fn piece(from: &Path, to: &Path) -> Result<State, DiskError> {
    let Some(stamp) = Stamp::read(from) else {
        return Ok(State::Left("it was not finished to the end".into()));
    };
    let inside = |path: &str| {
        let plain = |c: std::path::Component| matches!(c, std::path::Component::Normal(_));
        Path::new(path).components().all(plain)
    };
    if !stamp.outputs.iter().all(|o| inside(&o.path)) {
        return Ok(State::Left("its stamp names files outside of it".into()));
    }
    if !stamp.whole(from) {
        return Ok(State::Left("a file of it is missing or changed".into()));
    }
    let before = Stamp::read(to);
    if before.as_ref() == Some(&stamp) && stamp.whole(to) {
        return Ok(State::Same);
    }
    if let Some(before) = &before
        && before.inputs != stamp.inputs
        && before.whole(to)
    {
        let why = "another state of the piece was finished here; finish it again where its folder is the right one";
        return Ok(State::Left(why.into()));
    }
    for output in &stamp.outputs {
        let to = to.join(&output.path);
        if let Some(folder) = to.parent() {
            disk::make_folder(folder)?;
        }
        disk::copy_light(&from.join(&output.path), &to)?;
    }
    // The stamp last: a merge that is cut short counts as nothing.
    disk::write_whole(&to.join(super::stamp::STAMP), &stamp.to_bytes())?;
    Ok(State::Taken)
}

/// The bundles of a folder. One that has the name of another and other octets is left where it is.
fn bundles(from: &Path, shelf: &Path, merged: &mut Merged) -> Result<(), DiskError> {
    let listing = match disk::list_folder(from) {
        Ok(listing) => listing,
        Err(error) if error.is_missing() => return Ok(()),
        Err(error) => return Err(error),
    };
    let found: BTreeMap<String, PathBuf> = listing
        .files
        .into_iter()
        .filter(|f| BundleName::from_file_name(&f.relative).is_some())
        .map(|f| (f.relative, f.path))
        .collect();
    for (name, path) in found {
        let to = shelf.join(&name);
        if disk::length_of(&to).is_none() {
            disk::copy_new(&path, &to)?;
            merged.bundles.push(name);
        } else if disk::digest_file(&path)?.sha256 != disk::digest_file(&to)?.sha256 {
            let why = "another bundle of that name was issued here, and is not the same";
            merged.left.push((path, why.into()));
        }
    }
    Ok(())
}
