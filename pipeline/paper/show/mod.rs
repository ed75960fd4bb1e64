//! The papers of a show: the catalogue, wall labels, the list of works, the hang plan, the light budget, loans, prices
//! and the packing list. Each is set from views that hold only what its reader may know.

mod book;
mod labels;
mod light;
mod list;
mod lists;
mod packing;
mod plan;
mod plan_svg;
mod views;
mod words;

pub(in crate::paper) use list::{ListPaper, Section, Table};
pub use views::{HungView, OpeningView, PlanView, RegisteredView, ShowPiece, ShowView, WallView};
pub(in crate::paper) use words::ShowWords;
#[cfg(test)]
pub(in crate::paper) use {book::Book, labels::WallLabels, plan::HangPlan};

use super::common::lead;
use super::plates::{Picture, Plates};
use super::press::Draft;
use super::said::Said;
use super::words::{Words, fill};
use super::world::Supply;
use super::{PaperError, Press, Sheet, dates};
use crate::quantity::{Length, Mass, Reading};
use serde::Serialize;
use typst::foundations::Bytes;
use views::Texts;

/// The pictures of one piece of a show.
#[derive(Debug, Clone, Default)]
pub struct ShowPlates<'a> {
    /// The whole front.
    pub front: Option<Picture<'a>>,
    /// The colour ladder as SVG.
    pub ladder: Option<&'a str>,
}

/// Where a picture lies among all pictures of a paper, and how it may stand.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct Placed {
    from: usize,
    to: usize,
    #[serde(flatten)]
    plate: super::plates::Plate,
}

/// All pictures of a paper one behind the other.
#[derive(Debug, Default)]
struct Pile(Vec<u8>);

impl Pile {
    fn add(&mut self, picture: &Picture, alt: String) -> Placed {
        let from = self.0.len();
        self.0.extend_from_slice(picture.jpeg);
        Placed {
            from,
            to: self.0.len(),
            plate: picture.plate(alt),
        }
    }
}

/// A text of hers: one that stands in each language, or one that stands once.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Paragraphs {
    lang: Option<String>,
    paragraphs: Vec<String>,
}

/// The texts for the show's languages: those that are told in them, else the first there is.
fn paragraphs(told: &Texts, languages: &[String]) -> Vec<Paragraphs> {
    let made = |(lang, paragraphs): &(Option<String>, Vec<String>)| Paragraphs {
        lang: lang.clone(),
        paragraphs: paragraphs.clone(),
    };
    let chosen: Vec<Paragraphs> = languages
        .iter()
        .filter_map(|code| told.iter().find(|(lang, _)| lang.as_ref() == Some(code)))
        .map(made)
        .collect();
    if chosen.is_empty() {
        told.first().map(made).into_iter().collect()
    } else {
        chosen
    }
}

/// What stands below a paper's title: where, when, and the hours.
fn under(show: &ShowView, tongues: &[&Words]) -> Vec<Said> {
    let mut out: Vec<Said> = show.venue.iter().map(Said::own).collect();
    out.push(open_on(show, tongues));
    out.extend(hours(show, tongues));
    out
}

fn open_on(show: &ShowView, tongues: &[&Words]) -> Said {
    Said::each(tongues, |w| {
        let dates = dates::in_words(&show.open, w);
        fill(&w.show.catalogue.open_on, &[("dates", &dates)])
    })
}

fn hours(show: &ShowView, tongues: &[&Words]) -> Option<Said> {
    let (days, hours) = show.hours?;
    Some(Said::each(tongues, |w| {
        let (days, hours) = (
            super::figures::short(days, w),
            super::figures::short(hours, w),
        );
        fill(
            &w.show.catalogue.hours,
            &[("days", &days), ("hours", &hours)],
        )
    }))
}

/// A mass to be told: grams below a kilogram, else to ten grams.
fn kg(value: f64, show: &ShowView, w: &Words) -> String {
    let reading = Reading {
        text: String::new(),
        value: Mass::from_g(value * 1000.0),
        half_place: Mass::from_g(if value < 1.0 { 0.5 } else { 5.0 }),
    };
    super::figures::mass(&reading, show.measures, w)
}

/// A length to be told, to the millimetre.
fn cm(value: Length, show: &ShowView, w: &Words) -> String {
    super::figures::length(value, show.measures, w)
}

impl Press {
    /// Sets a paper of a show with its pictures.
    fn set_of_show<D: Serialize>(
        &self,
        show: &ShowView,
        kind: &str,
        template: &'static str,
        data: &D,
        pictures: Pile,
    ) -> Result<Sheet, PaperError> {
        let draft = Draft {
            template,
            ident: format!("show:{}#{kind}", show.slug),
            data,
            plates: &Plates::default(),
            code: None,
            record: None,
            wanting: Vec::new(),
        };
        self.set_with(draft, vec![(Supply::Leaves, Bytes::new(pictures.0))])
    }

    /// The show's words in its languages.
    fn tongues(&self, show: &ShowView) -> Vec<&Words> {
        self.lexicon.choose(&show.languages)
    }
}

/// A phrase of the show's words in each language.
fn term(tongues: &[&Words], get: impl Fn(&ShowWords) -> &String) -> Said {
    Said::each(tongues, |w| get(&w.show).clone())
}

/// The name of a paper in the leading language.
fn named(tongues: &[&Words], get: impl Fn(&ShowWords) -> &String) -> String {
    get(&lead(tongues).show).clone()
}
