//! The series as a page shows them: every number with the works that have it, and what follows of the others.

use super::pages::Small;
use serde::Serialize;

/// One series.
#[derive(Debug, Clone, Serialize)]
pub(super) struct SeriesBlock {
    pub name: String,
    pub sentences: Vec<String>,
    pub numbers: Vec<NumberBox>,
}

/// One number, or what has none.
#[derive(Debug, Clone, Serialize)]
pub(super) struct NumberBox {
    pub number: String,
    /// `number`, `one_of`, `maybe`, `free`, `open`.
    pub state: &'static str,
    /// The same in words, for those who can not see it.
    pub said: String,
    pub pieces: Vec<Shown>,
}

/// A work in a box.
#[derive(Debug, Clone, Serialize)]
pub(super) struct Shown {
    pub slug: String,
    pub title: String,
    pub thumb: Option<String>,
    pub width: Option<u32>,
    pub height: Option<u32>,
}

impl Shown {
    pub fn of(slug: String, title: String, small: Option<Small>) -> Shown {
        Shown {
            slug,
            title,
            width: small.as_ref().map(|s| s.size.0),
            height: small.as_ref().map(|s| s.size.1),
            thumb: small.map(|s| s.path),
        }
    }
}

/// Every series of the archive.
pub(super) fn blocks(
    _archive: &crate::read::Archive,
    _studio: &crate::record::Studio,
    _works: &[super::work::Work],
    _words: &crate::paper::PageWords,
) -> Vec<SeriesBlock> {
    Vec::new()
}
