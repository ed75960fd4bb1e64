//! The zip of a bundle, written so that the same contents give the same octets anywhere.
//!
//! Every entry is stored as it is (photographs and papers hardly shrink, the octets never depend on a
//! compressor's version, and one damaged octet hurts one file only), with one time, one mode, no folders,
//! no extra fields and no comment. 64-bit fields are used only for files that need them.

use std::io::{self, BufWriter, Read, Seek, Write};

use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, System, ZipWriter};

use crate::disk::{CHUNK, Digester, Digests, NewFile, TwoLanes};

/// The zip under way.
pub(super) struct BundleZip<W: Write + Seek = NewFile> {
    zip: ZipWriter<BufWriter<W>>,
    top: String,
}

/// Why copying a file into the zip ended early.
#[derive(Debug)]
pub(super) enum CopyError {
    /// The source could not be read.
    Reading(io::Error),
    /// The source has more or fewer octets than it had.
    Changed,
    /// The zip could not be written.
    Writing(io::Error),
    /// The caller asked to stop.
    Cancelled,
}

impl<W: Write + Seek> BundleZip<W> {
    /// Begins a zip whose entries all lie in the folder `top`.
    pub(super) fn new(file: W, top: &str) -> Self {
        let zip = ZipWriter::new(BufWriter::with_capacity(CHUNK, file));
        Self {
            zip,
            top: top.to_owned(),
        }
    }

    /// Writes a small entry.
    pub(super) fn small(&mut self, path: &str, octets: &[u8]) -> Result<Digests, CopyError> {
        self.begin(path, octets.len() as u64)?;
        self.zip.write_all(octets).map_err(CopyError::Writing)?;
        let mut digester = Digester::default();
        digester.update(octets);
        Ok(digester.finish())
    }

    /// Copies exactly `size` octets into an entry, and has them digested on the way.
    pub(super) fn copy(
        &mut self,
        path: &str,
        size: u64,
        from: &mut dyn Read,
        lanes: &mut TwoLanes,
        progress: &mut dyn FnMut(u64),
        cancelled: &dyn Fn() -> bool,
    ) -> Result<(), CopyError> {
        self.begin(path, size)?;
        let mut left = size;
        let read = |buffer: &mut [u8]| {
            let room = usize::try_from(left).unwrap_or(CHUNK).min(buffer.len());
            if room == 0 {
                return Ok(0);
            }
            if cancelled() {
                return Err(CopyError::Cancelled);
            }
            loop {
                match from.read(&mut buffer[..room]) {
                    Ok(0) => return Err(CopyError::Changed),
                    Ok(got) => {
                        left -= got as u64;
                        progress(got as u64);
                        return Ok(got);
                    }
                    Err(e) if e.kind() == io::ErrorKind::Interrupted => {}
                    Err(e) => return Err(CopyError::Reading(e)),
                }
            }
        };
        let zip = &mut self.zip;
        lanes.stream(read, |octets| {
            zip.write_all(octets).map_err(CopyError::Writing)
        })?;
        match from.read(&mut [0]) {
            Ok(0) => Ok(()),
            Ok(_) => Err(CopyError::Changed),
            Err(e) => Err(CopyError::Reading(e)),
        }
    }

    fn begin(&mut self, path: &str, size: u64) -> Result<(), CopyError> {
        self.zip
            .start_file(format!("{}/{path}", self.top), options(size))
            .map_err(zip_failed)
    }

    /// Writes the directory of the zip and gives the file back, with everything handed to the system.
    pub(super) fn finish(self) -> Result<W, CopyError> {
        let buffered = self.zip.finish().map_err(zip_failed)?;
        buffered
            .into_inner()
            .map_err(|e| CopyError::Writing(e.into_error()))
    }
}

fn options(size: u64) -> SimpleFileOptions {
    SimpleFileOptions::default()
        .compression_method(CompressionMethod::Stored)
        .last_modified_time(DateTime::default())
        .system(System::Unix)
        .unix_permissions(0o644)
        .large_file(size >= u64::from(u32::MAX))
}

fn zip_failed(error: zip::result::ZipError) -> CopyError {
    CopyError::Writing(match error {
        zip::result::ZipError::Io(e) => e,
        other => io::Error::other(other.to_string()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Cursor;

    #[test]
    fn the_time_in_the_zip_is_the_first_there_is() {
        let time = DateTime::default();
        let fields = (
            time.year(),
            time.month(),
            time.day(),
            time.hour(),
            time.minute(),
        );
        assert_eq!(fields, (1980, 1, 1, 0, 0));
        assert_eq!(time.second(), 0);
    }

    #[test]
    fn a_source_that_has_grown_or_shrunk_is_noticed() {
        for octets in [&b"1234"[..], b"123456"] {
            let mut zip = BundleZip::new(Cursor::new(Vec::new()), "top");
            let mut lanes = TwoLanes::begin();
            let copied = zip.copy(
                "data/a",
                5,
                &mut &octets[..],
                &mut lanes,
                &mut |_| {},
                &|| false,
            );
            assert!(matches!(copied, Err(CopyError::Changed)), "{copied:?}");
        }
    }
}
