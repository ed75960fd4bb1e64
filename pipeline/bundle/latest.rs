//! Finds the newest bundle of a piece, and what it says of itself.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::name::{BundleName, Edition};
use crate::audit::read_tag_file;
use crate::bag::{INFO_FILE, parse_info, parse_manifest};
use crate::disk::{DiskError, Sha256Digest};
use crate::seal::SEALED_FILE;

/// Octets that a bundle's metadata or manifest may have.
const LARGEST: u64 = 64 * 1024 * 1024;
const MANIFEST: &str = "manifest-sha256.txt";

/// A bundle issued before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Former {
    /// Which bundle.
    pub name: BundleName,
    /// Where it is.
    pub path: PathBuf,
    /// The fields of its `bag-info.txt`, in their order, repeats kept.
    pub info: Vec<(String, String)>,
    /// The payload paths below its top folder (`data/…`) with their digests.
    pub payload: BTreeMap<String, Sha256Digest>,
    /// SHA-256 of its `manifest-sha256.txt`, which names the whole payload in one number.
    pub manifest: Sha256Digest,
    /// SHA-256 of its `tagmanifest-sha256.txt`, which names the whole bundle in one number.
    pub tag_manifest: Sha256Digest,
}

impl Former {
    /// The first value of a field, whatever the case of its label.
    pub fn field(&self, label: &str) -> Option<&str> {
        let mut fields = self.info.iter();
        fields
            .find(|(written, _)| written.eq_ignore_ascii_case(label))
            .map(|(_, v)| v.as_str())
    }
}

/// Why the newest bundle could not be read.
#[derive(Debug, thiserror::Error)]
pub enum FormerError {
    /// The folder or the file can't be read.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// It is not what a bundle must be.
    #[error("{path}: the newest bundle of this piece can't be read: {why}. Audit it and put a sound copy in its place; a next revision is not issued on a guess.", path = .path.display())]
    Damaged {
        /// The bundle.
        path: PathBuf,
        /// What is wrong.
        why: String,
    },
}

/// The studio's bundle of the highest revision for exactly this piece; nothing when there is none.
pub fn latest(folder: &Path, slug: &str) -> Result<Option<Former>, FormerError> {
    latest_edition(folder, slug, Edition::Studio)
}

/// As [`latest`], for an edition.
pub fn latest_edition(
    folder: &Path,
    slug: &str,
    edition: Edition,
) -> Result<Option<Former>, FormerError> {
    let failed = |e| DiskError::from_io(folder, "listing it", e);
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(e) if e.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(e) => return Err(failed(e).into()),
    };
    let mut newest: Option<BundleName> = None;
    for entry in entries {
        let file_name = entry.map_err(failed)?.file_name();
        let Some(name) = file_name.to_str().and_then(BundleName::from_file_name) else {
            continue;
        };
        if name.slug() == slug && name.edition() == edition && Some(&name) > newest.as_ref() {
            newest = Some(name);
        }
    }
    newest
        .map(|name| read(folder.join(name.file_name()), name))
        .transpose()
}

fn read(path: PathBuf, name: BundleName) -> Result<Former, FormerError> {
    let damaged = |why: &str| FormerError::Damaged {
        path: path.clone(),
        why: why.to_owned(),
    };
    let text = |file: &str| {
        let octets = read_tag_file(&path, file, LARGEST)?
            .ok_or_else(|| damaged(&format!("{file} is not in it")))?;
        String::from_utf8(octets).map_err(|_| damaged(&format!("{file} is not UTF-8 text")))
    };
    let (info, faults) = parse_info(&text(INFO_FILE)?, true);
    if let Some(fault) = faults.first() {
        return Err(damaged(&format!(
            "{INFO_FILE}, line {}: {}",
            fault.line, fault.why
        )));
    }
    let manifest = text(MANIFEST)?;
    let wrong = |why: String| damaged(&format!("{MANIFEST}, {why}"));
    let mut payload = BTreeMap::new();
    for (file, checksum) in parse_manifest(&manifest, 64).map_err(wrong)? {
        let digest = checksum.parse::<Sha256Digest>();
        payload.insert(file, digest.map_err(|e| wrong(e.to_string()))?);
    }
    let manifest = Sha256Digest::of(manifest.as_bytes());
    let tag_manifest = Sha256Digest::of(text(SEALED_FILE)?.as_bytes());
    Ok(Former {
        name,
        path,
        info,
        payload,
        manifest,
        tag_manifest,
    })
}
