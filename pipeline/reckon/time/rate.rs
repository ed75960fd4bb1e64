//! The rate of weaving in cm² an hour: over each stretch between two noted heights, over all of them,
//! and over the whole piece.

use super::days::{WorkDay, length};
use crate::quantity::{Day, Length};
use crate::reckon::Uncertain;

/// From one noted height to the next.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// The day of the height it begins with.
    pub from: Day,
    /// The day of the height it ends with.
    pub to: Day,
    /// Height woven at its start.
    pub low: Length,
    /// Height woven at its end.
    pub high: Length,
    /// Hours of the days after `from` up to `to`; `None` where one of them has none.
    pub hours: Option<Uncertain>,
    /// cm² an hour: height gained × width in the loom / hours. `None` without hours or width, and
    /// where nothing was gained.
    pub rate: Option<Uncertain>,
}

impl Stretch {
    /// Every stretch, in the order of the days. The days up to the first noted height are in none:
    /// warping and the first hem lie in them.
    pub(super) fn all(days: &[WorkDay], width: Option<&Uncertain>) -> Vec<Stretch> {
        let noted: Vec<usize> = (0..days.len())
            .filter(|&i| days.get(i).is_some_and(|d| d.height.is_some()))
            .collect();
        noted
            .windows(2)
            .filter_map(|pair| match pair {
                [a, b] => Stretch::between(days, *a, *b, width),
                _ => None,
            })
            .collect()
    }

    /// The stretch from the first noted height to the last.
    pub(super) fn whole(days: &[WorkDay], width: Option<&Uncertain>) -> Option<Stretch> {
        let first = days.iter().position(|d| d.height.is_some())?;
        let last = days.iter().rposition(|d| d.height.is_some())?;
        (first < last).then(|| Stretch::between(days, first, last, width))?
    }

    fn between(
        days: &[WorkDay],
        first: usize,
        last: usize,
        width: Option<&Uncertain>,
    ) -> Option<Stretch> {
        let (a, b) = (days.get(first)?, days.get(last)?);
        let (low, high) = (a.height.as_ref()?, b.height.as_ref()?);
        let worked: Option<Vec<&Uncertain>> = days
            .get(first + 1..=last)?
            .iter()
            .map(|d| d.hours.as_ref())
            .collect();
        let hours = worked
            .map(Uncertain::sum)
            .filter(|h| h.value.is_finite() && h.value > 0.0);
        let gained = high - low;
        let rate = hours
            .as_ref()
            .zip(width.filter(|_| gained.value > 0.0))
            .map(|(h, w)| (&(&gained * w) / h).times(0.01))
            .filter(|r| r.value.is_finite() && r.u().is_finite());
        Some(Stretch {
            from: a.day,
            to: b.day,
            low: length(low),
            high: length(high),
            hours,
            rate,
        })
    }

    /// Height gained; below nothing where work was taken out again.
    pub fn gained(&self) -> Length {
        self.high - self.low
    }
}

/// Whether the noted heights run over the whole woven height, so that the noted days may be taken for
/// all of them: the last within a tenth of it, the first not beyond two fifths (own rule). `None`
/// where no height is noted or the whole is not known.
pub(super) fn runs_whole(days: &[WorkDay], whole: Option<Length>) -> Option<bool> {
    let whole = whole.filter(|w| w.mm() > 0.0)?.mm();
    let heights: Vec<f64> = days
        .iter()
        .filter_map(|d| d.height.as_ref())
        .map(|h| h.value)
        .collect();
    let (first, most) = (
        heights.first()?,
        heights.iter().copied().fold(0.0, f64::max),
    );
    Some(most >= 0.9 * whole && *first <= 0.4 * whole)
}

/// A weaver's published rates: ends an inch and square feet woven in a week of eight-hour days
/// (J. Soroka, "How long does it take to weave a tapestry?", in her public journal). Plain designs go
/// faster, intricate ones slower.
const WEEKLY: &[(f64, f64)] = &[(4.0, 5.0), (6.0, 3.0), (8.0, 2.0), (10.0, 1.0)];

/// Hours in such a week: five days are taken (own reading; the source says no number of days).
const WEEK: f64 = 40.0;

/// cm² an hour from square feet a week; a foot is 30.48 cm exactly (agreement of 1959).
fn weekly_rate(square_feet: f64) -> f64 {
    square_feet * 30.48 * 30.48 / WEEK
}

/// The slowest and fastest of the published rates, cm² an hour.
pub(super) fn usual() -> (f64, f64) {
    let all = WEEKLY.iter().map(|(_, feet)| weekly_rate(*feet));
    all.fold((f64::INFINITY, 0.0), |(least, most), r| {
        (r.min(least), r.max(most))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_rates_are_a_weavers_own() {
        // Source, published: J. Soroka, "How long does it take to weave a tapestry?": at 4, 6, 8 and 10
        // ends an inch 5, 3, 2 and 1 square feet a week of eight-hour days; 1 ft² = 929.0304 cm² (yard
        // agreement, 1959), a week taken as 40 h: 116.1, 69.7, 46.5 and 23.2 cm² an hour.
        let want = [116.128_8, 69.677_28, 46.451_52, 23.225_76];
        for ((_, feet), want) in WEEKLY.iter().zip(want) {
            assert!((weekly_rate(*feet) - want).abs() < 1e-9);
        }
        assert_eq!(usual(), (weekly_rate(1.0), weekly_rate(5.0)));
    }
}
