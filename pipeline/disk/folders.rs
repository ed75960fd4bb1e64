//! The folders right inside a folder, for an archive's pieces.

use std::fs;
use std::path::Path;

use super::{DiskError, LeftOut};

/// The folders right inside one folder.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Subfolders {
    /// Their names in byte order. Hidden ones are left out.
    pub folders: Vec<String>,
    /// Links to folders that lead out of the folder: not followed.
    pub escaping: Vec<LeftOut>,
    /// Names that are not UTF-8.
    pub misnamed: Vec<LeftOut>,
}

/// Lists the folders right inside `root`. Files are passed over; a link is followed only where it
/// leads to a folder inside `root`.
pub fn subfolders(root: &Path) -> Result<Subfolders, DiskError> {
    let failed = |e| DiskError::from_io(root, "listing it", e);
    let home = fs::canonicalize(root).map_err(failed)?;
    if !home.is_dir() {
        return Err(DiskError::NotAFolder {
            path: root.to_path_buf(),
        });
    }
    let mut found = Subfolders::default();
    for entry in fs::read_dir(&home).map_err(failed)? {
        let entry = entry.map_err(failed)?;
        let path = entry.path();
        if !path.is_dir() {
            continue;
        }
        let name = entry.file_name();
        let Some(name) = name.to_str() else {
            let relative = name.to_string_lossy().into_owned();
            let reason = "is not UTF-8".to_string();
            found.misnamed.push(LeftOut { relative, reason });
            continue;
        };
        if name.starts_with('.') {
            continue;
        }
        match fs::canonicalize(&path) {
            Ok(target) if target.starts_with(&home) => found.folders.push(name.to_string()),
            Ok(target) => found.escaping.push(LeftOut {
                relative: name.to_string(),
                reason: format!(
                    "is a link that leads outside the folder, to {}",
                    target.display()
                ),
            }),
            Err(e) => return Err(failed(e)),
        }
    }
    found.folders.sort();
    found.escaping.sort();
    found.misnamed.sort();
    Ok(found)
}
