//! Issues a bundle: everything is written under an unfinished name, read back and judged, and only then
//! given its name, which must be free.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc;
use std::thread;
use std::time::Duration;

use super::ArchiveName;
use super::info::{BadField, BagInfo};
use super::name::BundleName;
use super::payload::{Payload, failed};
use super::tags::{Seal, TagFile, check_tags};
use super::writer::BundleZip;
use crate::audit::{Verdict, Watch, judge_watched};
use crate::bag::{DECLARATION, DECLARATION_FILE, Danger, INFO_FILE, print_info, print_manifest};
use crate::disk::{Digests, DiskError, NewFile, Sha256Digest};

/// Everything a bundle is to hold.
#[derive(Debug, Clone)]
pub struct Contents {
    /// Which bundle.
    pub name: BundleName,
    /// The payload, in any order; no path twice.
    pub payload: Vec<Item>,
    /// The fields of `bag-info.txt`.
    pub info: BagInfo,
    /// Further tag files, in any order.
    pub tags: Vec<TagFile>,
}

/// One payload file.
#[derive(Debug, Clone)]
pub struct Item {
    /// Its path below `data/`, with `/`. It may be any name a disk can keep; where it is not a safe
    /// one, [`archive_names`] gives a stand-in and the bundle says so.
    pub path: String,
    /// Where its octets are.
    pub from: Source,
}

/// Where the octets of a payload file are.
#[derive(Debug, Clone)]
pub enum Source {
    /// In a file, which had `size` octets when it was listed.
    File {
        /// Where to open it.
        path: PathBuf,
        /// Octets when it was listed.
        size: u64,
    },
    /// In memory.
    Bytes(Vec<u8>),
}

impl Source {
    /// Octets, as they were when it was listed.
    pub fn size(&self) -> u64 {
        match self {
            Self::File { size, .. } => *size,
            Self::Bytes(octets) => octets.len() as u64,
        }
    }
}

/// A bundle that has been issued.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Issued {
    /// Which bundle.
    pub name: BundleName,
    /// Where it is.
    pub path: PathBuf,
    /// Number of payload files.
    pub payload_files: u64,
    /// Octets of payload.
    pub payload_octets: u64,
    /// Octets of the zip.
    pub octets: u64,
    /// SHA-256 of `manifest-sha256.txt`, which names the whole payload in one number.
    pub manifest: Sha256Digest,
    /// The files that were given a stand-in for their name.
    pub renamed: Vec<ArchiveName>,
}

/// Why nothing was issued. No file has been left behind, and none has been changed. (One exception: when
/// the very last step, forcing the folder to the disk, fails, the whole bundle stands under its name, and
/// only a power cut could still take the name away.)
#[derive(Debug, thiserror::Error)]
pub enum IssueError {
    /// There is such a bundle.
    #[error("{path}: this revision has been issued already, and an issued bundle is never overwritten. Issue the next revision.", path = .path.display())]
    AlreadyThere {
        /// The bundle that is there.
        path: PathBuf,
    },
    /// A source file is not there any more.
    #[error("{path}: this file has gone since the folder was listed, so no bundle was issued. Put it back, or leave it out, and start again.", path = .path.display())]
    Vanished {
        /// The file.
        path: PathBuf,
    },
    /// A source file is not what it was.
    #[error("{path}: this file was changed while the bundle was made, so no bundle was issued. Close the program that writes to it and start again.", path = .path.display())]
    Changed {
        /// The file.
        path: PathBuf,
    },
    /// There is nothing to put into the bundle.
    #[error("the piece has no files, so there is nothing to bundle.")]
    Empty,
    /// Two payload files of one path.
    #[error("the payload holds `{path}` twice, so no bundle was issued.")]
    Twice {
        /// The path below `data/`.
        path: String,
    },
    /// A payload path that leads out of the payload.
    #[error("`{path}` can't be a payload file: its path {danger}.")]
    BadPath {
        /// The path below `data/`.
        path: String,
        /// Why not.
        danger: Danger,
    },
    /// A tag file that would break the bag.
    #[error("`{name}` can't be a tag file: its name {why}.")]
    BadTag {
        /// Its name.
        name: String,
        /// Why not.
        why: String,
    },
    /// A field that can't stand in `bag-info.txt`.
    #[error(transparent)]
    BadField(#[from] BadField),
    /// The seal could not be made.
    #[error("the bundle could not be sealed, so none was issued: {0}")]
    Seal(String),
    /// Reading a source or writing the bundle failed.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// What was written is not what is on the disk.
    #[error(
        "the bundle was written, but reading it back found it damaged, so it was thrown away: {first}. Check the disk; do not keep archives on it before."
    )]
    ReadBack {
        /// The first fault, in words.
        first: String,
        /// All that the audit said.
        verdict: Box<Verdict>,
    },
    /// The caller asked to stop.
    #[error("stopped before the bundle was issued; nothing has been left behind.")]
    Cancelled,
}

