//! The proportion of a rectangle from one photograph of it: width over height from its four corners.
//!
//! Zhang and He, Whiteboard scanning and image enhancement (Digital Signal Processing 17, 2007; Microsoft
//! Research MSR-TR-2003-39), section "Estimating the aspect ratio": for a camera with square pixels and its
//! principal point in the middle of the picture, the corners' projective map gives the direction of both
//! sides in space, and with the focal length their lengths' ratio. That both sides stand at right angles gives
//! the focal length too, unless the camera looked so straight at one pair of sides that they stayed parallel;
//! then it is what EXIF states, or else a usual one, and the ratio hardly depends on it.

/// What the method has to know of one photograph.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SingleView {
    /// The four corners, in any order, pixels of the upright picture.
    pub corners: [[f64; 2]; 4],
    /// Width and height of the upright picture, pixels.
    pub picture: (u32, u32),
    /// The focal length as EXIF states it for film of 36 × 24 mm, mm.
    pub focal_35mm: Option<f64>,
}

/// The proportion that corners show.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Proportion {
    /// Width over height.
    pub ratio: f64,
    /// Relative standard uncertainty of the ratio.
    pub doubt: f64,
    /// The focal length it was reckoned with, as a multiple of the picture's diagonal.
    pub focal: f64,
    /// Where that comes from.
    pub by: FocalBy,
}

/// Where a focal length comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FocalBy {
    /// From the right angle between the sides.
    Corners,
    /// EXIF states it.
    Exif,
    /// A usual one.
    Usual,
}

/// The diagonal of a film picture of 36 × 24 mm, mm, which EXIF's focal length refers to (CIPA DC-008, tag
/// 0xA405; that the diagonals are compared is common practice).
const FILM_DIAGONAL: f64 = 43.266_615_305_567_87;
/// From a telephone's 26 mm to a portrait's 85 mm, as multiples of the diagonal: the middle of their
/// logarithms and a standard uncertainty that spans them (common practice, no source).
const USUAL: (f64, f64) = (1.1, 0.5);
/// The relative standard uncertainty of a focal length in EXIF: whole millimetres, breathing lenses, trimmed
/// pictures (own rule).
const EXIF_DOUBT: f64 = 0.1;
/// A focal length from the corners is taken before EXIF's if it is as sure as this, and before a usual one if it
/// is as sure as that (own rule).
const SURE: f64 = 0.1;
const SURE_ENOUGH: f64 = 0.25;
/// Lenses in use, as multiples of the diagonal: 12 mm to 400 mm.
const LENSES: std::ops::RangeInclusive<f64> = 0.27..=9.3;
/// Standard uncertainties, as shares of the diagonal: a corner read off a screen, and the principal point of a
/// picture that may have been trimmed (own rule).
const CORNER: f64 = 0.0015;
const MIDDLE: f64 = 0.02;
/// Relative standard uncertainty of any shape: cloth is no plane rectangle (own rule).
const CLOTH: f64 = 0.012;

