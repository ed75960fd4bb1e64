//! Tag files of the caller's own, and the seal, which is made when the manifests are known.

use super::issue::IssueError;
use crate::bag::{
    DECLARATION_FILE, FETCH_FILE, INFO_FILE, check_path, folded, manifest_kind, unportable,
};

/// A small file beside the payload.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TagFile {
    /// Its path in the bag's folder, with `/`; not below `data/`.
    pub name: String,
    /// What it holds.
    pub octets: Vec<u8>,
}

/// Something that signs a bundle.
pub trait Seal {
    /// Makes the seal's own tag files from those that are fixed by now: the declaration, the metadata,
    /// the caller's tag files and the payload manifests, which vouch for the whole payload. The tag
    /// manifests list the seal's files as well, so the seal can't cover them.
    ///
    /// # Errors
    /// A sentence for the weaver; nothing is issued then.
    fn seal(&self, fixed: &[TagFile]) -> Result<Vec<TagFile>, String>;
}

/// Refuses tag files whose names would break the bag.
pub(super) fn check_tags(tags: &[TagFile]) -> Result<(), IssueError> {
    let mut keys: Vec<String> = Vec::new();
    for tag in tags {
        let name = tag.name.as_str();
        let key = folded(name);
        let first = key.split('/').next().unwrap_or_default();
        let why = if let Err(danger) = check_path(name) {
            danger.to_string()
        } else if let Some(why) = name.split('/').find_map(unportable) {
            why.to_owned()
        } else if first == "data"
            || [DECLARATION_FILE, INFO_FILE, FETCH_FILE].contains(&key.as_str())
            || manifest_kind(&key).is_some()
        {
            "is kept for the bag itself".to_owned()
        } else if keys.contains(&key) {
            "stands there twice".to_owned()
        } else {
            keys.push(key);
            continue;
        };
        return Err(IssueError::BadTag {
            name: name.to_owned(),
            why,
        });
    }
    Ok(())
}
