//! Tag files of the caller's own, and the seal, which is made when the tag manifests are known.

use super::issue::IssueError;
use crate::bag::{
    DECLARATION_FILE, FETCH_FILE, INFO_FILE, check_path, folded, manifest_kind, unportable,
};
use crate::seal::{PUBLIC_KEY_FILE, SIGNATURE_FILE, SIGNERS_FILE, SealKey, Signers};

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
    /// What is needed to prove the signature: keys and their days. The tag manifests list these files.
    fn proofs(&self) -> Vec<TagFile>;

    /// Signs `tagmanifest-sha256.txt`, which vouches for every other file of the bundle. The tag manifests
    /// can not list what is made from them.
    ///
    /// # Errors
    /// A sentence for the weaver; nothing is issued then.
    fn sign(&self, tag_manifest: &[u8]) -> Result<TagFile, String>;
}

/// The studio's seal.
pub struct StudioSeal<'a> {
    /// The key.
    pub key: &'a SealKey,
    /// The list of the studio's keys, which has this one.
    pub signers: &'a Signers,
}

impl Seal for StudioSeal<'_> {
    fn proofs(&self) -> Vec<TagFile> {
        let file = |name: &str, text: String| TagFile {
            name: name.to_string(),
            octets: text.into_bytes(),
        };
        vec![
            file(PUBLIC_KEY_FILE, self.key.public().line() + "\n"),
            file(SIGNERS_FILE, self.signers.to_text()),
        ]
    }

    fn sign(&self, tag_manifest: &[u8]) -> Result<TagFile, String> {
        let signature = self.key.sign(tag_manifest).map_err(|e| e.to_string())?;
        Ok(TagFile {
            name: SIGNATURE_FILE.to_string(),
            octets: signature.into_bytes(),
        })
    }
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
