//! The one door to the file system: walking a folder, reading with a limit, digests, and files that
//! appear whole or not at all.
//!
//! Everything that touches a disk goes through here, so that the promises (inputs are only read, an
//! output is never half there, nothing is silently skipped) are kept and tested in one place. What a
//! file means is for the modules above.

mod digest;
mod fault;
mod folders;
mod lock;
mod new_folder;
mod read;
mod walk;
mod write;

pub use digest::{
    Digester, Digests, Sha256Digest, Sha512Digest, TwoLanes, digest_file, digest_reader,
};
pub use fault::DiskError;
pub use folders::{Subfolders, subfolders};
pub use lock::Lock;
pub use new_folder::NewFolder;
pub use read::{Stamp, open_file, read_limited, read_private_limited, read_text_limited};
pub use walk::{Found, LeftOut, Listing, list_folder};
pub use write::{
    NewFile, Written, append, copy_light, copy_new, length_of, make_folder, remove, set_aside,
    sweep_leftovers, write_light, write_new, write_private_new, write_whole,
};

/// How every unfinished file of this program begins its name. It starts with a dot, so a file manager
/// hides it, and [`list_folder`] counts it as litter.
pub const UNFINISHED_PREFIX: &str = ".offloom-unfinished-";

/// Octets read or written at a time: large enough to keep a disk busy, small enough to forget.
pub(crate) const CHUNK: usize = 256 * 1024;