/// Issues a bundle in `folder`, which must be there. `progress` is told of octets copied and of octets
/// read back, twice the payload in all; `cancelled` is asked often, and `true` stops the work.
///
/// Memory does not grow with the size of files.
pub fn issue(
    folder: &Path,
    contents: &Contents,
    progress: &mut dyn FnMut(u64),
    cancelled: &dyn Fn() -> bool,
) -> Result<Issued, IssueError> {
    issue_sealed(folder, contents, None, progress, cancelled)
}

/// As [`issue`], with a seal over the bundle.
pub fn issue_sealed(
    folder: &Path,
    contents: &Contents,
    seal: Option<&dyn Seal>,
    progress: &mut dyn FnMut(u64),
    cancelled: &dyn Fn() -> bool,
) -> Result<Issued, IssueError> {
    let path = folder.join(contents.name.file_name());
    // The system decides in the end; looking first only spares the work.
    if fs::symlink_metadata(&path).is_ok() {
        return Err(IssueError::AlreadyThere { path });
    }
    let payload = Payload::new(contents)?;
    let fields = contents
        .info
        .written(payload.octets, payload.entries.len() as u64)?;

    let file = NewFile::create_in(folder)?;
    let mut zip = BundleZip::new(file, &contents.name.to_string());
    let to_disk = |error| failed(&path, &path, error);
    let mut fixed = vec![
        TagFile {
            name: DECLARATION_FILE.to_owned(),
            octets: DECLARATION.into(),
        },
        TagFile {
            name: INFO_FILE.to_owned(),
            octets: print_info(&fields).into_bytes(),
        },
    ];
    let mut tags = contents.tags.clone();
    tags.extend(seal.map(Seal::proofs).unwrap_or_default());
    check_tags(&tags)?;
    tags.sort_by(|a, b| a.name.as_bytes().cmp(b.name.as_bytes()));
    fixed.append(&mut tags);
    let mut tag_digests = Vec::new();
    for tag in &fixed {
        tag_digests.push((
            zip.small(&tag.name, &tag.octets).map_err(to_disk)?,
            tag.name.clone(),
        ));
    }
    let payload_digests = payload.write(&mut zip, &path, progress, cancelled)?;
    let manifests = manifests("manifest", &payload_digests);
    let manifest = Sha256Digest::of(&manifests[0].octets);
    for tag in manifests {
        tag_digests.push((
            zip.small(&tag.name, &tag.octets).map_err(to_disk)?,
            tag.name.clone(),
        ));
    }
    tag_digests.sort_by(|a, b| a.1.as_bytes().cmp(b.1.as_bytes()));
    let tag_manifests = self::manifests("tagmanifest", &tag_digests);
    for tag in &tag_manifests {
        zip.small(&tag.name, &tag.octets).map_err(to_disk)?;
    }
    if let Some(seal) = seal {
        let [first, _] = &tag_manifests;
        let signature = seal.sign(&first.octets).map_err(IssueError::Seal)?;
        check_tags(&[contents.tags.clone(), vec![signature.clone()]].concat())?;
        zip.small(&signature.name, &signature.octets)
            .map_err(to_disk)?;
    }
    let file = zip.finish().map_err(to_disk)?;
    let octets = read_back(&file, payload.entries.len() as u64, progress, cancelled)?;
    if cancelled() {
        return Err(IssueError::Cancelled);
    }
    file.finish_noclobber(&path).map_err(|error| match error {
        DiskError::AlreadyThere { path } => IssueError::AlreadyThere { path },
        other => other.into(),
    })?;
    Ok(Issued {
        name: contents.name.clone(),
        path,
        payload_files: payload.entries.len() as u64,
        payload_octets: payload.octets,
        octets,
        manifest,
        renamed: payload.renamed,
    })
}

