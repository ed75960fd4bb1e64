//! What must hold for any bar: balance, scaling, mirror images; and what is refused.

use super::*;

/// A little generator of even numbers from 0 to 1 (Knuth's MMIX constants), so that every run is the same.
struct Chance(u64);
impl Chance {
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
    fn beam(&mut self) -> Beam {
        let length = 500.0 + 2500.0 * self.next();
        let n = 2 + (self.next() * 6.0) as usize;
        let supports = (0..n).map(|_| length * self.next()).collect();
        let (a, b) = (length * self.next(), length * self.next());
        Beam {
            length,
            stiffness: 1e9 * (1.0 + self.next()),
            supports,
            spread: vec![
                Spread::even(0.0, length, 0.01 * self.next()),
                Spread {
                    from: a.min(b),
                    to: a.max(b),
                    start: 0.05 * self.next(),
                    end: 0.05 * self.next(),
                },
            ],
            points: vec![(length * self.next(), 10.0 * self.next())],
        }
    }
}

#[test]
fn whatever_hangs_is_carried_and_in_balance() {
    let mut chance = Chance(26);
    for _ in 0..400 {
        let beam = chance.beam();
        let bent = solved(&beam);
        let sum: f64 = bent.reactions.iter().sum();
        let scale = bent
            .reactions
            .iter()
            .fold(beam.total(), |m, r| m.max(r.abs()));
        near(sum, beam.total(), 1e-9 * scale);
        let moment: f64 = bent
            .supports
            .iter()
            .zip(&bent.reactions)
            .map(|(x, r)| x * r)
            .sum();
        let about: f64 = beam
            .spread
            .iter()
            .map(|s| {
                let l = s.to - s.from;
                s.from * s.total() + l * l * (s.start + 2.0 * s.end) / 6.0
            })
            .sum::<f64>()
            + beam.points.iter().map(|(x, p)| x * p).sum::<f64>();
        near(moment, about, 1e-9 * scale * beam.length);
        for x in &bent.supports {
            near(
                bent.sag_at(*x),
                0.0,
                1e-9 * bent.widest_sag(0.0, beam.length).value.abs(),
            );
        }
    }
}

#[test]
fn sag_grows_with_the_fourth_power_of_the_length_and_falls_with_stiffness() {
    let mut chance = Chance(4);
    for _ in 0..100 {
        let beam = chance.beam();
        let k = 1.0 + chance.next();
        let longer = Beam {
            length: k * beam.length,
            supports: beam.supports.iter().map(|x| k * x).collect(),
            spread: beam
                .spread
                .iter()
                .map(|s| Spread {
                    from: k * s.from,
                    to: k * s.to,
                    ..*s
                })
                .collect(),
            points: Vec::new(),
            ..beam
        };
        let plain = Beam {
            points: Vec::new(),
            ..beam.clone()
        };
        let before = solved(&plain).widest_sag(0.0, plain.length).value;
        let after = solved(&longer).widest_sag(0.0, longer.length).value;
        near(after / before, k * k * k * k, 1e-6);
        let stiffer = Beam {
            stiffness: k * plain.stiffness,
            ..plain
        };
        let after = solved(&stiffer).widest_sag(0.0, stiffer.length).value;
        near(before / after, k, 1e-9);
    }
}

#[test]
fn a_mirrored_bar_is_the_mirrored_curve() {
    let mut chance = Chance(7);
    for _ in 0..100 {
        let beam = chance.beam();
        let l = beam.length;
        let mirrored = Beam {
            supports: beam.supports.iter().map(|x| l - x).collect(),
            spread: beam
                .spread
                .iter()
                .map(|s| Spread {
                    from: l - s.to,
                    to: l - s.from,
                    start: s.end,
                    end: s.start,
                })
                .collect(),
            points: beam.points.iter().map(|(x, p)| (l - x, *p)).collect(),
            ..beam.clone()
        };
        let (a, b) = (solved(&beam), solved(&mirrored));
        let most = a.reactions.iter().fold(0.0_f64, |m, r| m.max(r.abs()));
        for (r, s) in a.reactions.iter().zip(b.reactions.iter().rev()) {
            near(*r, *s, 1e-7 * most);
        }
        let most = a.widest_sag(0.0, l).value.abs();
        near(a.sag_at(0.3 * l), b.sag_at(0.7 * l), 1e-7 * most);
    }
}

#[test]
fn what_can_not_stand_is_refused() {
    for supports in [
        vec![],
        vec![0.5],
        vec![0.5, 0.5],
        vec![0.0, 1.5],
        vec![f64::NAN, 1.0],
    ] {
        assert!(even(1.0, &supports).solve().is_none(), "{supports:?}");
    }
    assert!(even(0.0, &[0.0, 0.0]).solve().is_none());
    assert!(
        Beam {
            stiffness: 0.0,
            ..even(1.0, &[0.0, 1.0])
        }
        .solve()
        .is_none()
    );
    assert!(
        Beam {
            points: vec![(2.0, 1.0)],
            ..even(1.0, &[0.0, 1.0])
        }
        .solve()
        .is_none()
    );
    // Two hundred brackets, some of them a hair apart, are slow work for nobody.
    let supports: Vec<f64> = (0..200)
        .map(|i| f64::from(i * i % 199) / 200.0 + 1e-9 * f64::from(i))
        .collect();
    let bent = even(1.0, &supports).solve().expect("it stands");
    near(bent.reactions.iter().sum(), 1.0, 1e-6);
}
