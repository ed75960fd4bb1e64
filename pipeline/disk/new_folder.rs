//! A folder that appears whole or not at all: filled under a hidden name, then given its final one.

use std::fs;
use std::io::Write;
use std::path::Path;

use tempfile::{Builder, TempDir};

use super::{Digester, DiskError, Sha256Digest, UNFINISHED_PREFIX};

/// A folder being filled under an unfinished name. Dropped before it is finished, it disappears with
/// everything in it.
#[derive(Debug)]
pub struct NewFolder {
    folder: TempDir,
}

impl NewFolder {
    /// Begins a folder in the one where it will live (a name can't move between disks in one step).
    pub fn create_in(parent: &Path) -> Result<Self, DiskError> {
        let folder = Builder::new()
            .prefix(UNFINISHED_PREFIX)
            .tempdir_in(parent)
            .map_err(|e| DiskError::from_io(parent, "beginning a folder in it", e))?;
        Ok(Self { folder })
    }

    /// Makes a folder inside.
    pub fn folder(&self, relative: &str) -> Result<(), DiskError> {
        super::make_folder(&self.folder.path().join(relative))
    }

    /// Writes a file inside and forces its octets to the disk.
    pub fn write(&self, relative: &str, octets: &[u8]) -> Result<(), DiskError> {
        let path = self.folder.path().join(relative);
        let failed = |e| DiskError::from_io(&path, "writing it", e);
        let mut file = fs::File::create_new(&path).map_err(failed)?;
        file.write_all(octets).map_err(failed)?;
        file.sync_all().map_err(failed)
    }

    /// Copies a plain file inside and gives the digest of what was copied. The original is only read.
    pub fn copy(&self, from: &Path, relative: &str) -> Result<Sha256Digest, DiskError> {
        let path = self.folder.path().join(relative);
        let failed = |e| DiskError::from_io(&path, "copying into it", e);
        let (mut original, _) = super::open_file(from)?;
        let mut file = fs::File::create_new(&path).map_err(failed)?;
        let mut digester = Digester::default();
        let mut buffer = vec![0; super::CHUNK];
        loop {
            let got = std::io::Read::read(&mut original, &mut buffer)
                .map_err(|e| DiskError::from_io(from, "reading it", e))?;
            if got == 0 {
                break;
            }
            digester.update(&buffer[..got]);
            file.write_all(&buffer[..got]).map_err(failed)?;
        }
        file.sync_all().map_err(failed)?;
        Ok(digester.finish().sha256)
    }

    /// Gives the final name, which must be free. A folder with anything in it is never replaced, not
    /// even by two runs at once: the system refuses to rename over it.
    pub fn finish(self, name: &Path) -> Result<(), DiskError> {
        let taken = || DiskError::AlreadyThere {
            path: name.to_path_buf(),
        };
        if fs::symlink_metadata(name).is_ok() {
            return Err(taken());
        }
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            // Unfinished folders are for their owner alone; a finished one is as its neighbours are.
            let mode = name
                .parent()
                .and_then(|parent| fs::metadata(parent).ok())
                .map_or(0o755, |m| m.permissions().mode() & 0o777);
            fs::set_permissions(self.folder.path(), fs::Permissions::from_mode(mode | 0o700))
                .map_err(|e| DiskError::from_io(name, "setting who may read it", e))?;
        }
        match fs::rename(self.folder.path(), name) {
            Ok(()) => {
                // What had the unfinished name has gone from there; nothing is left to take away.
                let _ = self.folder.keep();
                Ok(())
            }
            Err(_) if fs::symlink_metadata(name).is_ok() => Err(taken()),
            Err(e) => Err(DiskError::from_io(name, "giving it its name", e)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .unwrap()
            .map(|e| e.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_folder_is_seen_whole_or_not_at_all() {
        let home = tempfile::tempdir().unwrap();
        let new = NewFolder::create_in(home.path()).unwrap();
        new.folder("photos").unwrap();
        new.write("piece.yaml", b"title:\n").unwrap();
        assert!(names(home.path())[0].starts_with(UNFINISHED_PREFIX));
        new.finish(&home.path().join("sea-door")).unwrap();
        assert_eq!(names(home.path()), ["sea-door"]);
        assert_eq!(
            names(&home.path().join("sea-door")),
            ["photos", "piece.yaml"]
        );
    }

    #[test]
    fn a_dropped_folder_leaves_nothing() {
        let home = tempfile::tempdir().unwrap();
        let new = NewFolder::create_in(home.path()).unwrap();
        new.write("piece.yaml", b"title:\n").unwrap();
        drop(new);
        assert!(names(home.path()).is_empty());
    }

    #[test]
    fn a_folder_that_is_there_is_never_replaced() {
        let home = tempfile::tempdir().unwrap();
        let name = home.path().join("sea-door");
        fs::create_dir(&name).unwrap();
        fs::write(name.join("piece.yaml"), b"mine").unwrap();
        let new = NewFolder::create_in(home.path()).unwrap();
        new.write("piece.yaml", b"new").unwrap();
        let error = new.finish(&name).unwrap_err();
        assert!(matches!(error, DiskError::AlreadyThere { .. }), "{error}");
        assert_eq!(fs::read(name.join("piece.yaml")).unwrap(), b"mine");
        assert_eq!(names(home.path()), ["sea-door"]);
    }

    #[test]
    fn a_copy_has_the_digest_of_the_original() {
        let home = tempfile::tempdir().unwrap();
        let from = home.path().join("front.jpg");
        fs::write(&from, b"abc").unwrap();
        let new = NewFolder::create_in(home.path()).unwrap();
        let digest = new.copy(&from, "front.jpg").unwrap();
        // Source, published: FIPS 180-2, appendix B.1, SHA-256 of "abc".
        assert_eq!(
            digest.to_string(),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }
}
