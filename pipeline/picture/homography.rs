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
}
