//! The mathematics of a roll: how thick it gets, how the cloth bends, what box a rigid roll fits into.
//! Lengths in one unit throughout. What is rolled and why is decided elsewhere.

use std::f64::consts::PI;

/// Outer diameter by ring area: the cloth's edge, L·t, fills the ring (π/4)(D² − d²), so
/// D = √(d² + 4Lt/π). Elementary geometry.
pub fn ring_diameter(core: f64, length: f64, thickness: f64) -> f64 {
    (core * core + 4.0 * length * thickness / PI).sqrt()
}

/// A roll wound as one circle a turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wound {
    /// Turns, the last of them in part.
    pub turns: f64,
    /// The greatest width across the roll: the last turn lies on one side of it while it is under
    /// half a turn, on both from there on.
    pub widest: f64,
}

/// Winds a length turn by turn. Turn k has its mid-line on a circle of diameter d + (2k − 1)t, so n
/// whole turns take π n (d + n t); the rest lies on the next circle. For whole turns the result is
/// that of the ring.
pub fn wound(core: f64, length: f64, thickness: f64) -> Wound {
    let ring = (ring_diameter(core, length, thickness) - core) / (2.0 * thickness);
    // A hair's breadth under a whole number is that number: the root is rounded.
    let whole = libm::floor(ring + 1e-9);
    let used = PI * whole * (core + whole * thickness);
    let next = PI * (core + (2.0 * whole + 1.0) * thickness);
    let part = ((length - used) / next).max(0.0);
    let layers = match part {
        p if p < 1e-9 => 2.0 * whole,
        p if p < 0.5 => 2.0 * whole + 1.0,
        _ => 2.0 * whole + 2.0,
    };
    Wound {
        turns: whole + part,
        widest: core + layers * thickness,
    }
}

/// How far the outer face is stretched against the middle of the cloth on the innermost turn: half a
/// thickness over the radius of the mid-line, (t/2) / ((d + t)/2) = t / (d + t). Bending of a beam,
/// elementary mechanics; cloth gives by shifting its yarns, so this is a guide and no more.
pub fn strain(core: f64, thickness: f64) -> f64 {
    thickness / (core + thickness)
}

/// The longest rigid cylinder of a diameter that lies in a box, whose sides may be two (a plane) or
/// three; 0 where it does not fit at all. A cylinder whose axis makes the direction cosine u with a
/// side reaches L u + D √(1 − u²) along it, so it lies in the box exactly where that is no more than
/// the side, for every side. Each side then allows cosines up to some α; a direction exists as soon as
/// the squares of the α add up to 1. The lengths are searched by halving.
pub fn longest_in_box(sides: &[f64], diameter: f64) -> f64 {
    if sides.iter().any(|side| *side < diameter) {
        return 0.0;
    }
    let fits = |length: f64| {
        let squares = sides.iter().map(|side| {
            let most = steepest(*side, length, diameter);
            most * most
        });
        squares.sum::<f64>() >= 1.0
    };
    // Along the longest side it always fits; over the diagonal it never does.
    let mut fitting = sides.iter().copied().fold(0.0, f64::max);
    let mut too_long = sides.iter().map(|s| s * s).sum::<f64>().sqrt() * (1.0 + 1e-12);
    for _ in 0..80 {
        let middle = 0.5 * (fitting + too_long);
        if fits(middle) {
            fitting = middle;
        } else {
            too_long = middle;
        }
    }
    fitting
}

/// The cosines with each side at which a rigid cylinder touches that side and its opposite, the way the
/// longest one lies; their squares add up to 1 there.
pub fn cosines(sides: &[f64], length: f64, diameter: f64) -> Vec<f64> {
    let each = sides.iter().map(|side| steepest(*side, length, diameter));
    each.collect()
}

