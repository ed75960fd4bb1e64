//! The packing sheet, for the carrier: the roll to scale, the order of wrapping, the parcel and a check
//! list. It is public; neither address nor value stands on it.

use super::print::{long, plain, rounded_weight, sides, thin, unit};
use super::roll::{End, Side};
use super::{Blank, CarrierView};
use crate::paper::common::{Common, ident, lead, want};
use crate::paper::plates::Plates;
use crate::paper::press::{Draft, Press};
use crate::paper::said::{Fact, Said};
use crate::paper::words::{Words, fill};
use crate::paper::{PaperError, Sheet, Wanting};
use crate::reckon::{Parcel, Passage};
use crate::record::Face;
use serde::Serialize;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct PackingSheet {
    common: Common,
    name: Said,
    title: String,
    end_head: Said,
    end: Option<End>,
    end_drawn: Option<Said>,
    side_head: Said,
    side: Option<Side>,
    side_drawn: Option<Said>,
    not_drawn: Option<Said>,
    order: Said,
    steps: Vec<Step>,
    parcel_head: Said,
    parcel: Vec<Vec<Fact>>,
    way_head: Said,
    /// What the carrier does and leaves, with the cautions that belong to it.
    way: Vec<Vec<Fact>>,
    list_head: Said,
    list: Vec<Said>,
    blanks: Vec<Blank>,
    signed: Vec<(Said, Said)>,
}

/// A step of the wrapping, and the caution that belongs to it.
#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct Step {
    say: Said,
    caution: Option<Said>,
}

impl Press {
    /// The packing sheet. It is public.
    pub fn packing_sheet(&self, view: &CarrierView, plates: &Plates) -> Result<Sheet, PaperError> {
        let piece = &view.public;
        let tongues = self.lexicon.choose(&piece.languages);
        let words = lead(&tongues);
        let name = &words.drawn.packing.name;
        let term = |get: fn(&Words) -> &String| Said::each(&tongues, |w| get(w).clone());
        let scaled = |get: fn(&Words) -> &String, one_to: u32| {
            Said::each(&tongues, |w| {
                fill(get(w), &[("one_to", &one_to.to_string())])
            })
        };
        let (end, side) = (view.end(words), view.side(words));
        let data = PackingSheet {
            common: Common::of(piece, &tongues, name, plates),
            name: term(|w| &w.drawn.packing.name),
            title: piece.title.clone(),
            end_head: term(|w| &w.drawn.packing.section_head),
            end_drawn: end
                .as_ref()
                .map(|e| scaled(|w| &w.drawn.packing.section, e.one_to)),
            side_head: term(|w| &w.drawn.packing.side_head),
            side_drawn: side
                .as_ref()
                .map(|s| scaled(|w| &w.drawn.packing.side, s.one_to)),
            not_drawn: end.is_none().then(|| term(|w| &w.drawn.packing.not_drawn)),
            order: term(|w| &w.drawn.packing.order),
            steps: steps(view, &tongues),
            parcel_head: term(|w| &w.drawn.packing.parcel),
            parcel: parcel(view, &tongues),
            way_head: term(|w| &w.drawn.packing.way_head),
            way: vec![on_the_way(view, &tongues)],
            list_head: term(|w| &w.drawn.packing.list),
            list: super::packing_list::of(view, &tongues),
            blanks: blanks(view, &tongues),
            signed: vec![
                (term(|w| &w.drawn.packing.closed), term(|w| &w.drawn.date)),
                (term(|w| &w.drawn.packing.opened), term(|w| &w.drawn.date)),
            ],
            end,
            side,
        };
        self.set(Draft {
            template: "/packing-sheet.typ",
            ident: ident(piece, "packing-sheet"),
            data: &data,
            plates: &plates.ladder_alone(),
            code: None,
            record: None,
            wanting: wanting(view),
        })
    }
}

/// The wrapping step by step, each with the figure it needs.
fn steps(view: &CarrierView, tongues: &[&Words]) -> Vec<Step> {
    let plainly = |get: fn(&Words) -> &String| Step {
        say: Said::each(tongues, |w| get(w).clone()),
        caution: None,
    };
    let way = &view.roll.way;
    let laid = match (way.face, way.lined) {
        (Face::In, _) => plainly(|w| &w.drawn.packing.lay_in),
        (Face::Out, true) => plainly(|w| &w.drawn.packing.lay_out_lined),
        (Face::Out, false) => plainly(|w| &w.drawn.packing.lay_out),
    };
    let said = |say: fn(&CarrierView, &Words) -> String| Step {
        say: Said::each(tongues, |w| say(view, w)),
        caution: None,
    };
    vec![
        plainly(|w| &w.drawn.packing.look),
        laid,
        said(interleaf),
        said(tube),
        said(rolling),
        Step {
            say: Said::each(tongues, |w| {
                format!("{} {}", w.drawn.packing.cover, w.drawn.packing.tie)
            }),
            caution: Some(Said::each(tongues, |w| w.drawn.packing.dyes.clone())),
        },
        Step {
            say: Said::each(tongues, |w| cradle(view, w)),
            caution: Some(Said::each(tongues, |w| w.drawn.packing.lifting.clone())),
        },
        plainly(|w| &w.drawn.packing.mark),
    ]
}

