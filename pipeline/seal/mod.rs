//! Seals: who vouches for a bundle, provable with OpenSSH alone.
//!
//! A seal is an SSH signature (OpenSSH, PROTOCOL.sshsig) by an Ed25519 key (RFC 8032) over the bundle's
//! `tagmanifest-sha256.txt`, which vouches for the manifests and through them for every file. Keys live
//! longer than their files: the list of signers says from when to when each was the studio's.
//!
//! Nothing here opens a file or looks at the clock.

mod key;
mod moment;
mod signers;
mod time_stamp;

pub use key::{PublicKey, SealError, SealKey, verify};
pub use moment::Moment;
pub use signers::{LineFault, Signer, Signers};
pub use time_stamp::{
    AUTHORITY_FILE, LARGEST_TIME_STAMP, TIME_STAMP_FILE, TimeStamp, TimeStampError,
};

/// The command that proves a seal by OpenSSH alone, to be given in the bundle's own folder.
pub fn proving_line(principal: &str) -> String {
    format!(
        "ssh-keygen -Y verify -f {SIGNERS_FILE} -I {principal} -n {NAMESPACE} \\\n  -s {SIGNATURE_FILE} < {SEALED_FILE}"
    )
}

/// What the signatures are for, so that none of them can be passed off as one for another purpose.
pub const NAMESPACE: &str = "offloom-bundle";
/// The file that is signed, in a bundle.
pub const SEALED_FILE: &str = "tagmanifest-sha256.txt";
/// The signature, in a bundle.
pub const SIGNATURE_FILE: &str = "seal/tagmanifest-sha256.txt.sig";
/// The public key, in a bundle.
pub const PUBLIC_KEY_FILE: &str = "seal/key.pub";
/// The studio's keys with their days, in a bundle, in the form that `ssh-keygen` reads.
pub const SIGNERS_FILE: &str = "seal/allowed_signers";
