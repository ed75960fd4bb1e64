//! What changed between two bundles of a piece, in words: fields of piece.yaml, words of the studio,
//! photographs, papers, other files.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use serde::Serialize;
use serde_yaml::Value;

use super::read_tag_file;
use crate::bag::parse_manifest;
use crate::disk::DiskError;

/// Octets that a text which is compared may have.
const LARGEST: u64 = 64 * 1024 * 1024;
const MANIFEST: &str = "manifest-sha256.txt";
const PIECE: &str = "data/piece/piece.yaml";
const STUDIO: &str = "data/studio.txt";

/// What a change is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum About {
    /// A field of piece.yaml.
    Field,
    /// Something studio.yaml says.
    Studio,
    /// A photograph.
    Photo,
    /// A paper.
    Paper,
    /// A plate, the record, the reckoning, or what describes the bundle.
    Made,
    /// Any other file in the piece's folder.
    File,
}

/// One change.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Change {
    /// What it is about.
    pub about: About,
    /// The field, or the file below `data/`.
    pub name: String,
    /// The value before, or the file's former name; nothing where it was not there.
    pub before: Option<String>,
    /// The value after, or the file's new name; nothing where it is gone.
    pub after: Option<String>,
}

/// Why two bundles can not be compared.
#[derive(Debug, thiserror::Error)]
pub enum BetweenError {
    /// A bundle can not be read.
    #[error(transparent)]
    Disk(#[from] DiskError),
    /// It is no bundle of this program's.
    #[error("{path}: {why}. Only bundles that offloom made can be compared; audit it first.")]
    NotABundle {
        /// The file.
        path: String,
        /// What is missing in it.
        why: String,
    },
}

/// Every change from one bundle to another, by what it is about and by name.
pub fn between(before: &Path, after: &Path) -> Result<Vec<Change>, BetweenError> {
    let (old, new) = (payload(before)?, payload(after)?);
    let mut changes = Vec::new();
    let old_fields = fields(before)?;
    compare(About::Field, &old_fields, &fields(after)?, &mut changes);
    compare(
        About::Studio,
        &studio(before)?,
        &studio(after)?,
        &mut changes,
    );
    files(&old, &new, &mut changes);
    changes.sort_by(|a, b| (a.about, &a.name).cmp(&(b.about, &b.name)));
    Ok(changes)
}

fn compare(
    about: About,
    old: &BTreeMap<String, String>,
    new: &BTreeMap<String, String>,
    changes: &mut Vec<Change>,
) {
    let names: BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    for name in names {
        let (before, after) = (old.get(name), new.get(name));
        if before != after {
            changes.push(Change {
                about,
                name: name.clone(),
                before: before.cloned(),
                after: after.cloned(),
            });
        }
    }
}

/// Files that came, went, changed or only have another name.
fn files(
    old: &BTreeMap<String, String>,
    new: &BTreeMap<String, String>,
    changes: &mut Vec<Change>,
) {
    let gone: BTreeMap<&String, &String> = old
        .iter()
        .filter(|(n, _)| !new.contains_key(*n))
        .map(|(n, d)| (d, n))
        .collect();
    let mut moved: BTreeSet<&String> = BTreeSet::new();
    for (name, digest) in new {
        let before = match old.get(name) {
            Some(same) if same == digest => continue,
            Some(_) => Some(name),
            None => gone.get(digest).copied(),
        };
        moved.extend(before);
        changes.push(change(name, before, Some(name)));
    }
    for name in old
        .keys()
        .filter(|n| !new.contains_key(*n) && !moved.contains(n))
    {
        changes.push(change(name, Some(name), None));
    }
    // These two are told field by field.
    changes.retain(|c| {
        c.about <= About::Studio || (c.name != below(PIECE) && c.name != below(STUDIO))
    });
}

fn change(name: &str, before: Option<&String>, after: Option<&String>) -> Change {
    let about = if name.starts_with("data/piece/photos/") {
        About::Photo
    } else if name.starts_with("data/papers/") {
        About::Paper
    } else if name.starts_with("data/piece/") {
        About::File
    } else {
        About::Made
    };
    Change {
        about,
        name: below(name).to_string(),
        before: before.map(|n| below(n).to_string()),
        after: after.map(|n| below(n).to_string()),
    }
}

fn below(name: &str) -> &str {
    name.strip_prefix("data/").unwrap_or(name)
}

fn text(bundle: &Path, name: &str) -> Result<Option<String>, BetweenError> {
    let octets = read_tag_file(bundle, name, LARGEST)?;
    let text = octets.map(String::from_utf8).transpose();
    text.map_err(|_| no_bundle(bundle, format!("{name} is not UTF-8 text")))
}

fn no_bundle(bundle: &Path, why: String) -> BetweenError {
    BetweenError::NotABundle {
        path: bundle.display().to_string(),
        why,
    }
}

/// The payload by path, with digests.
fn payload(bundle: &Path) -> Result<BTreeMap<String, String>, BetweenError> {
    let manifest = text(bundle, MANIFEST)?
        .ok_or_else(|| no_bundle(bundle, format!("{MANIFEST} is not in it")))?;
    let read = parse_manifest(&manifest, 64);
    let read = read.map_err(|why| no_bundle(bundle, format!("{MANIFEST}, {why}")))?;
    Ok(read.into_iter().collect())
}

/// The fields of piece.yaml with their values, by the names that findings use: `weft[0].used`. An owner's
/// edition has none.
fn fields(bundle: &Path) -> Result<BTreeMap<String, String>, BetweenError> {
    let mut out = BTreeMap::new();
    if let Some(text) = text(bundle, PIECE)? {
        let value: Value = serde_yaml::from_str(&text)
            .map_err(|e| no_bundle(bundle, format!("{PIECE} can't be read: {e}")))?;
        leaves(&value, String::new(), &mut out);
    }
    Ok(out)
}

fn leaves(value: &Value, name: String, out: &mut BTreeMap<String, String>) {
    match value {
        Value::Mapping(map) => {
            for (key, value) in map {
                let key = plain(key);
                let name = if name.is_empty() {
                    key
                } else {
                    format!("{name}.{key}")
                };
                leaves(value, name, out);
            }
        }
        Value::Sequence(all) => {
            for (i, value) in all.iter().enumerate() {
                leaves(value, format!("{name}[{i}]"), out);
            }
        }
        Value::Tagged(tagged) => leaves(&tagged.value, name, out),
        other => {
            out.insert(name, plain(other));
        }
    }
}

fn plain(value: &Value) -> String {
    match value {
        Value::String(text) => text.trim_end().to_string(),
        Value::Null => String::new(),
        other => serde_yaml::to_string(other)
            .unwrap_or_default()
            .trim_end()
            .to_string(),
    }
}

/// What studio.yaml said, as the bundle keeps it.
fn studio(bundle: &Path) -> Result<BTreeMap<String, String>, BetweenError> {
    let text = text(bundle, STUDIO)?.unwrap_or_default();
    let pairs = text.lines().filter_map(|line| line.split_once(": "));
    Ok(pairs
        .map(|(name, value)| (name.to_string(), value.to_string()))
        .collect())
}
