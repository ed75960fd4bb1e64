//! Files that appear whole or not at all.
//!
//! Each file is written under an unfinished name in the folder where it will live, forced to the disk,
//! given its final name in one step, and the folder is forced to the disk too. A run that dies leaves at
//! most an unfinished file, which [`sweep_leftovers`] takes away next time.

use std::fs::{self, File};
use std::io::{self, BufReader, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use tempfile::{Builder, NamedTempFile};

use super::{DiskError, Lock, UNFINISHED_PREFIX};

/// What [`write_whole`] did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Written {
    /// There was no such file before.
    New,
    /// There was one with other contents; it has been replaced.
    Changed,
    /// There was one with the same octets; it has not been touched.
    Same,
}

/// Makes a folder and those it lies in, where they are missing.
pub fn make_folder(folder: &Path) -> Result<(), DiskError> {
    fs::create_dir_all(folder).map_err(|e| match e.kind() {
        io::ErrorKind::AlreadyExists => DiskError::NotAFolder {
            path: folder.to_path_buf(),
        },
        _ => DiskError::from_io(folder, "making the folder", e),
    })
}

/// Writes a whole file in place of whatever was there. A file that already holds the same octets keeps
/// its time of change.
pub fn write_whole(path: &Path, octets: &[u8]) -> Result<Written, DiskError> {
    let before = match fs::symlink_metadata(path) {
        Ok(metadata) if metadata.is_file() => {
            if holds(path, &metadata, octets) {
                return Ok(Written::Same);
            }
            Written::Changed
        }
        Ok(metadata) if metadata.is_dir() => {
            return Err(DiskError::NotAFile {
                path: path.to_path_buf(),
            });
        }
        // A link is replaced, never written through: it might lead out of the folder.
        Ok(_) => Written::Changed,
        Err(e) if e.kind() == io::ErrorKind::NotFound => Written::New,
        Err(e) => return Err(DiskError::from_io(path, "looking at it", e)),
    };
    let mut file = NewFile::create_in(folder_of(path))?;
    file.write_all(octets)
        .map_err(|e| DiskError::from_io(path, "writing it", e))?;
    file.finish_replacing(path)?;
    Ok(before)
}

/// The same for what can be made again at any time: it has its name only when it is whole, but is not forced to the
/// disk, which would take longer than the making.
pub fn write_light(path: &Path, octets: &[u8]) -> Result<Written, DiskError> {
    let before = match fs::symlink_metadata(path) {
        Ok(metadata) if metadata.is_file() && holds(path, &metadata, octets) => {
            return Ok(Written::Same);
        }
        Ok(_) => Written::Changed,
        Err(_) => Written::New,
    };
    let mut file = NewFile::create_in(folder_of(path))?;
    file.write_all(octets)
        .map_err(|e| DiskError::from_io(path, "writing it", e))?;
    file.file
        .persist(path)
        .map_err(|e| DiskError::from_io(path, "giving it its name", e.error))?;
    Ok(before)
}

/// Copies a file in the same way.
pub fn copy_light(from: &Path, to: &Path) -> Result<(), DiskError> {
    let file = NewFile::create_in(folder_of(to))?;
    fs::copy(from, file.path()).map_err(|e| DiskError::from_io(from, "copying it", e))?;
    file.file
        .persist(to)
        .map_err(|e| DiskError::from_io(to, "giving it its name", e.error))?;
    Ok(())
}

/// Copies a file that is not there yet, and forces it to the disk.
pub fn copy_new(from: &Path, to: &Path) -> Result<(), DiskError> {
    let file = NewFile::create_in(folder_of(to))?;
    fs::copy(from, file.path()).map_err(|e| DiskError::from_io(from, "copying it", e))?;
    file.finish_noclobber(to)
}

/// How long a file is; nothing where it is none.
pub fn length_of(path: &Path) -> Option<u64> {
    let metadata = fs::symlink_metadata(path).ok()?;
    metadata.is_file().then_some(metadata.len())
}

/// Writes a whole file under a name that must be free; of two runs only one can win.
pub fn write_new(path: &Path, octets: &[u8]) -> Result<(), DiskError> {
    if fs::symlink_metadata(path).is_ok() {
        return Err(DiskError::AlreadyThere {
            path: path.to_path_buf(),
        });
    }
    let mut file = NewFile::create_in(folder_of(path))?;
    file.write_all(octets)
        .map_err(|e| DiskError::from_io(path, "writing it", e))?;
    file.finish_noclobber(path)
}