/// The SHA-256 and the SHA-512 manifest of that kind, in this order.
fn manifests(kind: &str, digests: &[(Digests, String)]) -> [TagFile; 2] {
    let manifest = |algorithm: &str, hex: fn(&Digests) -> String| {
        let lines = digests
            .iter()
            .map(|(digests, path)| (hex(digests), path.as_str()));
        TagFile {
            name: format!("{kind}-{algorithm}.txt"),
            octets: print_manifest(lines).into_bytes(),
        }
    };
    [
        manifest("sha256", |d| d.sha256.to_string()),
        manifest("sha512", |d| d.sha512.to_string()),
    ]
}

/// Has the audit judge what was written, while it is forced to the disk and `cancelled` is still asked; gives the
/// zip's octets.
pub(super) fn read_back(
    file: &NewFile,
    payload_files: u64,
    progress: &mut dyn FnMut(u64),
    cancelled: &dyn Fn() -> bool,
) -> Result<u64, IssueError> {
    let stop = AtomicBool::new(false);
    let octets = AtomicU64::new(0);
    let verdict = thread::scope(|scope| {
        let (done, awaited) = mpsc::channel();
        let (stop, octets) = (&stop, &octets);
        let forced = scope.spawn(|| file.force());
        scope.spawn(move || {
            let watch = Watch {
                progress: &|read| {
                    octets.fetch_add(read, Ordering::Relaxed);
                },
                cancelled: &|| stop.load(Ordering::Relaxed),
            };
            // The other side waits for this and is still there.
            let _ = done.send(judge_watched(file.path(), watch));
        });
        let verdict = loop {
            let outcome = awaited.recv_timeout(Duration::from_millis(50));
            progress(octets.swap(0, Ordering::Relaxed));
            match outcome {
                Err(mpsc::RecvTimeoutError::Timeout) => {
                    if cancelled() {
                        stop.store(true, Ordering::Relaxed);
                    }
                }
                Ok(verdict) => break Some(verdict),
                Err(mpsc::RecvTimeoutError::Disconnected) => break None,
            }
        };
        // A second forcing might report success for octets that never arrived: the first one counts.
        match forced.join() {
            Ok(Ok(())) => Ok(verdict),
            Ok(Err(error)) => Err(error),
            Err(panic) => std::panic::resume_unwind(panic),
        }
    })?;
    if stop.load(Ordering::Relaxed) {
        return Err(IssueError::Cancelled);
    }
    let verdict = verdict.ok_or(IssueError::Cancelled)?;
    if !verdict.faults.is_empty() || verdict.payload_files != payload_files {
        let first = verdict
            .faults
            .first()
            .map_or_else(String::new, ToString::to_string);
        return Err(IssueError::ReadBack {
            first,
            verdict: Box::new(verdict),
        });
    }
    let metadata = fs::metadata(file.path())
        .map_err(|e| DiskError::from_io(file.path(), "looking at it again", e))?;
    Ok(metadata.len())
}
