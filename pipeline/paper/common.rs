//! What every paper has: its place in the file's metadata, its foot, its ladder, and the phrases that
//! more than one paper uses.

use super::plates::Plates;
use super::quote::QuoteView;
use super::said::Said;
use super::show::ShowView;
use super::views::PublicView;
use super::words::{Words, fill};
use super::{Wanting, dates};
use crate::quantity::Day;
use crate::record::{PaperSize, Top};
use serde::Serialize;

/// The part of the data that is the same for every paper.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Common {
    /// The version of this shape.
    shape: u32,
    /// Families of further faces, for characters that the embedded one lacks.
    faces: Vec<String>,
    about: About,
    lang: String,
    bilingual: bool,
    sheet: &'static str,
    foot: Foot,
    ladder: Option<Described>,
}

/// The file's metadata.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct About {
    title: String,
    author: String,
    description: String,
    keywords: Vec<String>,
    /// Year, month and day.
    date: (i32, u8, u8),
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Foot {
    record: String,
    number: String,
    check: char,
    page: String,
    studio: String,
    /// What stands at the left in place of a record, where the paper is of a show.
    left: Option<String>,
}

/// A picture by its description alone.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Described {
    pub alt: String,
}

/// The day a file is dated with where its record tells of none: PDF/A will not go without.
const NO_DAY: Day = Day {
    year: 1970,
    month: 1,
    day: 1,
};

impl Common {
    pub(super) fn of(view: &PublicView, tongues: &[&Words], name: &str, plates: &Plates) -> Common {
        let words = lead(tongues);
        let (number, check) = view.number.spoken();
        // The clock is never asked: the day of issue, else the last day the record tells of.
        let Day { year, month, day } = view.issued.or(view.last_day).unwrap_or(NO_DAY);
        let mut keywords = vec![view.studio.clone(), view.number.nih()];
        keywords.extend(view.technique.clone());
        Common {
            shape: super::DATA_SHAPE,
            faces: Vec::new(),
            about: About {
                title: format!("{} – {name}", view.title),
                author: view.weaver.clone(),
                description: format!("{name}. {} {}", words.foot.record, view.number.ni()),
                keywords,
                date: (year, month, day),
            },
            lang: words.language.code.clone(),
            bilingual: tongues.len() > 1,
            sheet: sheet_name(view.sheet),
            foot: Foot {
                record: words.foot.record.clone(),
                number,
                check,
                page: words.foot.page.clone(),
                studio: match &view.place {
                    Some(place) => format!("{}, {place}", view.studio),
                    None => view.studio.clone(),
                },
                left: None,
            },
            ladder: plates.ladder_svg.map(|_| Described {
                alt: words.alt.ladder.clone(),
            }),
        }
    }
}

impl Common {
    /// For a paper of a show, which is of no one record.
    pub(super) fn of_show(show: &ShowView, tongues: &[&Words], name: &str) -> Common {
        let words = lead(tongues);
        // The clock is never asked: the day the show opens.
        let Day { year, month, day } = show.first_day.unwrap_or(NO_DAY);
        Common {
            shape: super::DATA_SHAPE,
            faces: Vec::new(),
            about: About {
                title: format!("{} – {name}", show.title),
                author: show.studio.clone(),
                description: match &show.venue {
                    Some(venue) => format!("{name}. {venue}"),
                    None => name.to_owned(),
                },
                keywords: vec![show.studio.clone(), show.title.clone()],
                date: (year, month, day),
            },
            lang: words.language.code.clone(),
            bilingual: tongues.len() > 1,
            sheet: sheet_name(show.sheet),
            foot: Foot {
                record: String::new(),
                number: String::new(),
                check: ' ',
                page: words.foot.page.clone(),
                studio: show.studio.clone(),
                left: Some(show.title.clone()),
            },
            ladder: None,
        }
    }
}

