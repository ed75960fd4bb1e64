//! What the pages of the portfolio say of a piece, in one language. They are no papers: how they are laid out is decided
//! where they are made. What the public page says comes from the public view alone.

use super::common::{capital, front_alt, made, maker, series, size};
use super::figures::{money, short};
use super::ledger::StudioView;
use super::said::Fact;
use super::views::PublicView;
use super::words::{Words, fill};
use super::{Press, catalogue, dates, facts};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The words of the pages in one language. Patterns keep their `{…}`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs)] // Each is named for where it stands.
pub struct PageWords {
    pub works: String,
    pub series: String,
    pub list: String,
    pub skip: String,
    /// The language by its own name.
    pub language: String,
    pub search: String,
    pub search_hint: String,
    pub filters: String,
    pub kind: String,
    pub technique: String,
    pub year: String,
    pub size: String,
    pub place: String,
    pub colour: String,
    pub any: String,
    pub order: String,
    pub newest: String,
    pub oldest: String,
    pub clear: String,
    pub count_one: String,
    pub count: String,
    pub none: String,
    pub more: String,
    pub timeline: String,
    pub by_year: String,
    pub enlarge: String,
    pub larger: String,
    pub smaller: String,
    pub whole: String,
    pub close: String,
    pub zoom_help: String,
    pub further: String,
    pub before: String,
    pub after: String,
    pub no_picture: String,
    pub private: String,
    pub at_studio: String,
    pub undated: String,
    pub title: String,
    pub feed: String,
    pub ladder: String,
    pub kinds: BTreeMap<String, String>,
    pub sizes: BTreeMap<String, String>,
    pub colours: BTreeMap<String, String>,
    pub views: BTreeMap<String, String>,
    pub numbers: BTreeMap<String, String>,
}

/// A term and its value, line by line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WebFact {
    /// What it is.
    pub term: String,
    /// What it says.
    pub lines: Vec<String>,
}

/// A piece as everybody may read of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WebPiece {
    /// Title.
    pub title: String,
    /// When it was made, in words.
    pub made: String,
    /// Who made it.
    pub maker: String,
    /// Technique and materials.
    pub medium: Option<String>,
    /// Height by width by thickness.
    pub size: String,
    /// Its place in its series, in words.
    pub series: Option<String>,
    /// How the public may hear of the owner.
    pub kept_by: Option<String>,
    /// The weaver's words.
    pub statement: Vec<String>,
    /// Makers who agreed to be named, in a sentence.
    pub makers: Option<String>,
    /// Facts in groups that belong together.
    pub facts: Vec<Vec<WebFact>>,
    /// What the front shows, where the record does not say it.
    pub front_alt: String,
    /// What stands before the record's number.
    pub record_term: String,
    /// The record's number to read aloud, and its check digit.
    pub record: (String, char),
    /// The record's full name.
    pub record_name: String,
    /// Who took the photographs.
    pub photographs: Option<String>,
}

/// What the studio alone may read of a piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WebPrivate {
    /// Owners, price, sum insured, hours.
    pub facts: Vec<WebFact>,
}

impl Press {
    /// The words of the pages in a language; in English where it has none.
    pub fn page_words(&self, language: &str) -> PageWords {
        self.one(language).page.clone()
    }

    fn one(&self, language: &str) -> &Words {
        let chosen = self.lexicon.choose(&[language.to_string()]);
        super::common::lead(&chosen)
    }

    /// A piece in a language; `photographers` are those whose pictures its page shows.
    pub fn web_piece(
        &self,
        view: &PublicView,
        language: &str,
        photographers: &[String],
    ) -> WebPiece {
        let w = self.one(language);
        let t = &[w];
        let groups = facts::public_groups(view, t);
        WebPiece {
            title: view.title.clone(),
            made: made(view, t).plain(),
            maker: maker(view, t).plain(),
            medium: catalogue::medium(view, t).map(|m| m.plain()),
            size: size(view, t).plain(),
            series: series(view, w),
            kept_by: view.kept_by.clone(),
            statement: view.statement.clone(),
            makers: view
                .makers
                .as_ref()
                .and_then(|all| catalogue::makers(all, t))
                .map(|m| m.plain()),
            facts: groups
                .iter()
                .map(|group| group.iter().map(web_fact).collect())
                .collect(),
            front_alt: front_alt(view, w),
            record_term: w.foot.record.clone(),
            record: view.number.spoken(),
            record_name: view.number.ni(),
            photographs: (!photographers.is_empty()).then(|| {
                let pattern = if photographers.len() > 1 {
                    &w.catalogue.photographs
                } else {
                    &w.catalogue.photograph
                };
                fill(pattern, &[("who", &w.all_of(photographers))])
            }),
        }
    }

    /// What the studio alone may read of a piece.
    pub fn web_private(&self, view: &StudioView, language: &str) -> WebPrivate {
        let w = self.one(language);
        let mut facts = Vec::new();
        let mut tell = |term: &str, lines: Vec<String>| {
            if !lines.is_empty() {
                facts.push(WebFact {
                    term: term.to_string(),
                    lines,
                });
            }
        };
        let keepers = view.keepers().iter().map(|k| {
            let mut line = k.who.clone();
            for more in [&k.address, &k.how].into_iter().flatten() {
                line.push_str(&format!(", {more}"));
            }
            format!("{line}, {}", dates::since(&k.from, w))
        });
        tell(&w.ledger.keepers, keepers.collect());
        let finances = view.finances();
        let sum = |m: &Option<crate::quantity::Money>| m.iter().map(|m| money(m, w)).collect();
        tell(&w.ledger.price, sum(&finances.price));
        tell(&w.ledger.insured, sum(&finances.insured));
        let hours = view.hours().map(|h| format!("{} h", short(h, w)));
        tell(&w.ledger.hours, hours.into_iter().collect());
        WebPrivate { facts }
    }
}

fn web_fact(fact: &Fact) -> WebFact {
    let mut lines: Vec<String> = fact.lines.iter().map(|l| l.plain()).collect();
    lines.extend(fact.note.iter().map(|n| n.plain()));
    WebFact {
        term: capital(&fact.term.plain()),
        lines,
    }
}
