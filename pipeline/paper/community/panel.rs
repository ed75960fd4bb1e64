//! The panel for the wall: the title, and the names of those who agreed to be named. It is public.
//!
//! The template takes the largest of its sizes at which all names stand on as few sheets as the smallest one needs. The
//! smallest is 28 points: capitals of 6.4 mm, which are a quarter of a degree at 1.5 m, three times what sharp eyes need
//! (5 minutes of arc, the letter of 6/6 vision; three times that is common practice, no source).

use super::views::PanelView;
use super::{filled, named, of_ladder, term};
use crate::paper::common::{Common, made};
use crate::paper::said::Said;
use crate::paper::{PaperError, Press, Sheet};
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct CreditsPanel {
    common: Common,
    name: Said,
    title: String,
    /// How many made it, and when.
    under: Vec<Said>,
    /// The names in their order.
    names: Vec<String>,
    /// How many are not named.
    others: Option<Said>,
}

impl Press {
    /// The panel of names. It is public.
    ///
    /// # Errors
    /// Where the template has a fault.
    pub fn credits_panel(
        &self,
        view: &PanelView,
        ladder: Option<&str>,
    ) -> Result<Sheet, PaperError> {
        let t = self.lexicon.choose(&view.public.languages);
        let name = named(&t, |w| &w.names.panel);
        let count = view.count.to_string();
        let squares = view.squares.map(|n| n.to_string());
        let who = match &squares {
            Some(squares) => filled(
                &t,
                |w| &w.panel.made_squares,
                &[("squares", squares), ("count", &count)],
            ),
            None => filled(&t, |w| &w.panel.made, &[("count", &count)]),
        };
        let others = view.count.saturating_sub(view.names.len());
        let others = match (view.names.len(), others) {
            (_, 0) => None,
            (0, _) => Some(term(&t, |w| &w.panel.nobody)),
            (_, 1) => Some(term(&t, |w| &w.panel.one_other)),
            (_, n) => Some(filled(
                &t,
                |w| &w.panel.others,
                &[("count", &n.to_string())],
            )),
        };
        let data = CreditsPanel {
            common: Common::of(&view.public, &t, &name, &of_ladder(ladder)),
            name: term(&t, |w| &w.names.panel),
            title: view.public.title.clone(),
            // One name on the roll makes no company.
            under: (view.count > 1)
                .then_some(who)
                .into_iter()
                .chain([made(&view.public, &t)])
                .collect(),
            names: view.names.clone(),
            others,
        };
        self.set_of_many(
            &view.public,
            "credits-panel",
            "/credits-panel.typ",
            &data,
            ladder,
        )
    }
}
