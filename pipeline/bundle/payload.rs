//! The payload of a bundle: put in order under safe names, and copied while it is digested.

use std::io::Read;
use std::path::Path;

use super::archive_name::archive_names;
use super::issue::{Contents, IssueError, Item, Source};
use super::writer::{BundleZip, CopyError};
use super::{ArchiveName, RENAMED_FILE};
use crate::bag::{Danger, PAYLOAD};
use crate::disk::{Digests, DiskError, Stamp, TwoLanes, open_file};

/// The payload in the order in which it is written.
pub(super) struct Payload<'a> {
    pub(super) entries: Vec<(String, Entry<'a>)>,
    pub(super) octets: u64,
    pub(super) renamed: Vec<ArchiveName>,
}

/// A file the caller gave, or the list of stand-ins.
pub(super) enum Entry<'a> {
    Given(&'a Source),
    Renamed(Source),
}

impl<'a> Payload<'a> {
    /// Puts the files in order under safe names.
    pub(super) fn new(contents: &'a Contents) -> Result<Self, IssueError> {
        let mut items: Vec<&Item> = contents.payload.iter().collect();
        if items.is_empty() {
            return Err(IssueError::Empty);
        }
        items.sort_by(|a, b| a.path.as_bytes().cmp(b.path.as_bytes()));
        if let Some(pair) = items.windows(2).find(|pair| pair[0].path == pair[1].path) {
            return Err(IssueError::Twice {
                path: pair[0].path.clone(),
            });
        }
        let names = archive_names(items.iter().map(|item| item.path.as_str()), &[RENAMED_FILE]);
        let mut entries = Vec::with_capacity(items.len() + 1);
        for (item, name) in items.iter().zip(&names) {
            if let Some(danger) = leads_astray(&item.path) {
                return Err(IssueError::BadPath {
                    path: item.path.clone(),
                    danger,
                });
            }
            entries.push((
                format!("{PAYLOAD}{}", name.archived),
                Entry::Given(&item.from),
            ));
        }
        let renamed: Vec<ArchiveName> = names.into_iter().filter(ArchiveName::is_renamed).collect();
        if !renamed.is_empty() {
            let list = Source::Bytes(renamed_list(&renamed));
            entries.push((format!("{PAYLOAD}{RENAMED_FILE}"), Entry::Renamed(list)));
        }
        entries.sort_by(|a, b| a.0.as_bytes().cmp(b.0.as_bytes()));
        let octets = entries.iter().fold(0, |sum: u64, (_, entry)| {
            sum.saturating_add(entry.source().size())
        });
        Ok(Self {
            entries,
            octets,
            renamed,
        })
    }

    /// Copies every file into the zip and gives the digests, each from the one reading.
    pub(super) fn write(
        &self,
        zip: &mut BundleZip,
        target: &Path,
        progress: &mut dyn FnMut(u64),
        cancelled: &dyn Fn() -> bool,
    ) -> Result<Vec<(Digests, String)>, IssueError> {
        let mut lanes = TwoLanes::begin();
        let mut writing = Writing {
            zip,
            lanes: &mut lanes,
            target,
            progress,
            cancelled,
        };
        for (archived, entry) in &self.entries {
            match entry.source() {
                Source::Bytes(octets) => {
                    let size = octets.len() as u64;
                    writing.copy(archived, size, &mut &octets[..], target)?;
                }
                Source::File { path, size } => writing.copy_file(archived, path, *size)?,
            }
        }
        let names = self.entries.iter().map(|(archived, _)| archived.clone());
        Ok(lanes.finish().into_iter().zip(names).collect())
    }
}

impl Entry<'_> {
    fn source(&self) -> &Source {
        match self {
            Self::Given(source) => source,
            Self::Renamed(source) => source,
        }
    }
}

/// A payload on its way into the zip.
struct Writing<'a> {
    zip: &'a mut BundleZip,
    lanes: &'a mut TwoLanes,
    target: &'a Path,
    progress: &'a mut dyn FnMut(u64),
    cancelled: &'a dyn Fn() -> bool,
}

impl Writing<'_> {
    fn copy(
        &mut self,
        archived: &str,
        size: u64,
        from: &mut dyn Read,
        source: &Path,
    ) -> Result<(), IssueError> {
        self.zip
            .copy(
                archived,
                size,
                from,
                self.lanes,
                self.progress,
                self.cancelled,
            )
            .map_err(|error| failed(source, self.target, error))
    }

    /// Copies one file, which must have the size it was listed with, and must not change meanwhile.
    fn copy_file(&mut self, archived: &str, path: &Path, size: u64) -> Result<(), IssueError> {
        let changed = || IssueError::Changed {
            path: path.to_path_buf(),
        };
        let gone = |error| match error {
            DiskError::Missing { path, .. } => IssueError::Vanished { path },
            DiskError::NotAFile { .. } => changed(),
            other => other.into(),
        };
        let (mut file, metadata) = open_file(path).map_err(gone)?;
        let before = Stamp::of(&metadata);
        if before.size != size {
            return Err(changed());
        }
        self.copy(archived, size, &mut file, path)?;
        let after = file
            .metadata()
            .map_err(|e| DiskError::from_io(path, "looking at it again", e))?;
        if Stamp::of(&after) != before {
            return Err(changed());
        }
        Ok(())
    }
}

/// What a failed copying is called.
pub(super) fn failed(source: &Path, target: &Path, error: CopyError) -> IssueError {
    match error {
        CopyError::Reading(e) => DiskError::from_io(source, "reading it", e).into(),
        CopyError::Changed => IssueError::Changed {
            path: source.to_path_buf(),
        },
        CopyError::Writing(e) => DiskError::from_io(target, "writing it", e).into(),
        CopyError::Cancelled => IssueError::Cancelled,
    }
}

/// Dots, an empty part or the root are no names that could be made safe: the caller has gone astray.
fn leads_astray(path: &str) -> Option<Danger> {
    if path.starts_with('/') {
        return Some(Danger::Absolute);
    }
    path.split('/').find_map(|part| match part {
        "" => Some(Danger::Empty),
        "." | ".." => Some(Danger::Dots),
        _ => None,
    })
}

fn renamed_list(renamed: &[ArchiveName]) -> Vec<u8> {
    let list: Vec<serde_json::Value> = renamed
        .iter()
        .map(|name| serde_json::json!({ "archived": name.archived, "original": name.original }))
        .collect();
    let text = serde_json::json!({
        "about": "Files whose names are not safe on every system: under which name each lies in this \
                  folder, and what it was called before.",
        "renamed": list,
    });
    format!("{text:#}\n").into_bytes()
}