/// Adds octets to the end of a file, which is made where it is not there, and forces them to the disk. The lock of
/// the folder keeps two runs from writing into each other's lines.
pub fn append(path: &Path, octets: &[u8], _under: &Lock) -> Result<(), DiskError> {
    let failed = |e| DiskError::from_io(path, "writing to its end", e);
    let fresh = fs::symlink_metadata(path).is_err();
    let mut file = File::options()
        .append(true)
        .create(true)
        .open(path)
        .map_err(failed)?;
    file.write_all(octets).map_err(failed)?;
    file.sync_all().map_err(failed)?;
    if fresh {
        sync_folder(folder_of(path))?;
    }
    Ok(())
}

/// Writes a whole file that only its owner may read, under a name that must be free.
pub fn write_private_new(path: &Path, octets: &[u8]) -> Result<(), DiskError> {
    if fs::symlink_metadata(path).is_ok() {
        return Err(DiskError::AlreadyThere {
            path: path.to_path_buf(),
        });
    }
    // Unfinished files are made for their owner alone, unless another mode is asked for.
    let file = Builder::new()
        .prefix(UNFINISHED_PREFIX)
        .tempfile_in(folder_of(path))
        .map_err(|e| DiskError::from_io(path, "beginning it", e))?;
    let mut file = NewFile { file };
    file.write_all(octets)
        .map_err(|e| DiskError::from_io(path, "writing it", e))?;
    file.finish_noclobber(path)
}

/// Gives a file another name in its folder, which must be free.
pub fn set_aside(path: &Path, name: &str) -> Result<PathBuf, DiskError> {
    let to = folder_of(path).join(name);
    if fs::symlink_metadata(&to).is_ok() {
        return Err(DiskError::AlreadyThere { path: to });
    }
    fs::rename(path, &to).map_err(|e| DiskError::from_io(path, "giving it another name", e))?;
    sync_folder(folder_of(path))?;
    Ok(to)
}

/// Takes a file of this program's own making away.
pub fn remove(path: &Path) -> Result<(), DiskError> {
    fs::remove_file(path).map_err(|e| DiskError::from_io(path, "taking it away", e))
}

/// Whether the file has exactly these octets. One that can't be read is simply written again.
fn holds(path: &Path, metadata: &fs::Metadata, octets: &[u8]) -> bool {
    if metadata.len() != octets.len() as u64 {
        return false;
    }
    let Ok(file) = File::open(path) else {
        return false;
    };
    let mut file = BufReader::new(file);
    let mut rest = octets;
    let mut buffer = [0; 16 * 1024];
    loop {
        match file.read(&mut buffer) {
            Ok(0) => return rest.is_empty(),
            Ok(got) if rest.len() >= got && rest[..got] == buffer[..got] => rest = &rest[got..],
            Ok(_) => return false,
            Err(e) if e.kind() == io::ErrorKind::Interrupted => {}
            Err(_) => return false,
        }
    }
}

/// A file being written under an unfinished name. Dropped before it is finished, it disappears.
#[derive(Debug)]
pub struct NewFile {
    file: NamedTempFile,
}

impl NewFile {
    /// Begins a file in the folder where it will live (a name can't move between disks in one step).
    pub fn create_in(folder: &Path) -> Result<Self, DiskError> {
        let mut builder = Builder::new();
        builder.prefix(UNFINISHED_PREFIX);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            // The usual mode for a new file; the system takes off what the user's mask says.
            builder.permissions(fs::Permissions::from_mode(0o666));
        }
        let file = builder
            .tempfile_in(folder)
            .map_err(|e| DiskError::from_io(folder, "beginning a file in it", e))?;
        Ok(Self { file })
    }

    /// Its unfinished name, to read back what was written.
    pub fn path(&self) -> &Path {
        self.file.path()
    }

    /// Forces what was written so far to the disk, so that little is left to force when it gets its name.
    pub fn force(&self) -> Result<(), DiskError> {
        self.sync(self.path())
    }

    /// Forces the octets to the disk and gives the final name, which must be free: the system itself
    /// decides, so that of two runs only one can win.
    pub fn finish_noclobber(self, name: &Path) -> Result<(), DiskError> {
        self.sync(name)?;
        match self.file.persist_noclobber(name) {
            Ok(_) => sync_folder(folder_of(name)),
            Err(e) if e.error.kind() == io::ErrorKind::AlreadyExists => {
                Err(DiskError::AlreadyThere {
                    path: name.to_path_buf(),
                })
            }
            // A file system that knows neither an exclusive renaming nor hard links: look, then rename.
            // Two runs could meet between the two, which the folder's lock is there to prevent.
            Err(e) if knows_no_exclusive_naming(&e.error) => {
                if fs::symlink_metadata(name).is_ok() {
                    return Err(DiskError::AlreadyThere {
                        path: name.to_path_buf(),
                    });
                }
                rename(e.file, name)
            }
            Err(e) => Err(DiskError::from_io(name, "giving it its name", e.error)),
        }
    }

    /// Forces the octets to the disk and gives the final name, replacing what had it.
    pub fn finish_replacing(self, name: &Path) -> Result<(), DiskError> {
        self.sync(name)?;
        rename(self.file, name)
    }

    fn sync(&self, name: &Path) -> Result<(), DiskError> {
        // After one failure a second try could report success for octets that never arrived, so the
        // file is given up at once.
        let failed = |e| DiskError::from_io(name, "forcing it to the disk", e);
        self.file.as_file().sync_all().map_err(failed)
    }
}

