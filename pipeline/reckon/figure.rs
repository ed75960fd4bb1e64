//! A reckoned figure of one kind of quantity: its value, how sure it is, and what it came from.

use super::uncertain::Uncertain;
use crate::quantity::{Dimension, Reading};
use crate::record::At;

/// A figure with its standard uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure<D: Dimension> {
    /// The value.
    pub value: D,
    /// Standard uncertainty (one standard deviation), where it is known.
    pub u: Option<D>,
    /// The fields it came from.
    pub from: Vec<String>,
    number: Uncertain,
}

impl<D: Dimension> Figure<D> {
    /// A figure from a number in base units.
    pub fn new<S: Into<String>>(number: Uncertain, from: impl IntoIterator<Item = S>) -> Self {
        let u = number.u();
        let mut names: Vec<String> = Vec::new();
        for name in from {
            let name = name.into();
            if !names.contains(&name) {
                names.push(name);
            }
        }
        Figure {
            value: D::of(number.value),
            u: (u > 0.0).then(|| D::of(u)),
            from: names,
            number,
        }
    }

    /// One reading, as sure as it was written: evenly within half its last place, u = a/√3
    /// (GUM 4.3.7). `source` tells it from every other reading.
    pub fn read(reading: &Reading<D>, source: &str) -> Self {
        let number = Uncertain::input(
            reading.value.base(),
            reading.standard_uncertainty().base(),
            source,
        );
        Figure::new(number, [field_of(source)])
    }

    /// The mean of several readings: the spread of the mean (GUM 4.2.3), with n − 1 degrees of
    /// freedom, joined with the resolution of each reading (GUM 4.3.7). With one reading the
    /// resolution is all there is. `None` without readings.
    pub fn mean(readings: &[At<Reading<D>>], field: &str) -> Option<Self> {
        let n = readings.len() as f64;
        let each: Vec<Uncertain> = readings
            .iter()
            .enumerate()
            .map(|(i, r)| {
                let r = &r.value;
                Uncertain::input(
                    r.value.base(),
                    r.standard_uncertainty().base(),
                    source(field, i),
                )
            })
            .collect();
        if each.is_empty() {
            return None;
        }
        let mean = Uncertain::sum(&each).times(1.0 / n);
        let squares: f64 = each
            .iter()
            .map(|x| (x.value - mean.value) * (x.value - mean.value))
            .sum();
        let number = if each.len() > 1 {
            let spread = (squares / (n - 1.0) / n).sqrt();
            let spread = Uncertain::estimated(0.0, spread, n - 1.0, format!("{field}, spread"));
            &mean + &spread
        } else {
            mean
        };
        Some(Figure::new(number, [field]))
    }

    /// The number in base units, with the sources of its doubt.
    pub fn number(&self) -> &Uncertain {
        &self.number
    }
}

/// The name of the i-th reading of a field, from 0.
pub(super) fn source(field: &str, i: usize) -> String {
    format!("{field}[{i}]")
}

/// The field a source belongs to.
fn field_of(source: &str) -> &str {
    source.split('[').next().unwrap_or(source)
}
