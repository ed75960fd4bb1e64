//! A finding: something in the weaver's files that is wrong or worth a look, with its place and
//! what to do about it. How findings are shown is not decided here.

use super::place::Place;
use serde::Serialize;

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Rank {
    /// The papers would be wrong or can not be made.
    Error,
    /// Probably a slip; the papers are made.
    Warning,
    /// Worth knowing.
    Note,
}

/// A kind of finding: its name for machines and its rank.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FindingKind {
    /// Lower-case words joined by hyphens; never changed once published.
    pub name: &'static str,
    /// The rank of every finding of the kind.
    pub rank: Rank,
}

impl FindingKind {
    /// A kind of rank error.
    pub const fn error(name: &'static str) -> Self {
        FindingKind {
            name,
            rank: Rank::Error,
        }
    }
    /// A kind of rank warning.
    pub const fn warning(name: &'static str) -> Self {
        FindingKind {
            name,
            rank: Rank::Warning,
        }
    }
    /// A kind of rank note.
    pub const fn note(name: &'static str) -> Self {
        FindingKind {
            name,
            rank: Rank::Note,
        }
    }
    /// A finding of this kind.
    pub fn at(
        self,
        place: &Place,
        message: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Finding {
        Finding {
            kind: self,
            place: place.clone(),
            message: message.into(),
            remedy: remedy.into(),
            also: None,
        }
    }
}

/// One finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Its kind.
    pub kind: FindingKind,
    /// Where.
    pub place: Place,
    /// What is wrong, in her words, naming what she wrote.
    pub message: String,
    /// What to write or do instead.
    pub remedy: String,
    /// A second place that belongs to it, with a word on why.
    pub also: Option<(Place, String)>,
}

impl Finding {
    /// Adds the second place that the finding is about.
    pub fn and(mut self, place: &Place, why: impl Into<String>) -> Self {
        self.also = Some((place.clone(), why.into()));
        self
    }
}
