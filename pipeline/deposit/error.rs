//! What can go wrong on the way to a place of deposit, in words for the person whose bundles they are.

use crate::disk::DiskError;

/// Why a bundle, or none at all, could be deposited.
#[derive(Debug, thiserror::Error)]
pub enum DepositError {
    /// An address that is none.
    #[error("`{address}` is no place of deposit: {why}")]
    Address {
        /// What was given, without any password.
        address: String,
        /// What is wrong, and what to write instead.
        why: String,
    },
    /// This program was built without the stores of the network.
    #[error(
        "{0}: this offloom was built for folders only. Build it with `cargo build --release --features deposit` to reach S3 stores and WebDAV."
    )]
    FoldersOnly(String),
    /// The folder or bucket is not there. None is made, for a wrong name would be made too.
    #[error(
        "{place}: there is no such place, or it can not be seen with this name and password ({why}). Check the address and that the disk is connected; a missing folder or bucket has to be made by hand first."
    )]
    NotThere {
        /// The place.
        place: String,
        /// What its keeper said.
        why: String,
    },
    /// Who asks is not known there, or may not.
    #[error(
        "{place}: access refused ({why}). Check the name and the password in the environment; `offloom deposit --help` lists their variables."
    )]
    Refused {
        /// The place.
        place: String,
        /// What its keeper said.
        why: String,
    },
    /// Something else has the bundle's name there.
    #[error(
        "{name}: there is another file of this name at {place}, and it is never overwritten. Audit both, and move the wrong one away by hand."
    )]
    OtherFile {
        /// The bundle.
        name: String,
        /// The place.
        place: String,
    },
    /// What arrived is not what was sent.
    #[error(
        "{name}: what arrived at {place} is not what was sent (SHA-256 {arrived} instead of {sent}). Take it away there by hand, and deposit again."
    )]
    ArrivedOtherwise {
        /// The bundle.
        name: String,
        /// The place.
        place: String,
        /// What was sent.
        sent: String,
        /// What was read back.
        arrived: String,
    },
    /// The bundle is not whole here, so it is not sent.
    #[error(
        "{name}: is not whole, so it is not deposited: {why}. `offloom audit` says more, and where a good copy may be."
    )]
    NotWhole {
        /// The bundle.
        name: String,
        /// The first fault.
        why: String,
    },
    /// The line to the place broke, again and again.
    #[error(
        "{name}: the line to {place} broke ({why}). Deposit again when it is back; what has arrived is not sent twice where the store allows it."
    )]
    Line {
        /// The bundle, or what was asked.
        name: String,
        /// The place.
        place: String,
        /// The last report.
        why: String,
    },
    /// Ctrl-C.
    #[error("stopped")]
    Stopped,
    /// A file here, or a folder to deposit in.
    #[error(transparent)]
    Disk(#[from] DiskError),
}

impl DepositError {
    /// Whether further bundles would meet the same, so that trying them is of no use.
    pub fn is_of_the_place(&self) -> bool {
        !matches!(
            self,
            Self::OtherFile { .. } | Self::ArrivedOtherwise { .. } | Self::NotWhole { .. }
        )
    }

    /// Whether the bundles themselves are at fault, and not the machine or the line.
    pub fn is_of_the_bundle(&self) -> bool {
        !self.is_of_the_place()
    }
}
