//! The time-stamp over a piece's record, where the studio has laid one into the piece's folder.

use crate::bundle::{Item, Source};
use crate::check::while_setting::TIME_STAMP;
use crate::disk::{digest_file, read_limited};
use crate::read::PieceFolder;
use crate::record::{Finding, Piece, Studio, View, declared};
use crate::seal::{AUTHORITY_FILE, LARGEST_TIME_STAMP, TIME_STAMP_FILE, TimeStamp};

/// What is wrong with the time-stamp, where the record is not at hand.
pub(super) fn finding_of(studio: &Studio, folder: &PieceFolder, piece: &Piece) -> Option<Finding> {
    let named = |name: &str| folder.listing.files.iter().find(|f| f.relative == name);
    named(TIME_STAMP_FILE)?;
    let front = piece
        .photo(View::Front)
        .and_then(|photo| named(&format!("photos/{}", photo.file.value)))
        .and_then(|file| digest_file(&file.path).ok())
        .map(|digests| digests.sha256.to_string());
    finding(folder, &declared(studio, piece, front.as_deref()))
}

/// What is wrong with the time-stamp; `record` are the octets of record.json.
pub(super) fn finding(folder: &PieceFolder, record: &[u8]) -> Option<Finding> {
    let file = folder
        .listing
        .files
        .iter()
        .find(|file| file.relative == TIME_STAMP_FILE)?;
    let found = |message: String, remedy: &str| {
        Some(TIME_STAMP.at(&folder.place(TIME_STAMP_FILE), message, remedy))
    };
    let again = "ask the authority again, as the README tells, or take the file away";
    let octets = match read_limited(&file.path, LARGEST_TIME_STAMP) {
        Ok(octets) => octets,
        Err(error) => return found(error.complaint(), again),
    };
    match TimeStamp::read(&octets).map(|stamp| stamp.is_for(record)) {
        Ok(Some(true)) => None,
        Ok(Some(false)) => found(
            "this time-stamp is not for the record as it is now; perhaps the record was changed since".into(),
            "give the old one another name, to keep it for the former record, and ask for a new one",
        ),
        Ok(None) => found("this time-stamp rests on a digest that is not known here".into(), again),
        Err(error) => found(format!("this file {error}"), again),
    }
}

/// The time-stamp and its authority's certificates, to lie beside the record they belong to; none when it is
/// for another record.
pub(super) fn carried(folder: &PieceFolder, record: &[u8]) -> Vec<Item> {
    let has_one = folder
        .listing
        .files
        .iter()
        .any(|file| file.relative == TIME_STAMP_FILE);
    if !has_one || finding(folder, record).is_some() {
        return Vec::new();
    }
    let carried = folder
        .listing
        .files
        .iter()
        .filter(|file| file.relative == TIME_STAMP_FILE || file.relative == AUTHORITY_FILE);
    carried
        .map(|file| Item {
            path: file.relative.clone(),
            from: Source::File {
                path: file.path.clone(),
                size: file.size,
            },
        })
        .collect()
}
