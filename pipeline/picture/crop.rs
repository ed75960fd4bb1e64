//! Where in a photo the piece lies: four corners, checked, and the way from the piece's own measure to pixels.
//!
//! The map from the flat piece to the photo is the projective one (`homography`), so that a piece photographed
//! a little from the side is still cut along its own weft. The corners may be given in any order: round the
//! figure they are put in order by their direction from its middle, so that no two sides ever cross.

use super::facts::Size;
use super::homography::{Homography, Points};
use serde::Serialize;

/// A side of the upright photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// The piece hangs as it was woven.
    #[default]
    Foot,
    Top,
    Left,
    Right,
}

/// Why given corners cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, thiserror::Error)]
#[serde(rename_all = "kebab-case")]
pub enum CornerTrouble {
    #[error("one lies outside the photo")]
    Outside,
    #[error("two of them are the same point")]
    Twice,
    #[error("three of them lie in one line, so they bound a triangle")]
    InLine,
    #[error(
        "one of them lies within the triangle of the others, so they bound no four-sided piece"
    )]
    NotConvex,
    #[error("they bound less than a twentieth of the photo")]
    TooSmall,
}

/// How much of each side is left off when no corners are given.
const INSET: f64 = 0.12;
/// The least share of the photo that corners have to bound.
const LEAST_SHARE: f64 = 0.05;

/// The piece in a photo, seen with the edge where the weaving began at the foot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Crop {
    /// Start edge left, start edge right, far edge right, far edge left; upright pixels.
    points: Points,
}

