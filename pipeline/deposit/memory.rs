//! What is remembered of deposits, in `finished/deposits.json`: what has arrived where, so that it need not be read
//! back again, and which parts of an unfinished one are there already. It may be deleted: then everything that
//! lies at a place is read back once.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::disk::{DiskError, Sha256Digest, read_text_limited, write_whole};

/// The file's name in the folder `finished`.
pub const MEMORY_FILE: &str = "deposits.json";
/// More than this is no memory of ours, in octets.
const LIMIT: u64 = 64 << 20;
const SHAPE: u32 = 1;

/// A bundle that was read back whole.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Arrived {
    /// Its size.
    pub octets: u64,
    /// Its digest.
    pub sha256: Sha256Digest,
}

/// A sending in parts that was begun.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct UnderWay {
    /// Of which octets.
    pub sha256: Sha256Digest,
    /// What the store calls it.
    pub upload: String,
    /// The size of each part but the last, in octets.
    pub part_octets: u64,
    /// What the store called each part that has arrived, by its number from 0.
    pub parts: BTreeMap<u32, String>,
}

#[derive(Debug, Default, Serialize, Deserialize)]
struct Place {
    arrived: BTreeMap<String, Arrived>,
    under_way: BTreeMap<String, UnderWay>,
}

#[derive(Debug, Serialize, Deserialize)]
struct Written {
    shape: u32,
    places: BTreeMap<String, Place>,
}

/// What is remembered of one place.
#[derive(Debug)]
pub struct Memory {
    path: PathBuf,
    place: String,
    all: Written,
}

impl Memory {
    /// Reads the memory of an archive for one place. A file that can't be understood counts as forgotten.
    pub fn read(folder: &Path, place: &str) -> Result<Self, DiskError> {
        let path = folder.join(MEMORY_FILE);
        let all = match read_text_limited(&path, LIMIT) {
            Ok(text) => serde_json::from_str::<Written>(&text)
                .ok()
                .filter(|written| written.shape == SHAPE),
            Err(error) if error.is_missing() || matches!(error, DiskError::NotText { .. }) => None,
            Err(error) => return Err(error),
        };
        Ok(Self {
            path,
            place: place.to_owned(),
            all: all.unwrap_or(Written {
                shape: SHAPE,
                places: BTreeMap::new(),
            }),
        })
    }

    /// What is known of a bundle that arrived.
    pub fn arrived(&self, name: &str) -> Option<&Arrived> {
        self.all.places.get(&self.place)?.arrived.get(name)
    }

    /// What is known of a bundle under way.
    pub fn under_way(&self, name: &str) -> Option<&UnderWay> {
        self.all.places.get(&self.place)?.under_way.get(name)
    }

    /// Remembers that a bundle was read back whole.
    pub fn set_arrived(&mut self, name: &str, arrived: Arrived) -> Result<(), DiskError> {
        let place = self.here();
        place.under_way.remove(name);
        place.arrived.insert(name.to_owned(), arrived);
        self.write()
    }

    /// Remembers how far a sending has come; nothing when it has ended.
    pub fn set_under_way(&mut self, name: &str, far: Option<UnderWay>) -> Result<(), DiskError> {
        let place = self.here();
        match far {
            Some(far) => place.under_way.insert(name.to_owned(), far),
            None => place.under_way.remove(name),
        };
        self.write()
    }

    /// Forgets that a bundle arrived.
    pub fn forget(&mut self, name: &str) -> Result<(), DiskError> {
        match self.here().arrived.remove(name) {
            Some(_) => self.write(),
            None => Ok(()),
        }
    }

    fn here(&mut self) -> &mut Place {
        self.all.places.entry(self.place.clone()).or_default()
    }

    fn write(&self) -> Result<(), DiskError> {
        let mut text = serde_json::to_string_pretty(&self.all).unwrap_or_default();
        text.push('\n');
        write_whole(&self.path, text.as_bytes()).map(|_| ())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_remembered_is_known_again_and_a_spoilt_memory_counts_as_none() {
        let folder = tempfile::tempdir().unwrap();
        let sha256 = Sha256Digest::of(b"x");
        let mut memory = Memory::read(folder.path(), "s3://looms").unwrap();
        let far = UnderWay {
            sha256,
            upload: "u1".into(),
            part_octets: 8,
            parts: BTreeMap::from([(0, "\"e0\"".to_owned())]),
        };
        memory.set_under_way("a.r1.zip", Some(far.clone())).unwrap();
        memory
            .set_arrived("b.r1.zip", Arrived { octets: 1, sha256 })
            .unwrap();
        let again = Memory::read(folder.path(), "s3://looms").unwrap();
        assert_eq!(again.under_way("a.r1.zip"), Some(&far));
        assert_eq!(again.arrived("b.r1.zip").unwrap().octets, 1);
        let elsewhere = Memory::read(folder.path(), "/media/stick").unwrap();
        assert!(elsewhere.arrived("b.r1.zip").is_none());
        std::fs::write(folder.path().join(MEMORY_FILE), "{").unwrap();
        let spoilt = Memory::read(folder.path(), "s3://looms").unwrap();
        assert!(spoilt.arrived("b.r1.zip").is_none());
    }
}
