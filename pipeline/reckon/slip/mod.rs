//! The slip finder: figures that contradict each other, and the single slip that most likely explains
//! it.
//!
//! A record's figures keep relations ([`Relation`]): the yarns weigh what the scale says, the piece is a
//! little smaller than the web, and so on. Where one is off by more than [`LIMIT`] of its standard
//! deviations, every single slip of a fixed list ([`Kind`]) is tried on every figure: the figures
//! without it get a likelihood, the product of normal densities of all relations, exp(−½ Σ z²). Kinds
//! are taken as equally likely beforehand, and so are the places a kind can strike, save that a unit
//! of the other family than the rest of the record is the likelier slip. Slips that bring
//! every relation back are ranked by likelihood times that prior. The record itself is never changed.

mod candidate;
mod facts;
mod in_yarns;
mod on_loom;
mod on_wall;
mod relation;
mod rewriting;
mod said;

pub use candidate::Kind;
pub use facts::Shape;
pub use relation::Relation;

use crate::record::{Piece, Place};
use candidate::Candidate;
use facts::Facts;
use relation::{Score, scores};
use std::collections::BTreeMap;

/// How many standard deviations a relation may be off before it counts as a contradiction.
const LIMIT: f64 = 3.3;
/// How many a relation may be off with the slip mended.
const MENDED: f64 = 3.0;

/// Figures that contradict each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Contradiction {
    /// The relations that do not hold, the worst first.
    pub relations: Vec<Relation>,
    /// What the figures say of the worst ones, in a weaver's words.
    pub said: Vec<String>,
    /// Slips that would explain it, the likeliest first, three at most; empty where no single one does.
    pub slips: Vec<Slip>,
}

/// A slip that would explain a contradiction.
#[derive(Debug, Clone, PartialEq)]
pub struct Slip {
    /// What kinds of slip lead to these figures.
    pub kinds: Vec<Kind>,
    /// The field, such as `measured.mass`.
    pub field: String,
    /// Where it stands.
    pub place: Place,
    /// "`mass` is `4.31 lb` and not `4.31 kg`".
    pub words: String,
    /// What the figures would then say of the worst relation.
    pub then: String,
    /// How likely it is among all slips tried, 0 to 1.
    pub likelihood: f64,
}

/// Looks for contradictions in a record; `photo` is the piece's shape in its front photograph, where
/// it is known.
pub fn contradictions(piece: &Piece, photo: Option<Shape>) -> Vec<Contradiction> {
    let facts = Facts::of(piece, photo);
    let now = scores(&facts);
    let mut off: Vec<Score> = now.iter().copied().filter(|s| s.z.abs() > LIMIT).collect();
    if off.is_empty() {
        return Vec::new();
    }
    off.sort_by(|a, b| b.z.abs().total_cmp(&a.z.abs()));
    let mut relations: Vec<Relation> = Vec::new();
    for score in &off {
        if !relations.contains(&score.relation) {
            relations.push(score.relation);
        }
    }
    let tried = candidate::all(piece, &facts);
    let places = places_by_kind(&tried);
    let weighed: Vec<Weighed> = tried
        .iter()
        .map(|c| Weighed::of(c, places.get(&c.kind).copied().unwrap_or(1)))
        .collect();
    // One slip for everything, or else one for each relation by itself.
    let whole = ranked(&facts, &weighed, &now, &relations, true);
    if !whole.is_empty() {
        return vec![contradiction(&facts, relations, whole)];
    }
    let mut left = relations;
    let mut out = Vec::new();
    while let Some(worst) = left.first().copied() {
        let slips = ranked(&facts, &weighed, &now, &[worst], false);
        let mut mended = vec![worst];
        if let Some(best) = slips.first() {
            let after: Vec<Score> = best.1.scores.clone();
            mended.extend(left.iter().skip(1).filter(|r| holds(&after, **r)));
        }
        left.retain(|r| !mended.contains(r));
        out.push(contradiction(&facts, mended, slips));
    }
    out
}

struct Weighed<'a> {
    candidate: &'a Candidate,
    scores: Vec<Score>,
    /// Logarithm of likelihood and prior together.
    weight: f64,
}