impl Crop {
    /// From four corners in any order, in pixels of the upright photo.
    pub(super) fn from_corners(
        corners: &Points,
        photo: Size,
        began: Side,
    ) -> Result<Self, CornerTrouble> {
        let (w, h) = (f64::from(photo.width), f64::from(photo.height));
        // A corner set at the very edge may be off by a pixel.
        let inside =
            |&[x, y]: &[f64; 2]| (-1.0..=w + 1.0).contains(&x) && (-1.0..=h + 1.0).contains(&y);
        if !corners.iter().all(inside) {
            return Err(CornerTrouble::Outside);
        }
        let ring =
            clockwise_from_top_left(corners.map(|[x, y]| [x.clamp(0.0, w), y.clamp(0.0, h)]));
        let turn = |i: usize| {
            let [a, b, c] = [ring[i], ring[(i + 1) % 4], ring[(i + 2) % 4]];
            (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        };
        let least = w * h * 1e-6;
        if (0..4).any(|i| (0..i).any(|j| near(ring[i], ring[j]))) {
            return Err(CornerTrouble::Twice);
        }
        if (0..4).any(|i| turn(i).abs() <= least) {
            return Err(CornerTrouble::InLine);
        }
        if (0..4).any(|i| turn(i) < 0.0) {
            return Err(CornerTrouble::NotConvex);
        }
        let doubled: f64 = (0..4)
            .map(|i| ring[i][0] * ring[(i + 1) % 4][1] - ring[(i + 1) % 4][0] * ring[i][1])
            .sum();
        if doubled / 2.0 < LEAST_SHARE * w * h {
            return Err(CornerTrouble::TooSmall);
        }
        Ok(Self::seen_from(ring, began))
    }

    /// The middle of the photo, for want of corners.
    pub(super) fn assumed(photo: Size, began: Side) -> Self {
        let (w, h) = (f64::from(photo.width), f64::from(photo.height));
        let (l, r, t, b) = (w * INSET, w * (1.0 - INSET), h * INSET, h * (1.0 - INSET));
        Self::seen_from([[l, t], [r, t], [r, b], [l, b]], began)
    }

    fn seen_from([tl, tr, br, bl]: Points, began: Side) -> Self {
        let points = match began {
            Side::Foot => [bl, br, tr, tl],
            Side::Top => [tr, tl, bl, br],
            Side::Left => [tl, bl, br, tr],
            Side::Right => [br, tr, tl, bl],
        };
        Self { points }
    }

    /// The whole of a picture that shows the piece alone.
    pub(super) fn whole(picture: Size, began: Side) -> Self {
        let (w, h) = (f64::from(picture.width), f64::from(picture.height));
        Self::seen_from([[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]], began)
    }

    /// The photo's pixel for a place on the piece: `u` across, `v` from the start edge, both 0 to 1.
    pub(super) fn place(&self) -> impl Fn(f64, f64) -> [f64; 2] {
        let map = Homography::to(self.points);
        move |u, v| map.place(u, v)
    }

    /// The corners clockwise from the upper left, as the photo shows the piece.
    pub(super) fn ring(&self) -> Points {
        clockwise_from_top_left(self.points)
    }

    /// Width over height in the photo, by the means of opposite sides.
    pub(super) fn proportion(&self) -> f64 {
        let [tl, tr, br, bl] = self.ring();
        let side = |a: [f64; 2], b: [f64; 2]| libm::hypot(b[0] - a[0], b[1] - a[1]);
        (side(tl, tr) + side(bl, br)) / (side(tl, bl) + side(tr, br))
    }
}

/// Whether two corners are less than a pixel apart.
fn near(a: [f64; 2], b: [f64; 2]) -> bool {
    libm::hypot(a[0] - b[0], a[1] - b[1]) < 1.0
}

/// Orders four points clockwise as seen (y downwards), beginning with the one nearest the upper left.
fn clockwise_from_top_left(mut points: Points) -> Points {
    let centre = [0, 1].map(|k| points.iter().map(|p| p[k]).sum::<f64>() / 4.0);
    let angle = |p: &[f64; 2]| libm::atan2(p[1] - centre[1], p[0] - centre[0]);
    points.sort_by(|a, b| angle(a).total_cmp(&angle(b)));
    let first = (0..4)
        .min_by(|&a, &b| (points[a][0] + points[a][1]).total_cmp(&(points[b][0] + points[b][1])));
    points.rotate_left(first.unwrap_or(0));
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    const PHOTO: Size = Size {
        width: 1000,
        height: 800,
    };

    #[test]
    fn corners_may_come_in_any_order() {
        let corners = [[900.0, 700.0], [110.0, 90.0], [90.0, 710.0], [880.0, 120.0]];
        let crop = Crop::from_corners(&corners, PHOTO, Side::Foot).unwrap();
        assert_eq!(
            crop.points,
            [[90.0, 710.0], [900.0, 700.0], [880.0, 120.0], [110.0, 90.0]]
        );
        let place = crop.place();
        for (corner, (u, v)) in
            crop.points
                .iter()
                .zip([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
        {
            let at = place(u, v);
            assert!((at[0] - corner[0]).abs() < 1e-6 && (at[1] - corner[1]).abs() < 1e-6);
        }
    }

    #[test]
    fn the_start_edge_comes_to_the_foot_from_every_side() {
        let square = [
            [100.0, 100.0],
            [700.0, 100.0],
            [700.0, 700.0],
            [100.0, 700.0],
        ];
        let start = |began| Crop::from_corners(&square, PHOTO, began).unwrap().place()(0.25, 0.0);
        // Seen with that side at the foot, a quarter from its left end.
        assert_eq!(start(Side::Foot), [250.0, 700.0]);
        assert_eq!(start(Side::Top), [550.0, 100.0]);
        assert_eq!(start(Side::Left), [100.0, 250.0]);
        assert_eq!(start(Side::Right), [700.0, 550.0]);
    }

    #[test]
    fn corners_that_make_no_sense_are_told_apart() {
        let trouble = |corners| Crop::from_corners(&corners, PHOTO, Side::Foot).unwrap_err();
        assert_eq!(
            trouble([[0.0, 0.0], [1200.0, 0.0], [900.0, 700.0], [0.0, 700.0]]),
            CornerTrouble::Outside
        );
        assert_eq!(
            trouble([[f64::NAN, 0.0], [900.0, 0.0], [900.0, 700.0], [0.0, 700.0]]),
            CornerTrouble::Outside
        );
        assert_eq!(
            trouble([[0.0, 0.0], [900.0, 0.0], [300.0, 200.0], [0.0, 700.0]]),
            CornerTrouble::NotConvex
        );
        assert_eq!(
            trouble([[0.0, 0.0], [900.0, 0.0], [450.0, 0.0], [0.0, 700.0]]),
            CornerTrouble::InLine
        );
        assert_eq!(trouble([[5.0, 5.0]; 4]), CornerTrouble::Twice);
        assert_eq!(
            trouble([[5.0, 5.0], [800.0, 5.0], [800.0, 5.0], [5.0, 700.0]]),
            CornerTrouble::Twice
        );
        assert_eq!(
            trouble([[0.0, 0.0], [90.0, 0.0], [90.0, 90.0], [0.0, 90.0]]),
            CornerTrouble::TooSmall
        );
    }
}
