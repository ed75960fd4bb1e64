//! Listing everything in a folder, in an order that never changes, and saying what was left out.
//!
//! * The order is bytewise by relative path, with `/` between folders on every system.
//! * A symbolic link is followed when what it leads to lies inside the same folder; otherwise it is
//!   reported in [`Listing::escaping`]: a piece is complete in its own folder.
//! * What computers leave behind by themselves (`.DS_Store`, `Thumbs.db`, `desktop.ini`, `._*` and this
//!   program's own unfinished files) is reported in [`Listing::litter`] and is not among the files.
//! * What can't be listed (no permission, a device, a name that is not UTF-8) is reported with its
//!   reason. Nothing is dropped in silence.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use walkdir::{DirEntry, WalkDir};

use super::{DiskError, UNFINISHED_PREFIX};

/// One plain file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// Its path below the root, with `/` between folders.
    pub relative: String,
    /// Where to open it.
    pub path: PathBuf,
    /// Octets.
    pub size: u64,
}

/// One thing that is in the folder and not among the files, with the reason.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct LeftOut {
    /// Its path below the root; octets that are not UTF-8 are shown as `�`.
    pub relative: String,
    /// Why, in words for a finding.
    pub reason: String,
}

/// Everything below one folder.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Listing {
    /// The plain files, bytewise by relative path.
    pub files: Vec<Found>,
    /// Links that lead out of the folder: not followed.
    pub escaping: Vec<LeftOut>,
    /// Entries that could not be looked at: no permission, a broken link, a circle of links.
    pub unreadable: Vec<LeftOut>,
    /// Pipes, sockets and devices.
    pub special: Vec<LeftOut>,
    /// Names that are not UTF-8, so that no manifest could hold them.
    pub misnamed: Vec<LeftOut>,
    /// Files computers leave behind by themselves.
    pub litter: Vec<String>,
    /// Folders with nothing in them: an archive of files alone loses them.
    pub empty_folders: Vec<String>,
}

/// Lists every plain file below `root`. Only a `root` that can't be listed at all is an error.
pub fn list_folder(root: &Path) -> Result<Listing, DiskError> {
    let failed = |e| DiskError::from_io(root, "listing it", e);
    let home = fs::canonicalize(root).map_err(failed)?;
    if !fs::metadata(&home).map_err(failed)?.is_dir() {
        return Err(DiskError::NotAFolder {
            path: root.to_path_buf(),
        });
    }
    fs::read_dir(&home).map_err(failed)?;

    let mut listing = Listing::default();
    let mut escaping = Vec::new();
    let mut folders = BTreeSet::new();
    let mut occupied = BTreeSet::new();
    let walk = WalkDir::new(&home)
        .min_depth(1)
        .follow_links(true)
        .into_iter();
    for entry in walk.filter_entry(|entry| stays_inside(&home, entry, &mut escaping)) {
        match entry {
            Ok(entry) => {
                if let Some(parent) = entry.path().parent() {
                    occupied.insert(parent.to_path_buf());
                }
                if entry.file_type().is_dir() {
                    folders.insert(entry.path().to_path_buf());
                } else {
                    sort_in(&home, &entry, &mut listing);
                }
            }
            Err(error) => {
                let path = error.path().unwrap_or(&home);
                if let Some(parent) = path.parent() {
                    occupied.insert(parent.to_path_buf());
                }
                // A folder that can't be opened is not an empty one.
                occupied.insert(path.to_path_buf());
                let reason = why_unreadable(&error);
                listing.unreadable.push(LeftOut {
                    relative: shown(&home, path),
                    reason,
                });
            }
        }
    }
    for out in &escaping {
        if let Some(parent) = home.join(&out.relative).parent() {
            occupied.insert(parent.to_path_buf());
        }
    }
    listing.escaping = escaping;
    listing.empty_folders = folders
        .difference(&occupied)
        .map(|folder| shown(&home, folder))
        .collect();
    listing
        .files
        .sort_by(|a, b| a.relative.as_bytes().cmp(b.relative.as_bytes()));
    listing.escaping.sort();
    listing.unreadable.sort();
    listing.special.sort();
    listing.misnamed.sort();
    listing.litter.sort();
    listing.empty_folders.sort();
    Ok(listing)
}

