//! An exhibition as its curator plans it: the rooms' walls, the pieces, the loans.

use super::packing::Opening;
use super::place::{At, Place};
use crate::quantity::{Day, Edtf, Illuminance, Length, Mass, Money, Reading};

/// What a file of `exhibitions/` says.
#[derive(Debug, Clone, PartialEq)]
pub struct Exhibition {
    /// The file's name without its ending.
    pub slug: String,
    /// The file as a whole, for what is missing from it.
    pub place: Place,
    /// Title.
    pub title: At<String>,
    /// Where it is shown.
    pub venue: Option<At<String>>,
    /// From the first day to the last.
    pub open: At<Edtf>,
    /// When it is open to visitors.
    pub hours: Option<OpeningHours>,
    /// Light on the pieces, where a wall has none of its own.
    pub light: Option<At<Reading<Illuminance>>>,
    /// Whether ultraviolet is filtered out.
    pub filtered: Option<At<bool>>,
    /// Languages of the papers; the studio's where empty.
    pub languages: Vec<At<String>>,
    /// The walls, in the order of the visitor's way.
    pub walls: Vec<Wall>,
    /// What the pieces are hung by.
    pub line: HangingLine,
    /// The least free width between two pieces.
    pub gap: Option<At<Reading<Length>>>,
    /// The pieces, as listed.
    pub pieces: Vec<Shown>,
    /// In which order they hang.
    pub order: Order,
    /// What others lend.
    pub loans: Vec<Loan>,
    /// Lifts, doors and vans that the rolls must pass.
    pub openings: Vec<Opening>,
    /// Whether a list of prices is asked for.
    pub price_list: Option<At<bool>>,
    /// Whether each wall label carries the record number's code.
    pub codes: Option<At<bool>>,
    /// Whether the catalogue is made with bleed and crop marks.
    pub print_ready: Option<At<bool>>,
    /// The text before the pieces.
    pub introduction: Vec<Told>,
}

/// A text in one language, or in no particular one.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// The language's letters; nothing where the text stands alone.
    pub language: Option<String>,
    /// The text.
    pub text: At<String>,
}

/// Days a week and hours a day.
#[derive(Debug, Clone, PartialEq)]
pub struct OpeningHours {
    /// Days a week, up to 7.
    pub days_a_week: At<f64>,
    /// Hours on such a day.
    pub hours_a_day: At<f64>,
}

/// One wall.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// Where it stands in the file.
    pub place: Place,
    /// Its name.
    pub name: At<String>,
    /// From corner to corner.
    pub width: At<Reading<Length>>,
    /// From floor to ceiling, or as high as pieces may hang.
    pub height: Option<At<Reading<Length>>>,
    /// Stretches where nothing may hang.
    pub keep_clear: Vec<KeepClear>,
    /// What pieces hang from.
    pub hang: Option<At<HangFrom>>,
    /// The most that it may carry in all.
    pub limit: Option<At<Reading<Mass>>>,
    /// Its own light, where it differs.
    pub light: Option<At<Reading<Illuminance>>>,
}

/// A stretch of a wall where nothing may hang: a door, a window, a radiator.
#[derive(Debug, Clone, PartialEq)]
pub struct KeepClear {
    /// From the left corner.
    pub from: At<Reading<Length>>,
    /// From the left corner.
    pub to: At<Reading<Length>>,
    /// What is there.
    pub what: Option<At<String>>,
}

/// What pieces hang from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HangFrom {
    /// A rail near the ceiling, by hangers.
    Rail,
    /// Fixings in the wall.
    Wall,
}

impl HangFrom {
    /// How it is written.
    pub const ALL: &'static [(&'static str, HangFrom)] =
        &[("rail", HangFrom::Rail), ("wall", HangFrom::Wall)];
}

/// What the pieces of a show have in common in height.
#[derive(Debug, Clone, PartialEq)]
pub enum HangingLine {
    /// Their middles, so high above the floor; as nobody said otherwise, the usual height.
    Centre(Option<At<Reading<Length>>>),
    /// Their top edges, so high above the floor.
    Top(At<Reading<Length>>),
}

/// In which order the pieces hang.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Order {
    /// As they are listed.
    #[default]
    AsListed,
    /// The earliest made first.
    Chronological,
    /// Series together, by their numbers.
    BySeries,
}

impl Order {
    /// How it is written.
    pub const ALL: &'static [(&'static str, Order)] = &[
        ("as listed", Order::AsListed),
        ("chronological", Order::Chronological),
        ("by series", Order::BySeries),
    ];
}

/// One piece of the show.
#[derive(Debug, Clone, PartialEq)]
pub struct Shown {
    /// The piece's folder name.
    pub piece: At<String>,
    /// The wall it has to hang on.
    pub wall: Option<At<String>>,
    /// More to be said on its wall label.
    pub label: Vec<Told>,
    /// The group it belongs to on the labels.
    pub group: Option<At<String>>,
    /// Whether it is for sale.
    pub for_sale: Option<At<bool>>,
    /// Its price.
    pub price: Option<At<Money>>,
    /// The day it is taken down, where that is before the end.
    pub until: Option<At<Day>>,
}

/// A loan to the show.
#[derive(Debug, Clone, PartialEq)]
pub struct Loan {
    /// The piece's folder name.
    pub piece: At<String>,
    /// Who lends it.
    pub lender: At<String>,
    /// The first day.
    pub from: Option<At<Day>>,
    /// The last day.
    pub to: Option<At<Day>>,
    /// What it is insured for.
    pub insured: Option<At<Money>>,
    /// How it travels: pieces of one transport are summed up.
    pub transport: Option<At<String>>,
}

impl Exhibition {
    /// The first day.
    pub fn first_day(&self) -> Option<Day> {
        self.open.earliest()
    }

    /// The last day.
    pub fn last_day(&self) -> Option<Day> {
        self.open.latest()
    }

    /// The loan of a piece.
    pub fn loan(&self, piece: &str) -> Option<&Loan> {
        self.loans.iter().find(|loan| *loan.piece == piece)
    }

    /// Whether prices may stand on a paper of their own.
    pub fn lists_prices(&self) -> bool {
        self.price_list.as_ref().is_some_and(|asked| asked.value)
    }
}
