//! Where a bag lies: a folder, a zip or a tar. All give the same: a list of members, and their octets in a
//! stream. Nothing outside is ever touched: a member is opened by its own place, never by a path that
//! stands in the bag.

use std::collections::BTreeSet;
use std::fs::File;
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use super::octets::{Trouble, read_entry, read_plain, stream_entry, stream_plain};
use super::tar_layout::{is_tar, read_tar};
use super::verdict::{Fault, Kind};
use super::zip_layout::{Entry, EntryKind, Layout, read_layout};
use crate::bag::DECLARATION_FILE;

/// One file of a bag.
#[derive(Debug)]
pub(super) struct Member {
    /// Its path below the bag's own folder, with `/`.
    pub(super) path: String,
    /// Octets, as the folder or the zip's directory says.
    pub(super) size: u64,
    /// False when a fault already tells that it can't be read.
    pub(super) readable: bool,
    place: Place,
}

#[derive(Debug)]
enum Place {
    OnDisk(PathBuf),
    /// In a zip or a tar.
    Packed(Entry),
}

/// A bag where it lies.
pub(super) struct Holder {
    path: PathBuf,
    /// The members, bytewise by path.
    pub(super) members: Vec<Member>,
    /// The folder that everything lies in.
    pub(super) top: String,
    /// What was found wrong while listing them.
    pub(super) faults: Vec<Fault>,
    /// Whether there is a folder `data`, be it empty.
    pub(super) has_payload_folder: bool,
    /// False when it is neither a folder nor a zip nor a tar.
    pub(super) is_container: bool,
}

impl Holder {
    /// Lists a folder. Links are not followed; they are faults of their own.
    pub(super) fn folder(path: &Path) -> Self {
        let mut holder = Self::empty(path);
        holder.has_payload_folder = path.join("data").is_dir();
        for entry in WalkDir::new(path).min_depth(1).sort_by_file_name() {
            match entry {
                Ok(entry) => holder.take_entry(&entry),
                Err(error) => {
                    let at = error.path().unwrap_or(path);
                    let shown = below(path, at);
                    let message = format!("can't be read: {error}.");
                    let remedy = "Give yourself permission to read it, and audit again.";
                    holder
                        .faults
                        .push(Fault::error(Kind::Unreadable, shown, message, remedy));
                }
            }
        }
        holder
            .members
            .sort_by(|a, b| a.path.as_bytes().cmp(b.path.as_bytes()));
        holder
    }

    fn take_entry(&mut self, entry: &walkdir::DirEntry) {
        let shown = below(&self.path, entry.path());
        let kind = entry.file_type();
        if kind.is_dir() {
            return;
        }
        if !kind.is_file() {
            self.link(&shown);
            self.push(shown, 0, false, Place::OnDisk(entry.path().to_path_buf()));
            return;
        }
        if entry
            .path()
            .strip_prefix(&self.path)
            .is_ok_and(|path| path.to_str().is_none())
        {
            let message = "has a name that is not UTF-8, so that no manifest can list it.";
            let remedy = "Give it the name that stands in the manifest.";
            self.faults
                .push(Fault::error(Kind::Extra, &shown, message, remedy));
        }
        match entry.metadata() {
            Ok(metadata) => {
                self.push(
                    shown,
                    metadata.len(),
                    true,
                    Place::OnDisk(entry.path().to_path_buf()),
                );
            }
            Err(error) => {
                let message = format!("can't be read: {error}.");
                let remedy = "Give yourself permission to read it, and audit again.";
                self.faults
                    .push(Fault::error(Kind::Unreadable, &shown, message, remedy));
                self.push(shown, 0, false, Place::OnDisk(entry.path().to_path_buf()));
            }
        }
    }

    /// Lists a zip or a tar, and finds the bag's folder in it.
    pub(super) fn packed(path: &Path, mut file: File) -> io::Result<Self> {
        let mut holder = Self::empty(path);
        let shown = name_of(path);
        let Layout {
            entries,
            faults,
            is_zip,
        } = if is_tar(&mut file)? {
            read_tar(file, &shown)?
        } else {
            read_layout(file, &shown)?
        };
        holder.faults = faults;
        holder.is_container = is_zip;
        let base = holder.base_of(&entries, &shown);
        if let Some(top) = base.strip_suffix('/') {
            holder.top = top.rsplit('/').next().unwrap_or(top).to_owned();
        }
        for fault in &mut holder.faults {
            if let Some(inside) = fault
                .file
                .strip_prefix(&base)
                .filter(|inside| !inside.is_empty())
            {
                fault.file = inside.to_owned();
            }
        }
        for entry in entries {
            let Some(inside) = entry.name.strip_prefix(&base).map(str::to_owned) else {
                continue;
            };
            if inside == "data" || inside.starts_with("data/") {
                holder.has_payload_folder |= inside != "data" || entry.kind == EntryKind::Folder;
            }
            match entry.kind {
                EntryKind::Folder => {}
                EntryKind::File => {
                    holder.push(inside, entry.size, entry.readable, Place::Packed(entry));
                }
                EntryKind::Link | EntryKind::Special => {
                    holder.link(&inside);
                    holder.push(inside, 0, false, Place::Packed(entry));
                }
            }
        }
        holder
            .members
            .sort_by(|a, b| a.path.as_bytes().cmp(b.path.as_bytes()));
        Ok(holder)
    }

