//! The end of a zip and its directory: where they lie, and what they list.
//!
//! Part of `zip_layout`, which compares the directory with the headers in front of the files.

use std::io;

use super::verdict::{Fault, Kind};
use super::zip_layout::{ANOTHER_COPY, MOST_ENTRIES, Walk};
use super::zip_records::{
    self as records, CENTRAL, Central, END_64_LEN, END_LEN, End, Fields, LOCAL, LOCATOR_64,
    LOCATOR_64_LEN,
};

/// Octets its directory may have.
const LARGEST_DIRECTORY: u64 = 512 * 1024 * 1024;
/// Octets of the longest possible comment at the end.
const LONGEST_COMMENT: u64 = 65_535;

impl Walk<'_> {
    /// The end record (or its 64-bit form) and where the directory must end.
    pub(super) fn find_end(&mut self) -> io::Result<Option<(End, u64)>> {
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
    pub(super) fn directory(
        &mut self,
        end: &End,
        end_at: u64,
    ) -> io::Result<(Option<Vec<Central>>, u64)> {
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
}

/// Whether the short end record agrees with the 64-bit one, where its fields are not full.
fn agrees(short: &End, wide: &End) -> bool {
    let same = |a: u64, b: u64, full: u64| a == full || a == b;
    same(short.entries, wide.entries, u16::MAX.into())
        && same(short.entries_here, wide.entries_here, u16::MAX.into())
        && same(short.size, wide.size, u32::MAX.into())
        && same(short.offset, wide.offset, u32::MAX.into())
}
