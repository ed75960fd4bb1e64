//! The condition sheet, for the registrar: the state in which the piece left the studio, its outline to
//! scale with a grid to mark on, and lines to fill in at every handling. It is for the owner's circle.

use super::outline::Outline;
use super::registrar::{OnFile, RegistrarView};
use super::{baseline, leaving};
use crate::paper::common::{Common, front_alt, ident, lead, want};
use crate::paper::dates;
use crate::paper::plates::{Plate, Plates};
use crate::paper::press::{Draft, Press};
use crate::paper::said::{Fact, Said};
use crate::paper::words::{Words, fill};
use crate::paper::{PaperError, Sheet, Wanting};
use crate::quantity::Day;
use crate::record::View;
use serde::Serialize;

/// The data of the template.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct ConditionSheet {
    common: Common,
    name: Said,
    title: String,
    plate: Option<Plate>,
    /// What it is and measures.
    identity: Vec<Vec<Fact>>,
    left_head: Said,
    /// How it left the studio.
    left: Vec<Fact>,
    watch_head: Said,
    /// What may change by itself.
    watch: Vec<Fact>,
    /// The back or a detail, where there is room for it.
    second: Option<Shown>,
    photographs: Photographs,
    front: Face,
    back: Face,
    /// Whether the front plate fills the outline, so that it may lie under the grid.
    plate_fits: bool,
    signs_head: Said,
    signs_how: Said,
    /// What each sign stands for, in the order in which the template draws them.
    signs: Vec<Said>,
    entries: Entries,
    handling: Handling,
}

/// A further plate and what it shows.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Shown {
    plate: Plate,
    caption: Said,
}

/// The photographs on file.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Photographs {
    head: Said,
    /// View, file, day, size, digest.
    columns: [Said; 5],
    rows: Vec<[Said; 5]>,
    /// What the digests are for, or that there is none.
    note: Said,
}

/// The outline from one side with what is said of it.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Face {
    head: Said,
    outline: Outline,
    drawn: Vec<Said>,
}

/// The table of marks, to be filled in by hand.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Entries {
    head: Said,
    /// Number, sign, square, what is seen, size, date and hand.
    columns: [Said; 6],
}

/// The form for every handling.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Handling {
    head: Said,
    cautions: Vec<Said>,
    lent_by: Said,
    lent_to: Said,
    loan_number: Said,
    occasions: Vec<Said>,
    date: Said,
    place: Said,
    by: Said,
    air: Said,
    photographed: Said,
    changes: Said,
    signature: Said,
    again: Said,
    questions: Option<Said>,
}

impl Press {
    /// The condition sheet. It is for the owner's circle, and for nobody beyond it.
    pub fn condition_sheet(
        &self,
        view: &RegistrarView,
        plates: &Plates,
    ) -> Result<Sheet, PaperError> {
        let piece = &view.public;
        let tongues = self.lexicon.choose(&piece.languages);
        let words = lead(&tongues);
        let term = |get: fn(&Words) -> &String| Said::each(&tongues, |w| get(w).clone());
        let name = &words.drawn.condition.name;
        let data = ConditionSheet {
            common: Common::of(piece, &tongues, name, plates),
            name: term(|w| &w.drawn.condition.name),
            title: piece.title.clone(),
            plate: plates
                .front
                .as_ref()
                .map(|p| p.plate(front_alt(piece, words))),
            identity: baseline::identity(view, &tongues),
            left_head: term(|w| &w.drawn.condition.left_head),
            left: leaving::finishing(view, &tongues),
            watch_head: term(|w| &w.drawn.condition.watch_head),
            watch: leaving::to_watch(view, &tongues),
            second: second(view, plates, &tongues),
            photographs: photographs(view, &tongues),
            front: face(view, false, &tongues),
            back: face(view, true, &tongues),
            plate_fits: view.plate_is_squared && plates.front.is_some() && view.shape().is_even(),
            signs_head: term(|w| &w.drawn.condition.signs_head),
            signs_how: term(|w| &w.drawn.condition.signs_how),
            signs: signs(&tongues),
            entries: Entries {
                head: term(|w| &w.drawn.condition.entries_head),
                columns: [
                    term(|w| &w.drawn.condition.number),
                    term(|w| &w.drawn.condition.sign),
                    term(|w| &w.drawn.condition.place),
                    term(|w| &w.drawn.condition.seen),
                    term(|w| &w.drawn.condition.size),
                    term(|w| &w.drawn.condition.date_and_hand),
                ],
            },
            handling: handling(view, &tongues),
        };
        self.set(Draft {
            template: "/condition-sheet.typ",
            ident: ident(piece, "condition-sheet"),
            data: &data,
            plates,
            code: None,
            record: None,
            wanting: wanting(view),
        })
    }
}

fn face(view: &RegistrarView, back: bool, tongues: &[&Words]) -> Face {
    let shape = view.shape();
    let mut drawn = vec![Said::each(tongues, |w| {
        let words = &w.drawn.condition;
        let pattern = if back {
            &words.back_drawn
        } else {
            &words.front_drawn
        };
        let square = baseline::square_of(shape.step, view, w);
        fill(
            pattern,
            &[("one_to", &shape.one_to.to_string()), ("square", &square)],
        )
    })];
    if back {
        if view
            .left
            .heading
            .as_ref()
            .is_some_and(|(_, depth)| depth.is_some())
        {
            drawn.push(Said::each(tongues, |w| {
                w.drawn.condition.heading_line.clone()
            }));
        }
        if view.left.lined {
            drawn.push(Said::each(tongues, |w| w.drawn.condition.lined.clone()));
        }
    } else {
        drawn.push(Said::each(tongues, |w| baseline::assumption(view, w)));
    }
    let lead = lead(tongues);
    Face {
        head: Said::each(tongues, |w| {
            let words = &w.drawn.condition;
            if back {
                words.back_head.clone()
            } else {
                words.front_head.clone()
            }
        }),
        outline: shape.face(view, back, lead),
        drawn,
    }
}

