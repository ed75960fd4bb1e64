//! The sheets of thanks: one for each maker, with the squares shown in the wall. They hold every name and are the studio's
//! until each is in the hands of the one it is for, or of a child's parent or guardian.

use super::views::{Person, RollView};
use super::{filled, named, number, of_ladder, term};
use crate::paper::common::{Common, lead, made};
use crate::paper::said::Said;
use crate::paper::words::{Words, fill};
use crate::paper::{PaperError, Press, Sheet};
use crate::record::Age;
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct ThanksSheets {
    common: Common,
    name: Said,
    title: String,
    /// What stands on the first page alone.
    cover: Said,
    count: Said,
    made: Said,
    /// Rows and columns of the wall, where it has a grid.
    grid: Option<(u32, u32)>,
    /// How many made it, where it was more than one.
    whole: Option<Said>,
    studio: String,
    sheets: Vec<ThanksSheet>,
}

/// The sheet of one maker.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct ThanksSheet {
    to: Said,
    name: String,
    said: Said,
    /// Row and column of each square.
    squares: Vec<(u32, u32)>,
    alt: String,
}

impl Press {
    /// The sheets of thanks, in the order of the roll as it is sorted. They are the studio's until they are handed out.
    ///
    /// # Errors
    /// Where the template has a fault.
    pub fn thanks_sheets(
        &self,
        view: &RollView,
        ladder: Option<&str>,
    ) -> Result<Sheet, PaperError> {
        let t = self.lexicon.choose(&view.public.languages);
        let name = named(&t, |w| &w.names.thanks);
        let count = view.people.len().to_string();
        let squares = view
            .grid
            .map(|(r, c)| (u64::from(r) * u64::from(c)).to_string());
        let whole = match &squares {
            Some(squares) => filled(
                &t,
                |w| &w.thanks.whole,
                &[("squares", squares), ("count", &count)],
            ),
            None => filled(&t, |w| &w.thanks.whole_plain, &[("count", &count)]),
        };
        let data = ThanksSheets {
            common: Common::of(&view.public, &t, &name, &of_ladder(ladder)),
            name: term(&t, |w| &w.names.thanks),
            title: view.public.title.clone(),
            cover: term(&t, |w| &w.thanks.cover),
            count: filled(&t, |w| &w.thanks.count, &[("count", &count)]),
            made: made(&view.public, &t),
            grid: view.grid,
            whole: (view.people.len() > 1).then_some(whole),
            studio: match &view.public.place {
                Some(place) => format!("{}, {place}", view.public.studio),
                None => view.public.studio.clone(),
            },
            sheets: view.people.iter().map(|p| sheet(p, &t)).collect(),
        };
        self.set_of_many(
            &view.public,
            "thanks-sheets",
            "/thanks-sheets.typ",
            &data,
            ladder,
        )
    }
}

fn sheet(person: &Person, t: &[&Words]) -> ThanksSheet {
    let name = person.name.as_str();
    let numbers: Vec<String> = person.squares.iter().map(|s| number(*s)).collect();
    let which = |w: &Words| w.all_of(&numbers);
    let said = match person.squares.as_slice() {
        [] => filled(t, |w| &w.thanks.none, &[("name", name)]),
        [(row, column)] => Said::each(t, |w| {
            fill(
                &w.community.thanks.one,
                &[
                    ("which", &which(w)),
                    ("name", name),
                    ("row", &row.to_string()),
                    ("column", &column.to_string()),
                ],
            )
        }),
        _ => Said::each(t, |w| {
            fill(
                &w.community.thanks.several,
                &[("which", &which(w)), ("name", name)],
            )
        }),
    };
    let words = lead(t);
    ThanksSheet {
        to: match person.age {
            Some(Age::Minor) => filled(t, |w| &w.thanks.to_parent, &[("name", name)]),
            _ => filled(t, |w| &w.thanks.to, &[("name", name)]),
        },
        name: name.to_string(),
        said,
        squares: person.squares.clone(),
        alt: fill(&words.community.thanks.alt, &[("which", &which(words))]),
    }
}
