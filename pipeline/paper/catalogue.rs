//! The catalogue page: the plate, the caption in museum order, the weaver's statement, and a quiet
//! line of how the piece grew.

use super::common::{Common, capital, front_alt, ident, lead, made, series, size, want};
use super::figures::length;
use super::plates::{Plate, Plates};
use super::press::{Draft, Press};
use super::said::Said;
use super::views::{Company, PublicView};
use super::words::{Words, fill};
use super::{PaperError, Sheet, Wanting, dates, fibres};
use crate::quantity::{Day, Length};
use serde::Serialize;

/// A statement longer than this many characters goes into two columns.
const ONE_COLUMN: usize = 900;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Page {
    common: Common,
    title: String,
    plate: Option<Plate>,
    second: Option<Plate>,
    caption: Caption,
    statement: Vec<String>,
    long: bool,
    chart: Option<Chart>,
    makers: Option<Said>,
}

/// The caption, in the order museums print it.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Caption {
    maker: Said,
    title: String,
    made: Said,
    series: Option<Said>,
    medium: Option<Said>,
    size: Said,
    credit: Option<String>,
    credits: Option<Said>,
    photographs: Option<Said>,
}

/// Height over the days, both from 0 to 1.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Chart {
    head: Said,
    points: Vec<(f64, f64)>,
    /// Every day with a height, for the ticks.
    days: Vec<f64>,
    first: End,
    last: End,
    alt: String,
}

/// What stands at an end of the chart: day and height on one line, or each on its own.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct End {
    line: Said,
    lines: [Said; 2],
}

impl Press {
    /// The catalogue page. It is public.
    pub fn catalogue_page(&self, view: &PublicView, plates: &Plates) -> Result<Sheet, PaperError> {
        let tongues = self.lexicon.choose(&view.languages);
        let words = lead(&tongues);
        let second_alt = || fill(&words.alt.second, &[("title", &view.title)]);
        let letters: usize = view.statement.iter().map(|p| p.chars().count()).sum();
        let data = Page {
            common: Common::of(view, &tongues, &words.catalogue.name, plates),
            title: view.title.clone(),
            plate: plates
                .front
                .as_ref()
                .map(|p| p.plate(front_alt(view, words))),
            second: plates.second.as_ref().map(|p| p.plate(second_alt())),
            caption: caption(view, plates, &tongues),
            statement: view.statement.clone(),
            long: letters > ONE_COLUMN,
            chart: chart(view, &tongues),
            makers: view.makers.as_ref().and_then(|m| makers(m, &tongues)),
        };
        self.set(Draft {
            template: "/catalogue-page.typ",
            ident: ident(view, "catalogue-page"),
            data: &data,
            plates,
            code: None,
            record: None,
            wanting: wanting(view, plates),
        })
    }
}

pub(super) fn caption(view: &PublicView, plates: &Plates, tongues: &[&Words]) -> Caption {
    Caption {
        maker: match &view.makers {
            Some(all) => Said::each(tongues, |w| {
                fill(&w.facts.made_by_many, &[("count", &all.count.to_string())])
            }),
            None => Said::own(&view.weaver),
        },
        title: view.title.clone(),
        made: made(view, tongues),
        series: view
            .series
            .as_ref()
            .map(|_| Said::each(tongues, |w| series(view, w).unwrap_or_default())),
        medium: medium(view, tongues),
        size: size(view, tongues),
        credit: view.kept_by.clone(),
        credits: (!view.credits.is_empty()).then(|| {
            let all = view.credits.join(&lead(tongues).join.semicolon);
            Said::each(tongues, |w| w.terms.credits.clone())
                .then(Said::own(format!("{}{all}", lead(tongues).colon())))
        }),
        photographs: photographs(plates, tongues),
    }
}

/// Technique and materials, the most first: "Slit tapestry; wool, cotton and silk". Her own words of
/// the technique stand once; materials without them begin with a capital.
pub(super) fn medium(view: &PublicView, tongues: &[&Words]) -> Option<Said> {
    let known = fibres::any_known(view);
    let materials = |w: &Words| fibres::materials(view, w).unwrap_or_default();
    match &view.technique {
        None => known.then(|| Said::each(tongues, |w| capital(&materials(w)))),
        Some(technique) if !known => Some(Said::own(capital(technique))),
        Some(technique) => Some(
            Said::own(format!(
                "{}{}",
                capital(technique),
                lead(tongues).join.semicolon
            ))
            .then(Said::each(tongues, materials)),
        ),
    }
}

