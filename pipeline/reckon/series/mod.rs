//! Numbered series, reasoned: which number each piece can still have, what follows with certainty, what contradicts
//! itself, which numbers nobody has, and which one fact would settle the most. Nothing is guessed: every answer holds in
//! all ways to number the pieces that fit what is written, or the result says that it could not be proved.
//!
//! Two rules: no two pieces have one number; and, where the studio says that numbers follow the days, a piece that was
//! surely finished before another has the lower number. The days themselves may be known as spans only. That is exact:
//! an order of the pieces agrees with SOME choice of a day in each span, never falling, if and only if no piece comes
//! before one that surely was earlier. (Give each in turn the latest first day met so far: it lies within every span
//! unless an earlier place holds a first day after a later place's last day, which is just what is forbidden.)

mod bits;
mod conflict;
mod filter;
mod question;
mod slots;
mod solve;
#[cfg(test)]
mod tests;

pub use conflict::{Conflict, Statement};
pub use question::Question;

use crate::quantity::Day;
use crate::record::Piece;
use filter::Filtered;
use slots::Slots;
use solve::{Budget, Problem};
use std::collections::BTreeMap;

/// One piece of a series, as written.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Member {
    /// The numbers it may have; none where none is written. 0 is no number.
    pub numbers: Vec<u32>,
    /// The first and the last day on which it can have been finished, as far as they are known.
    pub finished: (Option<Day>, Option<Day>),
}

impl Member {
    /// Whether it surely was finished before another.
    pub fn precedes(&self, other: &Member) -> bool {
        matches!((self.finished.1, other.finished.0), (Some(a), Some(b)) if a < b)
    }
}

/// A series, as written.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Written {
    /// Its pieces.
    pub members: Vec<Member>,
    /// How many there are or will be, if it is written: numbers go from 1 to it.
    pub of: Option<u32>,
    /// Whether numbers follow the days.
    pub by_date: bool,
}

impl Written {
    /// What pieces of one series say. Where they do not agree how many they are, most decide, of equals the first.
    pub fn of(pieces: &[&Piece], by_date: bool) -> Written {
        let count = |p: &&Piece| Some(p.series.as_ref()?.of.as_ref()?.value);
        let counts: Vec<u32> = pieces.iter().filter_map(count).collect();
        let votes = |of: &u32| counts.iter().filter(|c| *c == of).count();
        let member = |p: &&Piece| Member {
            numbers: p
                .series
                .as_ref()
                .and_then(|s| s.number.as_ref())
                .map(|n| n.value.clone())
                .unwrap_or_default(),
            finished: p.made.ended(),
        };
        Written {
            members: pieces.iter().map(member).collect(),
            of: counts.iter().rev().max_by_key(|of| votes(of)).copied(),
            by_date,
        }
    }
}

/// The pieces of each series, by its name in small letters, in the order of the pieces.
pub fn all_series<'a>(pieces: impl Iterator<Item = &'a Piece>) -> BTreeMap<String, Vec<&'a Piece>> {
    let mut all: BTreeMap<String, Vec<&Piece>> = BTreeMap::new();
    for piece in pieces {
        if let Some(series) = &piece.series {
            let name = series.name.trim().to_lowercase();
            all.entry(name).or_default().push(piece);
        }
    }
    all
}

/// Numbers from one to another, both counted.
pub type Span = (u32, u32);

/// What one piece can still be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remaining {
    /// The numbers it has in at least one numbering that fits, as spans in rising order.
    pub spans: Vec<Span>,
    /// Whether every number above the last span is possible too: for a piece without a number in a series without a
    /// count.
    pub upwards: bool,
}

impl Remaining {
    /// The one number that is left.
    pub fn only(&self) -> Option<u32> {
        match self.spans.as_slice() {
            [(a, b)] if a == b && !self.upwards => Some(*a),
            _ => None,
        }
    }

    /// How many numbers are left; without end where there is none.
    pub fn count(&self) -> Option<u64> {
        let each = |(a, b): &Span| u64::from(b - a) + 1;
        (!self.upwards).then(|| self.spans.iter().map(each).sum())
    }
}

/// Why a number follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Because {
    /// No other number is left for the piece.
    OnlyLeft,
    /// No other piece can have the number, and somebody must.
    OnlyPiece,
}

