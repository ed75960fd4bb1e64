//! The plan: which stretch each piece hangs in, how good that is, and how good it could be at best.

use super::bound::least;
use super::in_turn::in_turn;
use super::polish::polish;
use super::search::{STEPS, search};
use super::spread::{bottom, spread};
use super::stretch::{Task, why};
use super::{Hung, NoPlace, Rooms};
use crate::quantity::Length;

/// How good a plan is; less is better, the first figure that differs decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Score {
    /// Pieces that are left over.
    pub left_over: u32,
    /// Pieces where the light is too strong for them.
    pub too_bright: u32,
    /// Pieces that the visitor meets before the one listed ahead of them.
    pub out_of_order: u32,
    /// How full the fullest stretch is, in millionths.
    pub fullest: i64,
}

/// Where a piece hangs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// The wall, by its place in the list.
    pub wall: usize,
    /// Its left edge from the left corner.
    pub left: Length,
    /// Its lower edge above the floor.
    pub bottom: Length,
}

/// A plan for a show.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Each piece's place, or why it has none.
    pub spots: Vec<Result<Spot, NoPlace>>,
    /// How good it is.
    pub score: Score,
    /// No plan is better than this.
    pub bound: Score,
    /// Steps of the search.
    pub steps: u64,
}

impl Plan {
    /// Whether it is proved that no plan is better.
    pub fn is_best(&self) -> bool {
        self.score <= self.bound
    }
}

/// Hangs pieces, which come in the order in which the visitor should meet them.
pub fn hang(pieces: &[Hung], rooms: &Rooms) -> Plan {
    hang_within(pieces, rooms, STEPS)
}

pub(super) fn hang_within(pieces: &[Hung], rooms: &Rooms, steps: u64) -> Plan {
    let task = Task::of(pieces, rooms);
    let least = least(&task);
    let (mut best, mut score) = in_turn(&task);
    let mut bound = least;
    let mut taken = 0;
    let all_hang = score.left_over == 0 && score.too_bright <= least.too_bright;
    if all_hang && score.out_of_order == 0 && !task.shares_a_limit() {
        // Everything hangs, in order, and in no stronger light than it must: only the fill could differ, and of all
        // ways in turn this one is the airiest.
        bound = score;
    } else {
        (best, score) = polish(&task, best, score);
        let found = search(&task, &best, score, least, steps);
        (best, score, taken) = (found.way, found.score, found.steps);
        if found.complete {
            bound = score;
        }
    }
    let placed = spread(&task, &best);
    let spots = pieces
        .iter()
        .zip(placed)
        .map(|(piece, at)| match at {
            Some((wall, left)) => Ok(Spot {
                wall,
                left,
                bottom: bottom(piece.height, rooms.line),
            }),
            None => Err(why(piece, rooms)),
        })
        .collect();
    Plan {
        spots,
        score,
        bound,
        steps: taken,
    }
}

/// How good a way is.
pub(super) fn score(task: &Task, way: &[Option<usize>]) -> Score {
    let mut taken = vec![0; task.stretches.len()];
    let mut score = Score {
        left_over: 0,
        too_bright: 0,
        out_of_order: 0,
        fullest: 0,
    };
    let mut before: Option<usize> = None;
    for (piece, at) in way.iter().enumerate() {
        match at {
            None => score.left_over += 1,
            Some(s) => {
                taken[*s] += task.takes(piece);
                score.too_bright += u32::from(task.bright[piece][*s]);
                score.out_of_order += u32::from(before.is_some_and(|b| b > *s));
            }
        }
        before = *at;
    }
    for (s, taken) in taken.into_iter().enumerate() {
        score.fullest = score.fullest.max(task.fill(s, taken));
    }
    score
}