fn photographs(plates: &Plates, tongues: &[&Words]) -> Option<Said> {
    let mut who: Vec<String> = Vec::new();
    for credit in [&plates.front, &plates.second]
        .into_iter()
        .flatten()
        .filter_map(|p| p.credit.as_deref())
        .map(super::letters::line)
    {
        if !credit.is_empty() && !who.contains(&credit) {
            who.push(credit);
        }
    }
    let several = plates.front.is_some() && plates.second.is_some();
    (!who.is_empty()).then(|| {
        Said::each(tongues, |w| {
            let pattern = if several {
                &w.catalogue.photographs
            } else {
                &w.catalogue.photograph
            };
            fill(pattern, &[("who", &w.all_of(&who))])
        })
    })
}

/// The makers who agreed to be named, and how many more there are. Where nobody is named, nothing
/// is said: the caption has the count.
pub(super) fn makers(all: &Company, tongues: &[&Words]) -> Option<Said> {
    let others = all.count.saturating_sub(all.names.len());
    (!all.names.is_empty()).then(|| {
        Said::each(tongues, |w| {
            let names = all.names.join(", ");
            let list = match others {
                0 => w.all_of(&all.names),
                1 => fill(&w.catalogue.names_and_one_other, &[("names", &names)]),
                n => fill(
                    &w.catalogue.names_and_others,
                    &[("names", &names), ("count", &n.to_string())],
                ),
            };
            format!("{} {list}.", w.catalogue.woven_by)
        })
    })
}

/// The chart needs two heights on two days.
fn chart(view: &PublicView, tongues: &[&Words]) -> Option<Chart> {
    let (first, last) = (view.growth.first()?, view.growth.last()?);
    let days = (last.0.ordinal() - first.0.ordinal()) as f64;
    let most = view.growth.iter().map(|(_, h)| h.mm()).fold(0.0, f64::max);
    if days <= 0.0 || most <= 0.0 {
        return None;
    }
    let x = |day: Day| (day.ordinal() - first.0.ordinal()) as f64 / days;
    let words = lead(tongues);
    let alt = fill(
        &words.catalogue.chart_alt,
        &[
            ("first", &dates::day(first.0, words)),
            ("last", &dates::day(last.0, words)),
            ("height", &length(last.1, view.measures, words)),
        ],
    );
    let one_year = first.0.year == last.0.year;
    let end = |(day, height): (Day, Length)| {
        let on = |w: &Words| {
            if one_year {
                dates::day_of_year(day, w)
            } else {
                dates::day(day, w)
            }
        };
        let high = |w: &Words| length(height, view.measures, w);
        End {
            line: Said::each(tongues, |w| format!("{}, {}", on(w), high(w))),
            lines: [Said::each(tongues, on), Said::each(tongues, high)],
        }
    };
    Some(Chart {
        head: Said::each(tongues, |w| w.catalogue.making.clone()),
        points: view
            .growth
            .iter()
            .map(|(d, h)| (x(*d), h.mm() / most))
            .collect(),
        days: view.growth.iter().map(|(d, _)| x(*d)).collect(),
        first: end(*first),
        last: end(*last),
        alt,
    })
}

/// What the paper leaves out.
pub(super) fn wanting(view: &PublicView, plates: &Plates) -> Vec<Wanting> {
    let mut out = Vec::new();
    let w = &mut out;
    want(
        w,
        plates.front.is_some(),
        "photos",
        "a photograph of the front",
    );
    want(w, plates.second.is_some(), "photos", "a second photograph");
    want(w, view.technique.is_some(), "technique", "the technique");
    want(w, fibres::any_known(view), "weft.fibre", "the fibres");
    want(
        w,
        !view.statement.is_empty(),
        "statement",
        "the weaver’s statement",
    );
    want(
        w,
        view.growth.len() > 1,
        "notes.md",
        "heights woven, for the chart of the making",
    );
    out
}
