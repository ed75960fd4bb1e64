//! The best way without any break of order, exactly: dynamic programming over the list.
//!
//! With no break the pieces of a stretch are a run of the list (those left over taken out), and the runs follow each
//! other along the visitor's way. Pieces that are left over inside a run are left to the search; here a run may be
//! cut short, and what stands between two runs is left over.

use super::assign::{Score, score};
use super::stretch::Task;

/// The best way of the kind, and how good it is. That each wall bears its load is made sure of run by run; where a
/// wall has several stretches and a limit, a way may be missed, and the search finds it.
pub(super) fn in_turn(task: &Task) -> (Vec<Option<usize>>, Score) {
    let (pieces, stretches) = (task.widths.len(), task.stretches.len());
    // best[s][p]: the first s stretches hold some of the first p pieces.
    let start = Cell {
        left_over: 0,
        too_bright: 0,
        fullest: 0,
        from: 0,
        begins: 0,
        load: 0,
    };
    let mut table: Vec<Vec<Option<Cell>>> = vec![vec![None; pieces + 1]; stretches + 1];
    table[0][0] = Some(start);
    for p in 1..=pieces {
        table[0][p] = table[0][p - 1].map(|c| Cell {
            left_over: c.left_over + 1,
            from: p,
            begins: p,
            ..c
        });
    }
    for s in 1..=stretches {
        for end in 0..=pieces {
            let mut best: Option<Cell> = None;
            // The run begins..end, after cell (s - 1, begins); an empty run leaves the stretch bare.
            let (mut taken, mut mass, mut bright) = (0, 0, 0);
            for begins in (0..=end).rev() {
                if begins < end {
                    if !task.may[begins][s - 1] {
                        break;
                    }
                    taken += task.takes(begins);
                    mass += task.masses[begins];
                    bright += u32::from(task.bright[begins][s - 1]);
                    if taken > task.gives(s - 1) {
                        break;
                    }
                }
                let wall = task.stretches[s - 1].wall;
                let Some(before) = table[s - 1][begins] else {
                    continue;
                };
                let same_wall = s > 1 && task.stretches[s - 2].wall == wall;
                let load = mass + if same_wall { before.load } else { 0 };
                if load > task.limits[wall] {
                    continue;
                }
                let cell = Cell {
                    left_over: before.left_over,
                    too_bright: before.too_bright + bright,
                    fullest: before.fullest.max(task.fill(s - 1, taken)),
                    from: begins,
                    begins,
                    load,
                };
                best = better(best, cell);
            }
            // Or the piece before `end` is left over.
            if end > 0
                && let Some(before) = table[s][end - 1]
            {
                let cell = Cell {
                    left_over: before.left_over + 1,
                    from: usize::MAX,
                    ..before
                };
                best = better(best, cell);
            }
            table[s][end] = best;
        }
    }
    let way = follow(&table, stretches, pieces);
    let score = score(task, &way);
    (way, score)
}

#[derive(Debug, Clone, Copy)]
struct Cell {
    left_over: u32,
    too_bright: u32,
    fullest: i64,
    /// Where the run of this stretch begins; `usize::MAX` where the piece before is left over.
    from: usize,
    begins: usize,
    /// What the wall of this stretch carries so far.
    load: i64,
}

fn better(best: Option<Cell>, cell: Cell) -> Option<Cell> {
    let key = |c: &Cell| (c.left_over, c.too_bright, c.fullest);
    match best {
        Some(best) if key(&best) <= key(&cell) => Some(best),
        _ => Some(cell),
    }
}

fn follow(table: &[Vec<Option<Cell>>], stretches: usize, pieces: usize) -> Vec<Option<usize>> {
    let mut way = vec![None; pieces];
    let (mut s, mut end) = (stretches, pieces);
    while s > 0 {
        let Some(cell) = table[s][end] else { break };
        if cell.from == usize::MAX {
            end -= 1;
            continue;
        }
        for place in &mut way[cell.begins..end] {
            *place = Some(s - 1);
        }
        end = cell.begins;
        s -= 1;
    }
    way
}
