//! A studio's own face: templates, words and pictures of its own that take the place of the embedded
//! ones, and further letters. It holds bytes alone; from which folder they come is decided elsewhere.
//!
//! A template sees these files, what [`super::Press`] hands it, and nothing else.

use super::PaperError;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

/// The version of the data that templates are given. It grows when a field goes away or changes its
/// meaning; a new field leaves it as it is. The shapes stand in `templates/schema/`.
pub const DATA_SHAPE: u32 = 1;

/// A studio's own face. The empty one is the embedded face.
#[derive(Debug, Clone, Default)]
pub struct Face {
    files: BTreeMap<String, Vec<u8>>,
    letters: Vec<Vec<u8>>,
}

impl Face {
    /// Adds a file by its path below the folder of the face, with `/` between folders: one named as an
    /// embedded file (`certificate.typ`, `words/de.yaml`) takes its place, any other may be asked for
    /// by a template.
    pub fn add_file(&mut self, path: &str, bytes: Vec<u8>) {
        self.files.insert(path.to_string(), bytes);
    }

    /// Adds a font file for characters that the embedded letters lack. Where several have one, the
    /// first that was added serves.
    pub fn add_letters(&mut self, bytes: Vec<u8>) {
        self.letters.push(bytes);
    }

    /// Whether it is the embedded face.
    pub fn is_plain(&self) -> bool {
        self.files.is_empty() && self.letters.is_empty()
    }

    /// A digest of all of it, for telling whether papers would come out the same.
    pub fn digest(&self) -> String {
        let mut all = Sha256::new();
        for (path, bytes) in &self.files {
            all.update(format!("file {} {path} {}\n", path.len(), bytes.len()));
            all.update(bytes);
        }
        for bytes in &self.letters {
            all.update(format!("letters {}\n", bytes.len()));
            all.update(bytes);
        }
        data_encoding::HEXLOWER.encode(&all.finalize())
    }

    /// The files that are text, by their path, to show a mistake in.
    pub fn texts(&self) -> impl Iterator<Item = (&str, &str)> {
        self.files
            .iter()
            .filter_map(|(path, bytes)| Some((path.as_str(), std::str::from_utf8(bytes).ok()?)))
    }

    pub(super) fn letters(&self) -> &[Vec<u8>] {
        &self.letters
    }

    /// Every file but the words.
    pub(super) fn files(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.files
            .iter()
            .filter(|(path, _)| !path.starts_with("words/"))
            .map(|(path, bytes)| (path.as_str(), bytes.as_slice()))
    }

    /// The studio's own words of a language.
    pub(super) fn words(&self, code: &str) -> Option<Result<&str, PaperError>> {
        let path = format!("words/{code}.yaml");
        let bytes = self.files.get(&path)?;
        Some(text(&path, bytes))
    }

    /// Files of words for languages that there are none of.
    pub(super) fn strange_words(&self, known: &[&str]) -> Vec<PaperError> {
        self.files
            .keys()
            .filter_map(|path| path.strip_prefix("words/"))
            .filter(|name| !known.iter().any(|code| *name == format!("{code}.yaml")))
            .map(|name| PaperError {
                own: true,
                ..PaperError::plain(
                    &format!("words/{name}"),
                    format!(
                        "the papers have no words of this name; there are {}",
                        known.join(", ")
                    ),
                )
            })
            .collect()
    }
}

/// A file of a face as text, or the place where it ceases to be UTF-8.
pub(super) fn text<'a>(path: &str, bytes: &'a [u8]) -> Result<&'a str, PaperError> {
    std::str::from_utf8(bytes).map_err(|error| {
        let before = bytes.get(..error.valid_up_to()).unwrap_or_default();
        PaperError {
            own: true,
            template: path.to_string(),
            line: before.iter().filter(|b| **b == b'\n').count() + 1,
            column: 1,
            message: "this line is not UTF-8 text".to_string(),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_octet_of_a_face_counts() {
        let mut one = Face::default();
        let plain = one.digest();
        one.add_file("style.typ", b"a".to_vec());
        let first = one.digest();
        assert_ne!(first, plain);
        one.add_file("style.typ", b"b".to_vec());
        assert_ne!(one.digest(), first);
        let mut other = Face::default();
        other.add_letters(b"b".to_vec());
        assert_ne!(one.digest(), other.digest());
    }

    #[test]
    fn a_file_that_is_no_text_is_named_with_its_line() {
        let error = text("style.typ", b"#let a = 1\n\xff").unwrap_err();
        assert_eq!((error.line, error.own), (2, true));
    }
}
