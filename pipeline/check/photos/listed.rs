//! The listed photographs with what was seen in each.

use crate::check::Subject;
use crate::read::same_name;
use crate::record::{Photo, Sight};

/// Listed photographs whose file was looked at.
pub(in crate::check) fn seen<'a>(
    subject: &'a Subject,
) -> impl Iterator<Item = (&'a Photo, &'a Sight)> {
    subject.piece.photos.iter().filter_map(|photo| {
        let name = same_name(subject.sights.keys().map(String::as_str), &photo.file)?;
        Some((photo, subject.sights.get(name)?))
    })
}
