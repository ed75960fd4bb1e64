//! Mends a damaged bundle: a new one is put together from the good files of several copies.
//!
//! Nothing is believed. What the bundle ought to hold stands in a tag manifest, the sealed one where there is a
//! seal; each file is taken from wherever its octets still have the right checksum, is digested again while it is
//! written, and the new bundle is read back and judged before it gets its name. No damaged bundle is touched. A
//! bundle of this program comes out octet for octet as it was issued.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use super::issue::{IssueError, read_back};
use super::mend_lists::{Lists, Need};
use super::writer::{BundleZip, CopyError};
use crate::audit::{Damage, Elsewhere, OpenBag, Verdict, listed_in};
use crate::bag::{Algorithm, Hashes, PAYLOAD, print_manifest};
use crate::disk::{CHUNK, Digests, DiskError, NewFile, TwoLanes, digest_file, digest_reader};
use crate::seal::SIGNATURE_FILE;

/// A bundle that was put together anew.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mended {
    /// Where it is.
    pub path: PathBuf,
    /// The files that came from another place than the damaged bundle, each with that place.
    pub taken: Vec<(String, Elsewhere)>,
    /// The files in which a single bit was turned back.
    pub turned_back: Vec<String>,
}

/// Why a bundle could not be mended. Nothing has been left behind.
#[derive(Debug, thiserror::Error)]
pub enum MendError {
    /// Some files are good in none of the copies.
    #[error("{bag}: can't be mended: none of the copies holds {files}. Look for another copy.", bag = .bag.display(), files = .files.join(", "))]
    Lacking {
        /// The damaged bundle.
        bag: PathBuf,
        /// The files that were not found anywhere.
        files: Vec<String>,
    },
    /// No copy has a list that could be relied on.
    #[error("{bag}: can't be mended: no copy has a list of checksums that holds together. Look for another copy.", bag = .bag.display())]
    NoList {
        /// The damaged bundle.
        bag: PathBuf,
    },
    /// Writing it failed.
    #[error(transparent)]
    Issue(#[from] IssueError),
    /// The disk failed.
    #[error(transparent)]
    Disk(#[from] DiskError),
}

/// A place whose octets may be the right ones.
#[derive(Clone)]
struct Candidate {
    place: Elsewhere,
    turned: Option<(u64, u8)>,
}

/// Puts a new bundle together in `folder` for a damaged one, from the files of all the bags that were judged,
/// itself among them. Where there is that very bundle in the folder already, it stays.
pub fn mend(
    damaged: &Verdict,
    judged: &[Verdict],
    folder: &Path,
    progress: &mut dyn FnMut(u64),
    cancelled: &dyn Fn() -> bool,
) -> Result<Mended, MendError> {
    let bag = damaged.path.clone();
    let no_list = || MendError::NoList { bag: bag.clone() };
    let own = OpenBag::open(&bag)?;
    let bags: Vec<PathBuf> = judged.iter().map(|verdict| verdict.path.clone()).collect();
    let lists = Lists::choose(damaged, judged, &bags, &own).ok_or_else(no_list)?;
    let wanted = lists.wanted();
    let places = listed_in(&bags, &wanted);
    let hunt = Hunt {
        bag: &bag,
        judged,
        places,
    };

    // First everything is found, so that all that is lacking is told at once.
    let mut found = Vec::new();
    let mut lacking = Vec::new();
    for need in lists.files() {
        match hunt.find(need, cancelled) {
            Some(candidate) => found.push((need, Some(candidate))),
            None if lists.can_be_made(need) => found.push((need, None)),
            None => lacking.push(need.path.clone()),
        }
        if cancelled() {
            return Err(IssueError::Cancelled.into());
        }
    }
    if !lacking.is_empty() {
        return Err(MendError::Lacking {
            bag,
            files: lacking,
        });
    }

    let top = lists.top().to_owned();
    let path = folder.join(format!("{top}.zip"));
    let file = NewFile::create_in(folder)?;
    let mut mended = Mended {
        path: path.clone(),
        taken: Vec::new(),
        turned_back: Vec::new(),
    };
    let failed = |error: CopyError| -> MendError {
        match error {
            CopyError::Cancelled => IssueError::Cancelled.into(),
            CopyError::Changed => IssueError::Changed { path: path.clone() }.into(),
            CopyError::Reading(e) | CopyError::Writing(e) => {
                DiskError::from_io(&path, "writing it", e).into()
            }
        }
    };
    let mut zip = BundleZip::new(file, &top);
    let mut digests: Vec<(Digests, String)> = Vec::new();
    let mut payload_files = 0;
    for (need, candidate) in found {
        let digest = match candidate {
            Some(candidate) => {
                let (mut from, _) = hunt.open(&candidate)?;
                let size = hunt.size(&candidate)?;
                if candidate.turned.is_some() {
                    mended.turned_back.push(need.path.clone());
                } else if candidate.place.bag != bag {
                    mended.taken.push((need.path.clone(), candidate.place));
                }
                let mut lanes = TwoLanes::begin();
                zip.copy(&need.path, size, &mut from, &mut lanes, progress, cancelled)
                    .map_err(failed)?;
                let digests = lanes.finish().pop();
                digests.ok_or_else(|| failed(CopyError::Changed))?
            }
            None => {
                let text = made_anew(&digests, need);
                zip.small(&need.path, text.as_bytes()).map_err(failed)?
            }
        };
        payload_files += u64::from(need.path.starts_with(PAYLOAD));
        digests.push((digest, need.path.clone()));
    }
    let tag_manifests = lists.tag_manifests(&digests);
    for (name, octets) in &tag_manifests {
        zip.small(name, octets).map_err(failed)?;
    }
    let signature = lists
        .signature(&tag_manifests)
        .map_err(|()| MendError::Lacking {
            bag: bag.clone(),
            files: vec![SIGNATURE_FILE.to_owned()],
        })?;
    if let Some(signature) = signature {
        zip.small(SIGNATURE_FILE, signature).map_err(failed)?;
    }
    let file = zip.finish().map_err(failed)?;
    read_back(&file, payload_files, progress, cancelled)?;
    // Two damaged copies of one bundle give the same new one, and so does a second run.
    if path.is_file() && digest_file(&path)? == digest_file(file.path())? {
        return Ok(mended);
    }
    file.finish_noclobber(&path)?;
    Ok(mended)
}

/// The text of a payload manifest, made from the payload itself.
fn made_anew(digests: &[(Digests, String)], need: &Need) -> String {
    let payload = digests.iter().filter(|(_, path)| path.starts_with(PAYLOAD));
    print_manifest(payload.map(|(digest, path)| {
        let hex = if need.path.ends_with("sha512.txt") {
            digest.sha512.to_string()
        } else {
            digest.sha256.to_string()
        };
        (hex, path.as_str())
    }))
}

/// The search for good octets.
struct Hunt<'a> {
    bag: &'a Path,
    judged: &'a [Verdict],
    places: BTreeMap<(Algorithm, String), Vec<Elsewhere>>,
}

impl Hunt<'_> {
    /// The first place whose octets have every checksum that is needed.
    fn find(&self, need: &Need, cancelled: &dyn Fn() -> bool) -> Option<Candidate> {
        let own = Candidate {
            place: Elsewhere {
                bag: self.bag.to_path_buf(),
                file: need.path.clone(),
            },
            turned: None,
        };
        let listed = need
            .wanted
            .iter()
            .filter_map(|wanted| self.places.get(wanted))
            .flatten()
            .map(|place| Candidate {
                place: place.clone(),
                turned: None,
            });
        let turned = self.judged.iter().flat_map(|verdict| {
            verdict.faults.iter().filter_map(|fault| {
                let Some(Damage::TurnedBit { octet, bit }) = fault.likely else {
                    return None;
                };
                (fault.file == need.path || need.wanted.iter().any(|w| fault.wants(w))).then(|| {
                    Candidate {
                        place: Elsewhere {
                            bag: verdict.path.clone(),
                            file: fault.file.clone(),
                        },
                        turned: Some((octet, bit)),
                    }
                })
            })
        });
        std::iter::once(own)
            .chain(listed)
            .chain(turned)
            .find(|candidate| !cancelled() && self.is_good(candidate, need))
    }