/// The greatest cosine u up to which L u + D √(1 − u²) stays within the side. With u = sin φ the sum
/// is R sin(φ + δ), R = √(L² + D²), tan δ = D/L.
fn steepest(side: f64, length: f64, diameter: f64) -> f64 {
    let reach = libm::hypot(length, diameter);
    if reach <= side {
        return 1.0;
    }
    let delta = libm::atan2(diameter, length);
    libm::sin((libm::asin(side / reach) - delta).max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Dice(u64);
    impl Dice {
        fn between(&mut self, low: f64, high: f64) -> f64 {
            self.0 = self
                .0
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            low + (high - low) * ((self.0 >> 11) as f64 / (1u64 << 53) as f64)
        }
    }

    fn near(a: f64, b: f64, relative: f64) {
        assert!((a - b).abs() <= relative * b.abs().max(1e-12), "{a} {b}");
    }

    #[test]
    fn a_published_roll_has_its_diameter() {
        // Source, published: an online roll calculator's worked example (newer version of the page):
        // core 3 in, length 1500 in, thickness 0.5 in give a roll of 31.05 in.
        near(ring_diameter(3.0, 1500.0, 0.5), 31.05, 2e-4);
        // Source, published: a roll-length page's example 1, paper roll: outer 12 in, core 3 in, 0.004 in
        // thick hold 26,507 in.
        near(ring_diameter(3.0, 26_507.0, 0.004), 12.0, 1e-5);
        // Source, published: the same page's example 2, stretch film: outer 5 in, core 2 in, 0.0008 in
        // thick hold 20,617 in.
        near(ring_diameter(2.0, 20_617.0, 0.0008), 5.0, 1e-4);
    }

    #[test]
    fn whole_turns_are_the_same_by_turn_and_by_area() {
        // Source, exact case: d 100, t 4, 5 turns: L = π·5·120 = 1884.96, D = √19600 = 140.
        let length = PI * 5.0 * 120.0;
        near(length, 1_884.955_592, 1e-9);
        near(ring_diameter(100.0, length, 4.0), 140.0, 1e-14);
        let w = wound(100.0, length, 4.0);
        near(w.turns, 5.0, 1e-9);
        near(w.widest, 140.0, 1e-12);
        let mut dice = Dice(7);
        for _ in 0..2000 {
            let (d, t) = (dice.between(50.0, 300.0), dice.between(0.5, 12.0));
            let n = libm::floor(dice.between(1.0, 30.0));
            let sum: f64 = (1..=n as u32)
                .map(|k| PI * (d + (2.0 * f64::from(k) - 1.0) * t))
                .sum();
            near(wound(d, sum, t).turns, n, 1e-9);
            near(wound(d, sum, t).widest, d + 2.0 * n * t, 1e-12);
            near(ring_diameter(d, sum, t), d + 2.0 * n * t, 1e-12);
        }
    }

    #[test]
    fn a_turn_begun_thickens_one_side_then_both() {
        let whole = PI * 5.0 * 120.0;
        let next = PI * (100.0 + 11.0 * 4.0);
        assert_eq!(wound(100.0, whole + 0.25 * next, 4.0).widest, 144.0);
        assert_eq!(wound(100.0, whole + 0.75 * next, 4.0).widest, 148.0);
        near(wound(100.0, whole + 0.25 * next, 4.0).turns, 5.25, 1e-12);
    }

    #[test]
    fn a_roll_scales_as_its_picture_does() {
        let mut dice = Dice(11);
        for _ in 0..1000 {
            let d = dice.between(50.0, 300.0);
            let (l, t) = (dice.between(300.0, 6000.0), dice.between(0.5, 12.0));
            let k = dice.between(0.2, 5.0);
            near(
                ring_diameter(k * d, k * l, k * t),
                k * ring_diameter(d, l, t),
                1e-12,
            );
            // The ring is the cloth's edge: twice the length is twice the ring.
            let ring = |l| ring_diameter(d, l, t) * ring_diameter(d, l, t) - d * d;
            near(ring(2.0 * l), 2.0 * ring(l), 1e-9);
            near(strain(k * d, k * t), strain(d, t), 1e-12);
            assert!(strain(1.1 * d, t) < strain(d, t) && strain(d, 1.1 * t) > strain(d, t));
            let w = wound(d, l, t);
            assert!(w.widest >= ring_diameter(d, l, t) - t && w.turns.is_finite());
        }
    }

    #[test]
    fn the_longest_rod_of_a_room_is_its_diagonal() {
        // Source, published: a textbook problem in many collections: a room of 12 × 9 × 8 m takes a rod
        // of 17 m.
        near(longest_in_box(&[12.0, 9.0, 8.0], 0.0), 17.0, 1e-9);
        // Source, published: the same for 10 × 10 × 5 m: 15 m.
        near(longest_in_box(&[10.0, 10.0, 5.0], 0.0), 15.0, 1e-9);
        // Source, published: the same for 12 × 4 × 3 m: 13 m.
        near(longest_in_box(&[12.0, 4.0, 3.0], 0.0), 13.0, 1e-9);
    }

    #[test]
    fn a_rug_fits_a_floor_as_carver_has_it() {
        // Source, published: Wetzel, Rectangles in Rectangles, Mathematics Magazine 73 (2000): a rectangle
        // 9 × 4 does not fit into 8 × 6, although every simple measure says so.
        assert!(longest_in_box(&[8.0, 6.0], 4.0) < 9.0);
        // Source, published: Carver's condition as Wetzel's note gives it (Monthly, 1957): p × q with
        // p > a ≥ b ≥ q fits into a × b exactly where b ≥ (2pqa + (p² − q²)√(p² + q² − a²)) / (p² + q²).
        let mut dice = Dice(23);
        for _ in 0..2000 {
            let (a, b) = (dice.between(1.0, 4.0), dice.between(1.0, 4.0));
            let (a, b) = (f64::max(a, b), f64::min(a, b));
            let q = dice.between(0.01, b);
            let p = longest_in_box(&[a, b], q);
            if p <= a * (1.0 + 1e-9) {
                continue;
            }
            let (pp, qq) = (p * p, q * q);
            let needed = (2.0 * p * q * a + (pp - qq) * (pp + qq - a * a).sqrt()) / (pp + qq);
            near(needed, b, 1e-7);
        }
    }

    #[test]
    fn what_fits_nowhere_has_no_length() {
        assert_eq!(longest_in_box(&[90.0, 200.0, 8.0], 10.0), 0.0);
        assert!(longest_in_box(&[90.0, 200.0, 10.0], 10.0) >= 200.0);
        // A thicker roll is never the longer one.
        let thin = longest_in_box(&[90.0, 200.0, 120.0], 10.0);
        assert!(longest_in_box(&[90.0, 200.0, 120.0], 30.0) < thin);
    }
}
