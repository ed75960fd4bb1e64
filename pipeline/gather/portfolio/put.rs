//! Putting the portfolio on its shelf: what is the same stays untouched, what is new or changed appears whole, and what an
//! earlier run put there and no work has any more is taken away. Nothing else in the folder is ever touched.

use crate::disk::{self, DiskError, Written};
use rayon::prelude::*;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Component, Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// The list of what was put there.
const STAMP: &str = ".portfolio.json";
/// The largest such list that is read: hundreds of thousands of files.
const LARGEST: u64 = 64 * 1024 * 1024;

/// A file that is copied.
pub(super) struct Copy {
    /// Its path in the portfolio.
    pub path: String,
    pub from: PathBuf,
    /// The digest of what it should hold.
    pub sha256: String,
}

/// Why nothing was put.
#[derive(Debug, thiserror::Error)]
pub enum PutError {
    /// The folder holds something that no portfolio put there.
    #[error("{}: this folder holds files that are not of a portfolio; nothing was changed. Move them, or use another output folder with `--out`", .0.display())]
    Strange(PathBuf),
}

/// What was put there before.
#[derive(Debug, Default, Serialize, Deserialize)]
struct Stamp {
    /// Texts, by path.
    texts: BTreeSet<String>,
    /// Copies by path: digest and length.
    copies: BTreeMap<String, (String, u64)>,
}

/// The list without paths that lead out of the folder, whoever wrote them there.
fn inside(mut stamp: Stamp) -> Stamp {
    let stays = |path: &str| {
        let plain = |c: Component| matches!(c, Component::Normal(_));
        !path.is_empty() && Path::new(path).components().all(plain)
    };
    stamp.texts.retain(|path| stays(path));
    stamp.copies.retain(|path, _| stays(path));
    stamp
}

/// What was done.
#[derive(Debug, Default)]
pub(super) struct Put {
    pub written: usize,
    pub unchanged: usize,
    pub removed: usize,
    pub stopped: bool,
}

/// The portfolio's folder.
pub(super) struct Shelf {
    home: PathBuf,
    before: Stamp,
}

impl Shelf {
    /// Opens the folder. One that has files but no list of ours is not touched.
    pub fn open(home: &Path) -> Result<Shelf, super::PortfolioError> {
        let before = disk::read_text_limited(&home.join(STAMP), LARGEST)
            .ok()
            .and_then(|text| serde_json::from_str(&text).ok());
        let before: Stamp = match before {
            Some(stamp) => inside(stamp),
            None => {
                let others = match disk::list_folder(home) {
                    Ok(listing) => !listing.files.is_empty(),
                    Err(error) if error.is_missing() => false,
                    Err(error) => return Err(error.into()),
                };
                // A list that was lost can be made anew where the pages themselves are there.
                if others && disk::length_of(&home.join("portfolio.js")).is_none() {
                    return Err(PutError::Strange(home.to_path_buf()).into());
                }
                Stamp::default()
            }
        };
        disk::make_folder(home)?;
        Ok(Shelf {
            home: home.to_path_buf(),
            before,
        })
    }

    /// Puts texts and copies there.
    pub fn put(
        self,
        texts: Vec<(String, Vec<u8>)>,
        copies: Vec<Copy>,
        stop: &(dyn Fn() -> bool + Sync),
    ) -> Result<Put, DiskError> {
        let folders: BTreeSet<&Path> = texts
            .iter()
            .map(|(path, _)| path.as_str())
            .chain(copies.iter().map(|c| c.path.as_str()))
            .filter_map(|path| Path::new(path).parent())
            .collect();
        for folder in folders {
            disk::make_folder(&self.home.join(folder))?;
        }
        // What is going to lie there is listed first: a run that is cut short leaves nothing that the next does not know.
        let mut stamp = Stamp {
            texts: texts.iter().map(|(path, _)| path.clone()).collect(),
            copies: BTreeMap::new(),
        };
        let known = Stamp {
            texts: stamp.texts.union(&self.before.texts).cloned().collect(),
            copies: self.before.copies.clone(),
        };
        let mut all_known = known;
        for copy in &copies {
            let unknown = (String::new(), 0);
            all_known.copies.entry(copy.path.clone()).or_insert(unknown);
        }
        self.keep(&all_known)?;
        let (written, unchanged) = (AtomicUsize::new(0), AtomicUsize::new(0));
        let stopped = AtomicBool::new(false);
        let count = |new: bool| {
            if new { &written } else { &unchanged }.fetch_add(1, Ordering::Relaxed);
        };
        let going = || {
            let asked = stop();
            stopped.fetch_or(asked, Ordering::Relaxed);
            !asked
        };
        // Plates first: a page never shows a picture that is not there yet.
        let placed: Vec<(String, (String, u64))> = copies
            .par_iter()
            .map(|copy| {
                let to = self.home.join(&copy.path);
                let there = disk::length_of(&to);
                let same = self
                    .before
                    .copies
                    .get(&copy.path)
                    .is_some_and(|(sha256, length)| {
                        *sha256 == copy.sha256 && there == Some(*length)
                    });
                if !same {
                    if !going() {
                        return Ok(None);
                    }
                    disk::copy_light(&copy.from, &to)?;
                }
                count(!same);
                let length = disk::length_of(&to).unwrap_or(0);
                Ok(Some((copy.path.clone(), (copy.sha256.clone(), length))))
            })
            .collect::<Result<Vec<_>, DiskError>>()?
            .into_iter()
            .flatten()
            .collect();
        stamp.copies = placed.into_iter().collect();
        if !stopped.load(Ordering::Relaxed) {
            texts.par_iter().try_for_each(|(path, octets)| {
                let put = disk::write_light(&self.home.join(path), octets)?;
                count(put != Written::Same);
                Ok::<(), DiskError>(())
            })?;
        }
        let mut put = Put {
            written: written.into_inner(),
            unchanged: unchanged.into_inner(),
            removed: 0,
            stopped: stopped.into_inner(),
        };
        if put.stopped {
            return Ok(put);
        }
        let kept = |path: &String| stamp.texts.contains(path) || stamp.copies.contains_key(path);
        let known = all_known.texts.iter().chain(all_known.copies.keys());
        let gone: BTreeSet<&String> = known.filter(|path| !kept(path)).collect();
        for path in gone {
            let path = self.home.join(path);
            if disk::length_of(&path).is_some() {
                disk::remove(&path)?;
                put.removed += 1;
            }
        }
        self.keep(&stamp)?;
        Ok(put)
    }

    fn keep(&self, stamp: &Stamp) -> Result<(), DiskError> {
        let mut text = serde_json::to_vec(stamp).unwrap_or_default();
        text.push(b'\n');
        disk::write_light(&self.home.join(STAMP), &text)?;
        Ok(())
    }
}
