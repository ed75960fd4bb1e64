//! Makes bundles: a BagIt 1.0 bag (RFC 8493) written straight into one zip, the same octets for the
//! same contents on any day and machine, and never over an older one.
//!
//! What goes into a bundle, and in which words, is the caller's to say. Here it is given safe names,
//! written, digested in the same reading, read back by the audit's own judge, and only then named.

mod archive_name;
mod description;
mod info;
mod issue;
mod latest;
mod mend;
mod mend_lists;
mod name;
mod payload;
mod tags;
mod writer;

pub use archive_name::{ArchiveName, archive_name, archive_names};
pub use description::{Artwork, DESCRIPTION_FILE, DescribedFile, Description, Quantity};
pub use info::{BadField, BagInfo};
pub use issue::{Contents, IssueError, Issued, Item, Source, issue, issue_sealed};
pub use latest::{Former, FormerError, latest, latest_edition};
pub use mend::{MendError, Mended, mend};
pub use name::{BadName, BundleName, Edition};
pub use tags::{Seal, StudioSeal, TagFile};

/// Where, below `data/`, a bundle lists the files that were given a stand-in for their name. There is
/// none when no file was.
pub const RENAMED_FILE: &str = "renamed-files.json";
