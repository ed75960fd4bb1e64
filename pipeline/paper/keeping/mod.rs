//! The owner's sheet: how to live with the piece, topic by topic, each with the figures of this piece and
//! the caution that belongs to it; and lines to note by hand what was seen and done. It is for the owner.

mod light;
mod topics;
mod view;

pub use view::KeeperView;

use super::common::{Common, front_alt, ident, lead, made, size, want};
use super::plates::{Plate, Plates};
use super::press::{Draft, Press};
use super::said::Said;
use super::words::Words;
use super::{PaperError, Sheet, Wanting};
use serde::Serialize;
use topics::Topic;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct OwnerSheet {
    common: Common,
    name: Said,
    title: String,
    maker: Said,
    made: Said,
    size: Said,
    plate: Option<Plate>,
    /// The same topics in each language.
    tongues: Vec<Tongue>,
    log: Said,
    /// Heads of the log's columns.
    log_heads: [Said; 3],
}

/// Everything in one language.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Tongue {
    lang: String,
    topics: Vec<Topic>,
}

impl Press {
    /// The owner's sheet. It is for the owner.
    pub fn owner_sheet(&self, view: &KeeperView, plates: &Plates) -> Result<Sheet, PaperError> {
        let piece = &view.owner.public;
        let tongues = self.lexicon.choose(&piece.languages);
        let words = lead(&tongues);
        let term = |get: fn(&Words) -> &String| Said::each(&tongues, |w| get(w).clone());
        let data = OwnerSheet {
            common: Common::of(piece, &tongues, &words.keeping.name, plates),
            name: term(|w| &w.keeping.name),
            title: piece.title.clone(),
            maker: super::common::maker(piece, &tongues),
            made: made(piece, &tongues),
            size: size(piece, &tongues),
            plate: (plates.front.as_ref()).map(|p| p.plate(front_alt(piece, words))),
            tongues: tongues
                .iter()
                .map(|w| Tongue {
                    lang: w.language.code.clone(),
                    topics: topics::all(view, &tongues, w),
                })
                .collect(),
            log: term(|w| &w.keeping.log),
            log_heads: [
                term(|w| &w.keeping.log_day),
                term(|w| &w.keeping.log_what),
                term(|w| &w.keeping.log_who),
            ],
        };
        self.set(Draft {
            template: "/owner-sheet.typ",
            ident: ident(piece, "owner-sheet"),
            data: &data,
            plates: &plates.front_alone(),
            code: None,
            record: None,
            wanting: wanting(view),
        })
    }
}

/// What the paper leaves out.
pub(super) fn wanting(view: &KeeperView) -> Vec<Wanting> {
    let mut out = Vec::new();
    let w = &mut out;
    want(
        w,
        view.mass.is_some(),
        "measured.mass",
        "the mass on the scale",
    );
    want(
        w,
        view.support.is_some(),
        "hanging.support",
        "what carries it on the wall",
    );
    want(
        w,
        view.weakest.is_some(),
        "weft.light",
        "how fast its colours are to light",
    );
    want(
        w,
        view.home.is_some(),
        "display",
        "the light where it hangs",
    );
    want(
        w,
        view.owner.public.cleaning.is_some(),
        "care.cleaning",
        "how it may be cleaned",
    );
    out
}