/// Whether to go on with this entry; a link that leads outside is noted and left.
fn stays_inside(home: &Path, entry: &DirEntry, escaping: &mut Vec<LeftOut>) -> bool {
    if !entry.path_is_symlink() {
        return true;
    }
    match fs::canonicalize(entry.path()) {
        Ok(target) if target.starts_with(home) => true,
        Ok(target) => {
            let reason = format!(
                "a link that leads outside the folder, to {}",
                target.display()
            );
            escaping.push(LeftOut {
                relative: shown(home, entry.path()),
                reason,
            });
            false
        }
        Err(error) => {
            let reason = format!("a link that can't be followed: {error}");
            escaping.push(LeftOut {
                relative: shown(home, entry.path()),
                reason,
            });
            false
        }
    }
}

fn sort_in(home: &Path, entry: &DirEntry, listing: &mut Listing) {
    let relative = shown(home, entry.path());
    if !entry.file_type().is_file() {
        let reason = "not a plain file (a pipe, socket or device)".to_owned();
        listing.special.push(LeftOut { relative, reason });
        return;
    }
    if is_litter(&entry.file_name().to_string_lossy()) {
        listing.litter.push(relative);
        return;
    }
    let Some(relative) = exact(home, entry.path()) else {
        let reason = "the name is not UTF-8; rename the file".to_owned();
        listing.misnamed.push(LeftOut { relative, reason });
        return;
    };
    match entry.metadata() {
        Ok(metadata) => listing.files.push(Found {
            relative,
            path: entry.path().to_path_buf(),
            size: metadata.len(),
        }),
        Err(error) => {
            let reason = why_unreadable(&error);
            listing.unreadable.push(LeftOut { relative, reason });
        }
    }
}

fn why_unreadable(error: &walkdir::Error) -> String {
    if error.loop_ancestor().is_some() {
        return "a link that leads back to a folder it lies in".to_owned();
    }
    match error.io_error() {
        Some(e) if e.kind() == std::io::ErrorKind::NotFound => {
            "a link that leads nowhere, or a file that has just gone".to_owned()
        }
        Some(e) => format!("can't be read: {e}"),
        None => format!("can't be read: {error}"),
    }
}

fn is_litter(name: &str) -> bool {
    name == ".DS_Store"
        || name.eq_ignore_ascii_case("thumbs.db")
        || name.eq_ignore_ascii_case("desktop.ini")
        || name.starts_with("._")
        || name.starts_with(UNFINISHED_PREFIX)
}

/// The path below `home` with `/`, or nothing when it is not UTF-8.
fn exact(home: &Path, path: &Path) -> Option<String> {
    let below = path.strip_prefix(home).ok()?;
    let parts: Option<Vec<&str>> = below.iter().map(|part| part.to_str()).collect();
    Some(parts?.join("/"))
}