/// The proportion of the rectangle that is seen. Nothing where the corners bound no convex figure.
pub fn proportion(view: &SingleView) -> Option<Proportion> {
    let (w, h) = (f64::from(view.picture.0), f64::from(view.picture.1));
    let diagonal = libm::hypot(w, h);
    if !(diagonal > 0.0 && view.corners.iter().flatten().all(|v| v.is_finite())) {
        return None;
    }
    // From the middle, in diagonals, so that numbers are of the order of one.
    let quad = Quad(
        in_order(&view.corners).map(|[x, y]| [(x - w / 2.0) / diagonal, (y - h / 2.0) / diagonal]),
    );
    let sides = quad.sides()?;
    let (focal, by, u_focal) = focal(&quad, &sides, view.focal_35mm);
    let log_ratio = |quad: &Quad, focal: Option<f64>| {
        let sides = quad.sides()?;
        let focal = focal.or_else(|| sides.focal())?;
        Some(libm::log(sides.ratio(focal)))
    };
    // With the focal length from the corners, their uncertainty moves it along.
    let fixed = (by != FocalBy::Corners).then_some(focal);
    let mut square = CLOTH * CLOTH;
    let mut shift = |moved: &dyn Fn(f64) -> Option<f64>, u: f64| {
        // The slope by a central difference, times the standard uncertainty (GUM, JCGM 100:2008, 5.1.3, note 2).
        let moves = moved(u).zip(moved(-u)).map(|(a, b)| (a - b) / 2.0);
        square += moves.map_or(1.0, |m| m * m);
    };
    for i in 0..4 {
        for k in 0..2 {
            shift(
                &|u| {
                    log_ratio(
                        &quad.with(|n| if n == i { unit(k, u) } else { [0.0; 2] }),
                        fixed,
                    )
                },
                CORNER,
            );
        }
    }
    for k in 0..2 {
        shift(&|u| log_ratio(&quad.with(|_| unit(k, u)), fixed), MIDDLE);
    }
    if let Some(focal) = fixed {
        shift(
            &|u| Some(libm::log(sides.ratio(focal * libm::exp(u)))),
            u_focal,
        );
    }
    let ratio = sides.ratio(focal);
    (ratio.is_finite() && ratio > 0.0).then(|| Proportion {
        ratio,
        doubt: libm::sqrt(square),
        focal,
        by,
    })
}

fn unit(axis: usize, u: f64) -> [f64; 2] {
    if axis == 0 { [u, 0.0] } else { [0.0, u] }
}

/// The focal length, where it comes from, and its relative standard uncertainty.
fn focal(quad: &Quad, sides: &Sides, stated: Option<f64>) -> (f64, FocalBy, f64) {
    let seen = sides.focal().filter(|f| LENSES.contains(f)).map(|f| {
        let doubt = quad.focal_doubt().unwrap_or(f64::INFINITY);
        (f, FocalBy::Corners, doubt)
    });
    let sure = |doubt: f64| seen.filter(|(.., u)| *u <= doubt);
    let stated = stated
        .map(|mm| mm / FILM_DIAGONAL)
        .filter(|f| LENSES.contains(f))
        .map(|f| (f, FocalBy::Exif, EXIF_DOUBT));
    sure(SURE)
        .or(stated)
        .or(sure(SURE_ENOUGH))
        .unwrap_or((USUAL.0, FocalBy::Usual, USUAL.1))
}

/// Corners clockwise from the upper left, from the middle of the picture, in diagonals.
#[derive(Debug, Clone, Copy)]
struct Quad([[f64; 2]; 4]);

/// The directions of both sides: the second and third column of the rectangle's map, Zhang and He's n₂ along
/// the width and n₃ along the height.
#[derive(Debug, Clone, Copy)]
struct Sides {
    along: [f64; 3],
    down: [f64; 3],
}

impl Quad {
    fn with(&self, by: impl Fn(usize) -> [f64; 2]) -> Quad {
        Quad(std::array::from_fn(|i| {
            [0, 1].map(|k| self.0[i][k] + by(i)[k])
        }))
    }

    /// Their equations 11 to 14: k₂ = ((m₁ × m₄) · m₃) / ((m₂ × m₄) · m₃), k₃ likewise, n₂ = k₂ m₂ − m₁.
    fn sides(&self) -> Option<Sides> {
        let [tl, tr, br, bl] = self.0.map(|[x, y]| [x, y, 1.0]);
        let (m1, m2, m3, m4) = (tl, tr, bl, br);
        let k2 = dot(cross(m1, m4), m3) / dot(cross(m2, m4), m3);
        let k3 = dot(cross(m1, m4), m2) / dot(cross(m3, m4), m2);
        let usable = |k: f64| k.is_finite() && k > 0.0;
        (usable(k2) && usable(k3)).then(|| Sides {
            along: [0, 1, 2].map(|i| k2 * m2[i] - m1[i]),
            down: [0, 1, 2].map(|i| k3 * m3[i] - m1[i]),
        })
    }

