//! One finished tapestry as the weaver declares it.

use super::hanging::Hanging;
use super::materials::{Finishing, Label, Loom, Part, Warp, Weft};
use super::measured::{Care, Display, Measured};
use super::notes::Notes;
use super::packing::Packing;
use super::people::{Makers, Owner};
use super::photo::{Photo, View};
use super::place::{At, Place};
use crate::quantity::{Day, Edtf, Money};

/// What piece.yaml and notes.md say.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// The folder's name.
    pub slug: String,
    /// The file as a whole, for what is missing from it.
    pub place: Place,
    /// Title.
    pub title: At<String>,
    /// When it was made.
    pub made: At<Edtf>,
    /// The same as it was written.
    pub made_text: String,
    /// What it was made for.
    pub kind: Option<At<Kind>>,
    /// The series it belongs to.
    pub series: Option<Series>,
    /// The woven edge that is the top when hung.
    pub top: Option<At<Top>>,
    /// Technique.
    pub technique: Option<At<String>>,
    /// What is written on it, and where.
    pub inscription: Option<At<String>>,
    /// The day that stands on the papers.
    pub issued: Option<At<Day>>,
    /// The weaver's own words.
    pub statement: Option<At<String>>,
    /// What it leans on.
    pub credits: Vec<Credit>,
    /// The loom.
    pub loom: Loom,
    /// The warp.
    pub warp: Warp,
    /// The weft. Never empty.
    pub weft: Vec<Weft>,
    /// Lining, heading and such.
    pub parts: Vec<Part>,
    /// Choices about the fibre label.
    pub label: Label,
    /// What was done after cutting off.
    pub finishing: Finishing,
    /// Tape and scale.
    pub measured: Measured,
    /// Photographs as listed.
    pub photos: Vec<Photo>,
    /// Owners in the order of time.
    pub owners: Vec<Owner>,
    /// How it is to be hung.
    pub hanging: Option<Hanging>,
    /// Where it hangs now.
    pub display: Option<Display>,
    /// Cleaning.
    pub care: Option<Care>,
    /// Rolling and sending.
    pub packing: Option<Packing>,
    /// Prices.
    pub money: Option<MoneyMatters>,
    /// Makers of a community piece.
    pub makers: Option<Makers>,
    /// Whether hours that the notes do not give may be estimated; not, where it is not said.
    pub missing_hours: Option<At<MissingHours>>,
    /// Process notes.
    pub notes: Notes,
}

impl Piece {
    /// The first listed photograph of the view.
    pub fn photo(&self, view: View) -> Option<&Photo> {
        self.photos.iter().find(|p| p.view.value == view)
    }

    /// Whether she asks for an estimate of hours that the notes do not give.
    pub fn estimates_hours(&self) -> bool {
        self.missing_hours
            .as_ref()
            .is_some_and(|m| m.value == MissingHours::Estimate)
    }

    /// The edge that hangs at the top; as woven where it is not said.
    pub fn top(&self) -> Top {
        self.top.as_ref().map_or(Top::Finish, |t| t.value)
    }
}

/// What a piece was made for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Ordered by somebody.
    Commission,
    /// One of a numbered series.
    Series,
    /// For the wall it may find.
    Speculative,
    /// Made by many.
    Community,
    /// A try.
    Study,
}

impl Kind {
    /// How it is written.
    pub const ALL: &'static [(&'static str, Kind)] = &[
        ("commission", Kind::Commission),
        ("series", Kind::Series),
        ("speculative", Kind::Speculative),
        ("community", Kind::Community),
        ("study", Kind::Study),
    ];

    /// The word it is written with.
    pub fn word(self) -> &'static str {
        Kind::ALL
            .iter()
            .find(|(_, k)| *k == self)
            .map_or("", |(w, _)| w)
    }
}

/// What is to be made of days without hours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MissingHours {
    /// Nothing: only noted hours count.
    Leave,
    /// An estimate from the days that have them.
    Estimate,
}

impl MissingHours {
    /// How it is written.
    pub const ALL: &'static [(&'static str, MissingHours)] = &[
        ("leave", MissingHours::Leave),
        ("estimate", MissingHours::Estimate),
    ];
}

/// A numbered series.
#[derive(Debug, Clone, PartialEq)]
pub struct Series {
    /// Its name.
    pub name: At<String>,
    /// The piece's number; several where it is one of them and nobody is sure.
    pub number: Option<At<Vec<u32>>>,
    /// How many there are or will be.
    pub of: Option<At<u32>>,
}

/// The woven edge that is the top when hung, seen from the front.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Top {
    /// Where the weaving ended: it hangs as it was woven.
    Finish,
    /// Where the weaving began: upside down.
    Start,
    /// The left selvedge: woven on its side.
    Left,
    /// The right selvedge: woven on its side.
    Right,
}

impl Top {
    /// How it is written.
    pub const ALL: &'static [(&'static str, Top)] = &[
        ("finish", Top::Finish),
        ("start", Top::Start),
        ("left", Top::Left),
        ("right", Top::Right),
    ];

    /// The word it is written with.
    pub fn word(self) -> &'static str {
        Top::ALL
            .iter()
            .find(|(_, t)| *t == self)
            .map_or("", |(w, _)| w)
    }

    /// Whether the warp lies level when the piece hangs.
    pub fn sideways(self) -> bool {
        matches!(self, Top::Left | Top::Right)
    }
}

/// Something the piece leans on.
#[derive(Debug, Clone, PartialEq)]
pub struct Credit {
    /// What.
    pub what: At<String>,
    /// Whose.
    pub who: Option<At<String>>,
}

/// Prices. Private.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct MoneyMatters {
    /// Price paid.
    pub price: Option<At<Money>>,
    /// Insured for.
    pub insured: Option<At<Money>>,
    /// Payments in stages.
    pub stages: Vec<Stage>,
}

/// One stage payment.
#[derive(Debug, Clone, PartialEq)]
pub struct Stage {
    /// What it is for.
    pub what: At<String>,
    /// How much.
    pub amount: At<Money>,
    /// When.
    pub on: Option<At<Edtf>>,
}
