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
    self as records, Central, Common, DESCRIPTOR, FLAG_DESCRIPTOR, Fields, LOCAL, LOCAL_LEN,
};

/// Files a zip may hold.
pub(super) const MOST_ENTRIES: usize = 1_000_000;
pub(super) const ANOTHER_COPY: &str =
    "Take the bundle from another copy; this one has been changed or damaged.";

/// What an entry is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum EntryKind {
    File,
    Folder,
    Link,
    Special,
}

/// One file of a zip or a tar, and where its octets lie in it.
#[derive(Debug, Clone)]
pub(super) struct Entry {
    /// Its name in the zip, without the `/` that ends a folder's.
    pub(super) name: String,
    pub(super) kind: EntryKind,
    pub(super) data: u64,
    pub(super) compressed: u64,
    pub(super) size: u64,
    /// CRC-32 of its octets; a tar has none.
    pub(super) crc: Option<u32>,
    pub(super) method: u16,
    /// False when a fault already tells that it can't be read.
    pub(super) readable: bool,
}

/// The files of a zip or a tar, and what is wrong with its structure.
pub(super) struct Layout {
    pub(super) entries: Vec<Entry>,
    pub(super) faults: Vec<Fault>,
    /// False when nothing of a zip or a tar was recognised.
    pub(super) is_zip: bool,
}

/// A file with its length, read at any place.
pub(super) struct Source {
    pub(super) file: File,
    pub(super) len: u64,
}

impl Source {
    pub(super) fn at(&mut self, offset: u64, octets: u64) -> io::Result<Vec<u8>> {
        self.file.seek(SeekFrom::Start(offset))?;
        let mut taken = Vec::new();
        (&mut self.file).take(octets).read_to_end(&mut taken)?;
        Ok(taken)
    }

    pub(super) fn signature(&mut self, offset: u64) -> io::Result<Option<u32>> {
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

/// A zip being looked through.
pub(super) struct Walk<'a> {
    pub(super) source: Source,
    pub(super) shown: &'a str,
    pub(super) faults: Vec<Fault>,
}

impl Walk<'_> {
    /// Tells of a fault of the zip as a whole.
    pub(super) fn whole(&mut self, kind: Kind, message: impl Into<String>, remedy: &str) {
        self.faults
            .push(Fault::error(kind, self.shown, message, remedy));
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
                crc: Some(header.common.crc),
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
                crc: Some(header.common.crc),
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
