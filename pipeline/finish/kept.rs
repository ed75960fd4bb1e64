//! What an earlier run made of a piece, for those who need it: the record's number and the plates, read only when
//! they are asked for.

use super::stamp::Stamp;
use crate::disk::{self, DiskError};
use crate::record::{Photo, Piece, RecordNumber, Shade, Studio, View, declared};
use std::path::{Path, PathBuf};

/// The largest plate that is read.
const LARGEST_PLATE: u64 = 64 * 1024 * 1024;
/// The largest record and ladder.
const LARGEST_TEXT: u64 = 4 * 1024 * 1024;

/// What was finished of a piece.
#[derive(Debug, Clone)]
pub struct Kept {
    home: PathBuf,
    stamp: Stamp,
    /// The number of the record as it is now.
    pub number: RecordNumber,
    /// Whether the record is the one that was finished; where it is not, the piece has changed since.
    pub current: bool,
}

/// A plate that lies there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KeptPlate {
    /// Its file.
    pub path: PathBuf,
    /// Pixels of the print plate, width and height.
    pub size: (u32, u32),
    /// The name that all plates of its photograph begin with.
    pub name: String,
    /// Its digest, SHA-256 in hexadecimal.
    pub sha256: String,
}

impl KeptPlate {
    /// Its bytes.
    ///
    /// # Errors
    /// Where the file is gone or can not be read.
    pub fn read(&self) -> Result<Vec<u8>, DiskError> {
        disk::read_limited(&self.path, LARGEST_PLATE)
    }
}

impl Kept {
    /// What lies in the output folder of a piece; nothing where it was never finished.
    pub fn of(out: &Path, studio: &Studio, piece: &Piece) -> Option<Kept> {
        let home = out.join(&piece.slug);
        let stamp = Stamp::read(&home)?;
        let front = piece.photo(View::Front);
        let sha256 = front
            .and_then(|photo| stamp.photos.iter().find(|p| p.file == photo.file.value))
            .map(|p| p.sha256.as_str());
        let record = declared(studio, piece, sha256);
        let finished = disk::read_limited(&home.join("record.json"), LARGEST_TEXT).ok()?;
        Some(Kept {
            number: RecordNumber::of(&record),
            current: finished == record,
            home,
            stamp,
        })
    }

    /// The print plate of a photograph, if there is one.
    pub fn print(&self, photo: &Photo) -> Option<KeptPlate> {
        self.plate(photo, "print")
    }

    /// The plate for the screen of a photograph, if there is one.
    pub fn screen(&self, photo: &Photo) -> Option<KeptPlate> {
        self.plate(photo, "screen")
    }

    /// The colours of a photograph in thousandths, the most frequent first; none but for the front.
    pub fn palette(&self, photo: &Photo) -> &[Shade] {
        let stamp = self
            .stamp
            .photos
            .iter()
            .find(|p| p.file == photo.file.value);
        stamp.map_or(&[], |p| &p.sight.palette)
    }

    /// The smallest plate of a photograph, if there is one.
    pub fn thumb(&self, photo: &Photo) -> Option<KeptPlate> {
        self.plate(photo, "thumb")
    }

    fn plate(&self, photo: &Photo, kind: &str) -> Option<KeptPlate> {
        let photos = &self.stamp.photos;
        let stamp = photos.iter().find(|p| p.file == photo.file.value)?;
        let name = stamp.plate.as_ref()?;
        let relative = format!("plates/{name}-{kind}.jpg");
        let made = self.stamp.outputs.iter().find(|o| o.path == relative)?;
        Some(KeptPlate {
            path: self.home.join(relative),
            size: stamp.print,
            name: name.clone(),
            sha256: made.sha256.clone(),
        })
    }

    /// Whether there is a colour ladder.
    pub fn has_ladder(&self) -> bool {
        let outputs = &self.stamp.outputs;
        outputs.iter().any(|o| o.path == super::darkroom::LADDER)
    }

    /// The colour ladder as SVG, if there is one.
    pub fn ladder(&self) -> Option<String> {
        let path = self.home.join(super::darkroom::LADDER);
        disk::read_text_limited(&path, LARGEST_TEXT).ok()
    }
}
