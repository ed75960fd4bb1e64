//! Where in its stretch each piece hangs: even gaps, and how high.

use super::Line;
use super::stretch::Task;
use crate::quantity::Length;

/// The usual height of the pieces' middles above the floor, in millimetres. Common practice: 145 to 155 cm, about an
/// adult's eye; no source.
pub const USUAL_CENTRE: f64 = 1500.0;

/// No piece hangs lower than this above the floor, in millimetres: brooms and wheels reach there. Common practice, no
/// source.
pub const FLOOR: f64 = 300.0;

/// The lower edge of a piece so high above the floor. One that would reach the floor is hung higher.
pub(super) fn bottom(height: Length, line: Line) -> Length {
    let wished = match line {
        Line::Centre(centre) => centre.mm() - height.mm() / 2.0,
        Line::Top(top) => top.mm() - height.mm(),
    };
    Length::from_mm(wished.max(FLOOR))
}

/// Each piece's wall and left edge. The free width of a stretch is shared evenly between the pieces and to both
/// ends; where that would leave less than the least gap between two pieces, they keep the gap and the ends get what
/// is left.
pub(super) fn spread(task: &Task, way: &[Option<usize>]) -> Vec<Option<(usize, Length)>> {
    let mut out = vec![None; way.len()];
    for (s, stretch) in task.stretches.iter().enumerate() {
        let pieces: Vec<usize> = (0..way.len()).filter(|p| way[*p] == Some(s)).collect();
        let Ok(count) = i64::try_from(pieces.len()) else {
            continue;
        };
        let widths: i64 = pieces.iter().map(|p| task.widths[*p]).sum();
        let free = stretch.length() - widths;
        let even = free / (count + 1);
        let (gap, mut left) = if even >= task.gap {
            (even, stretch.from + even)
        } else {
            (task.gap, stretch.from + (free - task.gap * (count - 1)) / 2)
        };
        for p in pieces {
            // To the millimetre: nobody marks a wall more finely.
            #[allow(clippy::cast_precision_loss)]
            let edge = Length::from_mm((left as f64 / 1000.0).round());
            out[p] = Some((stretch.wall, edge));
            left += task.widths[p] + gap;
        }
    }
    out
}
