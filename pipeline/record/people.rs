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
    /// Everybody: those of piece.yaml first, then those of the file.
    pub roll: Vec<Maker>,
    /// A file in the piece's folder that holds the roll, or more of it.
    pub roll_file: Option<At<String>>,
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
    /// What the name is sorted by, where that is not its last word.
    pub sort: Option<At<String>>,
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
    /// Side of one square as it was woven.
    pub side: Option<At<Reading<Length>>>,
    /// What a seam between two squares takes from the wall.
    pub seam_takes: Option<At<Reading<Length>>>,
    /// What a seam between two squares adds to the wall, a braid or a crocheted join.
    pub seam_adds: Option<At<Reading<Length>>>,
    /// The part of its side that a square loses when it is washed, 0 to 0.5.
    pub shrinkage: Option<At<f64>>,
    /// What is sewn on around the whole wall, on each of its sides.
    pub border: Option<At<Reading<Length>>>,
    /// Whether it hangs over people's heads.
    pub overhead: Option<At<bool>>,
    /// A file in the piece's folder that says who made which.
    pub map: Option<At<String>>,
    /// What that file says, line by line; empty where there is none.
    pub made: Vec<Square>,
}

/// The most squares that are looked at one by one.
pub const MOST_SQUARES: u32 = 20_000;

impl Squares {
    /// How many there are; nothing where there are more than anybody sews together.
    pub fn count(&self) -> Option<u32> {
        let all = self.rows.value.checked_mul(self.columns.value)?;
        (all <= MOST_SQUARES).then_some(all)
    }

    /// Whether the grid has a square there.
    pub fn has(&self, square: &Square) -> bool {
        (1..=self.rows.value).contains(&square.row)
            && (1..=self.columns.value).contains(&square.column)
    }
}

/// One square, as the map has it.
#[derive(Debug, Clone, PartialEq)]
pub struct Square {
    /// Where it is written.
    pub place: Place,
    /// Its row from the top, from 1.
    pub row: u32,
    /// Its column from the left as seen from the front, from 1.
    pub column: u32,
    /// Who made it; several where they made it together.
    pub makers: Vec<At<String>>,
    /// What else the map says of it, by the column's head.
    pub more: Vec<(String, String)>,
}