fn interleaf(view: &CarrierView, w: &Words) -> String {
    let words = &w.drawn.packing;
    // An assumed thickness is no demand on the packer.
    match &view.roll.wound {
        Some(wound) if !wound.interleaf.from.is_empty() => fill(
            &words.interleaf,
            &[("interleaf", &thin(wound.interleaf.value.mm(), w))],
        ),
        _ => words.interleaf_plain.clone(),
    }
}

fn tube(view: &CarrierView, w: &Words) -> String {
    let words = &w.drawn.packing;
    let m = view.public.measures;
    let tube = &view.roll.tube;
    let length = long(view.roll.way.tube_length.value.mm(), m, w);
    match &tube.taken {
        Some(taken) => {
            let across = long(taken.value.mm(), m, w);
            let pattern = if tube.given {
                &words.tube
            } else {
                &words.tube_least
            };
            fill(pattern, &[("tube", &across), ("length", &length)])
        }
        None => fill(&words.tube_unknown, &[("length", &length)]),
    }
}

fn rolling(view: &CarrierView, w: &Words) -> String {
    let words = &w.drawn.packing;
    let m = view.public.measures;
    let way = &view.roll.way;
    let rolled = long(way.rolled.value.mm(), m, w);
    // The part has the name she gave it; the usual one is said in each language.
    let usual = |name: String| {
        if name.eq_ignore_ascii_case("heading") {
            words.heading.clone()
        } else {
            name
        }
    };
    let heading = way
        .heading
        .as_deref()
        .map(crate::paper::letters::line)
        .map(usual);
    let named = heading.as_deref().unwrap_or_default();
    let pattern = match (way.height_is_rolled(), &heading) {
        (true, Some(_)) => &words.foot_first,
        (true, None) => &words.height,
        (false, _) => &words.width,
    };
    let mut out = vec![fill(pattern, &[("heading", named), ("rolled", &rolled)])];
    if heading.is_some() && !way.height_is_rolled() {
        out.push(fill(&words.bump, &[("heading", named)]));
    }
    if let Some(wound) = &view.roll.wound {
        let turns = plain(wound.by_turn.turns, 2, w);
        let roll = long(wound.by_turn.widest, m, w);
        out.push(fill(&words.turns, &[("turns", &turns), ("roll", &roll)]));
    }
    out.push(words.straight.clone());
    out.push(fill(
        &words.ends,
        &[("ends", &long(way.ends.value.mm(), m, w))],
    ));
    out.join(" ")
}

fn cradle(view: &CarrierView, w: &Words) -> String {
    let words = &w.drawn.packing;
    match &view.roll.parcel {
        Some(parcel) => {
            let clearance = long(parcel.clearance().mm(), view.public.measures, w);
            fill(&words.cradle, &[("clearance", &clearance)])
        }
        None => words.cradle_plain.clone(),
    }
}

/// The parcel's sizes and mass, and the ways it passes.
fn parcel(view: &CarrierView, tongues: &[&Words]) -> Vec<Vec<Fact>> {
    let m = view.public.measures;
    let term = |get: fn(&Words) -> &String| Said::each(tongues, |w| get(w).clone());
    let Some(parcel) = &view.roll.parcel else {
        return Vec::new();
    };
    let [inside, outside] = [parcel.inner, parcel.outer].map(|b| [b[0], b[1], b[1]]);
    let mut sizes = vec![
        Fact::new(
            term(|w| &w.drawn.packing.inside),
            Said::each(tongues, |w| sides(&inside, m, w)),
        ),
        Fact::new(
            term(|w| &w.drawn.packing.outside),
            Said::each(tongues, |w| sides(&outside, m, w)),
        ),
        mass(view, parcel, tongues),
        Fact::new(
            term(|w| &w.drawn.packing.girth),
            Said::each(tongues, |w| {
                let girth = long(parcel.girth().mm(), m, w);
                let both = long(parcel.length_and_girth().mm(), m, w);
                let pattern = &w.drawn.packing.girth_said;
                fill(pattern, &[("girth", &girth), ("both", &both)])
            }),
        ),
    ];
    sizes.push(Fact {
        term: term(|w| &w.drawn.packing.volume),
        lines: vec![Said::each(tongues, |w| {
            let kg = format!("{}\u{202F}kg", plain(parcel.volumetric_kg, 3, w));
            let divisor = plain(parcel.divisor(), 6, w);
            fill(
                &w.drawn.packing.volume_said,
                &[("mass", &kg), ("divisor", &divisor)],
            )
        })],
        note: Some(term(|w| &w.drawn.packing.carrier)),
    });
    let passages = &view.roll.passages;
    let mut out = vec![sizes];
    if !passages.is_empty() {
        out.push(vec![Fact {
            term: term(|w| &w.drawn.packing.ways),
            lines: passages
                .iter()
                .map(|p| Said::each(tongues, |w| passes(view, p, w)))
                .collect(),
            note: Some(term(|w| &w.drawn.packing.only)),
        }]);
    }
    out
}