impl Common {
    /// For a quote, which is of no record yet. It has no day but the one that is written on it.
    pub(super) fn of_quote(
        view: &QuoteView,
        tongues: &[&Words],
        name: &str,
        title: &str,
    ) -> Common {
        let words = lead(tongues);
        let Day { year, month, day } = view.window.map_or(NO_DAY, |(start, _, _)| start);
        Common {
            shape: super::DATA_SHAPE,
            faces: Vec::new(),
            about: About {
                title: format!("{title} – {name}"),
                author: view.weaver.clone(),
                description: name.to_owned(),
                keywords: vec![view.studio.clone()],
                date: (year, month, day),
            },
            lang: words.language.code.clone(),
            bilingual: tongues.len() > 1,
            sheet: sheet_name(view.sheet),
            foot: Foot {
                record: String::new(),
                number: String::new(),
                check: ' ',
                page: words.foot.page.clone(),
                studio: match &view.place {
                    Some(place) => format!("{}, {place}", view.studio),
                    None => view.studio.clone(),
                },
                left: Some(title.to_owned()),
            },
            ladder: None,
        }
    }
}

/// The sheet by the name that Typst has for it.
fn sheet_name(size: PaperSize) -> &'static str {
    match size {
        PaperSize::A4 => "a4",
        PaperSize::Letter => "us-letter",
    }
}

/// The leading language. There always is one.
pub(super) fn lead<'a>(tongues: &[&'a Words]) -> &'a Words {
    tongues
        .first()
        .expect("the lexicon never chooses an empty list")
}

/// A stable name for a paper of a record, from which the file's identifier is made.
pub(super) fn ident(view: &PublicView, paper: &str) -> String {
    format!("{}#{paper}", view.number.ni())
}

/// The front's description where the record has none.
pub(super) fn front_alt(view: &PublicView, words: &Words) -> String {
    fill(&words.alt.front, &[("title", &view.title)])
}

/// The series and the piece's place in it: "Slack Water, number 2 or 3 of 9".
pub(super) fn series(view: &PublicView, w: &Words) -> Option<String> {
    let series = view.series.as_ref()?;
    let numbers: Vec<String> = series.numbers.iter().map(u32::to_string).collect();
    let total = series.of.map(|n| n.to_string());
    let pattern = match (numbers.is_empty(), &total) {
        (false, Some(_)) => &w.series.numbered,
        (false, None) => &w.series.numbered_open,
        (true, Some(_)) => &w.series.unnumbered,
        (true, None) => return Some(series.name.clone()),
    };
    Some(fill(
        pattern,
        &[
            ("name", &series.name),
            ("number", &w.one_of(&numbers)),
            ("total", total.as_deref().unwrap_or_default()),
        ],
    ))
}

/// How it hangs against how it was woven.
pub(super) fn way_up(top: Top, w: &Words) -> &str {
    match top {
        Top::Finish => &w.facts.top_finish,
        Top::Start => &w.facts.top_start,
        Top::Left => &w.facts.top_left,
        Top::Right => &w.facts.top_right,
    }
}

/// The size as stated.
pub(super) fn size(view: &PublicView, tongues: &[&Words]) -> Said {
    Said::each(tongues, |w| view.extent.in_words(view.measures, w))
}

/// Who made it: the weaver, or how many together.
pub(super) fn maker(view: &PublicView, tongues: &[&Words]) -> Said {
    match &view.makers {
        Some(all) => Said::each(tongues, |w| {
            fill(&w.facts.made_by_many, &[("count", &all.count.to_string())])
        }),
        None => Said::own(&view.weaver),
    }
}

/// When it was made.
pub(super) fn made(view: &PublicView, tongues: &[&Words]) -> Said {
    Said::each(tongues, |w| dates::in_words(&view.made, w))
}

/// A sentence's capital.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// Notes what is wanting where it is.
pub(super) fn want(
    out: &mut Vec<Wanting>,
    is_there: bool,
    field: &'static str,
    what: &'static str,
) {
    if !is_there {
        out.push(Wanting { field, what });
    }
}
