//! What no plan can do better than, told without trying any.

use super::assign::Score;
use super::stretch::Task;

/// The least of each figure by itself.
pub(super) fn least(task: &Task) -> Score {
    let pieces = task.widths.len();
    let homeless = |p: &usize| !task.may[*p].contains(&true);
    let without = (0..pieces).filter(homeless).count();
    // However the rest is laid out, it takes at least what the narrowest take, of all that there is to take.
    let mut takes: Vec<i64> = (0..pieces)
        .filter(|p| !homeless(p))
        .map(|p| task.takes(p))
        .collect();
    takes.sort_unstable();
    let gives: i64 = (0..task.stretches.len()).map(|s| task.gives(s)).sum();
    let (mut sum, mut fit) = (0, 0);
    for width in &takes {
        if sum + width > gives {
            break;
        }
        sum += width;
        fit += 1;
    }
    let left_over = without + takes.len() - fit;
    let forced = |p: &usize| {
        let mut ways = task.may[*p]
            .iter()
            .zip(&task.bright[*p])
            .filter(|(may, _)| **may);
        !homeless(p) && ways.all(|(_, bright)| *bright)
    };
    // A piece in too strong light may be one of those left over instead.
    let bright = (0..pieces).filter(forced).count().saturating_sub(left_over);
    Score {
        left_over: u32::try_from(left_over).unwrap_or(u32::MAX),
        too_bright: u32::try_from(bright).unwrap_or(u32::MAX),
        out_of_order: 0,
        fullest: 0,
    }
}
