//! The outline of the condition sheet: the quadrilateral as it was measured, with a grid whose squares
//! are named from the front. Lengths are real ones, mm, x to the right and y down, seen from the front
//! or from behind; a square of cloth has the same name on both.

use super::RegistrarView;
use super::elevation::ruler;
use super::print::long;
use super::scale::{Ruler, ruler_length};
use crate::paper::words::{Words, fill};
use crate::record::Measures;
use serde::Serialize;

/// The scales of the outline. Marks are drawn in it by hand, so it stands as large as it may; its grid and
/// its ruler are read, not its scale. To those of ISO 5455 (from memory) own ones are added between.
const SCALES: &[u32] = &[
    1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 500, 1000, 2000,
    5000, 10_000, 20_000,
];
/// Sides of the squares, mm and inches.
const METRIC: &[f64] = &[
    5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0,
];
const INCHES: &[f64] = &[0.25, 0.5, 1.0, 2.0, 4.0, 6.0, 12.0, 24.0, 48.0, 96.0, 192.0];
/// The least side of a square on paper, mm: a sign and a number go into it.
const LEAST: f64 = 6.5;
/// What is left over at the far end is a column or row of its own from this share of a square.
const OWN: f64 = 0.35;
/// Room on paper where the signs stand below the outline, and where they stand beside it, mm.
const BELOW: (f64, f64) = (138.0, 92.0);
const BESIDE: (f64, f64) = (78.0, 132.0);

/// One face.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(super) struct Outline {
    /// The number behind the colon of 1:n.
    pub one_to: u32,
    alt: String,
    /// Whether the signs stand beside it.
    pub beside: bool,
    /// Left, top, right and lower end of it all.
    bounds: [f64; 4],
    /// Top left, top right, lower right, lower left.
    pub corners: [[f64; 2]; 4],
    /// Lines of the grid, from and to.
    lines: Vec<[f64; 4]>,
    /// Columns by letter and the middle of each.
    pub columns: Vec<(String, f64)>,
    /// Rows by number and the middle of each.
    pub rows: Vec<(String, f64)>,
    /// The lower edge of the heading, on the back.
    heading: Option<[f64; 4]>,
    /// Says which edge is the top.
    top: String,
    ruler: Ruler,
}

/// What front and back share.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shape {
    pub one_to: u32,
    pub beside: bool,
    /// Side of a square, mm.
    pub step: f64,
    corners: [[f64; 2]; 4],
    /// Edges of columns and rows.
    across: Vec<f64>,
    down: Vec<f64>,
}

impl RegistrarView {
    /// Whether the readings tell more than height and width.
    pub(super) fn is_rectangle(&self) -> bool {
        self.corners.is_none()
            || (self.diagonals.is_none() && self.heights.len() < 2 && self.widths.len() < 2)
    }

    /// The shape with its grid.
    pub(super) fn shape(&self) -> Shape {
        let p = &self.public;
        let (w, h) = (p.extent.width.length.mm(), p.extent.height.length.mm());
        let plain = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]];
        let corners = self.corners.unwrap_or(plain);
        let [left, top, right, foot] = bounds(&corners);
        let (wide, tall) = (right - left, foot - top);
        let below = fitting(wide, tall, BELOW);
        let beside = fitting(wide, tall, BESIDE);
        let (one_to, beside) = if beside < below {
            (beside, true)
        } else {
            (below, false)
        };
        let sides: Vec<f64> = match p.measures {
            Measures::In => INCHES.iter().map(|i| i * 25.4).collect(),
            _ => METRIC.to_vec(),
        };
        let fits = |step: &f64| step / f64::from(one_to) >= LEAST && wide / step <= 26.0;
        let largest = sides.last().copied().unwrap_or(wide);
        let step = sides.iter().copied().find(fits).unwrap_or(largest);
        Shape {
            one_to,
            beside,
            step,
            across: parted(left, right, step),
            down: parted(top, foot, step),
            corners,
        }
    }
}

/// The share of its size by which a corner may lie off the rectangle around it for the squared plate to be
/// laid under the grid.
const EVEN: f64 = 0.03;

impl Shape {
    /// Whether it is so near to a rectangle that the plate, which is one, shows each square's own cloth.
    pub(super) fn is_even(&self) -> bool {
        let [left, top, right, foot] = bounds(&self.corners);
        let around = [[left, top], [right, top], [right, foot], [left, foot]];
        let most = EVEN * (right - left).min(foot - top);
        let off = |(a, b): (&[f64; 2], &[f64; 2])| libm::hypot(a[0] - b[0], a[1] - b[1]);
        self.corners
            .iter()
            .zip(&around)
            .all(|pair| off(pair) <= most)
    }

    /// The front, or the back as it is seen from behind.
    pub(super) fn face(&self, view: &RegistrarView, back: bool, w: &Words) -> Outline {
        let [left, top, right, foot] = bounds(&self.corners);
        let turn = |x: f64| if back { left + right - x } else { x };
        let mut lines = Vec::new();
        for x in inner(&self.across) {
            if let Some((from, to)) = chord(&self.corners, 0, x) {
                lines.push([turn(x), from, turn(x), to]);
            }
        }
        let level = |y: f64| {
            let (from, to) = chord(&self.corners, 1, y)?;
            Some([turn(from), y, turn(to), y])
        };
        lines.extend(inner(&self.down).filter_map(level));
        let heading = view.left.heading.as_ref().filter(|_| back);
        let heading = heading.and_then(|(_, depth)| level((*depth)?));
        let words = &w.drawn.condition;
        let (real, parts) = ruler_length(self.one_to);
        let p = &view.public;
        let values = [
            ("title", p.title.clone()),
            ("one_to", self.one_to.to_string()),
            ("square", long(self.step, p.measures, w)),
            ("columns", letter(self.across.len().saturating_sub(2))),
            ("rows", self.down.len().saturating_sub(1).to_string()),
        ];
        let alt = if back {
            &words.back_alt
        } else {
            &words.front_alt
        };
        let [a, b, c, d] = self.corners.map(|[x, y]| [turn(x), y]);
        Outline {
            one_to: self.one_to,
            alt: fill(alt, &values.each_ref().map(|(k, v)| (*k, v.as_str()))),
            beside: self.beside,
            bounds: [left, top, right, foot],
            // Seen from behind the other corner is the left one.
            corners: if back { [b, a, d, c] } else { [a, b, c, d] },
            lines,
            columns: middles(&self.across)
                .map(|(i, x)| (letter(i), turn(x)))
                .collect(),
            rows: middles(&self.down)
                .map(|(i, y)| ((i + 1).to_string(), y))
                .collect(),
            heading,
            top: words.top.clone(),
            ruler: ruler(self.one_to, real, parts, w),
        }
    }
}

