//! What can go wrong with a file, in words for the person whose file it is.
//!
//! Operating systems report numbers; this turns the ones a weaver can do something about (disk full,
//! no permission, not there) into a sentence with a remedy, and keeps the rest with its cause.

use std::io;
use std::path::{Path, PathBuf};

/// A failed dealing with one file or folder. Each message names the path, what failed and what to do.
#[derive(Debug, thiserror::Error)]
pub enum DiskError {
    /// Nothing has that name.
    #[error("{path}: not found while {doing}. Check the name, and that the disk it is on is connected.", path = .path.display())]
    Missing {
        /// The name looked for.
        path: PathBuf,
        /// What was being done, as in "reading it".
        doing: &'static str,
    },
    /// The system refused access.
    #[error("{path}: no permission for {doing}. Change the permissions of the file or its folder, or choose another folder.", path = .path.display())]
    NoPermission {
        /// The file or folder.
        path: PathBuf,
        /// What was being done.
        doing: &'static str,
    },
    /// The disk, the quota or the largest file size ran out.
    #[error("{path}: no space left while {doing} ({why}). Make room, or choose a folder on another disk; nothing half-written has been left under a final name.", path = .path.display())]
    NoSpace {
        /// The file or folder.
        path: PathBuf,
        /// What was being done.
        doing: &'static str,
        /// Which limit it was, in the system's words.
        why: String,
    },
    /// The disk can only be read.
    #[error("{path}: the disk can only be read, so {doing} failed. Choose a folder on another disk.", path = .path.display())]
    ReadOnly {
        /// The file or folder.
        path: PathBuf,
        /// What was being done.
        doing: &'static str,
    },
    /// The final name is taken, and it is one that is never overwritten.
    #[error("{path}: there is such a file already, and it is never overwritten. Use the next number, or move the old file away yourself.", path = .path.display())]
    AlreadyThere {
        /// The name that is taken.
        path: PathBuf,
    },
    /// A file is larger than its kind can sensibly be.
    #[error("{path}: too large to read: it has {size} octets or more, and the limit for this kind of file is {limit}. Check that it is the right file.", path = .path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Octets seen, at least.
        size: u64,
        /// Octets allowed.
        limit: u64,
    },
    /// A folder, device, pipe or socket stands where a plain file is needed.
    #[error("{path}: not a plain file. Put a plain file there, or take the name out.", path = .path.display())]
    NotAFile {
        /// What was given.
        path: PathBuf,
    },
    /// A file stands where a folder is needed.
    #[error("{path}: not a folder. Name the folder itself.", path = .path.display())]
    NotAFolder {
        /// What was given.
        path: PathBuf,
    },
    /// A secret that others could read.
    #[error("{path}: others may read this file, so it is no secret. Take the permission away: chmod 600 {path}", path = .path.display())]
    NotPrivate {
        /// The file.
        path: PathBuf,
    },
    /// The text of a file is not UTF-8.
    #[error("{path}: not UTF-8 text (the first wrong octet is number {octet}). Save it as UTF-8 in the text editor.", path = .path.display())]
    NotText {
        /// The file.
        path: PathBuf,
        /// Position of the first wrong octet, counted from 1.
        octet: usize,
    },
    /// The caller asked to stop.
    #[error("{path}: stopped while {doing}.", path = .path.display())]
    Stopped {
        /// The file or folder.
        path: PathBuf,
        /// What was being done.
        doing: &'static str,
    },
    /// Anything else the system reports.
    #[error("{path}: {doing} failed: {source}. Check the disk and try again.", path = .path.display())]
    Other {
        /// The file or folder.
        path: PathBuf,
        /// What was being done.
        doing: &'static str,
        /// The system's own report.
        source: io::Error,
    },
}

impl DiskError {
    /// Sorts what the system reported about `path` while `doing` (a gerund: "reading it").
    pub fn from_io(path: &Path, doing: &'static str, source: io::Error) -> Self {
        use io::ErrorKind as Kind;
        let path = path.to_path_buf();
        match source.kind() {
            Kind::NotFound => Self::Missing { path, doing },
            Kind::PermissionDenied => Self::NoPermission { path, doing },
            Kind::StorageFull | Kind::QuotaExceeded | Kind::FileTooLarge => Self::NoSpace {
                path,
                doing,
                why: source.to_string(),
            },
            Kind::ReadOnlyFilesystem => Self::ReadOnly { path, doing },
            Kind::AlreadyExists => Self::AlreadyThere { path },
            Kind::NotADirectory => Self::NotAFolder { path },
            Kind::IsADirectory => Self::NotAFile { path },
            _ => Self::Other {
                path,
                doing,
                source,
            },
        }
    }

    /// The file or folder the error is about.
    pub fn path(&self) -> &Path {
        match self {
            Self::Missing { path, .. }
            | Self::NoPermission { path, .. }
            | Self::NoSpace { path, .. }
            | Self::ReadOnly { path, .. }
            | Self::AlreadyThere { path }
            | Self::TooLarge { path, .. }
            | Self::NotAFile { path }
            | Self::NotAFolder { path }
            | Self::NotPrivate { path }
            | Self::NotText { path, .. }
            | Self::Stopped { path, .. }
            | Self::Other { path, .. } => path,
        }
    }

    /// Whether the file or folder simply is not there.
    pub fn is_missing(&self) -> bool {
        matches!(self, Self::Missing { .. })
    }

    /// What to do about it: the last sentence of the message.
    pub fn remedy(&self) -> String {
        let whole = self.to_string();
        whole
            .rsplit_once(". ")
            .map_or(whole.clone(), |(_, remedy)| remedy.to_string())
    }

    /// What is wrong, without the remedy.
    pub fn complaint(&self) -> String {
        let whole = self.to_string();
        whole
            .rsplit_once(". ")
            .map_or(whole.clone(), |(wrong, _)| wrong.to_string())
    }
}