impl Write for NewFile {
    fn write(&mut self, octets: &[u8]) -> io::Result<usize> {
        self.file.as_file_mut().write(octets)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.as_file_mut().flush()
    }
}

impl Seek for NewFile {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.file.as_file_mut().seek(to)
    }
}

fn rename(file: NamedTempFile, name: &Path) -> Result<(), DiskError> {
    file.persist(name)
        .map_err(|e| DiskError::from_io(name, "giving it its name", e.error))?;
    sync_folder(folder_of(name))
}

fn knows_no_exclusive_naming(error: &io::Error) -> bool {
    use io::ErrorKind as Kind;
    // Linux answers EPERM to a hard link where the file system has none.
    matches!(
        error.kind(),
        Kind::Unsupported | Kind::InvalidInput | Kind::PermissionDenied
    )
}

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Forces a folder's names to the disk: without it a new name may be gone after a power cut.
#[cfg(unix)]
fn sync_folder(folder: &Path) -> Result<(), DiskError> {
    use io::ErrorKind as Kind;
    let result = File::open(folder).and_then(|open| open.sync_all());
    match result {
        Ok(()) => Ok(()),
        // Some network file systems refuse this for folders; the file itself is safe by then.
        Err(e) if matches!(e.kind(), Kind::InvalidInput | Kind::Unsupported) => Ok(()),
        Err(e) => Err(DiskError::from_io(
            folder,
            "forcing the folder to the disk",
            e,
        )),
    }
}

/// Other systems offer no such call for folders.
#[cfg(not(unix))]
fn sync_folder(_: &Path) -> Result<(), DiskError> {
    Ok(())
}

