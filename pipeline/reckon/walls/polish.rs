//! Making a known way better by small changes, before the search tries to prove anything: a piece goes elsewhere, or
//! two change places. A change for the worse is taken too where it is no worse than what was held some steps ago
//! (late acceptance), which leads out of dead ends. The numbers that choose are the same in every run.

use super::assign::{Score, score};
use super::stretch::Task;

/// Changes that are tried.
const TRIES: usize = 400_000;
/// How far back a change is compared.
const MEMORY: usize = 400;

/// The best way that small changes led to, and how good it is.
pub(super) fn polish(
    task: &Task,
    way: Vec<Option<usize>>,
    begun: Score,
) -> (Vec<Option<usize>>, Score) {
    let (pieces, stretches) = (task.widths.len(), task.stretches.len());
    if pieces == 0 || stretches == 0 {
        return (way, begun);
    }
    let mut dice = Dice(0x0ff1_0053);
    let mut at = Held::of(task, way);
    let mut now = begun;
    let mut best = (at.way.clone(), begun);
    let mut memory = [begun; MEMORY];
    // Scoring takes a step for each piece, so large shows get fewer tries in the same time.
    let tries = TRIES * 40 / pieces.max(40);
    for n in 0..tries {
        let p = dice.below(pieces);
        let to = dice.below(stretches + 1);
        let to = (to < stretches).then_some(to);
        let from = at.way[p];
        if to == from || to.is_some_and(|s| !task.may[p][s]) {
            continue;
        }
        // Half the time somebody there makes room by going where the piece came from.
        let other = if dice.below(2) == 0 {
            at.somebody(to, p, &mut dice)
        } else {
            None
        };
        if other.is_some_and(|q| from.is_some_and(|s| !task.may[q][s])) {
            continue;
        }
        at.put(task, p, to);
        if let Some(q) = other {
            at.put(task, q, from);
        }
        let then = if at.fits(task, to) && at.fits(task, from) {
            Some(score(task, &at.way))
        } else {
            None
        };
        let held = &mut memory[n % MEMORY];
        match then {
            Some(then) if then <= now || then <= *held => {
                now = then;
                if now < best.1 {
                    best = (at.way.clone(), now);
                }
            }
            _ => {
                if let Some(q) = other {
                    at.put(task, q, to);
                }
                at.put(task, p, from);
            }
        }
        *held = (*held).min(now);
    }
    best
}

struct Held {
    way: Vec<Option<usize>>,
    taken: Vec<i64>,
    load: Vec<i64>,
}

impl Held {
    fn of(task: &Task, way: Vec<Option<usize>>) -> Held {
        let mut held = Held {
            way: vec![None; way.len()],
            taken: vec![0; task.stretches.len()],
            load: vec![0; task.limits.len()],
        };
        for (p, to) in way.into_iter().enumerate() {
            held.put(task, p, to);
        }
        held
    }

    fn put(&mut self, task: &Task, p: usize, to: Option<usize>) {
        if let Some(s) = self.way[p] {
            self.taken[s] -= task.takes(p);
            self.load[task.stretches[s].wall] -= task.masses[p];
        }
        if let Some(s) = to {
            self.taken[s] += task.takes(p);
            self.load[task.stretches[s].wall] += task.masses[p];
        }
        self.way[p] = to;
    }

    fn fits(&self, task: &Task, at: Option<usize>) -> bool {
        at.is_none_or(|s| {
            let wall = task.stretches[s].wall;
            self.taken[s] <= task.gives(s) && self.load[wall] <= task.limits[wall]
        })
    }

    /// Another piece that hangs there, or is left over there.
    fn somebody(&self, there: Option<usize>, but: usize, dice: &mut Dice) -> Option<usize> {
        let first = dice.below(self.way.len());
        (first..self.way.len())
            .chain(0..first)
            .find(|q| *q != but && self.way[*q] == there)
    }
}

/// Numbers that are the same in every run (a linear congruential generator with Knuth's multiplier).
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap_or(0) % n
    }
}
