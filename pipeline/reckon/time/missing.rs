//! Hours that the notes do not give, estimated from the days that have them, and only where the
//! record asks for it.

use super::days::{Spread, WorkDay};
use crate::reckon::Uncertain;

/// Days with hours that an estimate needs at least (own rule: fewer tell nothing of their spread).
const LEAST_DAYS: usize = 3;

/// An estimate of missing hours.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimate {
    /// Days without hours.
    pub days: usize,
    /// Their hours together: days × the median of the noted days.
    pub hours: Uncertain,
}

impl Estimate {
    /// m days at the median x̃ of n noted days. Each missing day differs from the median as the noted
    /// ones do (standard deviation s), and the median itself is only as sure as n days make it: for
    /// normally spread days its standard error is s √(π/2n) (the asymptotic efficiency 2/π of the
    /// median: from memory, in every textbook of statistics). So u² = m s² + m² s² π/(2n), with n − 1
    /// degrees of freedom.
    pub(super) fn of(days: &[WorkDay], spread: Option<&Spread>) -> Option<Estimate> {
        let missing = days.iter().filter(|d| d.hours.is_none()).count();
        let spread = spread.filter(|s| s.days >= LEAST_DAYS && missing > 0)?;
        let (n, m) = (spread.days as f64, missing as f64);
        let u = error(m, n, spread.deviation?);
        let hours = Uncertain::estimated(
            m * spread.median.hours(),
            u,
            n - 1.0,
            "notes, spread of the days that stands for those without hours",
        );
        Some(Estimate {
            days: missing,
            hours,
        })
    }
}

/// √(m s² + m² s² π/(2n)).
fn error(m: f64, n: f64, s: f64) -> f64 {
    s * (m + m * m * std::f64::consts::PI / (2.0 * n)).sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_doubt_of_missing_hours_grows_as_it_should() {
        // Source, exact case: with no spread there is no doubt; one missing day among very many noted
        // ones is as unsure as one day, s; four such days as 2 s.
        assert_eq!(error(5.0, 3.0, 0.0), 0.0);
        assert!((error(1.0, 1e12, 1.5) - 1.5).abs() < 1e-9);
        assert!((error(4.0, 1e12, 1.5) - 3.0).abs() < 1e-9);
        // Source, from memory: the standard error of a median of normal numbers is 1.2533 s/√n, from its
        // asymptotic efficiency of 2/π; for a great many missing days it alone remains.
        assert!((error(1e9, 25.0, 1.0) / 1e9 - 1.2533 / 5.0).abs() < 1e-5);
    }
}
