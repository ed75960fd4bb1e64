//! What the interval of an estimate promises, it keeps: five hundred invented studios, each with its own pace, pieces and
//! scatter, and one new piece each that falls into the interval as often as it says.

// The numbers must be the same in every run; whether on every machine does not matter here.
#![allow(clippy::disallowed_methods)]

use offloom::reckon::estimate::{Column, Estimated, Traits};

/// Numbers that look random and are the same in every run (splitmix64, Steele and others, 2014; from memory).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Above 0 and below 1.
    fn even(&mut self) -> f64 {
        ((self.next() >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    /// Normal with mean 0 and deviation 1 (Box and Muller).
    fn normal(&mut self) -> f64 {
        let (a, b) = (self.even(), self.even());
        (-2.0 * a.ln()).sqrt() * (2.0 * std::f64::consts::PI * b).cos()
    }
}

/// A studio: what drives its hours.
struct Studio {
    pace: f64,
    slopes: [f64; 3],
    scatter: f64,
}

impl Studio {
    fn any(dice: &mut Dice) -> Studio {
        Studio {
            pace: 200.0 * (0.4 * dice.normal()).exp(),
            slopes: [
                1.0 + 0.4 * dice.normal(),
                0.3 * dice.normal(),
                0.2 * dice.normal(),
            ],
            scatter: 0.08 + 0.3 * dice.even(),
        }
    }

    fn piece(&self, dice: &mut Dice) -> (Traits, f64) {
        let traits = Traits {
            area: (0.3 + 0.7 * dice.normal()).exp(),
            sett: Some((1.1 + 0.25 * dice.normal()).exp()),
            colours: (2.2 + 0.6 * dice.normal()).exp().round().max(1.0) as usize,
        };
        let [sett, colours, size] = self.slopes;
        let y = self.pace.ln()
            + sett * traits.sett.unwrap().ln()
            + colours * (traits.colours as f64).ln()
            + size * traits.area.ln()
            + self.scatter * dice.normal();
        (traits, y.exp() * traits.area)
    }
}

/// Of so many studios with between `fewest` and `most` pieces, how many times the new piece lay in the interval.
fn covered(studios: usize, fewest: u64, most: u64, level: f64, seed: u64) -> usize {
    let mut dice = Dice(seed);
    let mut inside = 0;
    for _ in 0..studios {
        let studio = Studio::any(&mut dice);
        let n = fewest + dice.next() % (most - fewest + 1);
        let past: Vec<(Traits, f64)> = (0..n).map(|_| studio.piece(&mut dice)).collect();
        let (wanted, took) = studio.piece(&mut dice);
        let e = Estimated::of(&past, &wanted, level, &Column::ALL).unwrap();
        let (low, high) = e.range.unwrap();
        inside += usize::from((low..=high).contains(&took));
    }
    inside
}

#[test]
fn of_five_hundred_studios_as_many_new_pieces_fall_into_the_interval_as_promised() {
    // Source, exact case: the count is binomial; three standard errors of 500 draws are 5.4 % at 80 %, 4.0 % at 90 %.
    for (level, seed) in [(0.8, 1), (0.9, 2), (0.95, 3)] {
        for (fewest, most) in [(3, 5), (6, 11), (12, 40), (3, 40)] {
            let inside = covered(500, fewest, most, level, seed * 100 + fewest + most);
            let share = inside as f64 / 500.0;
            let allowed = 3.0 * (level * (1.0 - level) / 500.0_f64).sqrt();
            println!("{fewest} to {most} pieces at {level}: {inside} of 500");
            assert!(
                (share - level).abs() <= allowed,
                "{fewest} to {most} pieces: {share} instead of {level}"
            );
        }
    }
}

#[test]
fn an_interval_that_is_too_narrow_would_be_found() {
    // An interval of 80 % is not taken for one of 90 %.
    let inside = covered(500, 3, 40, 0.8, 7);
    assert!((inside as f64 / 500.0 - 0.9).abs() > 3.0 * (0.9f64 * 0.1 / 500.0).sqrt());
}
