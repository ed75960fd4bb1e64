//! The log of audits: which bag was seen when, and how it stood.
//!
//! One JSON object a line, only ever appended to. Each line holds the SHA-256 of the line before it, so that a line
//! that was changed or taken out is noticed (the last line alone has nothing behind it to vouch for it). A line
//! that a power cut left half written is passed over.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::log_day::{Age, Instant};
use super::verdict::{Standing, Verdict};
use crate::disk::{DiskError, Lock, Sha256Digest, append, read_limited};

/// The log's name in the output folder.
pub const LOG_FILE: &str = "audit-log.jsonl";
/// Octets a log may have: fifty years of a large shelf.
const LARGEST: u64 = 2 * 1024 * 1024 * 1024;

/// A bag as it lies on the disk, without a look into it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Outside {
    /// Octets of the file; 0 for a folder.
    pub octets: u64,
    /// When it was last written, in nanoseconds since 1970; 0 for a folder or where the disk does not tell.
    pub written: i64,
}

/// One line: one bag in one audit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Seen {
    /// When, in UTC.
    pub at: Instant,
    /// The bag, by its path from the log's folder where it lies below that, and else by its whole path.
    pub bag: String,
    /// Its standing.
    pub standing: Standing,
    /// Number of faults of rank error.
    pub errors: usize,
    /// The file as it lay there.
    #[serde(flatten)]
    pub outside: Outside,
    /// The number that names the whole bag.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub tag_manifest: Option<Sha256Digest>,
    /// SHA-256 of the line before.
    pub former: Sha256Digest,
}

/// A log that was read.
#[derive(Debug)]
pub struct AuditLog {
    path: PathBuf,
    whole: BTreeMap<String, (Instant, Outside)>,
    latest: Option<Instant>,
    last: Sha256Digest,
    torn: bool,
    /// What is wrong with it, each with the number of the line.
    pub faults: Vec<(usize, &'static str)>,
}

impl AuditLog {
    /// Reads a log; one that is not there is empty.
    pub fn read(path: &Path) -> Result<Self, DiskError> {
        let mut log = Self {
            path: path.to_path_buf(),
            whole: BTreeMap::new(),
            latest: None,
            last: Sha256Digest([0; 32]),
            torn: false,
            faults: Vec::new(),
        };
        let octets = match read_limited(path, LARGEST) {
            Ok(octets) => octets,
            Err(error) if error.is_missing() => return Ok(log),
            Err(error) => return Err(error),
        };
        log.torn = octets.last().is_some_and(|octet| *octet != b'\n');
        for (at, line) in octets.split(|octet| *octet == b'\n').enumerate() {
            if line.is_empty() {
                continue;
            }
            let Ok(seen) = serde_json::from_slice::<Seen>(line) else {
                log.faults
                    .push((at + 1, "is no whole line; a run may have been cut off"));
                continue;
            };
            if seen.former != log.last {
                log.faults.push((
                    at + 1,
                    "does not follow from the line before it: one of the two was changed, or a line taken out",
                ));
            }
            log.last = Sha256Digest::of(line);
            log.latest = log.latest.max(Some(seen.at));
            if seen.standing == Standing::Valid {
                log.whole.insert(seen.bag, (seen.at, seen.outside));
            }
        }
        Ok(log)
    }

    /// The log's own file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// When the bag was last seen whole.
    pub fn last_seen_whole(&self, bag: &Path) -> Option<Instant> {
        self.whole.get(&self.name_of(bag)).map(|(at, _)| *at)
    }

    /// Whether the bag is to be audited: it was never seen whole, not within that age, or has been written since.
    /// A line from the future does not count: some clock is wrong.
    pub fn is_due(&self, bag: &Path, outside: Outside, age: Age, now: Instant) -> bool {
        match self.whole.get(&self.name_of(bag)) {
            None => true,
            Some((at, then)) => *then != outside || *at > now || at.plus(age) <= now,
        }
    }

    /// Whether a line is later than now: the clock was set back, or was ahead once.
    pub fn is_ahead_of(&self, now: Instant) -> bool {
        self.latest.is_some_and(|latest| latest > now)
    }

    /// Appends what an audit saw, in one writing. `outside` are the bags as they lay there before it.
    pub fn append(
        &mut self,
        lock: &Lock,
        now: Instant,
        seen: &[(&Verdict, Outside)],
    ) -> Result<(), DiskError> {
        let mut text = String::new();
        if self.torn {
            text.push('\n');
        }
        let mut last = self.last;
        for (verdict, outside) in seen {
            // A bag that was not looked through to the end was not seen.
            let line = Seen {
                at: now,
                bag: self.name_of(&verdict.path),
                standing: verdict.standing,
                errors: verdict.errors().count(),
                outside: *outside,
                tag_manifest: verdict.tag_manifest,
                former: last,
            };
            let line = serde_json::to_string(&line)
                .map_err(|e| DiskError::from_io(&self.path, "writing a line for it", e.into()))?;
            last = Sha256Digest::of(line.as_bytes());
            text.push_str(&line);
            text.push('\n');
        }
        append(&self.path, text.as_bytes(), lock)?;
        self.last = last;
        self.torn = false;
        Ok(())
    }

    fn name_of(&self, bag: &Path) -> String {
        let folder = self.path.parent().unwrap_or(Path::new(""));
        let inside = bag
            .strip_prefix(folder)
            .ok()
            .filter(|p| p.components().count() > 0);
        inside.unwrap_or(bag).to_string_lossy().replace('\\', "/")
    }
}
