//! A bag opened to take files out of it, without any verdict on them: whoever takes one proves it.

use std::collections::{BTreeMap, BTreeSet};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use super::damage::TurnedBack;
use super::elsewhere::{Elsewhere, gather};
use super::holder::Holder;
use super::open;
use crate::bag::Algorithm;
use crate::disk::DiskError;

/// A folder, zip or tar with a bag in it.
pub struct OpenBag(Holder);

impl OpenBag {
    /// Opens it for reading.
    pub fn open(path: &Path) -> Result<Self, DiskError> {
        open(path).map(Self)
    }

    /// The folder that everything in it lies in.
    pub fn top(&self) -> &str {
        &self.0.top
    }

    /// The paths of its files below that folder, bytewise.
    pub fn files(&self) -> impl Iterator<Item = &str> {
        self.0.members.iter().map(|member| member.path.as_str())
    }

    /// A small file as a whole, nothing where it is not there or is larger than `limit` octets.
    pub fn small(&self, file: &str, limit: u64) -> Option<Vec<u8>> {
        self.0.read_small(self.0.find(file)?, limit)
    }

    /// The octets of a file and how many there should be.
    pub fn stream(&self, file: &str) -> io::Result<(Box<dyn Read>, u64)> {
        let member = self.0.find(file).ok_or(io::ErrorKind::NotFound)?;
        Ok((self.0.stream(member)?, self.0.members[member].size))
    }

    /// As [`Self::stream`], with one bit (octet, bit) turned over.
    pub fn stream_turned(&self, file: &str, at: (u64, u8)) -> io::Result<(Box<dyn Read>, u64)> {
        let (from, size) = self.stream(file)?;
        Ok((Box::new(TurnedBack::new(from, at)), size))
    }
}

/// Where, by the lists of these bags, files with the wanted checksums lie. Nothing is proved: a list says so.
pub fn listed_in(
    bags: &[PathBuf],
    wanted: &BTreeSet<(Algorithm, String)>,
) -> BTreeMap<(Algorithm, String), Vec<Elsewhere>> {
    let mut places = wanted.iter().map(|w| (w.clone(), Vec::new())).collect();
    for bag in bags {
        if let Ok(holder) = open(bag) {
            gather(bag, &holder, &|_| true, &mut places);
        }
    }
    places
}
