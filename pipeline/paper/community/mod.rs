//! The papers of a piece made by many: the panel that names them, the map for mounting, the list of squares, the roll and
//! the sheets of thanks. Each is set from a view that holds only what its reader may know.

mod lists;
mod map;
mod panel;
mod thanks;
mod views;
mod words;

pub use views::{MadeSquare, MountView, PanelView, Person, RollView};
pub(in crate::paper) use words::CommunityWords;
#[cfg(test)]
pub(in crate::paper) use {map::SquaresMap, panel::CreditsPanel, thanks::ThanksSheets};

use super::PublicView;
use super::common::{ident, lead};
use super::plates::Plates;
use super::press::Draft;
use super::said::Said;
use super::words::Words;
use super::{PaperError, Press, Sheet};
use serde::Serialize;

/// "3-7": row, then column.
fn number((row, column): (u32, u32)) -> String {
    format!("{row}\u{2011}{column}")
}

/// A phrase of these papers in each language.
fn term(tongues: &[&Words], get: impl Fn(&CommunityWords) -> &String) -> Said {
    Said::each(tongues, |w| get(&w.community).clone())
}

/// A pattern of these papers in each language, filled.
fn filled(
    tongues: &[&Words],
    get: impl Fn(&CommunityWords) -> &String,
    values: &[(&str, &str)],
) -> Said {
    Said::each(tongues, |w| super::words::fill(get(&w.community), values))
}

/// The name of a paper in the leading language.
fn named(tongues: &[&Words], get: impl Fn(&CommunityWords) -> &String) -> String {
    get(&lead(tongues).community).clone()
}

impl Press {
    /// Sets one of these papers.
    fn set_of_many<D: Serialize>(
        &self,
        view: &PublicView,
        kind: &str,
        template: &'static str,
        data: &D,
        ladder: Option<&str>,
    ) -> Result<Sheet, PaperError> {
        let plates = Plates {
            ladder_svg: ladder,
            ..Plates::default()
        };
        self.set(Draft {
            template,
            ident: ident(view, kind),
            data,
            plates: &plates,
            code: None,
            record: None,
            wanting: Vec::new(),
        })
    }
}

/// Plates of the ladder alone, for the data that all papers have.
fn of_ladder(ladder: Option<&str>) -> Plates<'_> {
    Plates {
        ladder_svg: ladder,
        ..Plates::default()
    }
}
