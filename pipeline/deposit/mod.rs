//! Deposit: copies of issued bundles in another place, each sent once, read back, and never overwritten.
//!
//! A place is a folder, an S3 store's bucket or a folder behind WebDAV. Whatever it is, the rules are the same:
//! only a bundle that is whole here is sent; it gets its name there when it has arrived, and only where nothing
//! has that name; then it is read back and its SHA-256 compared; and it is remembered, so that the next deposit
//! sends only what is new. The stores of the network need the cargo feature `deposit`.

mod address;
#[cfg(feature = "deposit")]
mod dav;
mod error;
mod folder;
#[cfg(feature = "deposit")]
mod line;
mod memory;
#[cfg(feature = "deposit")]
mod s3;
#[cfg(feature = "deposit")]
mod s3_parts;

use std::path::{Path, PathBuf};

use crate::audit::{Rank, Verdict, judge_watched};
use crate::disk::{Sha256Digest, digest_file};

pub use crate::audit::Watch;
pub use address::Address;
pub use error::DepositError;
pub use memory::{Arrived, MEMORY_FILE, Memory, UnderWay};

/// Names, passwords and settings for the stores of the network, by the name of their environment variable.
pub type Credentials = std::collections::BTreeMap<String, String>;

/// The variables that are looked at besides those that begin with `AWS_`.
pub const WEBDAV_USER: &str = "OFFLOOM_WEBDAV_USER";
/// The password that belongs to [`WEBDAV_USER`].
pub const WEBDAV_PASSWORD: &str = "OFFLOOM_WEBDAV_PASSWORD";

/// A bundle to send.
#[derive(Debug, Clone)]
pub struct Bundle {
    /// Where it lies here.
    pub path: PathBuf,
    /// Its file name, here and there.
    pub name: String,
    /// Its size.
    pub octets: u64,
    /// The digest of the whole file.
    pub sha256: Sha256Digest,
}

impl Bundle {
    fn must_be(&self, arrived: Sha256Digest, place: &str) -> Result<(), DepositError> {
        if arrived == self.sha256 {
            return Ok(());
        }
        Err(DepositError::ArrivedOtherwise {
            name: self.name.clone(),
            place: place.to_owned(),
            sent: self.sha256.to_string(),
            arrived: arrived.to_string(),
        })
    }
}

/// What became of one bundle.
#[derive(Debug)]
pub enum Outcome {
    /// It was sent and read back.
    Sent,
    /// It was there already; `read_back` when that was proved by reading it in this run.
    There {
        /// Whether it was read.
        read_back: bool,
    },
    /// It would have been sent.
    WouldSend,
    /// Nothing was done, for this reason.
    Failed(DepositError),
}

/// How to deposit.
#[derive(Debug, Clone, Copy, Default)]
pub struct Manner {
    /// Only say what would be sent.
    pub dry: bool,
    /// Read back what is there already, even if it was read back before.
    pub reread: bool,
}