    fn is_good(&self, candidate: &Candidate, need: &Need) -> bool {
        let algorithms: BTreeSet<Algorithm> = need.wanted.iter().map(|(a, _)| *a).collect();
        let Ok((mut from, _)) = self.open(candidate) else {
            return false;
        };
        let mut hashes = Hashes::new(&algorithms);
        let mut buffer = vec![0; CHUNK];
        loop {
            match from.read(&mut buffer) {
                Ok(0) => break,
                Ok(got) => hashes.update(&buffer[..got]),
                Err(e) if e.kind() == std::io::ErrorKind::Interrupted => {}
                Err(_) => return false,
            }
        }
        let found = hashes.finish();
        need.wanted
            .iter()
            .all(|(algorithm, checksum)| found.get(algorithm) == Some(checksum))
    }

    fn open(&self, candidate: &Candidate) -> Result<(Box<dyn std::io::Read>, u64), DiskError> {
        let place = &candidate.place;
        let bag = OpenBag::open(&place.bag)?;
        match candidate.turned {
            Some(at) => bag.stream_turned(&place.file, at),
            None => bag.stream(&place.file),
        }
        .map_err(|e| DiskError::from_io(&place.bag, "reading it", e))
    }

    /// Octets, counted and not believed.
    fn size(&self, candidate: &Candidate) -> Result<u64, DiskError> {
        let (mut from, _) = self.open(candidate)?;
        digest_reader(&mut from)
            .map(|digests| digests.octets)
            .map_err(|e| DiskError::from_io(&candidate.place.bag, "reading it", e))
    }
}
