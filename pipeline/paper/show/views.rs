//! What each reader of a show's papers may know. Visitors see what is public of each piece; installers how it hangs;
//! carriers how it is rolled; the registrar, who is bound to silence, who lends it and for how much it is insured.
//! Prices stand in a view of their own, which is made only when a list of prices is asked for.

use crate::paper::PublicView;
use crate::paper::letters::{line, paragraphs};
use crate::quantity::{Day, Edtf, Length, Money};
use crate::reckon::exposure::Budget;
use crate::record::{Exhibition, HangFrom, Measures, PaperSize, Studio, Told};

/// What is public of a show as a whole.
#[derive(Debug, Clone, PartialEq)]
pub struct ShowView {
    pub(in crate::paper) languages: Vec<String>,
    pub(in crate::paper) sheet: PaperSize,
    pub(in crate::paper) measures: Measures,
    pub(in crate::paper) studio: String,
    pub(in crate::paper) weaver: String,
    pub(in crate::paper) place: Option<String>,
    pub(in crate::paper) contact: Option<String>,
    pub(in crate::paper) slug: String,
    pub(in crate::paper) title: String,
    pub(in crate::paper) venue: Option<String>,
    pub(in crate::paper) open: Edtf,
    pub(in crate::paper) hours: Option<(f64, f64)>,
    pub(in crate::paper) first_day: Option<Day>,
    pub(in crate::paper) introduction: Texts,
    pub(in crate::paper) print_ready: bool,
    pub(in crate::paper) codes: bool,
    /// The pieces in their order.
    pub pieces: Vec<ShowPiece>,
}

/// Paragraphs, by language where they are told in several.
pub(in crate::paper) type Texts = Vec<(Option<String>, Vec<String>)>;

/// What is public of one piece in a show.
#[derive(Debug, Clone, PartialEq)]
pub struct ShowPiece {
    /// Its number in the catalogue.
    pub number: usize,
    /// What is public of it anywhere.
    pub public: PublicView,
    /// Whether its record is the one that was finished.
    pub finished: bool,
    /// What else its label says.
    pub(in crate::paper) label: Texts,
    /// The group of labels it belongs to.
    pub(in crate::paper) group: Option<String>,
    /// The wall it hangs on.
    pub(in crate::paper) wall: Option<String>,
}

impl ShowView {
    /// A show without its pieces.
    pub fn of(studio: &Studio, exhibition: &Exhibition, languages: Vec<String>) -> ShowView {
        let yes = |asked: &Option<crate::record::At<bool>>| asked.as_ref().is_some_and(|a| a.value);
        ShowView {
            languages,
            sheet: studio.paper,
            measures: studio.measures,
            studio: line(&studio.studio),
            weaver: line(&studio.weaver),
            place: studio.place.as_ref().map(|p| line(p)),
            contact: studio.contact.as_ref().map(|c| line(c)),
            slug: exhibition.slug.clone(),
            title: line(&exhibition.title),
            venue: exhibition.venue.as_ref().map(|v| line(v)),
            open: exhibition.open.value.clone(),
            hours: exhibition
                .hours
                .as_ref()
                .map(|h| (h.days_a_week.value, h.hours_a_day.value)),
            first_day: exhibition.first_day(),
            introduction: texts(&exhibition.introduction),
            print_ready: yes(&exhibition.print_ready),
            codes: yes(&exhibition.codes),
            pieces: Vec::new(),
        }
    }
}

impl ShowView {
    /// The languages of the papers, the leading one first.
    pub fn languages(&self) -> &[String] {
        &self.languages
    }
}

impl ShowPiece {
    /// A piece of the show. It speaks the show's languages.
    pub fn of(
        number: usize,
        public: PublicView,
        shown: &crate::record::Shown,
        wall: Option<&str>,
        finished: bool,
    ) -> ShowPiece {
        ShowPiece {
            number,
            public,
            finished,
            label: texts(&shown.label),
            group: shown.group.as_ref().map(|g| line(g)),
            wall: wall.map(line),
        }
    }
}

fn texts(told: &[Told]) -> Texts {
    told.iter()
        .map(|t| (t.language.clone(), paragraphs(&t.text)))
        .filter(|(_, all)| !all.is_empty())
        .collect()
}

/// A wall with what hangs on it, for the installer.
#[derive(Debug, Clone, PartialEq)]
pub struct WallView {
    /// Its name.
    pub name: String,
    /// From corner to corner.
    pub width: Length,
    /// From floor to ceiling, where that is told.
    pub height: Option<Length>,
    /// What must be kept clear: from, to, and what is there.
    pub clear: Vec<(Length, Length, Option<String>)>,
    /// What pieces hang from.
    pub hang: Option<HangFrom>,
    /// The most it may carry, kg.
    pub limit: Option<f64>,
    /// The pieces from left to right.
    pub pieces: Vec<HungView>,
}

/// A piece on its wall, for the installer.
#[derive(Debug, Clone, PartialEq)]
pub struct HungView {
    /// Its place in the show's list.
    pub index: usize,
    /// Its left edge from the left corner.
    pub left: Length,
    /// Its lower edge above the floor.
    pub bottom: Length,
    /// Its width.
    pub width: Length,
    /// Its height.
    pub height: Length,
    /// What it weighs with its bar, kg.
    pub mass: Option<f64>,
    /// Fixings from the left corner.
    pub across: Vec<Length>,
    /// Fixings above the floor.
    pub above: Length,
    /// Whether the fixings are those of the record.
    pub known: bool,
}

/// The plan as a whole, for the installer.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanView {
    /// The walls in the order of the visitor's way.
    pub walls: Vec<WallView>,
    /// Pieces without a place, by their places in the show's list.
    pub left_over: Vec<usize>,
    /// Whether it is proved that no plan is better.
    pub best: bool,
    /// The height that the works have in common: of their top edges, or else of their middles.
    pub line: (bool, Length),
}

/// What the registrar may know of one piece.
#[derive(Debug, Clone, PartialEq)]
pub struct RegisteredView {
    /// Its light budget, where the show's light and hours are told.
    pub budget: Option<Budget>,
    /// Who lends it.
    pub lender: Option<String>,
    /// First and last day of the loan.
    pub span: (Option<Day>, Option<Day>),
    /// What it is insured for.
    pub insured: Option<Money>,
    /// How it travels.
    pub transport: Option<String>,
    /// Its roll: length and diameter.
    pub roll: Option<(Length, Length)>,
    /// Its box outside: length, then width and height alike.
    pub parcel: Option<[Length; 2]>,
    /// What piece, and packing where that was weighed, weigh together, kg.
    pub mass: Option<f64>,
    /// Whether the packing's own mass is in it.
    pub with_packing: bool,
}

/// An opening and the pieces, by their places in the list, whose rolls do not pass.
#[derive(Debug, Clone, PartialEq)]
pub struct OpeningView {
    /// What it is.
    pub what: String,
    /// Which do not pass.
    pub stuck: Vec<usize>,
    /// Of which it is not known.
    pub unknown: Vec<usize>,
}
