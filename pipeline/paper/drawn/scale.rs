//! The scale of a drawing, and the ruler drawn beside it.

use serde::Serialize;

/// The scales drawings are made in: those that ISO 5455 recommends for reductions, and 1:25, which
/// architects use beside them (common practice, no source). The standard is cited from memory.
const SCALES: [u32; 15] = [
    1, 2, 5, 10, 20, 25, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000,
];

/// Scales between those, taken only where one of them keeps a paper to one side; the ruler beside the
/// drawing is what is measured by (common practice, no source).
const BETWEEN: [u32; 4] = [15, 30, 40, 75];

/// The longest ruler on paper, mm.
const RULER_MM: f64 = 42.0;

/// A ruler: how long it stands on paper, and what length that is.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub(in crate::paper) struct Ruler {
    /// Length on paper, mm.
    pub mm: f64,
    /// Parts that it is divided into.
    pub parts: u32,
    /// What it says at its end.
    pub label: String,
}

/// The largest scale at which `wide` by `tall` mm fits into a room on paper, as the number behind the
/// colon of 1:n.
pub(super) fn fitting(wide: f64, tall: f64, room: (f64, f64)) -> u32 {
    let fits = |n: &u32| wide / f64::from(*n) <= room.0 && tall / f64::from(*n) <= room.1;
    SCALES.into_iter().find(fits).unwrap_or(SCALES[14])
}

/// The scales that a drawing may take, the largest first: the one that fits, and smaller ones as long as
/// the longer side keeps `least` mm on paper.
pub(super) fn fitting_all(wide: f64, tall: f64, room: (f64, f64), least: f64) -> Vec<u32> {
    let first = fitting(wide, tall, room);
    let keeps = |n: &u32| wide.max(tall) / f64::from(*n) >= least;
    let all = SCALES.into_iter().chain(BETWEEN);
    let mut smaller: Vec<u32> = all.filter(|n| *n > first && keeps(n)).collect();
    smaller.sort_unstable();
    std::iter::once(first).chain(smaller).collect()
}

/// The largest scale at which `wide` by `tall` mm fits, those between the usual ones among them.
pub(in crate::paper) fn fitting_close(wide: f64, tall: f64, room: (f64, f64)) -> u32 {
    let fits = |n: &u32| wide / f64::from(*n) <= room.0 && tall / f64::from(*n) <= room.1;
    let all = SCALES.into_iter().chain(BETWEEN);
    all.filter(fits).min().unwrap_or(SCALES[14])
}

/// A round real length, mm, whose ruler is as long as there is room for, and its parts.
pub(in crate::paper) fn ruler_length(one_to: u32) -> (f64, u32) {
    let most = RULER_MM * f64::from(one_to);
    let mut best = (1.0, 1);
    let mut decade = 1.0;
    while decade <= most {
        for (step, parts) in [(1.0, 5), (2.0, 4), (5.0, 5)] {
            if step * decade <= most {
                best = (step * decade, parts);
            }
        }
        decade *= 10.0;
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drawing_takes_the_largest_scale_that_fits() {
        // Source, exact case: 1648 mm over 10 is 164.8 mm and over 20 is 82.4 mm; 89 mm fit as they are.
        assert_eq!(fitting(1648.0, 1206.0, (128.0, 112.0)), 20);
        assert_eq!(fitting(71.0, 89.0, (128.0, 112.0)), 1);
        assert_eq!(fitting(592.0, 804.0, (128.0, 112.0)), 10);
        assert_eq!(fitting(6000.0, 300.0, (128.0, 112.0)), 50);
        assert_eq!(fitting(9e12, 1.0, (128.0, 112.0)), 20_000);
    }

    #[test]
    fn a_drawing_may_be_smaller_while_it_can_be_read() {
        // Source, exact case: 1648 mm are 82.4 mm at 1:20, 65.9 mm at 1:25 and 33 mm at 1:50.
        let all = fitting_all(1648.0, 1206.0, (128.0, 112.0), 55.0);
        assert_eq!(all, [20, 25]);
        assert_eq!(fitting_all(71.0, 89.0, (128.0, 112.0), 55.0), [1]);
    }

    #[test]
    fn a_ruler_is_a_round_length_that_fits() {
        // Source, exact case: at 1:10 there is room for 420 mm, so 200 mm are drawn as 20 mm.
        assert_eq!(ruler_length(10), (200.0, 4));
        assert_eq!(ruler_length(1), (20.0, 4));
        assert_eq!(ruler_length(20), (500.0, 5));
        assert_eq!(ruler_length(25), (1000.0, 5));
    }
}
