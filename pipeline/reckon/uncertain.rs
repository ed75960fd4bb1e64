//! Numbers that know how sure they are, and what their doubt comes from.
//!
//! Each carries, for every reading it came from, how far it moves when that reading moves by one
//! standard uncertainty: ∂f/∂xᵢ · u(xᵢ). Contributions of one reading add before they are squared, so
//! a reading that feeds a figure twice is respected (GUM, JCGM 100:2008, 5.1.2 and 5.2.2).

use statrs::distribution::{ContinuousCDF, StudentsT};
use std::collections::BTreeMap;

/// A number with its standard uncertainty to first order, by source.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Uncertain {
    /// The estimate.
    pub value: f64,
    parts: BTreeMap<String, Part>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Part {
    /// How far the number moves with one standard uncertainty of the source.
    shift: f64,
    /// Degrees of freedom of that standard uncertainty; infinite where it is not an estimate.
    freedom: f64,
}

impl Uncertain {
    /// A number nobody doubts: a definition, a count.
    pub fn exact(value: f64) -> Self {
        Uncertain {
            value,
            parts: BTreeMap::new(),
        }
    }

    /// An input with its standard uncertainty; `source` tells it from every other.
    pub fn input(value: f64, u: f64, source: impl Into<String>) -> Self {
        Uncertain::estimated(value, u, f64::INFINITY, source)
    }

    /// An input whose standard uncertainty was itself estimated, with so many degrees of freedom
    /// (GUM G.3).
    pub fn estimated(value: f64, u: f64, freedom: f64, source: impl Into<String>) -> Self {
        let part = Part {
            shift: u.abs(),
            freedom,
        };
        let parts = if u == 0.0 {
            BTreeMap::new()
        } else {
            BTreeMap::from([(source.into(), part)])
        };
        Uncertain { value, parts }
    }

    /// A number that follows from others: its value, and for each of them ∂f/∂x (GUM 5.1.3).
    pub fn derived(value: f64, from: &[(&Uncertain, f64)]) -> Self {
        let mut parts: BTreeMap<String, Part> = BTreeMap::new();
        for (x, slope) in from {
            for (source, part) in &x.parts {
                parts
                    .entry(source.clone())
                    .and_modify(|p| p.shift += slope * part.shift)
                    .or_insert(Part {
                        shift: slope * part.shift,
                        freedom: part.freedom,
                    });
            }
        }
        Uncertain { value, parts }
    }

    /// The combined standard uncertainty (GUM 5.1.2).
    pub fn u(&self) -> f64 {
        self.parts
            .values()
            .map(|p| p.shift * p.shift)
            .sum::<f64>()
            .sqrt()
    }

    /// u over the value, 0 for nothing.
    pub fn relative(&self) -> f64 {
        if self.value == 0.0 {
            0.0
        } else {
            (self.u() / self.value).abs()
        }
    }

    /// The covariance of two numbers that share sources (GUM 5.2.2).
    pub fn covariance(&self, other: &Uncertain) -> f64 {
        self.parts
            .iter()
            .filter_map(|(source, p)| Some(p.shift * other.parts.get(source)?.shift))
            .sum()
    }

    /// Effective degrees of freedom (Welch and Satterthwaite: GUM G.4.1, equation G.2b).
    pub fn freedom(&self) -> f64 {
        let u = self.u();
        let sum: f64 = self
            .parts
            .values()
            .map(|p| {
                let square = p.shift * p.shift;
                square * square / p.freedom
            })
            .sum();
        if sum == 0.0 {
            f64::INFINITY
        } else {
            u * u * u * u / sum
        }
    }

    /// Half the interval that holds the true value with probability `p`: Student's t for the
    /// effective degrees of freedom, cut to a whole number as GUM G.4.1 has it, times u.
    pub fn expanded(&self, p: f64) -> f64 {
        let freedom = self.freedom().min(1e6).floor().max(1.0);
        StudentsT::new(0.0, 1.0, freedom).map_or(f64::NAN, |t| t.inverse_cdf(0.5 + p / 2.0))
            * self.u()
    }

    /// Times an exact factor.
    pub fn times(&self, factor: f64) -> Self {
        Uncertain::derived(self.value * factor, &[(self, factor)])
    }

    /// The square root.
    pub fn sqrt(&self) -> Self {
        let root = self.value.sqrt();
        let slope = if root > 0.0 { 0.5 / root } else { 0.0 };
        Uncertain::derived(root, &[(self, slope)])
    }

