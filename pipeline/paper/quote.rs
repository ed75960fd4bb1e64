//! The quote for the next piece, a page for the client: what it will be, when it may be ready, what it costs and how it
//! is paid. It is between the studio and the client; hours, rates and other clients' pieces are not in it.

use super::common::{Common, lead};
use super::figures::{self, Extent};
use super::letters::line;
use super::plates::Plates;
use super::press::Draft;
use super::said::{Fact, Said};
use super::words::{QuoteWords, Words, fill};
use super::{PaperError, Press, Sheet, dates};
use crate::quantity::{Day, Edtf, Length, Money, Reading};
use crate::record::{Measures, PaperSize, Studio};
use serde::Serialize;

/// What a client may know of a quote.
#[derive(Debug, Clone, PartialEq)]
pub struct QuoteView {
    pub(super) languages: Vec<String>,
    pub(super) sheet: PaperSize,
    pub(super) measures: Measures,
    pub(super) studio: String,
    pub(super) weaver: String,
    pub(super) place: Option<String>,
    pub(super) contact: Option<String>,
    pub(super) extent: Extent,
    /// The name the quote is kept under.
    pub name: String,
    /// What the piece is called, if it has a name already.
    pub title: Option<String>,
    /// Whom it is for.
    pub client: Option<String>,
    /// Colours of the weft.
    pub colours: usize,
    /// Months from the first day at the loom to the last, least and most.
    pub months: Option<(f64, f64)>,
    /// The day weaving begins, and the first and last day it may leave the loom.
    pub window: Option<(Day, Day, Day)>,
    /// The price.
    pub price: Option<Money>,
    /// What it is paid in: what for, or nothing for the usual three, and how much.
    pub stages: Vec<(Option<String>, Money)>,
    /// Finished pieces that the time rests on.
    pub pieces: usize,
    /// Of a hundred such pieces so many fall into the span.
    pub level: f64,
}

impl QuoteView {
    /// A quote of a studio for a piece of this size, with nothing else said yet.
    pub fn of(
        studio: &Studio,
        name: &str,
        height: &Reading<Length>,
        width: &Reading<Length>,
    ) -> QuoteView {
        let text = |v: &Option<crate::record::At<String>>| v.as_ref().map(|v| line(v));
        QuoteView {
            languages: studio.languages.iter().map(|l| l.value.clone()).collect(),
            sheet: studio.paper,
            measures: studio.measures,
            studio: line(&studio.studio),
            weaver: line(&studio.weaver),
            place: text(&studio.place),
            contact: text(&studio.contact),
            extent: Extent::flat(height, width),
            name: name.to_string(),
            title: None,
            client: None,
            colours: 0,
            months: None,
            window: None,
            price: None,
            stages: Vec::new(),
            pieces: 0,
            level: 0.0,
        }
    }
}

/// A quote as its template takes it.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Quote {
    common: Common,
    name: Said,
    title: String,
    client: Option<Said>,
    facts: Vec<Fact>,
    stages_head: Said,
    /// What for, how much.
    stages: Vec<(Said, Said)>,
    notes: Vec<Said>,
    contact: Option<String>,
    /// What is written on the lines: studio, client, day, the day until which it holds.
    signed: [Said; 4],
}

impl Press {
    /// Sets a quote.
    ///
    /// # Errors
    /// Where the typesetter refuses.
    pub fn quote(&self, view: &QuoteView) -> Result<Sheet, PaperError> {
        let tongues = self.lexicon.choose(&view.languages);
        let term =
            |get: &dyn Fn(&QuoteWords) -> &String| Said::each(&tongues, |w| get(&w.quote).clone());
        let words = lead(&tongues);
        let title = match &view.title {
            Some(title) => line(title),
            None => words.quote.piece.clone(),
        };
        let stages: Vec<(Said, Said)> = view
            .stages
            .iter()
            .enumerate()
            .map(|(i, (what, amount))| {
                let what = match (what, i) {
                    (Some(own), _) => Said::own(line(own)),
                    (None, 0) => term(&|w| &w.on_order),
                    (None, 1) => term(&|w| &w.half_woven),
                    (None, _) => term(&|w| &w.on_delivery),
                };
                (what, money(amount, &tongues))
            })
            .collect();
        let data = Quote {
            common: Common::of_quote(view, &tongues, &words.quote.name, &title),
            name: term(&|w| &w.name),
            client: view.client.as_ref().map(|client| {
                Said::each(&tongues, |w| {
                    fill(&w.quote.for_client, &[("client", client)])
                })
            }),
            facts: facts(view, &tongues),
            stages_head: term(&|w| &w.stages),
            stages,
            notes: notes(view, &tongues),
            contact: view.contact.clone(),
            signed: [
                Said::own(view.weaver.clone()),
                term(&|w| &w.client_line),
                term(&|w| &w.day_line),
                term(&|w| &w.until_line),
            ],
            title,
        };
        self.set(Draft {
            template: "/quote.typ",
            ident: format!("quote:{}", view.name),
            data: &data,
            plates: &Plates::default(),
            code: None,
            record: None,
            wanting: Vec::new(),
        })
    }
}

fn money(amount: &Money, tongues: &[&Words]) -> Said {
    Said::each(tongues, |w| figures::money(amount, w))
}

fn facts(view: &QuoteView, tongues: &[&Words]) -> Vec<Fact> {
    let say = |say: &dyn Fn(&Words) -> String| Said::each(tongues, say);
    let mut all = vec![
        Fact::new(
            say(&|w| w.terms.object.clone()),
            say(&|w| fill(&w.quote.woven_by, &[("weaver", &view.weaver)])),
        ),
        Fact::new(
            say(&|w| w.terms.size.clone()),
            say(&|w| view.extent.in_words(view.measures, w)),
        ),
    ];
    if view.colours > 0 {
        all.push(Fact::new(
            say(&|w| w.quote.colours.clone()),
            Said::own(view.colours.to_string()),
        ));
    }
    if let Some((low, high)) = view.months {
        let one = |months: f64, w: &Words| figures::short((months * 10.0).round() / 10.0, w);
        let mut fact = Fact::new(
            say(&|w| w.quote.time.clone()),
            say(&|w| {
                let (low, high) = (one(low, w), one(high, w));
                fill(&w.quote.months, &[("low", &low), ("high", &high)])
            }),
        );
        if let Some((start, from, to)) = view.window {
            fact.lines.push(say(&|w| {
                let day = |day: Day| {
                    Edtf::parse(&day.to_string())
                        .map_or(day.to_string(), |d| dates::in_words(&d, w))
                };
                let values = [day(start), day(from), day(to)];
                let [start, from, to] = &values;
                fill(
                    &w.quote.window,
                    &[("start", start), ("from", from), ("to", to)],
                )
            }));
        }
        all.push(fact);
    }
    if let Some(price) = &view.price {
        all.push(Fact::new(
            say(&|w| w.quote.price.clone()),
            money(price, tongues),
        ));
    }
    all
}

fn notes(view: &QuoteView, tongues: &[&Words]) -> Vec<Said> {
    let mut all = Vec::new();
    if view.months.is_some() {
        let percent = format!("{:.0}", 100.0 * view.level);
        let pieces = view.pieces.to_string();
        all.push(Said::each(tongues, |w| {
            fill(
                &w.quote.rests_on,
                &[("count", &pieces), ("percent", &percent)],
            )
        }));
    }
    all.push(Said::each(tongues, |w| w.quote.not_in_it.clone()));
    all.push(Said::each(tongues, |w| w.quote.no_contract.clone()));
    all
}
