//! The hanging sheet, for the installer: the elevation to scale, what it weighs and loads, and the
//! cautions for what hangs overhead. It is public.

use super::elevation::Elevation;
use super::{Blank, InstallerView, load};
use crate::paper::common::{Common, front_alt, ident, lead, want};
use crate::paper::plates::{Plate, Plates};
use crate::paper::press::{Draft, Press};
use crate::paper::said::{Fact, Said};
use crate::paper::words::{Words, fill};
use crate::paper::{PaperError, Sheet, Wanting};
use crate::record::Support;
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct HangingSheet {
    common: Common,
    name: Said,
    title: String,
    plate: Option<Plate>,
    drawing: Elevation,
    cautions: Vec<Said>,
    how: Option<Said>,
    groups: Vec<Vec<Fact>>,
    to_fill: Said,
    measures: Vec<Blank>,
    signed: Vec<(Said, Said)>,
    questions: Option<Said>,
}

impl Press {
    /// The hanging sheet. It is public.
    pub fn hanging_sheet(
        &self,
        view: &InstallerView,
        plates: &Plates,
    ) -> Result<Sheet, PaperError> {
        let piece = &view.public;
        let tongues = self.lexicon.choose(&piece.languages);
        let words = lead(&tongues);
        let name = &words.drawn.hanging.name;
        let drawing = view.elevation(&tongues);
        let term = |get: fn(&Words) -> &String| Said::each(&tongues, |w| get(w).clone());
        let data = HangingSheet {
            common: Common::of(piece, &tongues, name, plates),
            name: term(|w| &w.drawn.hanging.name),
            title: piece.title.clone(),
            plate: plates
                .front
                .as_ref()
                .map(|p| p.plate(front_alt(piece, words))),
            cautions: cautions(view, &tongues),
            how: how(view, &tongues),
            groups: load::groups(view, &tongues),
            to_fill: term(|w| &w.drawn.to_fill),
            measures: measures(view, &tongues),
            signed: vec![
                (
                    term(|w| &w.drawn.hanging.judged_blank),
                    term(|w| &w.drawn.date),
                ),
                (
                    term(|w| &w.drawn.hanging.hung_blank),
                    term(|w| &w.drawn.date),
                ),
            ],
            questions: view.contact.as_ref().map(|contact| {
                Said::each(&tongues, |w| {
                    fill(&w.drawn.questions, &[("contact", contact)])
                })
            }),
            drawing,
        };
        self.set(Draft {
            template: "/hanging-sheet.typ",
            ident: ident(piece, "hanging-sheet"),
            data: &data,
            plates: &plates.front_alone(),
            code: None,
            record: None,
            wanting: wanting(view),
        })
    }
}

fn cautions(view: &InstallerView, tongues: &[&Words]) -> Vec<Said> {
    let mut all: Vec<fn(&Words) -> &String> = vec![|w| &w.drawn.hanging.overhead];
    if view.hung.as_ref().is_some_and(|h| h.slits.opens) {
        all.push(|w| &w.drawn.hanging.slits);
    }
    if view.support.pulls_at_points {
        all.push(|w| &w.drawn.hanging.points);
    }
    all.push(|w| &w.drawn.hanging.hands);
    all.push(|w| &w.drawn.hanging.fire);
    paragraphs(&all, tongues)
}

/// One paragraph a language.
fn paragraphs(all: &[fn(&Words) -> &String], tongues: &[&Words]) -> Vec<Said> {
    let joined = |w: &Words| {
        let each: Vec<&str> = all.iter().map(|get| get(w).as_str()).collect();
        each.join(" ")
    };
    tongues.iter().map(|w| Said::each(&[*w], joined)).collect()
}

fn how(view: &InstallerView, tongues: &[&Words]) -> Option<Said> {
    let get: fn(&Words) -> &String = match view.support.support? {
        Support::HookAndLoop => |w| &w.drawn.hanging.hook_how,
        Support::Sleeve => |w| &w.drawn.hanging.sleeve_how,
        Support::Batten => |w| &w.drawn.hanging.batten_how,
        Support::Bar => |w| &w.drawn.hanging.bar_how,
    };
    Some(Said::each(tongues, |w| get(w).clone()))
}

fn measures(view: &InstallerView, tongues: &[&Words]) -> Vec<Blank> {
    let unit = super::print::unit(view.public.measures);
    let term = |get: fn(&Words) -> &String| Said::each(tongues, |w| get(w).clone());
    let mut out = vec![
        Blank::of(term(|w| &w.drawn.hanging.drop_blank), Some(unit)),
        Blank::of(term(|w| &w.drawn.hanging.floor_blank), Some(unit)),
    ];
    if view.mass.is_none() {
        out.push(Blank::of(term(|w| &w.drawn.hanging.mass_blank), Some("kg")));
    }
    out
}

/// What the paper leaves out.
pub(in crate::paper) fn wanting(view: &InstallerView) -> Vec<Wanting> {
    let mut out = Vec::new();
    let w = &mut out;
    let written = view.written.as_ref();
    let bar = written.and_then(|h| h.bar.as_ref());
    want(
        w,
        view.mass.is_some(),
        "measured.mass",
        "the mass on the scale",
    );
    want(
        w,
        view.support.support.is_some(),
        "hanging.support",
        "what carries it on the wall",
    );
    want(
        w,
        bar.is_some_and(|b| b.material.is_some() && b.section.is_some()),
        "hanging.bar",
        "the bar it hangs from",
    );
    want(
        w,
        written.is_some_and(|h| !h.brackets.is_empty()),
        "hanging.brackets",
        "where the fixings hold the bar",
    );
    out
}
