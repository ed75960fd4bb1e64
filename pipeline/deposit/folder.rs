//! A folder as a place of deposit: a stick, a second disk, a mounted share.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use super::{Bundle, DepositError, Memory, Place, Watch};
use crate::disk::{
    CHUNK, Digester, DiskError, Lock, NewFile, Sha256Digest, open_file, sweep_leftovers,
};

/// A folder that takes bundles.
#[derive(Debug)]
pub(super) struct Folder {
    path: PathBuf,
}

impl Folder {
    /// Opens the folder, which must be there: an unplugged stick's name must not become a folder of this disk.
    pub fn open(path: &Path, dry: bool) -> Result<Self, DepositError> {
        match std::fs::metadata(path) {
            Ok(metadata) if metadata.is_dir() => {}
            Ok(_) => {
                return Err(DepositError::NotThere {
                    place: path.display().to_string(),
                    why: "it is no folder".into(),
                });
            }
            Err(error) => {
                return Err(DepositError::NotThere {
                    place: path.display().to_string(),
                    why: error.to_string(),
                });
            }
        }
        if !dry {
            let lock = Lock::take(path, &mut || {}, &|| false)?;
            sweep_leftovers(path, &lock)?;
        }
        Ok(Self {
            path: path.to_path_buf(),
        })
    }

    fn at(&self, name: &str) -> PathBuf {
        self.path.join(name)
    }
}

impl Place for Folder {
    fn octets_of(&self, name: &str) -> Result<Option<u64>, DepositError> {
        match std::fs::symlink_metadata(self.at(name)) {
            Ok(metadata) if metadata.is_file() => Ok(Some(metadata.len())),
            Ok(_) => Err(DepositError::OtherFile {
                name: name.to_owned(),
                place: self.path.display().to_string(),
            }),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(DiskError::from_io(&self.at(name), "looking at it", error).into()),
        }
    }

    fn send(&self, bundle: &Bundle, _: &mut Memory, watch: Watch<'_>) -> Result<(), DepositError> {
        let (mut from, _) = open_file(&bundle.path)?;
        let mut to = NewFile::create_in(&self.path)?;
        let mut buffer = vec![0; CHUNK];
        loop {
            if (watch.cancelled)() {
                return Err(DepositError::Stopped);
            }
            let got = from
                .read(&mut buffer)
                .map_err(|e| DiskError::from_io(&bundle.path, "reading it", e))?;
            if got == 0 {
                break;
            }
            to.write_all(&buffer[..got])
                .map_err(|e| DiskError::from_io(&self.at(&bundle.name), "writing it", e))?;
            (watch.progress)(got as u64);
        }
        to.force()?;
        let arrived = digest(to.path(), watch)?;
        bundle.must_be(arrived, &self.path.display().to_string())?;
        match to.finish_noclobber(&self.at(&bundle.name)) {
            Err(DiskError::AlreadyThere { .. }) => Err(DepositError::OtherFile {
                name: bundle.name.clone(),
                place: self.path.display().to_string(),
            }),
            other => Ok(other?),
        }
    }

    fn digest_of(&self, name: &str, watch: Watch<'_>) -> Result<Sha256Digest, DepositError> {
        digest(&self.at(name), watch)
    }

    fn reads_back_itself(&self) -> bool {
        true
    }
}

fn digest(path: &Path, watch: Watch<'_>) -> Result<Sha256Digest, DepositError> {
    let (mut file, _) = open_file(path)?;
    let mut digester = Digester::default();
    let mut buffer = vec![0; CHUNK];
    loop {
        if (watch.cancelled)() {
            return Err(DepositError::Stopped);
        }
        match file.read(&mut buffer) {
            Ok(0) => return Ok(digester.finish().sha256),
            Ok(got) => digester.update(&buffer[..got]),
            Err(e) => return Err(DiskError::from_io(path, "reading it back", e).into()),
        }
    }
}
