//! Whether a zip is exactly what it says: each octet belongs to one record, and no two records
//! disagree.
//!
//! A zip names each file twice (in front of it and in the directory at the end), and programs differ in
//! which they believe. Nothing is believed here: the two are compared, and the records must follow one
//! another without gap or overlap from the first octet to the last. When the directory can't be read,
//! the files are found by walking through the headers in front of them, so that what is left can still
//! be judged. The contents are `zip_read`'s to check.

use std::collections::BTreeSet;
use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom};

use super::verdict::{Fault, Kind};
use super::zip_names::{entry_kind, entry_name, look_at_entry};
use super::zip_records::{
    self as records, CENTRAL, Central, Common, DESCRIPTOR, END_64_LEN, END_LEN, End,
    FLAG_DESCRIPTOR, Fields, LOCAL, LOCAL_LEN, LOCATOR_64, LOCATOR_64_LEN,
};

/// Files a zip may hold.
const MOST_ENTRIES: usize = 1_000_000;
/// Octets its directory may have.
const LARGEST_DIRECTORY: u64 = 512 * 1024 * 1024;
/// Octets of the longest possible comment at the end.
const LONGEST_COMMENT: u64 = 65_535;

const ANOTHER_COPY: &str =
    "Take the bundle from another copy; this one has been changed or damaged.";

/// What an entry is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum EntryKind {
    File,
    Folder,
    Link,
    Special,
}

/// One file of the zip, and where its octets lie.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    /// Its name in the zip, without the `/` that ends a folder's.
    pub(super) name: String,
    pub(super) kind: EntryKind,
    pub(super) data: u64,
    pub(super) compressed: u64,
    pub(super) size: u64,
    pub(super) crc: u32,
    pub(super) method: u16,
    /// False when a fault already tells that it can't be read.
    pub(super) readable: bool,
}

/// The files of a zip and what is wrong with its structure.
pub(super) struct Layout {
    pub(super) entries: Vec<Entry>,
    pub(super) faults: Vec<Fault>,
    /// False when nothing of a zip was recognised.
    pub(super) is_zip: bool,
}

/// A file with its length, read at any place.
pub(super) struct Source {
    file: File,
    len: u64,
}

impl Source {
    fn at(&mut self, offset: u64, octets: u64) -> io::Result<Vec<u8>> {
        self.file.seek(SeekFrom::Start(offset))?;
        let mut taken = Vec::new();
        (&mut self.file).take(octets).read_to_end(&mut taken)?;
        Ok(taken)
    }

    fn signature(&mut self, offset: u64) -> io::Result<Option<u32>> {
        Ok(Fields(&self.at(offset, 4)?).u32())
    }
}

/// Reads the structure of the zip in `file`, which is called `shown` in faults about the whole.
pub(super) fn read_layout(file: File, shown: &str) -> io::Result<Layout> {
    let len = file.metadata()?.len();
    let mut walk = Walk {
        source: Source { file, len },
        shown,
        faults: Vec::new(),
    };
    let Some((end, end_at)) = walk.find_end()? else {
        return walk.without_directory();
    };
    let (headers, directory_at) = walk.directory(&end, end_at)?;
    let Some(headers) = headers else {
        let found = walk.along_headers(directory_at)?;
        return Ok(walk.close(found));
    };
    let entries = walk.entries(headers, directory_at)?;
    Ok(walk.close(entries))
}

struct Walk<'a> {
    source: Source,
    shown: &'a str,
    faults: Vec<Fault>,
}

