//! A reckoned figure: its value, how sure it is, and what it came from.

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
    pub from: Vec<&'static str>,
}

impl<D: Dimension> Figure<D> {
    /// A figure from base units.
    pub fn new(value: f64, u: Option<f64>, from: &[&'static str]) -> Self {
        Figure {
            value: D::of(value),
            u: u.map(D::of),
            from: from.to_vec(),
        }
    }

    /// One reading, as sure as it was written (rectangular, GUM 4.3.7).
    pub fn read(reading: &Reading<D>, from: &'static str) -> Self {
        Figure {
            value: reading.value,
            u: Some(reading.standard_uncertainty()),
            from: vec![from],
        }
    }

    /// The mean of several readings. Its uncertainty joins the spread of the mean (GUM 4.2.3) and
    /// the resolution of one reading (GUM 4.3.7); with one reading the resolution is all there is.
    pub fn mean(readings: &[At<Reading<D>>], from: &'static str) -> Option<Self> {
        let n = readings.len() as f64;
        let first = readings.first()?;
        let mean = readings.iter().map(|r| r.value.value.base()).sum::<f64>() / n;
        let resolution = first.value.standard_uncertainty().base();
        let spread = if readings.len() > 1 {
            let squares: f64 = readings
                .iter()
                .map(|r| square(r.value.value.base() - mean))
                .sum();
            squares / (n - 1.0) / n
        } else {
            0.0
        };
        Some(Figure::new(
            mean,
            Some((spread + square(resolution)).sqrt()),
            &[from],
        ))
    }

    /// The relative standard uncertainty, 0 where none is known.
    pub fn relative(&self) -> f64 {
        match self.u {
            Some(u) if self.value.base() != 0.0 => u.base() / self.value.base(),
            _ => 0.0,
        }
    }
}

/// x².
pub(super) fn square(x: f64) -> f64 {
    x * x
}

/// The root of a sum of squares: independent uncertainties joined (GUM 5.1.2).
pub(super) fn joined(parts: &[f64]) -> f64 {
    parts.iter().map(|p| square(*p)).sum::<f64>().sqrt()
}