impl<'a> Weighed<'a> {
    fn of(candidate: &'a Candidate, places: usize) -> Self {
        let scores = scores(&candidate.facts);
        let misfit: f64 = scores.iter().map(|s| s.z * s.z).sum();
        Weighed {
            weight: -misfit / 2.0 - libm::log(places as f64) + candidate.open,
            candidate,
            scores,
        }
    }
}

fn places_by_kind(all: &[Candidate]) -> BTreeMap<Kind, usize> {
    let mut places: BTreeMap<Kind, usize> = BTreeMap::new();
    for c in all {
        *places.entry(c.kind).or_insert(0) += 1;
    }
    places
}

fn holds(scores: &[Score], relation: Relation) -> bool {
    scores
        .iter()
        .filter(|s| s.relation == relation)
        .all(|s| s.z.abs() <= MENDED)
}

/// The slips that bring these relations back without breaking another, the likeliest first; those that
/// lead to the same figures are one.
fn ranked<'a, 'b>(
    facts: &Facts,
    weighed: &'b [Weighed<'a>],
    now: &[Score],
    relations: &[Relation],
    all: bool,
) -> Vec<(f64, &'b Weighed<'a>, Vec<Kind>)> {
    let untouched = |s: &Score| {
        let before = now.iter().filter(|n| n.relation == s.relation);
        before.clone().any(|n| (n.z - s.z).abs() < 1e-9)
    };
    let reconciles = |w: &Weighed| {
        relations.iter().all(|r| holds(&w.scores, *r))
            && w.scores.iter().all(|s| {
                // What the slip touches must hold with it mended; what it does not touch may stay off.
                s.z.abs() <= MENDED
                    || (!relations.contains(&s.relation) && (s.z.abs() <= LIMIT || untouched(s)))
            })
            && (!all || w.scores.iter().all(|s| s.z.abs() <= LIMIT))
            && w.candidate.facts != *facts
    };
    let mut good: Vec<&Weighed> = weighed.iter().filter(|w| reconciles(w)).collect();
    good.sort_by(|a, b| {
        b.weight
            .total_cmp(&a.weight)
            .then_with(|| a.candidate.words.cmp(&b.candidate.words))
    });
    let Some(best) = good.first().map(|w| w.weight) else {
        return Vec::new();
    };
    let mut out: Vec<(f64, &Weighed, Vec<Kind>)> = Vec::new();
    for w in good {
        let likelihood = libm::exp(w.weight - best);
        match out
            .iter_mut()
            .find(|(_, o, _)| alike(o.candidate, w.candidate))
        {
            Some((sum, _, kinds)) => {
                *sum += likelihood;
                if !kinds.contains(&w.candidate.kind) {
                    kinds.push(w.candidate.kind);
                }
            }
            None => out.push((likelihood, w, vec![w.candidate.kind])),
        }
    }
    let total: f64 = out.iter().map(|(l, _, _)| l).sum();
    for (likelihood, _, _) in &mut out {
        *likelihood /= total;
    }
    out.sort_by(|a, b| {
        b.0.total_cmp(&a.0)
            .then_with(|| a.1.candidate.words.cmp(&b.1.candidate.words))
    });
    out
}

/// Whether two slips in one field lead to the same figure: `121.4 mm` may be a wrong unit or a wrong
/// point, and what to write is the same.
fn alike(a: &Candidate, b: &Candidate) -> bool {
    let same = |(x, y): (f64, f64)| (x - y).abs() <= 1e-9 * x.abs().max(y.abs());
    a.words == b.words || (a.field == b.field && a.value.zip(b.value).is_some_and(same))
}

fn contradiction(
    facts: &Facts,
    relations: Vec<Relation>,
    slips: Vec<(f64, &Weighed, Vec<Kind>)>,
) -> Contradiction {
    let said: Vec<String> = relations
        .iter()
        .filter_map(|r| r.said(facts))
        .take(3)
        .collect();
    let slips = slips
        .into_iter()
        .take(3)
        .map(|(likelihood, w, kinds)| Slip {
            kinds,
            field: w.candidate.field.clone(),
            place: w.candidate.place.clone(),
            words: w.candidate.words.clone(),
            then: relations
                .first()
                .and_then(|r| r.said(&w.candidate.facts))
                .unwrap_or_default(),
            likelihood,
        })
        .collect();
    Contradiction {
        relations,
        said,
        slips,
    }
}