    /// The relative standard uncertainty of the focal length by that of corners and middle.
    fn focal_doubt(&self) -> Option<f64> {
        let log = |quad: Quad| Some(libm::log(quad.sides()?.focal()?));
        let mut square = 0.0;
        for k in 0..2 {
            for i in 0..4 {
                let at = |u| log(self.with(|n| if n == i { unit(k, u) } else { [0.0; 2] }));
                let moves = (at(CORNER)? - at(-CORNER)?) / 2.0;
                square += moves * moves;
            }
            let at = |u| log(self.with(|_| unit(k, u)));
            let moves = (at(MIDDLE)? - at(-MIDDLE)?) / 2.0;
            square += moves * moves;
        }
        Some(libm::sqrt(square))
    }
}

impl Sides {
    /// Their equation 21 with the principal point at nought: f² = −(n₂₁ n₃₁ + n₂₂ n₃₂) / (n₂₃ n₃₃).
    fn focal(&self) -> Option<f64> {
        let (a, d) = (self.along, self.down);
        let square = -(a[0] * d[0] + a[1] * d[1]) / (a[2] * d[2]);
        (square.is_finite() && square > 0.0).then(|| libm::sqrt(square))
    }

    /// Their equation 20: the ratio of both sides' lengths in space.
    fn ratio(&self, focal: f64) -> f64 {
        let length = |n: [f64; 3]| libm::hypot(libm::hypot(n[0], n[1]), n[2] * focal);
        length(self.along) / length(self.down)
    }
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// Clockwise as seen, beginning with the corner nearest the upper left.
fn in_order(corners: &[[f64; 2]; 4]) -> [[f64; 2]; 4] {
    let middle = [0, 1].map(|k| corners.iter().map(|p| p[k]).sum::<f64>() / 4.0);
    let angle = |p: &[f64; 2]| libm::atan2(p[1] - middle[1], p[0] - middle[0]);
    let mut ring = *corners;
    ring.sort_by(|a, b| angle(a).total_cmp(&angle(b)));
    let sum = |i: usize| ring[i][0] + ring[i][1];
    let first = (0..4).min_by(|&a, &b| sum(a).total_cmp(&sum(b)));
    ring.rotate_left(first.unwrap_or(0));
    ring
}

#[cfg(test)]
mod tests {
    use super::*;

    const PICTURE: (u32, u32) = (6000, 4000);

    /// The corners of a rectangle `ratio` wide and 1 high, turned by angles in degrees about the upright and the
    /// level axis and in its plane, before a pinhole camera of the given focal length in diagonals.
    fn photographed(ratio: f64, focal: f64, [pan, tilt, roll]: [f64; 3]) -> [[f64; 2]; 4] {
        let radians = |degrees: f64| degrees * std::f64::consts::PI / 180.0;
        let (pan, tilt, roll) = (radians(pan), radians(tilt), radians(roll));
        let diagonal = libm::hypot(f64::from(PICTURE.0), f64::from(PICTURE.1));
        let away = 2.4 * focal * ratio.max(1.0);
        [[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]].map(|[sx, sy]| {
            let (x, y) = (sx * ratio / 2.0, sy / 2.0);
            let (x, y) = (
                x * libm::cos(roll) - y * libm::sin(roll),
                x * libm::sin(roll) + y * libm::cos(roll),
            );
            let (x, z) = (x * libm::cos(pan), x * libm::sin(pan));
            let (y, z) = (
                y * libm::cos(tilt) - z * libm::sin(tilt),
                y * libm::sin(tilt) + z * libm::cos(tilt),
            );
            let scale = focal * diagonal / (z + away);
            [
                (x + 0.1) * scale + f64::from(PICTURE.0) / 2.0,
                (y - 0.05) * scale + f64::from(PICTURE.1) / 2.0,
            ]
        })
    }

    fn seen(corners: [[f64; 2]; 4], focal_35mm: Option<f64>) -> Proportion {
        proportion(&SingleView {
            corners,
            picture: PICTURE,
            focal_35mm,
        })
        .unwrap()
    }