/// Takes away the unfinished files that dead runs left directly in `folder`, and gives their paths.
/// Nothing happens unless the lock is really held and `folder` lies in the locked folder: otherwise an
/// unfinished file may belong to a run that is still alive.
pub fn sweep_leftovers(folder: &Path, under: &Lock) -> Result<Vec<PathBuf>, DiskError> {
    if !under.is_held() || !folder.starts_with(under.folder()) {
        return Ok(Vec::new());
    }
    let entries = match fs::read_dir(folder) {
        Ok(entries) => entries,
        Err(e) if e.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        Err(e) => return Err(DiskError::from_io(folder, "listing it", e)),
    };
    let mut gone = Vec::new();
    for entry in entries {
        let entry = entry.map_err(|e| DiskError::from_io(folder, "listing it", e))?;
        let ours = entry
            .file_name()
            .to_string_lossy()
            .starts_with(UNFINISHED_PREFIX);
        if ours && entry.file_type().is_ok_and(|kind| kind.is_file()) {
            let path = entry.path();
            fs::remove_file(&path)
                .map_err(|e| DiskError::from_io(&path, "taking away a leftover", e))?;
            gone.push(path);
        }
    }
    gone.sort();
    Ok(gone)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::{AtomicUsize, Ordering};
    use std::time::{Duration, SystemTime};

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_file_with_the_same_octets_keeps_its_time_of_change() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("record.json");
        assert_eq!(write_whole(&path, b"{}").unwrap(), Written::New);
        let long_ago = SystemTime::UNIX_EPOCH + Duration::from_secs(1_000_000_000);
        File::options()
            .write(true)
            .open(&path)
            .unwrap()
            .set_modified(long_ago)
            .unwrap();
        assert_eq!(write_whole(&path, b"{}").unwrap(), Written::Same);
        assert_eq!(fs::metadata(&path).unwrap().modified().unwrap(), long_ago);
        assert_eq!(write_whole(&path, b"[]").unwrap(), Written::Changed);
        assert_eq!(fs::read(&path).unwrap(), b"[]");
        assert_eq!(names(folder.path()), ["record.json"]);
    }

    #[test]
    fn an_unfinished_file_disappears_and_never_has_the_final_name() {
        let folder = tempfile::tempdir().unwrap();
        let mut file = NewFile::create_in(folder.path()).unwrap();
        file.write_all(b"half").unwrap();
        assert_eq!(names(folder.path()).len(), 1);
        assert!(names(folder.path())[0].starts_with(UNFINISHED_PREFIX));
        drop(file);
        assert!(names(folder.path()).is_empty());
    }

    #[test]
    fn an_issued_name_is_never_overwritten() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("tide.r1.zip");
        fs::write(&path, b"first").unwrap();
        let mut file = NewFile::create_in(folder.path()).unwrap();
        file.write_all(b"second").unwrap();
        let error = file.finish_noclobber(&path).unwrap_err();
        assert!(matches!(error, DiskError::AlreadyThere { .. }), "{error}");
        assert_eq!(fs::read(&path).unwrap(), b"first");
        assert_eq!(names(folder.path()), ["tide.r1.zip"]);
    }

    #[test]
    fn of_many_runs_at_once_exactly_one_wins_a_name() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("tide.r1.zip");
        let wins = AtomicUsize::new(0);
        std::thread::scope(|scope| {
            for run in 0..8_u8 {
                let (folder, path, wins) = (folder.path(), &path, &wins);
                scope.spawn(move || {
                    let mut file = NewFile::create_in(folder).unwrap();
                    file.write_all(&[run; 1000]).unwrap();
                    if file.finish_noclobber(path).is_ok() {
                        wins.fetch_add(1, Ordering::Relaxed);
                    }
                });
            }
        });
        assert_eq!(wins.into_inner(), 1);
        let octets = fs::read(&path).unwrap();
        assert!(octets.len() == 1000 && octets.iter().all(|o| *o == octets[0]));
        assert_eq!(names(folder.path()), ["tide.r1.zip"]);
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_replaced_and_not_written_through() {
        let folder = tempfile::tempdir().unwrap();
        let victim = folder.path().join("victim");
        let path = folder.path().join("label.pdf");
        fs::write(&victim, b"mine").unwrap();
        std::os::unix::fs::symlink(&victim, &path).unwrap();
        assert_eq!(write_whole(&path, b"label").unwrap(), Written::Changed);
        assert_eq!(fs::read(&victim).unwrap(), b"mine");
        assert_eq!(fs::read(&path).unwrap(), b"label");
    }

    #[test]
    fn a_folder_in_the_way_is_named() {
        let folder = tempfile::tempdir().unwrap();
        let error = write_whole(folder.path(), b"x").unwrap_err();
        assert!(matches!(error, DiskError::NotAFile { .. }), "{error}");
        let error = write_whole(&folder.path().join("no/such"), b"x").unwrap_err();
        assert!(matches!(error, DiskError::Missing { .. }), "{error}");
    }

    #[test]
    fn leftovers_are_swept_only_under_the_lock() {
        let folder = tempfile::tempdir().unwrap();
        let leftover = folder.path().join(format!("{UNFINISHED_PREFIX}abc"));
        fs::write(&leftover, b"half").unwrap();
        fs::write(folder.path().join("tide.r1.zip"), b"whole").unwrap();
        let elsewhere = tempfile::tempdir().unwrap();
        let other = Lock::take(elsewhere.path(), &mut || {}, &|| false).unwrap();
        assert!(sweep_leftovers(folder.path(), &other).unwrap().is_empty());
        let lock = Lock::take(folder.path(), &mut || {}, &|| false).unwrap();
        assert_eq!(sweep_leftovers(folder.path(), &lock).unwrap(), [leftover]);
        assert_eq!(names(folder.path()), [".offloom-lock", "tide.r1.zip"]);
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_full_disk_is_called_so() {
        // /dev/full answers every write with "no space left" (Linux manual, full(4)).
        let mut full = File::options().write(true).open("/dev/full").unwrap();
        let cause = full.write_all(b"x").unwrap_err();
        let error = DiskError::from_io(Path::new("tide.r1.zip"), "writing it", cause);
        assert!(matches!(error, DiskError::NoSpace { .. }), "{error}");
        assert!(error.to_string().contains("Make room"), "{error}");
    }
}
