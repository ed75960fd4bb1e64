//! The projective map between a flat rectangle and its picture: eight parameters from four corners.
//!
//! A camera without distortion carries a plane to its picture by such a map, and four corners settle it
//! (Hartley and Zisserman, Multiple View Geometry, 2nd edition, section 2.3). Solved in closed form for the
//! unit square (Heckbert, Fundamentals of Texture Mapping and Image Warping, 1989, section 2.2.3). Whether
//! four corners make sense is for `crop` to say.

/// Four points, x and y in pixels.
pub(super) type Points = [[f64; 2]; 4];

/// A map from the unit square to a picture: (a u + b v + c) / w and (d u + e v + f) / w with w = g u + h v + 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Homography {
    /// a, b and d, e: how the numerators grow with u and v; by axis of the picture.
    grow: [[f64; 2]; 2],
    /// c and f: where (0, 0) lies.
    origin: [f64; 2],
    /// g and h.
    tilt: [f64; 2],
}

/// A place in the picture and how it moves with u and v.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    pub at: [f64; 2],
    /// ∂x/∂u, ∂x/∂v; ∂y/∂u, ∂y/∂v.
    pub moves: [[f64; 2]; 2],
}

impl Homography {
    /// Carries (0, 0), (1, 0), (1, 1) and (0, 1) to the four points. They must be the corners of a convex
    /// figure, in order round it.
    pub(super) fn to([p00, p10, p11, p01]: Points) -> Self {
        let sum = [0, 1].map(|k| p00[k] - p10[k] + p11[k] - p01[k]);
        let (d1, d2) = (
            [0, 1].map(|k| p10[k] - p11[k]),
            [0, 1].map(|k| p01[k] - p11[k]),
        );
        let determinant = d1[0] * d2[1] - d1[1] * d2[0];
        let g = (sum[0] * d2[1] - sum[1] * d2[0]) / determinant;
        let h = (d1[0] * sum[1] - d1[1] * sum[0]) / determinant;
        Self {
            grow: [0, 1].map(|k| [p10[k] - p00[k] + g * p10[k], p01[k] - p00[k] + h * p01[k]]),
            origin: p00,
            tilt: [g, h],
        }
    }

    /// Where (u, v) lies in the picture.
    pub(super) fn place(&self, u: f64, v: f64) -> [f64; 2] {
        let w = 1.0 + self.tilt[0] * u + self.tilt[1] * v;
        [0, 1].map(|k| (self.origin[k] + self.grow[k][0] * u + self.grow[k][1] * v) / w)
    }

    /// The same, with the slopes there (quotient rule).
    pub(super) fn spot(&self, u: f64, v: f64) -> Spot {
        let w = 1.0 + self.tilt[0] * u + self.tilt[1] * v;
        let at = self.place(u, v);
        let moves = [0, 1].map(|k| [0, 1].map(|by| (self.grow[k][by] - at[k] * self.tilt[by]) / w));
        Spot { at, moves }
    }
}

/// How one measure runs with u along a line: (a u + b) / (c u + d).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Run([f64; 4]);

impl Run {
    pub(super) fn at(&self, u: f64) -> f64 {
        let [a, b, c, d] = self.0;
        (a * u + b) / (c * u + d)
    }

    /// Its slope (quotient rule).
    pub(super) fn slope(&self, u: f64) -> f64 {
        let [a, b, c, d] = self.0;
        let w = c * u + d;
        (a * d - b * c) / (w * w)
    }
}

impl Homography {
    /// How y runs with u along the rectangle's row at `v`.
    pub(super) fn across_at(&self, v: f64) -> Run {
        let [[_, _], [d, e]] = self.grow;
        let [g, h] = self.tilt;
        Run([d, e * v + self.origin[1], g, h * v + 1.0])
    }

    /// How x runs with u along the picture's row at `y`: v is taken out of the two equations.
    pub(super) fn along_row(&self, y: f64) -> Run {
        let [[a, b], [d, e]] = self.grow;
        let [c, f] = self.origin;
        let [g, h] = self.tilt;
        // Along the row v = (by_u u + at_0) / share.
        let (share, by_u, at_0) = (y * h - e, d - y * g, f - y);
        Run([
            a * share + b * by_u,
            b * at_0 + c * share,
            g * share + h * by_u,
            h * at_0 + share,
        ])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_go_to_corners_and_the_middle_to_where_the_diagonals_cross() {
        let corners = [[90.0, 710.0], [900.0, 700.0], [780.0, 120.0], [210.0, 90.0]];
        let map = Homography::to(corners);
        for (corner, (u, v)) in corners
            .iter()
            .zip([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
        {
            let at = map.place(u, v);
            assert!(libm::hypot(at[0] - corner[0], at[1] - corner[1]) < 1e-9);
        }
        // Source, exact case: a projective map keeps lines straight, so the middle stays on both diagonals.
        let at = map.place(0.5, 0.5);
        let off = |a: [f64; 2], b: [f64; 2]| {
            ((b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])).abs()
                / libm::hypot(b[0] - a[0], b[1] - a[1])
        };
        assert!(off(corners[0], corners[2]) < 1e-9 && off(corners[1], corners[3]) < 1e-9);
    }

    #[test]
    fn slopes_are_those_of_small_steps() {
        let map = Homography::to([[90.0, 710.0], [900.0, 700.0], [780.0, 120.0], [210.0, 90.0]]);
        let spot = map.spot(0.3, 0.8);
        let step = 1e-6;
        for k in 0..2 {
            // Source, exact case: a slope is the limit of differences.
            let by_u = (map.place(0.3 + step, 0.8)[k] - map.place(0.3 - step, 0.8)[k]) / step / 2.0;
            let by_v = (map.place(0.3, 0.8 + step)[k] - map.place(0.3, 0.8 - step)[k]) / step / 2.0;
            assert!((spot.moves[k][0] - by_u).abs() < 1e-3, "{spot:?} {by_u}");
            assert!((spot.moves[k][1] - by_v).abs() < 1e-3, "{spot:?} {by_v}");
        }
    }

    #[test]
    fn runs_along_rows_meet_the_map() {
        let map = Homography::to([[90.0, 110.0], [900.0, 90.0], [880.0, 720.0], [60.0, 700.0]]);
        for (u, v) in [(0.0, 0.0), (0.3, 0.8), (1.0, 0.5), (0.5, 1.0)] {
            // Source, exact case: both are the same map.
            let [x, y] = map.place(u, v);
            assert!((map.across_at(v).at(u) - y).abs() < 1e-9);
            assert!((map.along_row(y).at(u) - x).abs() < 1e-9);
            let run = map.along_row(y);
            let by_steps = (run.at(u + 1e-6) - run.at(u - 1e-6)) / 2e-6;
            assert!((run.slope(u) - by_steps).abs() < 1e-3);
        }
    }
}
