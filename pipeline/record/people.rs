//! People around a piece: owners, and the makers of a community piece. Most of this is private.

use super::place::{At, Place};
use crate::quantity::{Edtf, Length, Reading};

/// One owner in the order of time.
#[derive(Debug, Clone, PartialEq)]
pub struct Owner {
    /// Since when, or from when to when.
    pub from: At<Edtf>,
    /// How the public may hear of the owner.
    pub public: Option<At<String>>,
    /// The true name. Private to the owner.
    pub name: Option<At<String>>,
    /// The address. Private to the owner.
    pub address: Option<At<String>>,
    /// How the piece came to them: commissioned, bought, given, inherited.
    pub how: Option<At<String>>,
}

/// The makers of a community piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Makers {
    /// Where they are listed.
    pub place: Place,
    /// Everybody.
    pub roll: Vec<Maker>,
    /// The grid of squares.
    pub squares: Option<Squares>,
}

/// One maker.
#[derive(Debug, Clone, PartialEq)]
pub struct Maker {
    /// The name as it may be printed.
    pub name: At<String>,
    /// Adult or minor.
    pub age: Option<At<Age>>,
    /// Whether the name may be printed.
    pub consent: Option<At<Consent>>,
}

impl Maker {
    /// Whether the name may stand on a public paper: only with consent given.
    pub fn may_be_named(&self) -> bool {
        matches!(self.consent.as_ref().map(|c| c.value), Some(Consent::Yes))
    }
}

/// Adult or minor.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Age {
    /// Of age.
    Adult,
    /// Not of age.
    Minor,
}

impl Age {
    /// How it is written.
    pub const ALL: &'static [(&'static str, Age)] = &[("adult", Age::Adult), ("minor", Age::Minor)];
}

/// Consent to print a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Consent {
    /// Given.
    Yes,
    /// Refused.
    No,
    /// Nobody knows.
    Unknown,
}

impl Consent {
    /// How it is written.
    pub const ALL: &'static [(&'static str, Consent)] = &[
        ("yes", Consent::Yes),
        ("no", Consent::No),
        ("unknown", Consent::Unknown),
    ];
}

/// The grid of squares of a community piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Squares {
    /// Rows from the top.
    pub rows: At<u32>,
    /// Columns from the left.
    pub columns: At<u32>,
    /// Side of one square.
    pub side: Option<At<Reading<Length>>>,
    /// A file in the piece's folder that says who made which.
    pub map: Option<At<String>>,
}
