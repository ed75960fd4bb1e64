//! Making piece folders of drafts: each whole or not at all, and nothing that is there is touched.

use super::album::Group;
use super::rows::Draft;
use crate::disk::{self, DiskError, NewFolder};
use crate::read::piece_from;
use crate::record::Finding;
use rayon::prelude::*;
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// What became of a draft.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// Its folder was made.
    Made,
    /// A folder of its name is there already and was left alone.
    There,
    /// It could not be made, and why.
    Failed(String),
    /// The run was stopped before.
    Stopped,
}

/// A draft and what became of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// The folder's name.
    pub slug: String,
    /// What became of it.
    pub outcome: Outcome,
    /// Photographs that were copied.
    pub copied: Vec<String>,
    /// Photographs that were named but are not there.
    pub missing: Vec<String>,
    /// What reading the finished piece.yaml found.
    pub read_back: Vec<Finding>,
}

impl Made {
    fn of(slug: &str, outcome: Outcome) -> Made {
        Made {
            slug: slug.to_string(),
            outcome,
            copied: Vec::new(),
            missing: Vec::new(),
            read_back: Vec::new(),
        }
    }
}

/// Makes the folders of rows. Photographs named in them are looked for beside the sheet and in a folder `photos` there,
/// and copied.
pub fn make_pieces(
    pieces: &Path,
    beside: &Path,
    drafts: &[Draft],
    stop: &(dyn Fn() -> bool + Sync),
) -> Vec<Made> {
    each(
        drafts,
        stop,
        |draft| &draft.slug,
        |draft| {
            if draft.there {
                return Ok(Made::of(&draft.slug, Outcome::There));
            }
            let mut made = Made::of(&draft.slug, Outcome::Made);
            let folder = begun(pieces, &draft.piece, &draft.notes)?;
            for name in &draft.photos {
                let file = name.rsplit('/').next().unwrap_or(name);
                let places = [beside.join(name), beside.join("photos").join(name)];
                match places.iter().find(|place| disk::open_file(place).is_ok()) {
                    Some(place) => {
                        folder.copy(place, &format!("photos/{file}"))?;
                        made.copied.push(file.to_string());
                    }
                    None => made.missing.push(file.to_string()),
                }
            }
            finished(pieces, folder, &draft.piece, made)
        },
    )
}

/// Makes the folders of groups of photographs, with copies of them.
pub fn make_album(pieces: &Path, groups: &[Group], stop: &(dyn Fn() -> bool + Sync)) -> Vec<Made> {
    each(
        groups,
        stop,
        |group| &group.slug,
        |group| {
            let mut made = Made::of(&group.slug, Outcome::Made);
            let folder = begun(pieces, &group.piece, super::page::NOTES)?;
            for (loose, name) in group.photos.iter().zip(&group.names) {
                let digest = folder.copy(&loose.path, &format!("photos/{name}"))?;
                if digest != loose.digest {
                    let why = format!(
                        "{} has changed while it was looked at",
                        loose.path.display()
                    );
                    return Ok(Made::of(&group.slug, Outcome::Failed(why)));
                }
                made.copied.push(name.clone());
            }
            finished(pieces, folder, &group.piece, made)
        },
    )
}

fn each<T: Sync>(
    items: &[T],
    stop: &(dyn Fn() -> bool + Sync),
    slug: impl Fn(&T) -> &String + Sync,
    make: impl Fn(&T) -> Result<Made, DiskError> + Sync,
) -> Vec<Made> {
    let one = |item: &T| {
        if stop() {
            return Made::of(slug(item), Outcome::Stopped);
        }
        match make(item) {
            Ok(made) => made,
            Err(DiskError::AlreadyThere { .. }) => Made::of(slug(item), Outcome::There),
            Err(e) => Made::of(slug(item), Outcome::Failed(e.to_string())),
        }
    };
    items.par_iter().map(one).collect()
}

fn begun(pieces: &Path, piece: &str, notes: &str) -> Result<NewFolder, DiskError> {
    let folder = NewFolder::create_in(pieces)?;
    folder.folder("photos")?;
    folder.write("piece.yaml", piece.as_bytes())?;
    folder.write("notes.md", notes.as_bytes())?;
    Ok(folder)
}

/// Gives the folder its name and reads its piece.yaml back from the disk.
fn finished(
    pieces: &Path,
    folder: NewFolder,
    piece: &str,
    mut made: Made,
) -> Result<Made, DiskError> {
    let name: PathBuf = pieces.join(&made.slug);
    folder.finish(&name)?;
    let file = name.join("piece.yaml");
    let text = disk::read_text_limited(&file, piece.len() as u64 + 1)?;
    if text != piece {
        let why = format!("{} does not hold what was written", file.display());
        return Ok(Made::of(&made.slug, Outcome::Failed(why)));
    }
    let label: Arc<str> = format!("pieces/{}/piece.yaml", made.slug).into();
    (_, made.read_back) = piece_from(&made.slug, &label, &text);
    Ok(made)
}
