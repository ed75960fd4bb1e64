//! The hang plan: each wall's elevation to scale, with what an installer marks on it.

use super::views::{HungView, PlanView, ShowView, WallView};
use super::{Pile, Placed, ShowPlates, cm, kg, named, term, under};
use crate::paper::common::{Common, front_alt, lead};
use crate::paper::figures::{THIN, short};
use crate::paper::said::Said;
use crate::paper::words::{Words, fill};
use crate::paper::{PaperError, Press, Sheet};
use crate::quantity::Length;
use crate::record::HangFrom;
use serde::Serialize;

/// The height of a visitor's eye that the plan draws, mm: common practice, no source.
pub(super) const EYE: f64 = 1550.0;
/// The height of the person beside the works, mm.
pub(super) const PERSON: f64 = 1700.0;
/// How high a wall is drawn whose height nobody told, mm, and the least that is drawn.
const DRAWN_HIGH: f64 = 2800.0;

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct HangPlan {
    common: Common,
    name: Said,
    title: String,
    under: Vec<Said>,
    cautions: Vec<Said>,
    walls: Vec<DrawnWall>,
    left_over: Option<LeftOver>,
    notes: Vec<Said>,
    eye_mm: f64,
    eye: Said,
    common_mm: f64,
    common_line: Said,
    heads: Vec<Said>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct LeftOver {
    head: Said,
    titles: Vec<String>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct DrawnWall {
    head: Said,
    alt: String,
    wide: f64,
    high: f64,
    /// Whether its height is told.
    ceiling: bool,
    clear: Vec<(f64, f64, Said)>,
    pieces: Vec<DrawnPiece>,
    facts: Vec<Said>,
    /// What the star beside fixings means, where there is one.
    star: Option<Said>,
    rows: Vec<Vec<Said>>,
}

#[derive(Debug, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
struct DrawnPiece {
    number: usize,
    left: f64,
    bottom: f64,
    wide: f64,
    high: f64,
    picture: Option<Placed>,
    across: Vec<f64>,
    above: f64,
    /// What stands at its left edge.
    left_said: String,
}

impl Press {
    /// The hang plan. For the installer: no owner, price or place is in it.
    pub fn hang_plan(
        &self,
        show: &ShowView,
        plan: &PlanView,
        plates: &[ShowPlates],
    ) -> Result<Sheet, PaperError> {
        let t = self.tongues(show);
        let mut pile = Pile::default();
        let walls = plan
            .walls
            .iter()
            .map(|wall| drawn(show, wall, plates, &mut pile, &t))
            .collect();
        let hung = || plan.walls.iter().flat_map(|w| &w.pieces);
        let mut notes = vec![term(&t, |w| &w.plan.from_corner)];
        if hung().any(|p| p.known) {
            notes.push(term(&t, |w| &w.plan.fixings_known));
        }
        notes.push(term(&t, |w| &w.plan.heights));
        notes.push(term(&t, |w| {
            if plan.best {
                &w.plan.best
            } else {
                &w.plan.not_best
            }
        }));
        let titles: Vec<String> = plan
            .left_over
            .iter()
            .filter_map(|i| show.pieces.get(*i))
            .map(|p| format!("{} {}", p.number, p.public.title))
            .collect();
        let data = HangPlan {
            common: Common::of_show(show, &t, &named(&t, |w| &w.names.plan)),
            name: term(&t, |w| &w.names.plan),
            title: show.title.clone(),
            under: under(show, &t),
            cautions: vec![term(&t, |w| &w.plan.overhead)],
            walls,
            left_over: (!titles.is_empty()).then(|| LeftOver {
                head: term(&t, |w| &w.plan.left_over),
                titles,
            }),
            notes,
            eye_mm: EYE,
            eye: Said::each(&t, |w| {
                fill(
                    &w.show.plan.eye,
                    &[("height", &cm(Length::from_mm(EYE), show, w))],
                )
            }),
            common_mm: plan.line.1.mm(),
            common_line: Said::each(&t, |w| {
                let words = &w.show.plan;
                let pattern = if plan.line.0 {
                    &words.common_top
                } else {
                    &words.common
                };
                fill(pattern, &[("height", &cm(plan.line.1, show, w))])
            }),
            heads: [
                |w: &super::ShowWords| w.heads.number.clone(),
                |w: &super::ShowWords| w.heads.piece.clone(),
                |w: &super::ShowWords| w.heads.left.clone(),
                |w: &super::ShowWords| w.heads.top.clone(),
                |w: &super::ShowWords| w.heads.across.clone(),
                |w: &super::ShowWords| w.heads.above.clone(),
                |w: &super::ShowWords| w.plan.mass.clone(),
            ]
            .iter()
            .map(|get| Said::each(&t, |w| get(&w.show)))
            .collect(),
        };
        self.set_of_show(show, "plan", "/hang-plan.typ", &data, pile)
    }
}

fn drawn(
    show: &ShowView,
    wall: &WallView,
    plates: &[ShowPlates],
    pile: &mut Pile,
    t: &[&Words],
) -> DrawnWall {
    let words = lead(t);
    let name = [("name", wall.name.as_str())];
    let top = wall
        .pieces
        .iter()
        .map(|p| p.bottom.mm() + p.height.mm())
        .fold(DRAWN_HIGH, f64::max);
    DrawnWall {
        head: Said::each(t, |w| fill(&w.show.plan.wall, &name)),
        alt: fill(
            &words.show.plan.wall_alt,
            &[name[0], ("count", &wall.pieces.len().to_string())],
        ),
        wide: wall.width.mm(),
        high: wall.height.map_or(top, |h| h.mm()),
        ceiling: wall.height.is_some(),
        clear: wall
            .clear
            .iter()
            .map(|(from, to, what)| {
                let what = match what {
                    Some(what) => Said::own(what),
                    None => term(t, |w| &w.plan.clear),
                };
                (from.mm(), to.mm(), what)
            })
            .collect(),
        pieces: wall
            .pieces
            .iter()
            .map(|p| {
                let public = show.pieces.get(p.index).map(|s| &s.public);
                let front = plates.get(p.index).and_then(|s| s.front.as_ref());
                let picture = public
                    .zip(front)
                    .map(|(public, front)| pile.add(front, front_alt(public, words)));
                DrawnPiece {
                    number: show.pieces.get(p.index).map_or(0, |s| s.number),
                    left: p.left.mm(),
                    bottom: p.bottom.mm(),
                    wide: p.width.mm(),
                    high: p.height.mm(),
                    picture,
                    across: p.across.iter().map(|x| x.mm()).collect(),
                    above: p.above.mm(),
                    left_said: cm(p.left, show, words),
                }
            })
            .collect(),
        facts: facts(show, wall, t),
        star: wall
            .pieces
            .iter()
            .any(|p| !p.known)
            .then(|| term(t, |w| &w.plan.fixings_usual)),
        rows: wall.pieces.iter().map(|p| row(show, p, t)).collect(),
    }
}

fn facts(show: &ShowView, wall: &WallView, t: &[&Words]) -> Vec<Said> {
    let known = wall
        .pieces
        .iter()
        .filter_map(|p| p.mass)
        .fold(0.0, |sum, mass| sum + mass);
    let unknown = wall.pieces.iter().filter(|p| p.mass.is_none()).count();
    let mut out = Vec::new();
    if !wall.pieces.is_empty() {
        out.push(Said::each(t, |w| {
            let load = kg(known, show, w);
            let words = &w.show.plan;
            let pattern = if unknown > 0 {
                &words.load_unknown
            } else {
                &words.load
            };
            fill(pattern, &[("load", &load), ("count", &unknown.to_string())])
        }));
    }
    if let Some(limit) = wall.limit {
        out.push(Said::each(t, |w| {
            fill(
                &w.show.plan.limit,
                &[("limit", &format!("{}{THIN}kg", short(limit, w)))],
            )
        }));
    }
    if wall.hang == Some(HangFrom::Rail) {
        out.push(term(t, |w| &w.plan.rail));
    }
    out
}

/// Number, title, left edge, top edge, fixings across, fixings above the floor, mass. Figures stand once, in the leading
/// language.
fn row(show: &ShowView, p: &HungView, t: &[&Words]) -> Vec<Said> {
    let piece = show.pieces.get(p.index);
    let w = lead(t);
    let star = if p.known { "" } else { "*" };
    let across: Vec<String> = p.across.iter().map(|x| cm(*x, show, w)).collect();
    let top = Length::from_mm(p.bottom.mm() + p.height.mm());
    [
        piece.map_or(String::new(), |s| s.number.to_string()),
        piece.map_or(String::new(), |s| s.public.title.clone()),
        cm(p.left, show, w),
        cm(top, show, w),
        format!("{}{star}", across.join(&w.join.semicolon)),
        format!("{}{star}", cm(p.above, show, w)),
        p.mass.map_or("–".to_owned(), |mass| kg(mass, show, w)),
    ]
    .into_iter()
    .map(Said::own)
    .collect()
}
