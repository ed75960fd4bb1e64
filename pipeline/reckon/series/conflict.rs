//! Where nothing fits: the smallest set of statements that do not go together.

use super::slots::Slots;
use super::solve::{Budget, Problem, fits};
use super::{LARGEST, Member, Written};
use std::collections::BTreeSet;

/// Something that is written of a series.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Statement {
    /// The numbers of a piece.
    Number(usize),
    /// The days on which a piece was finished.
    Finished(usize),
    /// How many there are.
    Count,
}

/// Statements that do not go together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Conflict {
    /// The statements, in order.
    pub statements: Vec<Statement>,
    /// Whether it is proved that no smaller set of statements of this series is contradictory; then, without any one of
    /// these, the others go together.
    pub smallest: bool,
}

/// Rounds of looking for a smaller set.
const ROUNDS: usize = 4000;
/// Steps in choosing statements that meet every set that must be met.
const STEPS: usize = 200_000;

/// The smallest contradictory set. A set of statements is contradictory if and only if it meets every set whose removal
/// makes the rest go together; so the smallest set that meets all those found so far is tried, and either is
/// contradictory, and then the smallest of all, or shows one more that must be met (Ignatiev and others, Smallest MUS
/// Extraction with Minimal Hitting Set Dualization, CP 2015; from memory).
pub(super) fn smallest(written: &Written, budget: &mut Budget) -> Conflict {
    let all = statements(written);
    let mut check = |some: &BTreeSet<Statement>| fit(written, some, budget);
    let small = shrunk(&all, &mut check);
    let mut to_meet: Vec<BTreeSet<Statement>> = Vec::new();
    for _ in 0..ROUNDS {
        let Some(tried) = meeting(&to_meet, small.len()) else {
            break;
        };
        if tried.len() >= small.len() {
            return Conflict {
                statements: small.into_iter().collect(),
                smallest: true,
            };
        }
        match check(&tried) {
            Some(false) => {
                return Conflict {
                    statements: tried.into_iter().collect(),
                    smallest: true,
                };
            }
            Some(true) => {
                // Grown until nothing more goes in: what is left out must be met.
                let mut grown = tried;
                let mut left_out = BTreeSet::new();
                for statement in &all {
                    if grown.contains(statement) {
                        continue;
                    }
                    grown.insert(*statement);
                    if check(&grown) != Some(true) {
                        grown.remove(statement);
                        left_out.insert(*statement);
                    }
                }
                to_meet.push(left_out);
            }
            None => break,
        }
    }
    Conflict {
        statements: small.into_iter().collect(),
        smallest: false,
    }
}

/// Whether some statements go together. Pieces that none of them speaks of have room wherever the others stand, as long
/// as there are not more pieces than numbers.
fn fit(written: &Written, some: &BTreeSet<Statement>, budget: &mut Budget) -> Option<bool> {
    let of = written.of.filter(|_| some.contains(&Statement::Count));
    if of.is_some_and(|of| (of as usize) < written.members.len()) {
        return Some(false);
    }
    let spoken_of = |(i, m): (usize, &Member)| {
        let number = some.contains(&Statement::Number(i));
        let finished = some.contains(&Statement::Finished(i));
        (number || finished).then(|| Member {
            numbers: if number {
                m.numbers.clone()
            } else {
                Vec::new()
            },
            finished: if finished { m.finished } else { (None, None) },
        })
    };
    let part = Written {
        members: written
            .members
            .iter()
            .enumerate()
            .filter_map(spoken_of)
            .collect(),
        of,
        by_date: written.by_date,
    };
    let slots = Slots::of(&part);
    if slots.len().saturating_mul(part.members.len()) > LARGEST {
        return None;
    }
    fits(&Problem::of(&part, &slots), budget)
}

/// Everything that is written of the series.
fn statements(written: &Written) -> Vec<Statement> {
    let numbered = (0..written.members.len()).filter(|i| !written.members[*i].numbers.is_empty());
    let mut all: Vec<Statement> = numbered.map(Statement::Number).collect();
    if written.by_date {
        let dated = |i: &usize| {
            let (first, last) = written.members[*i].finished;
            first.is_some() || last.is_some()
        };
        let dated = (0..written.members.len()).filter(dated);
        all.extend(dated.map(Statement::Finished));
    }
    if written.of.is_some() {
        all.push(Statement::Count);
    }
    all
}

/// Leaves out one after the other what is not needed for the contradiction. Halves first, so that a long series is soon
/// short.
fn shrunk(
    all: &[Statement],
    check: &mut dyn FnMut(&BTreeSet<Statement>) -> Option<bool>,
) -> BTreeSet<Statement> {
    let mut kept: BTreeSet<Statement> = all.iter().copied().collect();
    let mut piece = all.len().div_ceil(2).max(1);
    loop {
        for part in all.chunks(piece) {
            let mut fewer = kept.clone();
            part.iter().for_each(|s| {
                fewer.remove(s);
            });
            if fewer.len() < kept.len() && check(&fewer) == Some(false) {
                kept = fewer;
            }
        }
        if piece == 1 {
            return kept;
        }
        piece = piece.div_ceil(2);
    }
}

/// A smallest set that meets each of `sets`; of equals the first in order. Nothing where it took too long.
fn meeting(sets: &[BTreeSet<Statement>], most: usize) -> Option<BTreeSet<Statement>> {
    let mut steps = STEPS;
    for size in 0..=most {
        let mut chosen = BTreeSet::new();
        match meet(sets, size, &mut chosen, &mut steps) {
            Some(true) => return Some(chosen),
            Some(false) => {}
            None => return None,
        }
    }
    None
}

fn meet(
    sets: &[BTreeSet<Statement>],
    room: usize,
    chosen: &mut BTreeSet<Statement>,
    steps: &mut usize,
) -> Option<bool> {
    *steps = steps.checked_sub(1)?;
    let open = sets.iter().filter(|s| s.is_disjoint(chosen));
    let Some(next) = open.min_by_key(|s| s.len()) else {
        return Some(true);
    };
    if room == 0 {
        return Some(false);
    }
    for statement in next {
        chosen.insert(*statement);
        if meet(sets, room - 1, chosen, steps)? {
            return Some(true);
        }
        chosen.remove(statement);
    }
    Some(false)
}
