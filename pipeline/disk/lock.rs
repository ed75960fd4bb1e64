//! One run at a time in an output folder.
//!
//! The lock belongs to the open file, so the system lets go of it when the program ends in any way.
//! The small lock file stays in the folder: taking it away would let two runs hold two files of one
//! name. On a file system without locks the work goes on without one; [`Lock::is_held`] tells.

use std::fs::{File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};
use std::thread;
use std::time::Duration;

use super::{DiskError, make_folder};

const NAME: &str = ".offloom-lock";

/// How long to rest between two looks at a lock another run holds.
const PAUSE: Duration = Duration::from_millis(100);

/// Held while this program writes into a folder; let go of when dropped.
#[derive(Debug)]
pub struct Lock {
    folder: PathBuf,
    held: Option<File>,
}

impl Lock {
    /// Takes the lock of `folder` (made if need be). When another run holds it, `waiting` is called
    /// once, and the lock is awaited until it is free or `cancelled` says so.
    pub fn take(
        folder: &Path,
        waiting: &mut dyn FnMut(),
        cancelled: &dyn Fn() -> bool,
    ) -> Result<Self, DiskError> {
        make_folder(folder)?;
        let path = folder.join(NAME);
        let file = OpenOptions::new()
            .create(true)
            .truncate(false)
            .read(true)
            .write(true)
            .open(&path)
            .map_err(|e| DiskError::from_io(&path, "opening the lock file", e))?;
        let mut told = false;
        loop {
            match file.try_lock() {
                Ok(()) => {
                    return Ok(Self {
                        folder: folder.to_path_buf(),
                        held: Some(file),
                    });
                }
                Err(TryLockError::WouldBlock) => {
                    if cancelled() {
                        let doing = "waiting for another run to finish";
                        return Err(DiskError::Stopped {
                            path: folder.to_path_buf(),
                            doing,
                        });
                    }
                    if !told {
                        told = true;
                        waiting();
                    }
                    thread::sleep(PAUSE);
                }
                // Some network and removable file systems know no locks.
                Err(TryLockError::Error(_)) => {
                    return Ok(Self {
                        folder: folder.to_path_buf(),
                        held: None,
                    });
                }
            }
        }
    }

    /// Whether the file system really gave the lock.
    pub fn is_held(&self) -> bool {
        self.held.is_some()
    }

    /// The folder it stands for.
    pub fn folder(&self) -> &Path {
        &self.folder
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    #[test]
    fn a_second_run_waits_and_can_be_stopped() {
        let folder = tempfile::tempdir().unwrap();
        let first = Lock::take(folder.path(), &mut || {}, &|| false).unwrap();
        assert!(first.is_held());
        let told = Cell::new(0);
        let looks = Cell::new(0);
        let stopped = Lock::take(folder.path(), &mut || told.set(told.get() + 1), &|| {
            looks.set(looks.get() + 1);
            looks.get() > 2
        });
        assert!(
            matches!(stopped, Err(DiskError::Stopped { .. })),
            "{stopped:?}"
        );
        assert_eq!(told.get(), 1);
        drop(first);
        let second = Lock::take(folder.path(), &mut || panic!("nobody holds it"), &|| false);
        assert!(second.unwrap().is_held());
    }
}
