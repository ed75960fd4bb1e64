//! The octets of one member, streamed and limited, from a plain file or out of a zip.

use std::io::{self, Read, Seek, SeekFrom};
use std::path::Path;

use super::zip_layout::Entry;
use super::zip_names::DEFLATED;
use crate::disk::{Stamp, open_file};

/// Octets at a time: small enough to stay near the processor between the reading and each of the digests.
const PIECE: usize = 64 * 1024;

/// Why the octets of a member did not come, or can't be right.
#[derive(Debug)]
pub(super) enum Trouble {
    /// The machine failed.
    Machine(String),
    /// The zip's own account of the file is not true.
    Data(String),
}

/// Streams a plain file.
pub(super) fn read_plain(path: &Path, sink: &mut dyn FnMut(&[u8])) -> Result<(), Trouble> {
    let (mut file, metadata) = open_file(path).map_err(|e| Trouble::Machine(e.to_string()))?;
    let failed = |e: io::Error| Trouble::Machine(e.to_string());
    copy(&mut file, u64::MAX, sink).map_err(failed)?;
    let after = file.metadata().map_err(failed)?;
    if Stamp::of(&metadata) != Stamp::of(&after) {
        return Err(Trouble::Machine(
            "it was changed while it was read".to_owned(),
        ));
    }
    Ok(())
}

/// Streams one file out of a zip or a tar, and checks its size, and its CRC-32 where there is one.
pub(super) fn read_entry(
    zip: &Path,
    entry: &Entry,
    sink: &mut dyn FnMut(&[u8]),
) -> Result<(), Trouble> {
    let (mut file, _) = open_file(zip).map_err(|e| Trouble::Machine(e.to_string()))?;
    let failed = |e: io::Error| Trouble::Machine(e.to_string());
    file.seek(SeekFrom::Start(entry.data)).map_err(failed)?;
    let packed = file.take(entry.compressed);
    let mut crc = crc32fast::Hasher::new();
    let mut checked = |piece: &[u8]| {
        crc.update(piece);
        sink(piece);
    };
    // One octet more than stated shows a lie; no more is ever unpacked.
    let most = entry.size.saturating_add(1);
    let got = if entry.method == DEFLATED {
        let mut unpacked = flate2::read::DeflateDecoder::new(packed);
        let got = copy(&mut unpacked, most, &mut checked)
            .map_err(|e| Trouble::Data(format!("can't be unpacked: {e}")))?;
        if got == entry.size && unpacked.total_in() != entry.compressed {
            return Err(Trouble::Data(
                "takes up more room in the zip than it needs".to_owned(),
            ));
        }
        got
    } else {
        let mut packed = packed;
        copy(&mut packed, most, &mut checked).map_err(failed)?
    };
    if got != entry.size {
        let more = if got > entry.size { "more" } else { "fewer" };
        return Err(Trouble::Data(format!(
            "holds {more} octets than the zip says"
        )));
    }
    if entry.crc.is_some_and(|crc_told| crc.finalize() != crc_told) {
        return Err(Trouble::Data(
            "does not agree with the zip's own check sum (CRC-32)".to_owned(),
        ));
    }
    Ok(())
}

/// A plain file as a stream, unchecked.
pub(super) fn stream_plain(path: &Path) -> io::Result<Box<dyn Read>> {
    let (file, _) = open_file(path).map_err(|e| io::Error::other(e.to_string()))?;
    Ok(Box::new(file))
}

/// One file out of a zip or a tar as a stream of at most as many octets as are stated, unchecked.
pub(super) fn stream_entry(packed: &Path, entry: &Entry) -> io::Result<Box<dyn Read>> {
    let (mut file, _) = open_file(packed).map_err(|e| io::Error::other(e.to_string()))?;
    file.seek(SeekFrom::Start(entry.data))?;
    let packed = file.take(entry.compressed);
    Ok(if entry.method == DEFLATED {
        Box::new(flate2::read::DeflateDecoder::new(packed).take(entry.size))
    } else {
        Box::new(packed)
    })
}

/// Streams at most `most` octets and tells how many there were.
fn copy(reader: &mut impl Read, most: u64, sink: &mut dyn FnMut(&[u8])) -> io::Result<u64> {
    let mut buffer = vec![0; usize::try_from(most).unwrap_or(PIECE).min(PIECE)];
    let mut total: u64 = 0;
    while total < most {
        let room = usize::try_from(most - total)
            .unwrap_or(PIECE)
            .min(buffer.len());
        match reader.read(&mut buffer[..room]) {
            Ok(0) => break,
            Ok(got) => {
                sink(&buffer[..got]);
                total += got as u64;
            }
            Err(e) if e.kind() == io::ErrorKind::Interrupted => {}
            Err(e) => return Err(e),
        }
    }
    Ok(total)
}