fn second(view: &RegistrarView, plates: &Plates, tongues: &[&Words]) -> Option<Shown> {
    let name = |w: &Words| {
        let shown = view.second.map(|v| w.drawn.condition.views.name(v));
        crate::paper::common::capital(shown.unwrap_or_default())
    };
    let title = [("title", view.public.title.as_str())];
    let alt = fill(&lead(tongues).alt.second, &title);
    Some(Shown {
        plate: plates.second.as_ref()?.plate(alt),
        caption: Said::each(tongues, name),
    })
}

fn signs(tongues: &[&Words]) -> Vec<Said> {
    let count = lead(tongues).drawn.condition.signs.len();
    let sign = |w: &Words, i: usize| w.drawn.condition.signs.get(i).cloned().unwrap_or_default();
    (0..count)
        .map(|i| Said::each(tongues, |w| sign(w, i)))
        .collect()
}

fn photographs(view: &RegistrarView, tongues: &[&Words]) -> Photographs {
    let term = |get: fn(&Words) -> &String| Said::each(tongues, |w| get(w).clone());
    let row = |photo: &OnFile| {
        let day = photo.taken.as_deref().and_then(|d| Day::parse(d).ok());
        let size = photo.pixels.map(|(w, h)| format!("{w}\u{A0}×\u{A0}{h}"));
        [
            Said::each(tongues, |w| {
                w.drawn.condition.views.name(photo.view).to_string()
            }),
            Said::own(photo.name()),
            match day {
                Some(day) => Said::each(tongues, |w| dates::day(day, w)),
                None => Said::own("–"),
            },
            Said::own(size.unwrap_or_else(|| "–".to_string())),
            Said::own(photo.digest()),
        ]
    };
    Photographs {
        head: term(|w| &w.drawn.condition.photographs),
        columns: [
            term(|w| &w.drawn.condition.view),
            term(|w| &w.drawn.condition.file),
            term(|w| &w.drawn.condition.taken),
            term(|w| &w.drawn.condition.pixels),
            term(|w| &w.drawn.condition.digest),
        ],
        rows: view.photographs.iter().map(row).collect(),
        note: match view.photographs.is_empty() {
            true => term(|w| &w.drawn.condition.no_photographs),
            false => term(|w| &w.drawn.condition.digests),
        },
    }
}

fn handling(view: &RegistrarView, tongues: &[&Words]) -> Handling {
    let term = |get: fn(&Words) -> &String| Said::each(tongues, |w| get(w).clone());
    Handling {
        head: term(|w| &w.drawn.condition.handling),
        cautions: cautions(tongues),
        lent_by: term(|w| &w.drawn.condition.lent_by),
        lent_to: term(|w| &w.drawn.condition.lent_to),
        loan_number: term(|w| &w.drawn.condition.loan_number),
        occasions: vec![
            term(|w| &w.drawn.condition.arrival),
            term(|w| &w.drawn.condition.hanging),
            term(|w| &w.drawn.condition.taking_down),
            term(|w| &w.drawn.condition.dispatch),
        ],
        date: term(|w| &w.drawn.date),
        place: term(|w| &w.drawn.condition.where_),
        by: term(|w| &w.drawn.condition.by),
        air: term(|w| &w.drawn.condition.air),
        photographed: term(|w| &w.drawn.condition.photographed),
        changes: term(|w| &w.drawn.condition.changes),
        signature: term(|w| &w.drawn.condition.signature),
        again: term(|w| &w.drawn.condition.again),
        questions: view.contact.as_ref().map(|contact| {
            Said::each(tongues, |w| {
                fill(&w.drawn.questions, &[("contact", contact)])
            })
        }),
    }
}

/// One paragraph for each thing to mind.
fn cautions(tongues: &[&Words]) -> Vec<Said> {
    let say = |get: fn(&Words) -> Vec<&String>| {
        Said::each(tongues, |w| {
            let all: Vec<&str> = get(w).into_iter().map(String::as_str).collect();
            all.join(" ")
        })
    };
    vec![
        say(|w| vec![&w.drawn.condition.hands, &w.drawn.condition.lifting]),
        say(|w| {
            let c = &w.drawn.condition;
            vec![&c.damp, &c.pests, &c.no_work]
        }),
        say(|w| vec![&w.drawn.condition.house]),
    ]
}

/// What the record does not say of it.
pub(in crate::paper) fn wanting(view: &RegistrarView) -> Vec<Wanting> {
    let mut out = Vec::new();
    let w = &mut out;
    let has = |what: View| view.photographs.iter().any(|p| p.view == what);
    want(
        w,
        view.diagonals.is_some(),
        "measured.diagonals",
        "both diagonals",
    );
    want(
        w,
        view.public.mass.is_some(),
        "measured.mass",
        "the mass on the scale",
    );
    want(w, has(View::Front), "photos", "a photograph of the front");
    want(w, has(View::Back), "photos", "a photograph of the back");
    want(
        w,
        view.left.slits.is_some(),
        "finishing.slits",
        "what became of the slits",
    );
    want(
        w,
        view.yarns.light_unknown == 0,
        "weft.light",
        "how fast its colours are to light",
    );
    out
}
