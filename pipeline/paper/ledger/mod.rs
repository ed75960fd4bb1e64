//! The studio sheet, for the studio alone: time, money, yarns, how the figures stand to each other, every
//! owner, and what the record does not say. No other paper has any of it.

mod facts;
mod money;
mod view;
mod yarns;

pub use view::StudioView;

use super::common::{Common, ident, lead};
use super::plates::Plates;
use super::press::{Draft, Press};
use super::said::{Fact, Said};
use super::words::Words;
use super::{PaperError, Sheet};
use serde::Serialize;
use yarns::YarnTable;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct StudioSheet {
    common: Common,
    name: Said,
    title: String,
    /// That it stays in the studio.
    stays: Said,
    /// Sections of facts before the yarns and after them; none is empty.
    before: Vec<Section>,
    yarns: YarnTable,
    after: Vec<Section>,
    /// Sections that stand side by side below those.
    beside: Vec<Section>,
    wanting_head: Said,
    /// What the record does not say; empty where it says everything.
    wanting: Vec<Said>,
}

/// A head and its facts.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Section {
    head: Said,
    groups: Vec<Vec<Fact>>,
}

impl Press {
    /// The studio sheet. It is for the studio alone.
    pub fn studio_sheet(&self, view: &StudioView, plates: &Plates) -> Result<Sheet, PaperError> {
        let piece = &view.owner.public;
        let tongues = self.lexicon.choose(&piece.languages);
        let words = lead(&tongues);
        let term = |get: fn(&Words) -> &String| Said::each(&tongues, |w| get(w).clone());
        let section = |head: Said, facts: Vec<Fact>| {
            (!facts.is_empty()).then(|| Section {
                head,
                groups: vec![facts],
            })
        };
        let data = StudioSheet {
            common: Common::of(piece, &tongues, &words.ledger.name, plates),
            name: term(|w| &w.ledger.name),
            title: piece.title.clone(),
            stays: term(|w| &w.ledger.stays),
            before: [
                section(term(|w| &w.ledger.time), facts::time(view, &tongues)),
                section(
                    term(|w| &w.ledger.money),
                    money::money_facts(view, &tongues),
                ),
            ]
            .into_iter()
            .flatten()
            .collect(),
            yarns: yarns::table(view, &tongues),
            after: section(term(|w| &w.ledger.figures), facts::figures(view, &tongues))
                .into_iter()
                .collect(),
            beside: [
                section(
                    term(|w| &w.ledger.finishing),
                    facts::finishing(view, &tongues),
                ),
                section(term(|w| &w.ledger.keepers), facts::keepers(view, &tongues)),
            ]
            .into_iter()
            .flatten()
            .collect(),
            wanting_head: term(|w| &w.ledger.wanting),
            wanting: view
                .wanting
                .iter()
                .map(|what| Said::each(&tongues, |w| w.lacks(what).to_string()))
                .collect(),
        };
        self.set(Draft {
            template: "/studio-sheet.typ",
            ident: ident(piece, "studio-sheet"),
            data: &data,
            plates: &plates.ladder_alone(),
            code: None,
            record: None,
            wanting: Vec::new(),
        })
    }
}