    #[test]
    fn a_piece_seen_aslant_shows_its_true_proportion_and_the_lens() {
        for ratio in [0.5, 1.0, 166.0 / 121.4, 3.0] {
            for (focal, turns) in [
                (0.7, [35.0, 25.0, 0.0]),
                (0.6, [-40.0, 30.0, 4.0]),
                (0.8, [30.0, -35.0, -6.0]),
            ] {
                let found = seen(photographed(ratio, focal, turns), None);
                // Source, exact case: a pinhole camera's picture of a rectangle of known sides.
                assert!(
                    (found.ratio / ratio - 1.0).abs() < 1e-9,
                    "{ratio} {turns:?} {found:?}"
                );
                assert_eq!(found.by, FocalBy::Corners);
                assert!((found.focal / focal - 1.0).abs() < 1e-9, "{found:?}");
                assert!(found.doubt < 0.1, "{found:?}");
            }
        }
    }

    #[test]
    fn a_piece_seen_straight_from_the_front_needs_no_lens() {
        for roll in [0.0, 5.0] {
            for stated in [None, Some(28.0), Some(85.0)] {
                let found = seen(photographed(1.37, 1.0, [0.0, 0.0, roll]), stated);
                // Source, exact case: parallel sides keep their ratio.
                assert!((found.ratio / 1.37 - 1.0).abs() < 1e-9, "{found:?}");
                assert_ne!(found.by, FocalBy::Corners);
                assert!(found.doubt < 0.025, "{found:?}");
            }
        }
    }

    #[test]
    fn the_lens_exif_states_settles_a_view_that_leaves_one_pair_of_sides_parallel() {
        let focal = 35.0 / FILM_DIAGONAL;
        let corners = photographed(1.37, focal, [30.0, 0.0, 0.0]);
        let found = seen(corners, Some(35.0));
        assert_eq!(found.by, FocalBy::Exif);
        // Source, exact case: a pinhole camera's picture, focal length given.
        assert!((found.ratio / 1.37 - 1.0).abs() < 1e-9, "{found:?}");
        let without = seen(corners, None);
        assert_eq!(without.by, FocalBy::Usual);
        assert!(without.doubt > found.doubt);
        let off = libm::log(without.ratio / 1.37).abs();
        assert!(off < 2.0 * without.doubt && off > 1e-3, "{without:?}");
    }

    #[test]
    fn corners_read_a_little_wrong_stay_within_their_doubt() {
        // Two pixels in some direction at every corner.
        let wrong = [[2.0, -1.0], [-1.0, 2.0], [1.5, 1.5], [-2.0, -0.5]];
        for turns in [
            [0.0, 0.0, 1.0],
            [8.0, 5.0, 0.0],
            [25.0, 20.0, 0.0],
            [-30.0, 3.0, 2.0],
        ] {
            let corners = photographed(1.37, 0.9, turns);
            let read = std::array::from_fn(|i| [0, 1].map(|k| corners[i][k] + wrong[i][k]));
            let found = seen(read, None);
            let off = libm::log(found.ratio / 1.37).abs();
            assert!(off < 2.0 * found.doubt, "{turns:?} {off} {found:?}");
        }
    }

    #[test]
    fn corners_in_any_order_show_the_same_and_a_triangle_shows_nothing() {
        let [a, b, c, d] = photographed(1.37, 0.9, [20.0, 15.0, 0.0]);
        assert_eq!(seen([c, a, d, b], None), seen([a, b, c, d], None));
        let flat = |corners| {
            proportion(&SingleView {
                corners,
                picture: PICTURE,
                focal_35mm: None,
            })
        };
        assert_eq!(flat([a, a, c, d]), None);
        let within = [0, 1].map(|k| (a[k] + b[k] + d[k]) / 3.0);
        assert_eq!(flat([a, b, within, d]), None);
        assert_eq!(flat([[f64::NAN, 0.0], b, c, d]), None);
    }
}