fn mass(view: &CarrierView, parcel: &Parcel, tongues: &[&Words]) -> Fact {
    Fact {
        term: Said::each(tongues, |w| w.drawn.packing.mass.clone()),
        lines: vec![Said::each(tongues, |w| match &parcel.mass {
            Some(mass) => rounded_weight(&mass.number().times(1e-3), view.public.measures, w),
            None => w.drawn.packing.no_mass.clone(),
        })],
        note: parcel.mass.as_ref().map(|_| {
            Said::each(tongues, |w| {
                if parcel.with_packing {
                    w.drawn.packing.with_packing.clone()
                } else {
                    w.drawn.packing.piece_alone.clone()
                }
            })
        }),
    }
}

/// An opening by its sides alone, and how the roll passes it.
fn passes(view: &CarrierView, p: &Passage, w: &Words) -> String {
    let words = &w.drawn.packing;
    let length = p.length.mm();
    let (pattern, how) = match (p.slanting, p.level) {
        (None, _) if p.passes => (&words.door, &words.endways),
        (None, _) => (&words.door, &words.no_door),
        (Some(_), _) if !p.passes => (&words.room, &words.no_room),
        (Some(_), Some(level)) if level.mm() >= length => (&words.room, &words.level),
        (Some(_), _) if p.sides.last().is_some_and(|s| s.mm() >= length) => {
            (&words.room, &words.upright)
        }
        (Some(_), _) => (&words.room, &words.slanting),
    };
    let opening = fill(
        pattern,
        &[("sides", &sides(&p.sides, view.public.measures, w))],
    );
    [opening, how.clone()].join(&w.colon())
}

/// What the carrier does on the way, and whom to ask.
fn on_the_way(view: &CarrierView, tongues: &[&Words]) -> Vec<Fact> {
    let term = |get: fn(&Words) -> &String| Said::each(tongues, |w| get(w).clone());
    let fact =
        |name: fn(&Words) -> &String, say: fn(&Words) -> &String| Fact::new(term(name), term(say));
    let mut out = vec![
        fact(|w| &w.drawn.packing.carry, |w| &w.drawn.packing.carry_said),
        fact(|w| &w.drawn.packing.keep, |w| &w.drawn.packing.keep_said),
        fact(|w| &w.drawn.packing.wet_term, |w| &w.drawn.packing.wet),
        fact(|w| &w.drawn.packing.harm, |w| &w.drawn.packing.harm_said),
        fact(
            |w| &w.drawn.packing.arrival_term,
            |w| &w.drawn.packing.arrival,
        ),
    ];
    if let Some(contact) = &view.contact {
        out.push(Fact::new(
            term(|w| &w.drawn.packing.asked),
            Said::own(contact.clone()),
        ));
    }
    out
}

fn blanks(view: &CarrierView, tongues: &[&Words]) -> Vec<Blank> {
    let term = |get: fn(&Words) -> &String| Said::each(tongues, |w| get(w).clone());
    let mut out = Vec::new();
    if view.roll.wound.is_none() {
        let length = Some(unit(view.public.measures));
        out.push(Blank::of(term(|w| &w.drawn.packing.roll_blank), length));
    }
    out.push(Blank::of(term(|w| &w.drawn.packing.weighed), Some("kg")));
    out
}

/// What the paper leaves out.
pub(in crate::paper) fn wanting(view: &CarrierView) -> Vec<Wanting> {
    let mut out = Vec::new();
    let w = &mut out;
    let roll = &view.roll;
    want(
        w,
        roll.wound.is_some(),
        "measured.thickness",
        "the thickness, which the roll is reckoned from",
    );
    want(
        w,
        roll.tube.given,
        "packing.tube",
        "the tube it is rolled on",
    );
    want(
        w,
        roll.parcel.as_ref().is_some_and(|p| p.with_packing),
        "packing.weighs",
        "what tube, wrapping and box weigh",
    );
    out
}