    /// The sum of many.
    pub fn sum<'a>(all: impl IntoIterator<Item = &'a Uncertain>) -> Self {
        let all: Vec<(&Uncertain, f64)> = all.into_iter().map(|x| (x, 1.0)).collect();
        Uncertain::derived(all.iter().map(|(x, _)| x.value).sum(), &all)
    }

    /// What the doubt comes from, the largest contribution first, with each contribution's size.
    pub fn sources(&self) -> Vec<(&str, f64)> {
        let mut all: Vec<(&str, f64)> = self
            .parts
            .iter()
            .map(|(source, p)| (source.as_str(), p.shift.abs()))
            .collect();
        all.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(b.0)));
        all
    }
}

impl std::ops::Add for &Uncertain {
    type Output = Uncertain;
    fn add(self, other: &Uncertain) -> Uncertain {
        Uncertain::derived(self.value + other.value, &[(self, 1.0), (other, 1.0)])
    }
}

impl std::ops::Sub for &Uncertain {
    type Output = Uncertain;
    fn sub(self, other: &Uncertain) -> Uncertain {
        Uncertain::derived(self.value - other.value, &[(self, 1.0), (other, -1.0)])
    }
}

impl std::ops::Mul for &Uncertain {
    type Output = Uncertain;
    fn mul(self, other: &Uncertain) -> Uncertain {
        Uncertain::derived(
            self.value * other.value,
            &[(self, other.value), (other, self.value)],
        )
    }
}

impl std::ops::Div for &Uncertain {
    type Output = Uncertain;
    fn div(self, other: &Uncertain) -> Uncertain {
        let value = self.value / other.value;
        Uncertain::derived(
            value,
            &[(self, 1.0 / other.value), (other, -value / other.value)],
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_end_gauge_is_as_sure_as_the_guide_has_it() {
        // Source, published: GUM (JCGM 100:2008), H.1, calibration of an end gauge. Inputs in nm, K
        // and 1/K; to first order u = 32 nm, effective degrees of freedom 16, U99 = 93 nm.
        let standard = Uncertain::estimated(50_000_623.0, 25.0, 18.0, "standard");
        let difference = Uncertain::sum([
            &Uncertain::estimated(215.0, 5.8, 24.0, "repeated"),
            &Uncertain::estimated(0.0, 3.9, 5.0, "comparator, random"),
            &Uncertain::estimated(0.0, 6.7, 8.0, "comparator, systematic"),
        ]);
        assert!((difference.u() - 9.7).abs() < 0.05);
        assert!((difference.freedom() - 25.6).abs() < 0.3);
        let alpha = Uncertain::input(11.5e-6, 1.2e-6, "expansion");
        let theta = Uncertain::sum([
            &Uncertain::input(-0.1, 0.2, "bed"),
            &Uncertain::input(0.0, 0.35, "cycle"),
        ]);
        let delta_alpha = Uncertain::estimated(0.0, 0.58e-6, 50.0, "expansion, difference");
        let delta_theta = Uncertain::estimated(0.0, 0.029, 2.0, "temperature, difference");
        let inner = &(&delta_alpha * &theta) + &(&alpha * &delta_theta);
        let length = &(&standard + &difference) - &(&standard * &inner);
        assert!(
            (length.value - 50_000_838.0).abs() < 1e-6,
            "{}",
            length.value
        );
        assert!((length.u() - 32.0).abs() < 0.5, "{}", length.u());
        assert_eq!(length.freedom().floor(), 16.0, "{}", length.freedom());
        assert!(
            (length.expanded(0.99) - 93.0).abs() < 1.0,
            "{}",
            length.expanded(0.99)
        );
    }

    #[test]
    fn students_t_is_that_of_the_tables() {
        // Source, published: GUM (JCGM 100:2008), table G.2, p = 95.45 %: 13.97 for 1 degree of
        // freedom, 4.53 for 2, 2.28 for 10, 2.000 for infinity; 99 %: 2.92 for 16.
        for (freedom, p, want) in [
            (1.0, 0.9545, 13.97),
            (2.0, 0.9545, 4.53),
            (10.0, 0.9545, 2.28),
            (f64::INFINITY, 0.9545, 2.0),
            (16.0, 0.99, 2.92),
        ] {
            let got = Uncertain::estimated(0.0, 1.0, freedom, "x").expanded(p);
            assert!((got - want).abs() < 0.006, "{freedom} {p}: {got}");
        }
    }

    #[test]
    fn a_reading_that_feeds_twice_is_not_doubted_twice() {
        // Source, exact case: x − x is nothing whatever x is; x·x has twice the relative doubt.
        let x = Uncertain::input(2.0, 0.1, "x");
        assert_eq!((&x - &x).u(), 0.0);
        assert!(((&x * &x).relative() - 0.1).abs() < 1e-12);
        assert_eq!((&x / &x).u(), 0.0);
        assert!((x.covariance(&x) - 0.01).abs() < 1e-15);
    }
}
