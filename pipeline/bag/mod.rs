//! The grammar of a BagIt bag, version 1.0 (RFC 8493): tag file lines, manifests, percent coding,
//! checksum algorithms, and what a path may hold.
//!
//! It is shared by what makes bags and what audits them, and opens no file: it only reads and writes
//! the texts. Rules about a bag as a whole are in `audit`.

mod algorithm;
mod info;
mod manifest;
mod path;

pub use algorithm::{Algorithm, Hashes};
pub use info::{Declaration, Declared, FieldFault, parse_declaration, parse_info, print_info};
pub use manifest::{
    LineFault, ManifestKind, ManifestLine, encode_path, lines, manifest_kind, parse_manifest,
    parse_manifest_line, print_manifest, raw_or_decoded,
};
pub use path::{Danger, check_path, composed, folded, unportable};
pub(crate) use path::{LONGEST_PART, is_directional, is_reserved};

/// The declaration every bag of version 1.0 in UTF-8 begins with (RFC 8493 section 2.1.1).
pub const DECLARATION: &str = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";

/// Name of the bag declaration.
pub const DECLARATION_FILE: &str = "bagit.txt";
/// Name of the bag's metadata.
pub const INFO_FILE: &str = "bag-info.txt";
/// Name of the list of holes.
pub const FETCH_FILE: &str = "fetch.txt";
/// What every payload path begins with.
pub const PAYLOAD: &str = "data/";
/// The metadata label for octets and number of payload files, `octets.files`.
pub const OXUM: &str = "Payload-Oxum";

/// The metadata label for piece and revision, `tide-tables r2`.
pub const PIECE_AND_REVISION: &str = "Internal-Sender-Identifier";
/// The metadata label for the former revision, `r1`: a label of this program's own.
pub const FORMER_REVISION: &str = "Former-Revision";
/// The metadata label for the SHA-256 of the former revision's `tagmanifest-sha256.txt`, which names that
/// whole bag in one number: a label of this program's own.
pub const FORMER_TAG_MANIFEST: &str = "Former-Tag-Manifest-SHA256";

/// The byte-order mark in UTF-8, which no UTF-8 tag file may begin with (RFC 8493 section 2.3).
pub const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";
