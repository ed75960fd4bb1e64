//! Reading plain files: never more than expected, never a device, and noticing a file that changes.

use std::fs::{self, File, Metadata};
use std::io::Read;
use std::path::Path;
use std::time::SystemTime;

use super::DiskError;

/// What a file looked like at one moment, to notice that it has changed since.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stamp {
    /// Octets.
    pub size: u64,
    /// When it was last written to, where the file system knows.
    pub modified: Option<SystemTime>,
}

impl Stamp {
    /// The stamp a file has now.
    pub fn of(metadata: &Metadata) -> Self {
        Self {
            size: metadata.len(),
            modified: metadata.modified().ok(),
        }
    }
}

/// Opens a plain file for reading. A folder, pipe or device is refused before it is opened: opening a
/// pipe would wait for ever.
pub fn open_file(path: &Path) -> Result<(File, Metadata), DiskError> {
    let failed = |e| DiskError::from_io(path, "opening it", e);
    let before = fs::metadata(path).map_err(failed)?;
    if !before.is_file() {
        return Err(DiskError::NotAFile {
            path: path.to_path_buf(),
        });
    }
    let file = File::open(path).map_err(failed)?;
    let metadata = file.metadata().map_err(failed)?;
    Ok((file, metadata))
}

/// The whole of a plain file of at most `limit` octets. Its size is looked at before reading, and
/// again while reading, for a file may grow.
pub fn read_limited(path: &Path, limit: u64) -> Result<Vec<u8>, DiskError> {
    let (file, metadata) = open_file(path)?;
    let too_large = |size| DiskError::TooLarge {
        path: path.to_path_buf(),
        size,
        limit,
    };
    if metadata.len() > limit {
        return Err(too_large(metadata.len()));
    }
    let mut octets = Vec::new();
    file.take(limit.saturating_add(1))
        .read_to_end(&mut octets)
        .map_err(|e| DiskError::from_io(path, "reading it", e))?;
    if octets.len() as u64 > limit {
        return Err(too_large(octets.len() as u64));
    }
    Ok(octets)
}

/// As [`read_text_limited`], of a file that nobody but its owner may read: one that others may read or
/// write is refused.
pub fn read_private_limited(path: &Path, limit: u64) -> Result<String, DiskError> {
    let (_, metadata) = open_file(path)?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        if metadata.permissions().mode() & 0o077 != 0 {
            return Err(DiskError::NotPrivate {
                path: path.to_path_buf(),
            });
        }
    }
    #[cfg(not(unix))]
    let _ = metadata;
    read_text_limited(path, limit)
}

/// As [`read_limited`], for UTF-8 text.
pub fn read_text_limited(path: &Path, limit: u64) -> Result<String, DiskError> {
    String::from_utf8(read_limited(path, limit)?).map_err(|e| DiskError::NotText {
        path: path.to_path_buf(),
        octet: e.utf8_error().valid_up_to() + 1,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_larger_than_the_limit_is_refused_and_one_just_as_large_is_read() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("notes.md");
        fs::write(&path, b"12345").unwrap();
        assert_eq!(read_limited(&path, 5).unwrap(), b"12345");
        let error = read_limited(&path, 4).unwrap_err();
        assert!(
            matches!(
                error,
                DiskError::TooLarge {
                    size: 5,
                    limit: 4,
                    ..
                }
            ),
            "{error}"
        );
        assert!(error.to_string().contains("notes.md"));
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_device_without_end_is_refused_before_it_is_read() {
        let error = read_limited(Path::new("/dev/zero"), 10).unwrap_err();
        assert!(matches!(error, DiskError::NotAFile { .. }), "{error}");
    }

    #[test]
    fn a_missing_file_and_a_folder_are_told_apart() {
        let folder = tempfile::tempdir().unwrap();
        let missing = read_limited(&folder.path().join("none"), 10).unwrap_err();
        assert!(matches!(missing, DiskError::Missing { .. }), "{missing}");
        let a_folder = read_limited(folder.path(), 10).unwrap_err();
        assert!(matches!(a_folder, DiskError::NotAFile { .. }), "{a_folder}");
    }

    #[test]
    fn text_that_is_not_utf_8_is_named_with_its_place() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("notes.md");
        fs::write(&path, b"caf\xe9").unwrap();
        let error = read_text_limited(&path, 100).unwrap_err();
        assert!(
            matches!(error, DiskError::NotText { octet: 4, .. }),
            "{error}"
        );
    }
}