/// The largest scale at which it fits.
fn fitting(wide: f64, tall: f64, room: (f64, f64)) -> u32 {
    let fits = |n: &&u32| wide / f64::from(**n) <= room.0 && tall / f64::from(**n) <= room.1;
    SCALES
        .iter()
        .find(fits)
        .or(SCALES.last())
        .copied()
        .unwrap_or(1)
}

/// Left, top, right and lower end.
fn bounds(corners: &[[f64; 2]; 4]) -> [f64; 4] {
    let [x, y] = [0, 1].map(|i| corners.map(|c| c[i]));
    let least = |v: [f64; 4]| v.into_iter().fold(f64::INFINITY, f64::min);
    let most = |v: [f64; 4]| v.into_iter().fold(f64::NEG_INFINITY, f64::max);
    [least(x), least(y), most(x), most(y)]
}

/// Edges of the squares between two ends. They are counted from the top left corner, which is at 0, where
/// the outline hardly goes beyond it.
fn parted(from: f64, to: f64, step: f64) -> Vec<f64> {
    let start = if from < 0.0 && -from <= OWN * step {
        0.0
    } else {
        from
    };
    let whole = libm::floor((to - start) / step + 1e-9);
    let rest = (to - start) - whole * step;
    let count = if rest > OWN * step || whole < 1.0 {
        whole + 1.0
    } else {
        whole
    };
    let mut edges = vec![from];
    edges.extend((1..count as u32).map(|i| start + f64::from(i) * step));
    edges.push(to);
    edges
}

/// Edges that are lines of the grid.
fn inner(edges: &[f64]) -> impl Iterator<Item = f64> + '_ {
    let last = edges.len().saturating_sub(1);
    edges.iter().copied().take(last).skip(1)
}

/// Each square's place and middle.
fn middles(edges: &[f64]) -> impl Iterator<Item = (usize, f64)> + '_ {
    edges.windows(2).map(|e| (e[0] + e[1]) / 2.0).enumerate()
}

/// A, B, C … Z, AA, AB …
fn letter(i: usize) -> String {
    let one = char::from(b'A' + (i % 26) as u8);
    match i / 26 {
        0 => one.to_string(),
        n => format!("{}{one}", letter(n - 1)),
    }
}

/// Where the line on which coordinate `axis` is `at` enters and leaves the outline.
fn chord(corners: &[[f64; 2]; 4], axis: usize, at: f64) -> Option<(f64, f64)> {
    let other = 1 - axis;
    let mut met: Vec<f64> = Vec::new();
    for (i, a) in corners.iter().enumerate() {
        let b = &corners[(i + 1) % 4];
        let (low, high) = (a[axis].min(b[axis]), a[axis].max(b[axis]));
        if low <= at && at < high {
            let share = (at - a[axis]) / (b[axis] - a[axis]);
            met.push(a[other] + share * (b[other] - a[other]));
        }
    }
    let least = met.iter().copied().reduce(f64::min)?;
    let most = met.iter().copied().reduce(f64::max)?;
    (most > least).then_some((least, most))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn squares_are_counted_from_the_top_left_and_what_is_left_over_is_no_sliver() {
        // Source, exact case: 1648 = 16 × 100 + 48; 1620 = 16 × 100 + 20, which joins the last.
        assert_eq!(parted(0.0, 1648.0, 100.0).len() - 1, 17);
        assert_eq!(parted(0.0, 1620.0, 100.0).len() - 1, 16);
        assert_eq!(parted(-5.0, 1000.0, 100.0)[..3], [-5.0, 100.0, 200.0]);
        assert_eq!(parted(0.0, 300.0, 500.0), [0.0, 300.0]);
        assert_eq!(parted(-80.0, 300.0, 100.0)[..2], [-80.0, 20.0]);
        assert_eq!(parted(0.0, 300.0, 100.0), [0.0, 100.0, 200.0, 300.0]);
    }

    #[test]
    fn columns_have_letters() {
        let all: Vec<String> = [0, 2, 25, 26, 51, 52].map(letter).to_vec();
        assert_eq!(all, ["A", "C", "Z", "AA", "AZ", "BA"]);
    }

    #[test]
    fn a_line_of_the_grid_ends_at_the_outline() {
        // Source, exact case: a side from (100, 0) to (90, 200) is at 95 half way down; so is one from
        // (0, 0) to (-20, 200) at −10.
        let c = [[0.0, 0.0], [100.0, 0.0], [90.0, 200.0], [-20.0, 200.0]];
        assert_eq!(chord(&c, 1, 100.0), Some((-10.0, 95.0)));
        assert_eq!(chord(&c, 0, -10.0), Some((100.0, 200.0)));
        assert_eq!(chord(&c, 0, 500.0), None);
    }
}