/// What follows.
#[derive(Debug, Clone, PartialEq)]
pub struct Reasoned {
    /// For each piece what it can still be.
    pub remaining: Vec<Remaining>,
    /// Pieces whose number follows though it was not written as one: which, its number, and why.
    pub settled: Vec<(usize, u32, Because)>,
    /// Numbers that some piece surely has, though it is not sure which.
    pub surely_used: Vec<u32>,
    /// Numbers up to the count, or to the highest that is written, that no piece here can have.
    pub gaps: Vec<Span>,
    /// How many numbers of the count nobody here has, whichever they are.
    pub missing: Option<u32>,
    /// The question whose answer settles the most.
    pub question: Option<Question>,
    /// Whether every answer is proved; not, where the search was ended before.
    pub proved: bool,
}

/// What came of the reasoning.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// There is at least one numbering that fits.
    Consistent(Reasoned),
    /// There is none: the smallest set of statements that do not go together.
    Contradiction(Conflict),
    /// The series is too large to be reasoned about.
    TooLarge,
}

/// The largest problem: pieces times numbers.
const LARGEST: usize = 4_000_000;

/// Steps of search that one run may take, all questions together: fewer where each has more to look at.
fn steps(size: usize) -> u64 {
    (1_000_000_000 / (size as u64 + 1)).clamp(2_000, 400_000)
}

/// Reasons about a series.
pub fn reason(written: &Written) -> Outcome {
    let slots = Slots::of(written);
    let size = slots.len().saturating_mul(written.members.len());
    if size > LARGEST {
        return Outcome::TooLarge;
    }
    let mut budget = Budget::new(steps(size));
    let problem = Problem::of(written, &slots);
    let Some(possible) = solve::possible(&problem, &mut budget) else {
        let mut budget = Budget::new(steps(size));
        return Outcome::Contradiction(conflict::smallest(written, &mut budget));
    };
    Outcome::Consistent(reasoned(written, &slots, &problem, &possible, budget))
}

fn reasoned(
    written: &Written,
    slots: &Slots,
    problem: &Problem,
    possible: &Filtered,
    mut budget: Budget,
) -> Reasoned {
    let remaining: Vec<Remaining> = possible
        .domains
        .iter()
        .map(|d| slots.remaining(d.iter()))
        .collect();
    let used = solve::always_used(problem, possible, &mut budget);
    let settled: Vec<(usize, u32, Because)> = remaining
        .iter()
        .enumerate()
        .filter(|(i, _)| written.members[*i].numbers.len() != 1)
        .filter_map(|(i, r)| {
            let number = r.only()?;
            let among = |m: &Member| m.numbers.is_empty() || m.numbers.contains(&number);
            let takers = written.members.iter().filter(|m| among(m)).count();
            // As many pieces as numbers: somebody must have each.
            let full = written.of.is_some_and(|of| of as usize == remaining.len());
            let because = if full && takers == 1 {
                Because::OnlyPiece
            } else {
                Because::OnlyLeft
            };
            Some((i, number, because))
        })
        .collect();
    let surely_used = used
        .iter()
        .filter_map(|slot| slots.number(*slot))
        .filter(|n| remaining.iter().all(|r| r.only() != Some(*n)))
        .collect();
    let top = written.of.or_else(|| slots.highest_written()).unwrap_or(0);
    let question = question::best(problem, possible, slots, &mut budget);
    Reasoned {
        gaps: gaps(&remaining, top),
        missing: written
            .of
            .map(|of| of.saturating_sub(u32::try_from(written.members.len()).unwrap_or(u32::MAX))),
        remaining,
        settled,
        surely_used,
        question,
        proved: budget.left(),
    }
}

/// Numbers from 1 to `top` that nobody can have.
fn gaps(remaining: &[Remaining], top: u32) -> Vec<Span> {
    let mut spans: Vec<Span> = remaining.iter().flat_map(|r| r.spans.clone()).collect();
    spans.extend(
        remaining
            .iter()
            .filter(|r| r.upwards)
            .filter_map(|r| Some((r.spans.last()?.1, u32::MAX))),
    );
    spans.sort_unstable();
    let mut out = Vec::new();
    let mut next = 1u64;
    for (a, b) in spans {
        if u64::from(a) > next && next <= u64::from(top) {
            out.push((next as u32, (a - 1).min(top)));
        }
        next = next.max(u64::from(b) + 1);
    }
    if next <= u64::from(top) {
        out.push((next as u32, top));
    }
    out
}