impl Walk<'_> {
    fn whole(&mut self, kind: Kind, message: impl Into<String>, remedy: &str) {
        self.faults
            .push(Fault::error(kind, self.shown, message, remedy));
    }

    /// The end record (or its 64-bit form) and where the directory must end.
    fn find_end(&mut self) -> io::Result<Option<(End, u64)>> {
        let len = self.source.len;
        let tail_at = len.saturating_sub(END_LEN + LONGEST_COMMENT);
        let tail = self.source.at(tail_at, END_LEN + LONGEST_COMMENT)?;
        let mut last = None;
        let mut exact = None;
        for at in (0..tail.len().saturating_sub(END_LEN as usize - 1)).rev() {
            let Some(end) = tail.get(at..).and_then(records::end) else {
                continue;
            };
            let stop = at as u64 + END_LEN + u64::from(end.comment);
            last = last.or(Some((end, at as u64, stop)));
            if stop == tail.len() as u64 {
                exact = Some((end, at as u64, stop));
                break;
            }
        }
        let Some((end, at, stop)) = exact.or(last) else {
            return Ok(None);
        };
        if stop < tail.len() as u64 {
            let after = tail.len() as u64 - stop;
            let message = format!("has {after} octets after its end.");
            self.whole(Kind::ZipTail, message, ANOTHER_COPY);
        } else if stop > tail.len() as u64 {
            self.whole(
                Kind::ZipRecord,
                "ends inside its closing comment.",
                ANOTHER_COPY,
            );
        }
        if end.comment > 0 {
            let message = format!(
                "ends in a comment of {} octets, which no checksum covers.",
                end.comment
            );
            let remedy = "Do not rely on what the comment says.";
            self.faults
                .push(Fault::warning(Kind::ZipTail, self.shown, message, remedy));
        }
        let end_at = tail_at + at;
        self.widened(end, end_at).map(Some)
    }

    /// Looks for the 64-bit end record in front of the short one.
    fn widened(&mut self, end: End, end_at: u64) -> io::Result<(End, u64)> {
        let Some(locator_at) = end_at.checked_sub(LOCATOR_64_LEN) else {
            return Ok((end, end_at));
        };
        let locator = self.source.at(locator_at, LOCATOR_64_LEN)?;
        let mut fields = Fields(&locator);
        if fields.u32() != Some(LOCATOR_64) {
            return Ok((end, end_at));
        }
        fields.u32();
        // With a stub in front the stated place is off; the record then lies right before the locator.
        for at in [fields.u64(), locator_at.checked_sub(END_64_LEN)]
            .into_iter()
            .flatten()
        {
            let octets = self.source.at(at, END_64_LEN)?;
            if let Some((wide, length)) = records::end_64(&octets)
                && at.checked_add(length) == Some(locator_at)
            {
                if !agrees(&end, &wide) {
                    let message = "has two closing records that disagree.";
                    self.whole(Kind::ZipRecord, message, ANOTHER_COPY);
                }
                return Ok((wide, at));
            }
        }
        self.whole(
            Kind::ZipRecord,
            "has a closing record that can't be found.",
            ANOTHER_COPY,
        );
        Ok((end, locator_at))
    }

    /// The headers of the directory, or nothing when it can't be read; and where it begins.
    fn directory(&mut self, end: &End, end_at: u64) -> io::Result<(Option<Vec<Central>>, u64)> {
        if end.disk != 0 || end.directory_disk != 0 || end.entries_here != end.entries {
            self.whole(
                Kind::ZipRecord,
                "says that it is spread over several disks.",
                ANOTHER_COPY,
            );
        }
        let by_size = end_at.checked_sub(end.size);
        let begins = |walk: &mut Self, at: Option<u64>| -> io::Result<bool> {
            let Some(at) = at.filter(|at| *at < end_at) else {
                return Ok(at == Some(end_at));
            };
            Ok(walk.source.signature(at)? == Some(CENTRAL))
        };
        let mut shift = 0;
        let at = if begins(self, by_size)? {
            let at = by_size.unwrap_or(end_at);
            if end.offset < at {
                shift = at - end.offset;
            } else if end.offset > at {
                self.whole(
                    Kind::ZipRecord,
                    "gives a wrong place for its directory.",
                    ANOTHER_COPY,
                );
            }
            at
        } else if begins(self, Some(end.offset))? {
            self.whole(
                Kind::ZipRecord,
                "gives a wrong size for its directory.",
                ANOTHER_COPY,
            );
            end.offset
        } else {
            self.whole(
                Kind::ZipRecord,
                "has a directory that can't be found.",
                ANOTHER_COPY,
            );
            return Ok((None, end_at));
        };
        let size = end_at - at;
        if size > LARGEST_DIRECTORY {
            let message = "has a directory too large to read.";
            self.whole(
                Kind::ZipSwelling,
                message,
                "Check that it is the right file.",
            );
            return Ok((Some(Vec::new()), at));
        }
        let octets = self.source.at(at, size)?;
        let Some(mut headers) = self.headers(&octets) else {
            return Ok((None, at));
        };
        if headers.len() as u64 != end.entries {
            let message = format!(
                "says that it holds {} files, but its directory lists {}.",
                end.entries,
                headers.len()
            );
            self.whole(Kind::ZipRecord, message, ANOTHER_COPY);
        }
        self.shifted(&mut headers, shift)?;
        Ok((Some(headers), at))
    }

    fn headers(&mut self, octets: &[u8]) -> Option<Vec<Central>> {
        let mut fields = Fields(octets);
        let mut headers: Vec<Central> = Vec::new();
        while !fields.0.is_empty() {
            let header = match fields.u32() {
                Some(CENTRAL) => records::central(&mut fields),
                _ => None,
            };
            let Some(header) = header else {
                let after = headers.last().map_or_else(
                    || "its first entry".to_owned(),
                    |last| {
                        format!(
                            "the entry after `{}`",
                            String::from_utf8_lossy(&last.common.name)
                        )
                    },
                );
                let message = format!("has a damaged directory: {after} can't be read.");
                self.whole(Kind::ZipRecord, message, ANOTHER_COPY);
                return None;
            };
            headers.push(header);
            if headers.len() > MOST_ENTRIES {
                let message = format!("holds more than {MOST_ENTRIES} files.");
                self.whole(
                    Kind::ZipSwelling,
                    message,
                    "Check that it is the right file.",
                );
                return Some(Vec::new());
            }
        }
        Some(headers)
    }

    /// Moves all places by the length of a stub, where the headers really lie that much further on.
    fn shifted(&mut self, headers: &mut [Central], shift: u64) -> io::Result<()> {
        let Some(first) = headers.iter().map(|header| header.offset).min() else {
            return Ok(());
        };
        if shift == 0 {
            return Ok(());
        }
        if self.source.signature(first.saturating_add(shift))? == Some(LOCAL) {
            for header in headers {
                header.offset = header.offset.saturating_add(shift);
            }
        } else {
            self.whole(
                Kind::ZipRecord,
                "gives a wrong place for its directory.",
                ANOTHER_COPY,
            );
        }
        Ok(())
    }

    /// Compares each entry with the header in front of its data and sees that they tile the zip.
    fn entries(&mut self, mut headers: Vec<Central>, directory_at: u64) -> io::Result<Vec<Entry>> {
        headers.sort_by_key(|header| header.offset);
        let mut names = BTreeSet::new();
        let mut entries = Vec::with_capacity(headers.len());
        let mut reached = 0;
        let mut before = String::new();
        for (at, header) in headers.iter().enumerate() {
            let name = entry_name(&header.common, &mut self.faults);
            if !names.insert(header.common.name.clone()) {
                let message =
                    "stands twice in the zip; programs differ in which of them they take.";
                self.faults.push(Fault::error(
                    Kind::ZipDuplicate,
                    &name,
                    message,
                    ANOTHER_COPY,
                ));
            }
            let next = headers.get(at + 1).map_or(directory_at, |next| next.offset);
            let shared = at > 0 && headers[at - 1].offset == header.offset;
            let reached_here = if shared {
                header.offset.saturating_add(LOCAL_LEN)
            } else {
                reached
            };
            self.tiled(header.offset, reached_here, &before, &name);
            let (local, data, stop) = self.local(header, next)?;
            let whole = self.agreeing(header, local.as_ref(), &name);
            reached = reached.max(stop);
            let readable = look_at_entry(header, &name, &mut self.faults);
            entries.push(Entry {
                kind: entry_kind(header),
                data,
                compressed: header.common.compressed,
                size: header.common.size,
                crc: header.common.crc,
                method: header.common.method,
                readable: readable
                    && (whole || data.saturating_add(header.common.compressed) <= directory_at),
                name: name.clone(),
            });
            before = name;
        }
        self.tiled(directory_at, reached, &before, "");
        entries.sort_by(|a, b| a.name.as_bytes().cmp(b.name.as_bytes()));
        Ok(entries)
    }

    /// The header in front of the data, where the data begin, and where the entry ends.
    fn local(&mut self, header: &Central, next: u64) -> io::Result<(Option<Common>, u64, u64)> {
        let compressed = header.common.compressed;
        // Where the data must lie when the header in front of them is not to be trusted.
        let guess = next.saturating_sub(compressed);
        let fixed = self.source.at(header.offset, LOCAL_LEN)?;
        let Some((name, extra)) = records::local_lengths(&fixed) else {
            return Ok((None, guess, next));
        };
        let length = LOCAL_LEN + u64::from(name) + u64::from(extra);
        let octets = self.source.at(header.offset, length)?;
        let local = records::local(&octets);
        let data = header.offset.saturating_add(length);
        let stop = data.saturating_add(compressed);
        let Some(common) = &local else {
            return Ok((None, guess, next));
        };
        if header.common.flags & FLAG_DESCRIPTOR == 0 {
            let trusted = common.name == header.common.name || stop == next;
            return Ok(if trusted {
                (local, data, stop)
            } else {
                (local, guess, next)
            });
        }
        let signed = self.source.signature(stop)? == Some(DESCRIPTOR);
        let sizes = if common.is_wide() { 16 } else { 8 };
        let octets = self
            .source
            .at(stop + if signed { 4 } else { 0 }, 4 + sizes)?;
        let mut fields = Fields(&octets);
        let told = if common.is_wide() {
            (fields.u32(), fields.u64(), fields.u64())
        } else {
            (
                fields.u32(),
                fields.u32().map(u64::from),
                fields.u32().map(u64::from),
            )
        };
        let wanted = (
            Some(header.common.crc),
            Some(compressed),
            Some(header.common.size),
        );
        let local = local.filter(|_| told == wanted);
        Ok((local, data, stop + if signed { 4 } else { 0 } + 4 + sizes))
    }

    /// Tells of a gap or an overlap in front of an entry.
    fn tiled(&mut self, offset: u64, reached: u64, before: &str, name: &str) {
        let whole = |name: &str| if name.is_empty() { self.shown } else { name }.to_owned();
        let fault = if offset > reached && reached == 0 {
            let message = format!("has {offset} octets in front of its first file.");
            Fault::error(Kind::ZipStub, self.shown, message, ANOTHER_COPY)
        } else if offset > reached {
            let message = format!(
                "{} octets in front of it belong to no file.",
                offset - reached
            );
            Fault::error(Kind::ZipGap, whole(name), message, ANOTHER_COPY)
        } else if offset < reached {
            let message = format!("shares octets of the zip with `{}`.", whole(before));
            Fault::error(Kind::ZipOverlap, whole(name), message, ANOTHER_COPY)
        } else {
            return;
        };
        self.faults.push(fault);
    }

    /// Compares the two headers of one file; false when they can't both be right.
    fn agreeing(&mut self, header: &Central, local: Option<&Common>, name: &str) -> bool {
        let central = &header.common;
        let Some(local) = local else {
            let message = "has no readable header in front of its octets in the zip.";
            self.faults
                .push(Fault::error(Kind::ZipRecord, name, message, ANOTHER_COPY));
            return false;
        };
        let postponed = central.flags & FLAG_DESCRIPTOR != 0;
        let same = |a: u64, b: u64| a == b || (postponed && a == 0);
        let mut apart = Vec::new();
        if local.name != central.name {
            apart.push("the name");
        }
        if local.method != central.method {
            apart.push("the compression");
        }
        if !same(local.crc.into(), central.crc.into()) {
            apart.push("the CRC");
        }
        if !same(local.size, central.size) || !same(local.compressed, central.compressed) {
            apart.push("the size");
        }
        if local.flags != central.flags {
            apart.push("the flags");
        }
        if !apart.is_empty() {
            let message = format!(
                "is described twice in the zip, and the two do not agree on {}.",
                apart.join(", ")
            );
            self.faults
                .push(Fault::error(Kind::ZipRecord, name, message, ANOTHER_COPY));
        }
        if local.time != central.time || local.needed != central.needed {
            let message = "has two headers in the zip that differ in the time or the version.";
            let remedy =
                "The octets are not touched by it; compare with another copy all the same.";
            self.faults
                .push(Fault::warning(Kind::ZipRecord, name, message, remedy));
        }
        apart.is_empty()
    }

    /// A zip whose end is gone: its files are named as far as it goes.
    fn without_directory(mut self) -> io::Result<Layout> {
        if self.source.signature(0)? != Some(LOCAL) {
            return Ok(Layout {
                entries: Vec::new(),
                faults: self.faults,
                is_zip: false,
            });
        }
        let len = self.source.len;
        let entries = self.along_headers(len)?;
        let last = entries
            .last()
            .map_or_else(String::new, |entry: &Entry| entry.name.clone());
        let message =
            format!("is cut short or its end is overwritten. The last file found is `{last}`.");
        self.whole(Kind::ZipCutShort, message, ANOTHER_COPY);
        Ok(self.close(entries))
    }

    /// Finds files by the headers in front of them, from the first octet up to `stop`.
    fn along_headers(&mut self, stop: u64) -> io::Result<Vec<Entry>> {
        let mut entries = Vec::new();
        let mut at = 0;
        while at < stop && entries.len() < MOST_ENTRIES {
            let fixed = self.source.at(at, LOCAL_LEN)?;
            let Some((name, extra)) = records::local_lengths(&fixed) else {
                break;
            };
            let length = LOCAL_LEN + u64::from(name) + u64::from(extra);
            let octets = self.source.at(at, length)?;
            let Some(common) = records::local(&octets) else {
                break;
            };
            if common.flags & FLAG_DESCRIPTOR != 0 {
                break;
            }
            let header = Central {
                common,
                made_by: 0,
                disk: 0,
                internal: 0,
                external: 0,
                offset: at,
            };
            let data = at + length;
            at = data.saturating_add(header.common.compressed);
            let name = entry_name(&header.common, &mut self.faults);
            let whole = at <= stop;
            if !whole {
                let message = "is cut off: the zip ends inside it.";
                self.faults.push(Fault::error(
                    Kind::ZipCutShort,
                    &name,
                    message,
                    ANOTHER_COPY,
                ));
            }
            let readable = look_at_entry(&header, &name, &mut self.faults);
            entries.push(Entry {
                kind: entry_kind(&header),
                name,
                data,
                compressed: header.common.compressed,
                size: header.common.size,
                crc: header.common.crc,
                method: header.common.method,
                readable: readable && whole,
            });
        }
        Ok(entries)
    }

    fn close(self, entries: Vec<Entry>) -> Layout {
        Layout {
            entries,
            faults: self.faults,
            is_zip: true,
        }
    }
}

/// Whether the short end record agrees with the 64-bit one, where its fields are not full.
fn agrees(short: &End, wide: &End) -> bool {
    let same = |a: u64, b: u64, full: u64| a == full || a == b;
    same(short.entries, wide.entries, u16::MAX.into())
        && same(short.entries_here, wide.entries_here, u16::MAX.into())
        && same(short.size, wide.size, u32::MAX.into())
        && same(short.offset, wide.offset, u32::MAX.into())
}