    /// What all names of the bag begin with in the zip; faults when that is not one top folder.
    fn base_of(&mut self, entries: &[Entry], shown: &str) -> String {
        let tops: BTreeSet<&str> = entries
            .iter()
            .map(|e| e.name.split('/').next().unwrap_or_default())
            .collect();
        let declared = entries
            .iter()
            .filter_map(|entry| entry.name.strip_suffix(DECLARATION_FILE))
            .filter(|base| base.is_empty() || base.ends_with('/'))
            .min_by_key(|base| (base.matches('/').count(), base.len(), *base));
        let only = match (tops.len(), tops.first()) {
            (1, Some(top)) => Some(format!("{top}/")),
            _ => None,
        };
        // Without a declaration: the one top folder, or else the folder most of the files lie in.
        let base = match (declared, &only) {
            (Some(base), _) => base.to_owned(),
            (None, Some(only)) => only.clone(),
            (None, None) => tops
                .iter()
                .max_by_key(|top| {
                    entries
                        .iter()
                        .filter(|e| e.name.starts_with(&format!("{top}/")))
                        .count()
                })
                .map_or_else(String::new, |top| format!("{top}/")),
        };
        let remedy = "A packed bag has one folder at the top, and everything lies in that folder.";
        if only.as_deref() != Some(base.as_str()) && !entries.is_empty() {
            let mut outside = entries
                .iter()
                .filter(|e| !e.name.starts_with(&base))
                .peekable();
            if outside.peek().is_none() {
                let message = "does not have exactly one folder at its top, with the bag in it.";
                self.faults
                    .push(Fault::error(Kind::ZipTop, shown, message, remedy));
            }
            for entry in outside.filter(|e| format!("{}/", e.name) != base) {
                let message = "lies outside the bag's folder.";
                self.faults
                    .push(Fault::error(Kind::ZipTop, &entry.name, message, remedy));
            }
        }
        base
    }

    fn empty(path: &Path) -> Self {
        Self {
            path: path.to_path_buf(),
            members: Vec::new(),
            top: name_of(path),
            faults: Vec::new(),
            has_payload_folder: false,
            is_container: true,
        }
    }

    fn push(&mut self, path: String, size: u64, readable: bool, place: Place) {
        self.members.push(Member {
            path,
            size,
            readable,
            place,
        });
    }

    fn link(&mut self, shown: &str) {
        let message = "is a link, pipe or device and not a plain file; it has not been followed.";
        let remedy = "Put the file itself in its place, or take the link out.";
        self.faults
            .push(Fault::error(Kind::Link, shown, message, remedy));
    }

    /// The member of that path.
    pub(super) fn find(&self, path: &str) -> Option<usize> {
        self.members
            .binary_search_by(|member| member.path.as_bytes().cmp(path.as_bytes()))
            .ok()
    }

    /// Streams a member's octets. The octets may have come in full and still be in trouble.
    pub(super) fn read(&self, member: usize, sink: &mut dyn FnMut(&[u8])) -> Result<(), Trouble> {
        match &self.members[member].place {
            Place::OnDisk(path) => read_plain(path, sink),
            Place::Packed(entry) => read_entry(&self.path, entry, sink),
        }
    }

    /// A member as a stream, without any check of it; an error where it can't be read at all.
    pub(super) fn stream(&self, member: usize) -> io::Result<Box<dyn Read>> {
        if !self.members[member].readable {
            return Err(io::ErrorKind::InvalidData.into());
        }
        match &self.members[member].place {
            Place::OnDisk(path) => stream_plain(path),
            Place::Packed(entry) => stream_entry(&self.path, entry),
        }
    }

    /// The CRC-32 that a zip tells of a member.
    pub(super) fn crc(&self, member: usize) -> Option<u32> {
        match &self.members[member].place {
            Place::OnDisk(_) => None,
            Place::Packed(entry) => entry.crc,
        }
    }

    /// A small member as a whole, whatever trouble it is in; nothing when it is larger than `limit`.
    pub(super) fn read_small(&self, member: usize, limit: u64) -> Option<Vec<u8>> {
        if !self.members[member].readable || self.members[member].size > limit {
            return None;
        }
        let mut octets = Vec::new();
        let mut room = limit;
        // Trouble is told of when all members are read through; here the octets count.
        let _ = self.read(member, &mut |piece| {
            let taken = piece.len().min(usize::try_from(room).unwrap_or(usize::MAX));
            octets.extend_from_slice(&piece[..taken]);
            room -= taken as u64;
        });
        Some(octets)
    }
}

/// The last part of a path, for faults about the container as a whole.
pub(super) fn name_of(path: &Path) -> String {
    let name = path.file_name().unwrap_or(path.as_os_str());
    name.to_string_lossy().into_owned()
}

fn below(root: &Path, path: &Path) -> String {
    let inside = path.strip_prefix(root).unwrap_or(path);
    inside
        .iter()
        .map(|part| part.to_string_lossy())
        .collect::<Vec<_>>()
        .join("/")
}
