//! One run at a time in an output folder.
//!
//! The lock belongs to the open file, so the system lets go of it when the program ends in any way.
//! The small lock file stays in the folder: taking it away would let two runs hold two files of one
//! name. On a file system without locks the work goes on without one; [`Lock::is_held`] tells.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read, Seek, Write};
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
    /// Whether nobody else holds it at the same time.
    alone: bool,
}

/// The file that says into how many parts a job is dealt.
const PARTS: &str = ".offloom-parts";

impl Lock {
    /// Takes the lock of `folder` together with other runs that each do one part of the same job, dealt into `parts`.
    /// A run that works alone, or a job dealt otherwise, is awaited like any other.
    ///
    /// # Errors
    /// As [`Lock::take`].
    pub fn share(
        folder: &Path,
        parts: u32,
        waiting: &mut dyn FnMut(),
        cancelled: &dyn Fn() -> bool,
    ) -> Result<Self, DiskError> {
        make_folder(folder)?;
        let path = folder.join(PARTS);
        let mut told = false;
        loop {
            // One look at a time: who holds the little file decides alone who may join.
            let mut count = opened(&path)?;
            // Where there are no locks, the work goes on without.
            let _ = count.lock();
            let mut text = String::new();
            let read = count.read_to_string(&mut text);
            read.map_err(|e| DiskError::from_io(&path, "reading it", e))?;
            let same = text.trim() == parts.to_string();
            let file = opened(&folder.join(NAME))?;
            let taken = if same {
                file.try_lock_shared()
            } else {
                file.try_lock()
            };
            match taken {
                Ok(()) if same => return Ok(Lock::joined(folder, file)),
                Ok(()) => {
                    // Nobody works here: the job is ours to deal.
                    let written = count
                        .set_len(0)
                        .and_then(|()| count.rewind())
                        .and_then(|()| count.write_all(parts.to_string().as_bytes()));
                    written.map_err(|e| DiskError::from_io(&path, "writing it", e))?;
                    drop(file);
                    continue;
                }
                Err(TryLockError::WouldBlock) => {
                    // Closing the little file lets the next one look.
                    drop(count);
                    wait(folder, &mut told, waiting, cancelled)?;
                }
                Err(TryLockError::Error(_)) => {
                    return Ok(Self {
                        folder: folder.to_path_buf(),
                        held: None,
                        alone: false,
                    });
                }
            }
        }
    }

    fn joined(folder: &Path, file: File) -> Self {
        Self {
            folder: folder.to_path_buf(),
            held: Some(file),
            alone: false,
        }
    }

    /// Takes the lock of `folder` (made if need be). When another run holds it, `waiting` is called
    /// once, and the lock is awaited until it is free or `cancelled` says so.
    pub fn take(
        folder: &Path,
        waiting: &mut dyn FnMut(),
        cancelled: &dyn Fn() -> bool,
    ) -> Result<Self, DiskError> {
        make_folder(folder)?;
        let file = opened(&folder.join(NAME))?;
        let mut told = false;
        loop {
            match file.try_lock() {
                Ok(()) => {
                    return Ok(Self {
                        folder: folder.to_path_buf(),
                        held: Some(file),
                        alone: true,
                    });
                }
                Err(TryLockError::WouldBlock) => wait(folder, &mut told, waiting, cancelled)?,
                // Some network and removable file systems know no locks.
                Err(TryLockError::Error(_)) => {
                    return Ok(Self {
                        folder: folder.to_path_buf(),
                        held: None,
                        alone: false,
                    });
                }
            }
        }
    }

    /// Whether no other run works in the folder at the same time.
    pub fn is_alone(&self) -> bool {
        self.held.is_some() && self.alone
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

fn opened(path: &Path) -> Result<File, DiskError> {
    OpenOptions::new()
        .create(true)
        .truncate(false)
        .read(true)
        .write(true)
        .open(path)
        .map_err(|e| DiskError::from_io(path, "opening the lock file", e))
}

/// Rests before the next look, and says once that it waits.
fn wait(
    folder: &Path,
    told: &mut bool,
    waiting: &mut dyn FnMut(),
    cancelled: &dyn Fn() -> bool,
) -> Result<(), DiskError> {
    if cancelled() {
        return Err(DiskError::Stopped {
            path: folder.to_path_buf(),
            doing: "waiting for another run to finish",
        });
    }
    if !*told {
        *told = true;
        waiting();
    }
    thread::sleep(PAUSE);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    #[test]
    fn parts_of_one_job_work_side_by_side_and_keep_others_out() {
        let folder = tempfile::tempdir().unwrap();
        let share = |n, patience: u32| {
            let looks = Cell::new(0);
            Lock::share(folder.path(), n, &mut || {}, &|| {
                looks.set(looks.get() + 1);
                looks.get() > patience
            })
        };
        let first = share(2, 0).unwrap();
        let second = share(2, 0).unwrap();
        assert!(first.is_held() && second.is_held() && !first.is_alone());
        assert!(matches!(share(3, 1), Err(DiskError::Stopped { .. })));
        let alone = Lock::take(folder.path(), &mut || {}, &|| true);
        assert!(matches!(alone, Err(DiskError::Stopped { .. })));
        drop((first, second));
        let third = share(3, 0).unwrap();
        assert!(third.is_held());
        drop(third);
        let alone = Lock::take(folder.path(), &mut || {}, &|| true).unwrap();
        assert!(alone.is_alone());
        assert!(matches!(share(3, 1), Err(DiskError::Stopped { .. })));
    }

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