fn shown(home: &Path, path: &Path) -> String {
    let below = path.strip_prefix(home).unwrap_or(path);
    below
        .iter()
        .map(|part| part.to_string_lossy())
        .collect::<Vec<_>>()
        .join("/")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(listing: &Listing) -> Vec<&str> {
        listing
            .files
            .iter()
            .map(|file| file.relative.as_str())
            .collect()
    }

    #[test]
    fn files_come_in_byte_order_whatever_folder_they_lie_in() {
        let root = tempfile::tempdir().unwrap();
        fs::create_dir_all(root.path().join("a/b")).unwrap();
        fs::create_dir_all(root.path().join("hollow")).unwrap();
        for name in [
            "a/b/z.txt",
            "a-b.txt",
            "a/b.txt",
            "Z.txt",
            "é.txt",
            ".hidden",
        ] {
            fs::write(root.path().join(name), name).unwrap();
        }
        let listing = list_folder(root.path()).unwrap();
        assert_eq!(
            names(&listing),
            [
                ".hidden",
                "Z.txt",
                "a-b.txt",
                "a/b.txt",
                "a/b/z.txt",
                "é.txt"
            ]
        );
        assert_eq!(listing.files[2].size, 7);
        assert_eq!(fs::read(&listing.files[3].path).unwrap(), b"a/b.txt");
        assert_eq!(listing.empty_folders, ["hollow"]);
    }

    #[test]
    fn litter_is_left_out_and_reported() {
        let root = tempfile::tempdir().unwrap();
        for name in [
            ".DS_Store",
            "Thumbs.db",
            "DESKTOP.INI",
            "._front.jpg",
            "front.jpg",
        ] {
            fs::write(root.path().join(name), "").unwrap();
        }
        let listing = list_folder(root.path()).unwrap();
        assert_eq!(names(&listing), ["front.jpg"]);
        assert_eq!(
            listing.litter,
            [".DS_Store", "._front.jpg", "DESKTOP.INI", "Thumbs.db"]
        );
    }

    #[test]
    fn a_missing_folder_and_a_file_are_errors() {
        let root = tempfile::tempdir().unwrap();
        let missing = list_folder(&root.path().join("none")).unwrap_err();
        assert!(matches!(missing, DiskError::Missing { .. }), "{missing}");
        fs::write(root.path().join("file"), "").unwrap();
        let file = list_folder(&root.path().join("file")).unwrap_err();
        assert!(matches!(file, DiskError::NotAFolder { .. }), "{file}");
    }

    #[cfg(unix)]
    #[test]
    fn links_are_followed_inside_the_folder_and_reported_when_they_lead_out() {
        use std::os::unix::fs::symlink;
        let outside = tempfile::tempdir().unwrap();
        fs::write(outside.path().join("secret"), "secret").unwrap();
        let root = tempfile::tempdir().unwrap();
        fs::create_dir(root.path().join("photos")).unwrap();
        fs::write(root.path().join("photos/front.jpg"), "front").unwrap();
        symlink("photos/front.jpg", root.path().join("cover.jpg")).unwrap();
        symlink("photos", root.path().join("pictures")).unwrap();
        symlink(outside.path().join("secret"), root.path().join("out")).unwrap();
        symlink(outside.path(), root.path().join("out-folder")).unwrap();
        symlink("..", root.path().join("photos/round")).unwrap();
        symlink("nowhere", root.path().join("broken")).unwrap();
        let listing = list_folder(root.path()).unwrap();
        assert_eq!(
            names(&listing),
            ["cover.jpg", "photos/front.jpg", "pictures/front.jpg"]
        );
        let out: Vec<_> = listing
            .escaping
            .iter()
            .map(|e| e.relative.as_str())
            .collect();
        assert_eq!(out, ["out", "out-folder"]);
        let unreadable: Vec<_> = listing
            .unreadable
            .iter()
            .map(|e| e.relative.as_str())
            .collect();
        assert!(unreadable.contains(&"broken"), "{unreadable:?}");
        assert!(unreadable.contains(&"photos/round"), "{unreadable:?}");
        assert_eq!(listing.empty_folders, Vec::<String>::new());
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn a_name_that_is_not_utf_8_and_a_socket_are_reported() {
        use std::ffi::OsStr;
        use std::os::unix::ffi::OsStrExt;
        use std::os::unix::net::UnixListener;
        let root = tempfile::tempdir().unwrap();
        fs::write(root.path().join(OsStr::from_bytes(b"caf\xe9.txt")), "").unwrap();
        let _socket = UnixListener::bind(root.path().join("socket")).unwrap();
        let listing = list_folder(root.path()).unwrap();
        assert!(listing.files.is_empty());
        assert_eq!(listing.misnamed[0].relative, "caf\u{fffd}.txt");
        assert_eq!(listing.special[0].relative, "socket");
    }
}
