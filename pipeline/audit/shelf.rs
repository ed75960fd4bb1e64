//! Finds the bags on a shelf: a folder that is no bag itself but holds bundles and bags.

use std::path::{Path, PathBuf};

use walkdir::WalkDir;

use crate::bag::{DECLARATION_FILE, ManifestKind, manifest_kind};
use crate::disk::DiskError;

/// The bags at a path, bytewise by path: the path itself when it is a file or a bag's folder, and
/// otherwise every zip, every tar and every bag's folder below it. Links are not followed, and a bag is not looked
/// into for further bags. A damaged one is among them: it is the audit that says so.
pub fn find_bags(path: &Path) -> Result<Vec<PathBuf>, DiskError> {
    let failed = |e| DiskError::from_io(path, "listing it", e);
    let metadata = std::fs::metadata(path).map_err(failed)?;
    if !metadata.is_dir() || is_bag_folder(path) {
        return Ok(vec![path.to_path_buf()]);
    }
    let mut bags = Vec::new();
    let mut walk = WalkDir::new(path)
        .min_depth(1)
        .sort_by_file_name()
        .into_iter();
    while let Some(entry) = walk.next() {
        let entry = entry.map_err(|error| {
            let at = error.path().unwrap_or(path).to_path_buf();
            DiskError::from_io(&at, "listing it", error.into())
        })?;
        if entry.file_type().is_dir() {
            if is_bag_folder(entry.path()) {
                bags.push(entry.into_path());
                walk.skip_current_dir();
            }
        } else if entry.file_type().is_file() && is_packed_name(entry.path()) {
            bags.push(entry.into_path());
        }
    }
    bags.sort();
    Ok(bags)
}

/// A folder with a declaration, or with a payload folder and a manifest beside it.
fn is_bag_folder(path: &Path) -> bool {
    if path.join(DECLARATION_FILE).is_file() {
        return true;
    }
    let Ok(entries) = std::fs::read_dir(path) else {
        return false;
    };
    path.join("data").is_dir()
        && entries.flatten().any(|entry| {
            let name = entry.file_name();
            matches!(
                name.to_str().and_then(manifest_kind),
                Some(ManifestKind::Payload(_))
            )
        })
}

fn is_packed_name(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let name = name.to_ascii_lowercase();
    !name.starts_with('.') && (name.ends_with(".zip") || name.ends_with(".tar"))
}
