//! Verifies bags: those this program made, and those others made, as a folder or in a zip or tar.
//!
//! The rules are those of RFC 8493 (BagIt 1.0). An audit only reads (but for the log that is kept of them), needs no network, believes no size
//! or path that stands in the bag, and ends with every fault it found, not with the first. Payload octets
//! are streamed: memory does not grow with their size. It knows nothing of how bundles are made.

mod between;
mod chain;
mod claims;
mod damage;
mod elsewhere;
mod fetch;
mod holder;
mod lists;
mod log;
mod log_day;
mod octets;
mod opened;
mod presence;
mod rules;
mod sealing;
mod shelf;
mod tar_layout;
mod time_stamp;
mod verdict;
mod zip_directory;
mod zip_layout;
mod zip_names;
mod zip_records;

use std::fs;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use crate::disk::{DiskError, open_file};
use crate::seal::Signers;
use holder::{Holder, name_of};

pub use between::{About, BetweenError, Change, between};
pub use damage::Damage;
pub use elsewhere::Elsewhere;
pub use log::{AuditLog, LOG_FILE, Outside};
pub use log_day::{Age, Instant};
pub use opened::{OpenBag, listed_in};
pub use sealing::{SealSeen, SealStanding};
pub use shelf::find_bags;
pub use verdict::{Fault, Kind, Rank, Standing, Verdict};

/// Who watches an audit, and may stop it.
#[derive(Clone, Copy)]
pub struct Watch<'a> {
    /// Called with the number of octets just read.
    pub progress: &'a (dyn Fn(u64) + Sync),
    /// Asked now and then; `true` stops the audit.
    pub cancelled: &'a (dyn Fn() -> bool + Sync),
}

impl Watch<'_> {
    /// Nobody watches.
    pub const NOBODY: Watch<'static> = Watch {
        progress: &|_| {},
        cancelled: &|| false,
    };
}

/// Verifies one bag: a folder, or a zip or tar with a bag in it.
pub fn judge(path: &Path) -> Verdict {
    judge_watched(path, Watch::NOBODY)
}

/// As [`judge`], and tells of its progress.
pub fn judge_watched(path: &Path, watch: Watch<'_>) -> Verdict {
    judge_trusting(path, watch, None)
}

fn judge_trusting(path: &Path, watch: Watch<'_>, trusted: Option<&Signers>) -> Verdict {
    match open(path) {
        Ok(holder) => rules::judge(path, holder, watch, trusted),
        Err(error) => unreadable(path, &error.to_string()),
    }
}

/// Verifies several bags, in the order given; the work is spread over the processors. With a list of
/// signers, which came from elsewhere than the bags, each seal must be by one of them, in its time. Where a
/// revision and the one before it are both among them, the one must follow from the other. Where a file of one
/// is damaged or missing and another of them holds the good octets, the fault says where.
pub fn judge_all(paths: &[PathBuf], watch: Watch<'_>, trusted: Option<&Signers>) -> Vec<Verdict> {
    let mut verdicts: Vec<Verdict> = paths
        .par_iter()
        .map(|path| judge_trusting(path, watch, trusted))
        .collect();
    chain::follow(&mut verdicts);
    elsewhere::look(&mut verdicts);
    verdicts
}

/// The octets of one small tag file (`bag-info.txt`, a manifest) as they stand in a bag, without any
/// verdict on them; nothing when the bag has no such file, or it is larger than `limit` octets.
pub fn read_tag_file(path: &Path, name: &str, limit: u64) -> Result<Option<Vec<u8>>, DiskError> {
    let holder = open(path)?;
    Ok(holder
        .find(name)
        .and_then(|member| holder.read_small(member, limit)))
}

fn open(path: &Path) -> Result<Holder, DiskError> {
    let failed = |e| DiskError::from_io(path, "reading it", e);
    if fs::metadata(path).map_err(failed)?.is_dir() {
        fs::read_dir(path).map_err(failed)?;
        return Ok(Holder::folder(path));
    }
    let (file, _) = open_file(path)?;
    Holder::packed(path, file).map_err(failed)
}

fn unreadable(path: &Path, why: &str) -> Verdict {
    let remedy = "Check the name and the permissions, and that the disk is connected.";
    let fault = Fault::error(
        Kind::Unreadable,
        name_of(path),
        format!("can't be read: {why}"),
        remedy,
    );
    Verdict {
        path: path.to_path_buf(),
        standing: Standing::CouldNotTell,
        faults: vec![fault],
        info: Vec::new(),
        payload_files: 0,
        payload_octets: 0,
        algorithms: Vec::new(),
        tag_manifest: None,
        seal: None,
        time_stamp: None,
    }
    .settle()
}
