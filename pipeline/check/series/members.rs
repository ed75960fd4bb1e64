//! The pieces of each series, and which number each may have.

use crate::check::Subject;
use crate::reckon::series::{Conflict, Outcome, Reasoned, Written, reason};
use crate::record::{Piece, Series, SeriesOrder};
use std::collections::BTreeMap;

/// One piece of a series.
#[derive(Clone, Copy)]
pub(in crate::check) struct Member<'a> {
    pub piece: &'a Piece,
    pub series: &'a Series,
}

impl Member<'_> {
    /// The numbers it may have; none where it has no number.
    pub fn numbers(&self) -> &[u32] {
        self.series.number.as_ref().map_or(&[], |n| &n.value)
    }

    /// The number, where it is sure.
    pub fn certain(&self) -> Option<u32> {
        match self.numbers() {
            [only] => Some(*only),
            _ => None,
        }
    }
}

/// Every series by its name, whatever its capitals and blanks, in the order of the pieces' folders.
pub(in crate::check) fn all_series<'a>(subjects: &[Subject<'a>]) -> Vec<Vec<Member<'a>>> {
    let mut series: BTreeMap<String, Vec<Member<'a>>> = BTreeMap::new();
    for subject in subjects {
        if let Some(s) = &subject.piece.series {
            series
                .entry(s.name.to_lowercase())
                .or_default()
                .push(Member {
                    piece: subject.piece,
                    series: s,
                });
        }
    }
    series.into_values().collect()
}

/// Every series with what follows of its numbers and days.
fn reasoned<'a>(subjects: &[Subject<'a>]) -> Vec<(Vec<Member<'a>>, Outcome)> {
    let by_date = by_date(subjects);
    let reasoned = |members: Vec<Member<'a>>| {
        let pieces: Vec<&Piece> = members.iter().map(|m| m.piece).collect();
        let outcome = reason(&Written::of(&pieces, by_date));
        (members, outcome)
    };
    all_series(subjects).into_iter().map(reasoned).collect()
}

/// Those series that do not contradict themselves.
pub(in crate::check) fn consistent<'a>(
    subjects: &[Subject<'a>],
) -> impl Iterator<Item = (Vec<Member<'a>>, Reasoned)> {
    reasoned(subjects)
        .into_iter()
        .filter_map(|(members, outcome)| match outcome {
            Outcome::Consistent(reasoned) => Some((members, reasoned)),
            Outcome::Contradiction(_) | Outcome::TooLarge => None,
        })
}

/// Those that do, and how.
pub(in crate::check) fn contradictory<'a>(
    subjects: &[Subject<'a>],
) -> impl Iterator<Item = (Vec<Member<'a>>, Conflict)> {
    reasoned(subjects)
        .into_iter()
        .filter_map(|(members, outcome)| match outcome {
            Outcome::Contradiction(conflict) => Some((members, conflict)),
            Outcome::Consistent(_) | Outcome::TooLarge => None,
        })
}

/// Whether the studio says that numbers follow the days.
fn by_date(subjects: &[Subject]) -> bool {
    subjects
        .iter()
        .filter_map(|s| s.studio)
        .any(|s| s.series_order == SeriesOrder::ByDate)
}

/// Gives every piece one of its numbers, no number twice, as far as that can be done; certain pieces
/// first. Each piece's number, or nothing where none is left (Kuhn's augmenting paths).
pub(in crate::check) fn assigned(members: &[Member]) -> Vec<Option<u32>> {
    let mut order: Vec<usize> = (0..members.len()).collect();
    order.sort_by_key(|&i| members[i].numbers().len());
    let mut holder: BTreeMap<u32, usize> = BTreeMap::new();
    for i in order {
        let mut tried = Vec::new();
        place(members, i, &mut holder, &mut tried);
    }
    let mut numbers = vec![None; members.len()];
    for (number, i) in holder {
        numbers[i] = Some(number);
    }
    numbers
}

fn place(
    members: &[Member],
    i: usize,
    holder: &mut BTreeMap<u32, usize>,
    tried: &mut Vec<u32>,
) -> bool {
    for &number in members[i].numbers() {
        if tried.contains(&number) {
            continue;
        }
        tried.push(number);
        let free = match holder.get(&number).copied() {
            None => true,
            // A sure number is never given to another.
            Some(other) if members[other].certain().is_some() => false,
            Some(other) => place(members, other, holder, tried),
        };
        if free {
            holder.insert(number, i);
            return true;
        }
    }
    false
}
