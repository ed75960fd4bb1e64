//! The stamp: what was made of what, kept beside a piece's output, so that what has not changed is
//! not made again. It is a convenience: without it, or when it does not agree with what lies there,
//! everything is made anew.

use crate::record::Sight;
use serde::{Deserialize, Serialize};
use std::path::Path;

/// The stamp's file name in a piece's output folder.
pub(super) const STAMP: &str = ".stamp.json";
/// The largest stamp that is believed: thousands of photographs.
const LARGEST: u64 = 8 * 1024 * 1024;

/// What was made of what.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub(super) struct Stamp {
    /// The program, its version and the digest of its templates.
    pub program: String,
    /// The digest of everything that went in.
    pub inputs: String,
    /// Every photograph.
    pub photos: Vec<PhotoStamp>,
    /// Every file that was made, with its digest.
    pub outputs: Vec<OutputStamp>,
    /// Files of an earlier state that a run for other papers left lying.
    #[serde(default)]
    pub left: Vec<OutputStamp>,
    /// What the papers could not state, for the summary.
    pub wanting: Vec<String>,
    /// Characters that the papers' letters lack.
    pub missing_characters: String,
}

/// One photograph and its plates.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct PhotoStamp {
    /// Its path below `photos/`.
    pub file: String,
    /// The original's digest.
    pub sha256: String,
    /// What was asked of it besides plates.
    pub ask: String,
    /// What was seen in it.
    pub sight: Sight,
    /// The name of its plates, before `-print.jpg`, `-screen.jpg` and `-thumb.jpg`.
    pub plate: Option<String>,
    /// Pixels of the print plate.
    pub print: (u32, u32),
}

/// One file that was made.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct OutputStamp {
    /// Its path in the piece's output folder.
    pub path: String,
    /// Its digest.
    pub sha256: String,
}

impl Stamp {
    /// Reads the stamp of an output folder; none where there is none that can be read.
    pub fn read(folder: &Path) -> Option<Stamp> {
        let text = crate::disk::read_text_limited(&folder.join(STAMP), LARGEST).ok()?;
        serde_json::from_str(&text).ok()
    }

    /// The stamp's bytes.
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut bytes = serde_json::to_vec_pretty(self).unwrap_or_default();
        bytes.push(b'\n');
        bytes
    }

    /// Whether a file lies there as it was made.
    pub fn holds(&self, folder: &Path, path: &str) -> bool {
        self.outputs.iter().chain(&self.left).any(|out| {
            out.path == path
                && crate::disk::digest_file(&folder.join(path))
                    .is_ok_and(|d| d.sha256.to_string() == out.sha256)
        })
    }

    /// Whether every output lies there as it was made.
    pub fn whole(&self, folder: &Path) -> bool {
        self.outputs.iter().all(|out| self.holds(folder, &out.path))
    }
}
