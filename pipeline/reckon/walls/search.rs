//! Branch and bound over all ways, beginning from a known one.

use super::assign::Score;
use super::stretch::Task;
use std::cmp::Ordering;

/// Steps after which the search gives up proving; a few seconds on a slow machine.
pub(super) const STEPS: u64 = 30_000_000;

/// What the search came to.
pub(super) struct Found {
    pub way: Vec<Option<usize>>,
    pub score: Score,
    pub steps: u64,
    /// Whether every way was tried or excluded.
    pub complete: bool,
}

/// Looks for a better way than `way`; `least` is what no way is better than.
pub(super) fn search(
    task: &Task,
    way: &[Option<usize>],
    score: Score,
    least: Score,
    steps: u64,
) -> Found {
    let mut search = Search {
        task,
        best: way.to_vec(),
        score,
        least,
        left: steps,
        way: vec![None; task.widths.len()],
        taken: vec![0; task.stretches.len()],
        sum: 0,
        load: vec![0; task.limits.len()],
        gives: (0..task.stretches.len()).map(|s| task.gives(s)).sum(),
        rest: rests(task),
    };
    let complete = search.go(
        0,
        Score {
            left_over: 0,
            too_bright: 0,
            out_of_order: 0,
            fullest: 0,
        },
    );
    Found {
        way: search.best,
        score: search.score,
        steps: steps - search.left,
        complete,
    }
}

struct Search<'a> {
    task: &'a Task,
    best: Vec<Option<usize>>,
    score: Score,
    least: Score,
    left: u64,
    way: Vec<Option<usize>>,
    taken: Vec<i64>,
    /// What is taken of all stretches together.
    sum: i64,
    load: Vec<i64>,
    /// What all stretches give together.
    gives: i64,
    /// What is known of the pieces from each one on.
    rest: Vec<Rest>,
}

impl Search<'_> {
    /// Tries every place of piece `p` and what follows; false when the steps ran out.
    fn go(&mut self, p: usize, so_far: Score) -> bool {
        if p == self.way.len() {
            if so_far < self.score {
                self.score = so_far;
                self.best.clone_from(&self.way);
            }
            return true;
        }
        if self.left == 0 {
            return false;
        }
        self.left -= 1;
        let before = p.checked_sub(1).and_then(|b| self.way[b]);
        let first = before.unwrap_or(0);
        let count = self.task.stretches.len();
        // On from the piece before, then back, then nowhere: good ways first.
        for s in (first..count).chain((0..first).rev()) {
            if !self.task.may[p][s] {
                continue;
            }
            let (takes, mass) = (self.task.takes(p), self.task.masses[p]);
            let wall = self.task.stretches[s].wall;
            if self.taken[s] + takes > self.task.gives(s)
                || self.load[wall] + mass > self.task.limits[wall]
            {
                continue;
            }
            let next = Score {
                too_bright: so_far.too_bright + u32::from(self.task.bright[p][s]),
                out_of_order: so_far.out_of_order + u32::from(before.is_some_and(|b| b > s)),
                fullest: so_far.fullest.max(self.task.fill(s, self.taken[s] + takes)),
                ..so_far
            };
            self.sum += takes;
            if !self.may_win(p + 1, next) {
                self.sum -= takes;
                continue;
            }
            self.taken[s] += takes;
            self.load[wall] += mass;
            self.way[p] = Some(s);
            let went = self.go(p + 1, next);
            self.taken[s] -= takes;
            self.sum -= takes;
            self.load[wall] -= mass;
            self.way[p] = None;
            if !went {
                return false;
            }
        }
        let next = Score {
            left_over: so_far.left_over + 1,
            ..so_far
        };
        if self.may_win(p + 1, next) {
            return self.go(p + 1, next);
        }
        true
    }

    /// Whether what is left from piece `p` on could still make the best way.
    fn may_win(&self, p: usize, so_far: Score) -> bool {
        let rest = &self.rest[p];
        // What is to come takes more than is free: some of it is left over.
        let lacking = rest.takes - (self.gives - self.sum);
        let crowded = if lacking > 0 {
            (lacking + rest.widest - 1) / rest.widest.max(1)
        } else {
            0
        };
        let crowded = u32::try_from(crowded).unwrap_or(u32::MAX);
        let left_over = so_far.left_over.saturating_add(rest.homeless.max(crowded));
        match left_over
            .max(self.least.left_over)
            .cmp(&self.score.left_over)
        {
            Ordering::Less => true,
            Ordering::Equal => self.could_be_as_good(rest, so_far),
            Ordering::Greater => false,
        }
    }

    /// The further figures, where as many pieces are left over in the end as in the best way so far.
    fn could_be_as_good(&self, rest: &Rest, so_far: Score) -> bool {
        let spare = self.score.left_over - so_far.left_over;
        let bright = so_far.too_bright + rest.forced.saturating_sub(spare);
        let breaks = so_far.out_of_order + rest.breaks.saturating_sub(2 * spare);
        // The fullest stretch is at least as full as all stretches are together.
        let average = if spare == 0 {
            {
                let all = i128::from(self.sum + rest.takes) * 1_000_000;
                let gives = i128::from(self.gives.max(1));
                i64::try_from((all + gives - 1) / gives).unwrap_or(i64::MAX)
            }
        } else {
            0
        };
        let at_best = Score {
            left_over: self.score.left_over,
            too_bright: bright,
            out_of_order: breaks,
            fullest: so_far.fullest.max(average),
        };
        at_best < self.score
    }
}

/// What is known of the pieces from one on.
#[derive(Debug, Clone, Copy, Default)]
struct Rest {
    /// How many have no place anywhere.
    homeless: u32,
    /// How many can only hang too bright.
    forced: u32,
    /// How many must come before the one listed ahead of them.
    breaks: u32,
    /// What those with a place take.
    takes: i64,
    /// What the widest of them takes.
    widest: i64,
}

fn rests(task: &Task) -> Vec<Rest> {
    let count = task.widths.len();
    let homeless = |p: usize| !task.may[p].contains(&true);
    let first = |p: usize| task.may[p].iter().position(|may| *may);
    let last = |p: usize| task.may[p].iter().rposition(|may| *may);
    let mut before = Rest::default();
    let mut out = vec![before];
    for p in (0..count).rev() {
        let mut ways = task.may[p]
            .iter()
            .zip(&task.bright[p])
            .filter(|(may, _)| **may);
        let forced = !homeless(p) && ways.all(|(_, bright)| *bright);
        // This piece and the one after it, however they hang. The one ahead of it is decided by then, and may be
        // left over.
        let next = if p + 1 < count { last(p + 1) } else { None };
        let breaks = matches!((first(p), next), (Some(a), Some(b)) if b < a);
        let takes = if homeless(p) { 0 } else { task.takes(p) };
        before = Rest {
            homeless: before.homeless + u32::from(homeless(p)),
            forced: before.forced + u32::from(forced),
            breaks: before.breaks + u32::from(breaks),
            takes: before.takes + takes,
            widest: before.widest.max(takes),
        };
        out.push(before);
    }
    out.reverse();
    out
}
