//! Four sides and two diagonals of the piece, for the rules about its squareness.

use crate::record::Piece;

/// Sides and diagonals in millimetres.
pub(in crate::check) struct Frame {
    /// Top, right, foot, left.
    pub sides: [f64; 4],
    /// Top left to bottom right.
    pub p: f64,
    /// Top right to bottom left.
    pub q: f64,
    /// How far any one reading can be off by the way it is written.
    pub slack: f64,
}

impl Frame {
    /// The frame, where diagonals were measured.
    pub fn of(piece: &Piece) -> Option<Frame> {
        let m = &piece.measured;
        let [p, q] = m.diagonals.as_ref()?;
        let all = || m.height.iter().chain(&m.width).chain([p, q]);
        let slack = all().map(|r| r.value.half_place.mm()).fold(0.0, f64::max);
        Some(Frame {
            sides: [
                m.width.first()?.value.value.mm(),
                m.height.last()?.value.value.mm(),
                m.width.last()?.value.value.mm(),
                m.height.first()?.value.value.mm(),
            ],
            p: p.value.value.mm(),
            q: q.value.value.mm(),
            slack,
        })
    }

    /// Whether each diagonal closes both its triangles, give or take the slack.
    pub fn closes(&self) -> bool {
        let [top, right, foot, left] = self.sides;
        let triangle = |a: f64, b: f64, c: f64| {
            let slack = 3.0 * self.slack;
            a + b + slack >= c && (a - b).abs() <= c + slack
        };
        triangle(top, right, self.p)
            && triangle(foot, left, self.p)
            && triangle(top, left, self.q)
            && triangle(right, foot, self.q)
    }

    /// How far the squares of the diagonals are from those of the sides, as a fraction. In every
    /// quadrilateral p² + q² + 4x² = a² + b² + c² + d², where x joins the middles of the diagonals
    /// (Euler, 1748); for a tapestry, nearly a parallelogram, x is almost nothing, so this is too.
    pub fn excess(&self) -> f64 {
        let square = |x: f64| x * x;
        let sides: f64 = self.sides.iter().copied().map(square).sum();
        (square(self.p) + square(self.q) - sides) / sides
    }

    /// How far one side leans along the width, in millimetres: (p² − q²) / 4W for a parallelogram.
    pub fn lean(&self) -> f64 {
        let width = (self.sides[0] + self.sides[2]) / 2.0;
        (self.p * self.p - self.q * self.q) / (4.0 * width)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn frame(sides: [f64; 4], p: f64, q: f64) -> Frame {
        Frame {
            sides,
            p,
            q,
            slack: 0.0,
        }
    }

    #[test]
    fn figures_of_elementary_geometry_close_without_excess() {
        // A 3-4-5 rectangle, and a rhombus of side 5 with diagonals 6 and 8.
        for f in [
            frame([4.0, 3.0, 4.0, 3.0], 5.0, 5.0),
            frame([5.0; 4], 6.0, 8.0),
        ] {
            assert!(f.closes());
            assert!(f.excess().abs() < 1e-12);
        }
        assert!(!frame([4.0, 3.0, 4.0, 3.0], 7.5, 5.0).closes());
    }

    #[test]
    fn even_a_wild_trapezium_has_little_excess() {
        // Isosceles, parallel sides 100 and 80, legs l: p² = l² + 100·80 (Ptolemy).
        let leg = 101.0_f64;
        let p = (leg * leg + 8000.0).sqrt();
        let e = frame([80.0, leg, 100.0, leg], p, p).excess();
        assert!((-0.012..0.0).contains(&e), "{e}");
    }
}