/// What every place can do.
trait Place {
    /// The size of the file of that name; nothing when there is none.
    fn octets_of(&self, name: &str) -> Result<Option<u64>, DepositError>;
    /// Sends a bundle under its name, which must be free.
    fn send(
        &self,
        bundle: &Bundle,
        memory: &mut Memory,
        watch: Watch<'_>,
    ) -> Result<(), DepositError>;
    /// Reads the file of that name and gives its digest.
    fn digest_of(&self, name: &str, watch: Watch<'_>) -> Result<Sha256Digest, DepositError>;
    /// Whether `send` compares the digest before the bundle gets its name.
    fn reads_back_itself(&self) -> bool {
        false
    }
}

fn open(
    address: &Address,
    credentials: &Credentials,
    manner: Manner,
) -> Result<Box<dyn Place>, DepositError> {
    match address {
        Address::Folder(path) => Ok(Box::new(folder::Folder::open(path, manner.dry)?)),
        #[cfg(feature = "deposit")]
        Address::S3 { bucket, prefix } => {
            Ok(Box::new(s3::Bucket::open(bucket, prefix, credentials)?))
        }
        #[cfg(feature = "deposit")]
        Address::WebDav { url } => Ok(Box::new(dav::WebDav::open(url, credentials)?)),
        #[cfg(not(feature = "deposit"))]
        other => {
            let _ = credentials;
            Err(DepositError::FoldersOnly(other.to_string()))
        }
    }
}

/// Deposits bundles, in the order given. `finished` is the folder whose [`MEMORY_FILE`] remembers deposits;
/// `tell` hears of each bundle. What is wrong with one bundle does not keep the others; what is wrong with the
/// place ends the run.
///
/// # Errors
/// Where the place can not be reached or used, or the run was stopped.
pub fn deposit(
    bundles: &[PathBuf],
    address: &Address,
    credentials: &Credentials,
    finished: &Path,
    manner: Manner,
    watch: Watch<'_>,
    tell: &mut dyn FnMut(&Path, Outcome),
) -> Result<(), DepositError> {
    let place = open(address, credentials, manner)?;
    let mut memory = Memory::read(finished, &address.to_string())?;
    for path in bundles {
        if (watch.cancelled)() {
            return Err(DepositError::Stopped);
        }
        match one(place.as_ref(), path, address, &mut memory, manner, watch) {
            Ok(outcome) => tell(path, outcome),
            Err(error) if error.is_of_the_bundle() => tell(path, Outcome::Failed(error)),
            Err(error) => return Err(error),
        }
    }
    Ok(())
}

fn one(
    place: &dyn Place,
    path: &Path,
    address: &Address,
    memory: &mut Memory,
    manner: Manner,
    watch: Watch<'_>,
) -> Result<Outcome, DepositError> {
    let name = path
        .file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned();
    let octets = std::fs::metadata(path)
        .map_err(|e| crate::disk::DiskError::from_io(path, "looking at it", e))?
        .len();
    let other_file = || DepositError::OtherFile {
        name: name.clone(),
        place: address.to_string(),
    };
    if let Some(there) = place.octets_of(&name)? {
        if there != octets {
            return Err(other_file());
        }
        let known = memory.arrived(&name).filter(|known| known.octets == octets);
        if known.is_some() && !manner.reread {
            return Ok(Outcome::There { read_back: false });
        }
        let sha256 = match known {
            Some(known) => known.sha256,
            None => digest_file(path)?.sha256,
        };
        if place.digest_of(&name, watch)? != sha256 {
            if !manner.dry {
                memory.forget(&name)?;
            }
            return Err(other_file());
        }
        if !manner.dry {
            memory.set_arrived(&name, Arrived { octets, sha256 })?;
        }
        return Ok(Outcome::There { read_back: true });
    }
    whole(path, &name, watch)?;
    if manner.dry {
        return Ok(Outcome::WouldSend);
    }
    let sha256 = digest_file(path)?.sha256;
    let bundle = Bundle {
        path: path.to_path_buf(),
        name,
        octets,
        sha256,
    };
    place.send(&bundle, memory, watch)?;
    if !place.reads_back_itself() {
        let arrived = place.digest_of(&bundle.name, watch)?;
        bundle.must_be(arrived, &address.to_string())?;
    }
    memory.set_arrived(&bundle.name, Arrived { octets, sha256 })?;
    Ok(Outcome::Sent)
}

/// Only whole bundles are worth a second place.
fn whole(path: &Path, name: &str, watch: Watch<'_>) -> Result<(), DepositError> {
    let quiet = Watch {
        progress: &|_| {},
        cancelled: watch.cancelled,
    };
    let verdict: Verdict = judge_watched(path, quiet);
    if (watch.cancelled)() {
        return Err(DepositError::Stopped);
    }
    if verdict.is_valid() {
        return Ok(());
    }
    let first = verdict
        .faults
        .iter()
        .find(|fault| fault.rank == Rank::Error);
    Err(DepositError::NotWhole {
        name: name.to_owned(),
        why: first.map_or_else(String::new, |fault| {
            format!("{}: {}", fault.file, fault.message)
        }),
    })
}
