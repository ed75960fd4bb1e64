//! The files of a tar, and where their octets lie in it.
//!
//! A tar has no directory and no checksum of its files: only each header has one. The records are read by the
//! `tar` crate (ustar, GNU and pax names); here it is seen that what they name is safe, stands there once, and
//! that the tar ends as it should: with two blocks of zeros and nothing behind them but zeros.

use std::collections::BTreeSet;
use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};

use tar::EntryType;

use super::verdict::{Fault, Kind};
use super::zip_layout::{ANOTHER_COPY, Entry, EntryKind, Layout, MOST_ENTRIES};
use super::zip_names::STORED;
use crate::bag::check_path;
use crate::disk::CHUNK;

/// Octets of a block: headers and files fill whole ones (POSIX, pax, ustar interchange format).
const BLOCK: u64 = 512;
/// What every header of POSIX or GNU has at octet 257.
const MAGIC: &[u8] = b"ustar";

/// Whether the file begins with the header of a tar.
pub(super) fn is_tar(file: &mut File) -> io::Result<bool> {
    file.rewind()?;
    let mut first = Vec::new();
    Read::take(&mut *file, BLOCK).read_to_end(&mut first)?;
    file.rewind()?;
    Ok(first.get(257..262) == Some(MAGIC))
}

/// Reads the headers of the tar in `file`, which is called `shown` in faults about the whole.
pub(super) fn read_tar(mut file: File, shown: &str) -> io::Result<Layout> {
    let len = file.metadata()?.len();
    file.rewind()?;
    let mut found = Layout {
        entries: Vec::new(),
        faults: Vec::new(),
        is_zip: true,
    };
    let mut names = BTreeSet::new();
    let mut reached = 0;
    let mut paddings = Vec::new();
    let mut archive = tar::Archive::new(&mut file);
    for entry in archive.entries_with_seek()? {
        let entry = match entry {
            Ok(entry) => entry,
            Err(error) => {
                let message = format!("can't be read from octet {reached} on: {error}.");
                let kind = if error.kind() == io::ErrorKind::UnexpectedEof || reached >= len {
                    Kind::TarCutShort
                } else {
                    Kind::TarRecord
                };
                found
                    .faults
                    .push(Fault::error(kind, shown, message, ANOTHER_COPY));
                return Ok(found);
            }
        };
        let (at, size) = (entry.raw_file_position(), entry.size());
        reached = at.saturating_add(size.div_ceil(BLOCK).saturating_mul(BLOCK));
        paddings.push((at.saturating_add(size), reached));
        let bare = entry.path_bytes();
        let name = String::from_utf8_lossy(&bare);
        let name = name.strip_prefix("./").unwrap_or(&name);
        let name = name.strip_suffix('/').unwrap_or(name).to_owned();
        if name.is_empty() || name == "." {
            continue;
        }
        look_at_name(&bare, &name, &mut found.faults);
        let kind = kind_of(entry.header().entry_type());
        if kind != EntryKind::Folder && !names.insert(name.clone()) {
            let message = "stands twice in the tar; programs differ in which of them they take.";
            let fault = Fault::error(Kind::TarDuplicate, &name, message, ANOTHER_COPY);
            found.faults.push(fault);
        }
        let whole = at.saturating_add(size) <= len;
        if !whole {
            let message = "is cut off: the tar ends inside it.";
            let fault = Fault::error(Kind::TarCutShort, &name, message, ANOTHER_COPY);
            found.faults.push(fault);
        }
        if found.entries.len() == MOST_ENTRIES {
            let message = format!("holds more than {MOST_ENTRIES} files.");
            let fault = Fault::error(Kind::TarRecord, shown, message, ANOTHER_COPY);
            found.faults.push(fault);
            return Ok(found);
        }
        found.entries.push(Entry {
            name,
            kind,
            data: at,
            compressed: size,
            size,
            crc: None,
            method: STORED,
            readable: whole,
        });
    }
    for (from, to) in paddings {
        if to <= len && !only_zeros(&mut file, from, to - from)? {
            let message = format!("has octets from {from} on that belong to no file.");
            let fault = Fault::error(Kind::TarTail, shown, message, ANOTHER_COPY);
            found.faults.push(fault);
        }
    }
    ending(&mut file, reached, len, shown, &mut found.faults)?;
    found
        .entries
        .sort_by(|a, b| a.name.as_bytes().cmp(b.name.as_bytes()));
    Ok(found)
}

fn kind_of(kind: EntryType) -> EntryKind {
    match kind {
        EntryType::Regular | EntryType::Continuous => EntryKind::File,
        EntryType::Directory => EntryKind::Folder,
        EntryType::Symlink | EntryType::Link => EntryKind::Link,
        _ => EntryKind::Special,
    }
}

fn look_at_name(bare: &[u8], name: &str, faults: &mut Vec<Fault>) {
    let shown: String = name
        .chars()
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect();
    let message = if let Err(danger) = check_path(name) {
        format!("is a name in the tar that {danger}.")
    } else if std::str::from_utf8(bare).is_err() {
        "is a name in the tar that is not UTF-8 text.".to_owned()
    } else {
        return;
    };
    let remedy = "Do not unpack this tar; ask for a clean copy.";
    faults.push(Fault::error(Kind::TarName, shown, message, remedy));
}

/// Sees that the tar is closed by two blocks of zeros, and that nothing but zeros follows.
fn ending(
    file: &mut File,
    reached: u64,
    len: u64,
    shown: &str,
    faults: &mut Vec<Fault>,
) -> io::Result<()> {
    if len < reached.saturating_add(2 * BLOCK) {
        let message = "has no end: it is cut short, though no file in it is.";
        let fault = Fault::error(Kind::TarCutShort, shown, message, ANOTHER_COPY);
        faults.push(fault);
        return Ok(());
    }
    if !only_zeros(file, reached, len - reached)? {
        let message = "has octets behind its end, which belong to no file.";
        let fault = Fault::error(Kind::TarTail, shown, message, ANOTHER_COPY);
        faults.push(fault);
    }
    Ok(())
}

fn only_zeros(file: &mut File, from: u64, octets: u64) -> io::Result<bool> {
    file.seek(SeekFrom::Start(from))?;
    let mut rest = Read::take(&mut *file, octets);
    let mut buffer = vec![0; usize::try_from(octets).unwrap_or(CHUNK).min(CHUNK)];
    loop {
        match rest.read(&mut buffer)? {
            0 => return Ok(true),
            got if buffer[..got].iter().any(|octet| *octet != 0) => return Ok(false),
            _ => {}
        }
    }
}
