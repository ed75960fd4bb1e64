//! The days at the loom: all entries of one day brought together, and how hours are spread over days,
//! weeks and weekdays.

use crate::quantity::{Day, Dimension, Hours, Length};
use crate::reckon::Uncertain;
use crate::record::Notes;
use std::collections::{BTreeMap, BTreeSet};

/// One day at the loom, its entries together.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct WorkDay {
    /// The day.
    pub day: Day,
    /// Hours of all its entries that give them, in hours.
    pub hours: Option<Uncertain>,
    /// The height woven at its end, in mm: the last one noted.
    pub height: Option<Uncertain>,
}

/// The days of the notes in the order of the calendar.
pub(super) fn work_days(notes: &Notes) -> Vec<WorkDay> {
    let mut days: BTreeMap<Day, WorkDay> = BTreeMap::new();
    for (i, entry) in notes.entries.iter().enumerate() {
        let day = days.entry(entry.day.value).or_insert(WorkDay {
            day: entry.day.value,
            hours: None,
            height: None,
        });
        if let Some(hours) = &entry.hours {
            let r = &hours.value;
            let u = r.standard_uncertainty().hours();
            let read = Uncertain::input(r.value.hours(), u, format!("notes[{i}].hours"));
            day.hours = Some(match &day.hours {
                Some(sum) => sum + &read,
                None => read,
            });
        }
        if let Some(height) = &entry.height {
            let r = &height.value;
            let u = r.standard_uncertainty().mm();
            let read = Uncertain::input(r.value.mm(), u, format!("notes[{i}].height"));
            day.height = Some(read);
        }
    }
    days.into_values().collect()
}

/// How the hours of the days that have them are spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Days with hours.
    pub days: usize,
    /// The shortest day.
    pub shortest: Hours,
    /// A quarter of the days are shorter.
    pub lower: Hours,
    /// Half of the days are shorter.
    pub median: Hours,
    /// A quarter of the days are longer.
    pub upper: Hours,
    /// The longest day.
    pub longest: Hours,
    /// Standard deviation of the days, n − 1 in the denominator (GUM 4.2.2); `None` for one day.
    pub deviation: Option<f64>,
}

impl Spread {
    /// The spread, or `None` where no day has hours.
    pub(super) fn of(days: &[WorkDay]) -> Option<Spread> {
        let mut hours: Vec<f64> = days
            .iter()
            .filter_map(|d| d.hours.as_ref())
            .map(|h| h.value)
            .collect();
        hours.sort_by(f64::total_cmp);
        let n = hours.len();
        let at = |p| quantile(&hours, p).map(Hours::of);
        let mean = hours.iter().sum::<f64>() / n as f64;
        let squares: f64 = hours.iter().map(|h| (h - mean) * (h - mean)).sum();
        Some(Spread {
            days: n,
            shortest: at(0.0)?,
            lower: at(0.25)?,
            median: at(0.5)?,
            upper: at(0.75)?,
            longest: at(1.0)?,
            deviation: (n > 1).then(|| (squares / (n - 1) as f64).sqrt()),
        })
    }
}

/// The p-quantile of sorted numbers, by straight lines between them: definition 7 of Hyndman and
/// Fan, Sample Quantiles in Statistical Packages (The American Statistician, 1996), with the smallest
/// at 0 and the largest at 1.
pub(super) fn quantile(sorted: &[f64], p: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let at = p * last as f64;
    let below = at.floor();
    let low = *sorted.get(below as usize)?;
    let high = sorted.get(below as usize + 1).copied().unwrap_or(low);
    Some(low + (at - below) * (high - low))
}

/// How many weeks, from Monday to Sunday, have a day at the loom (ISO 8601-1).
pub(super) fn weeks(days: &[WorkDay]) -> usize {
    days.iter()
        .map(|d| d.day.week())
        .collect::<BTreeSet<_>>()
        .len()
}

/// Days noted on each day of the week, Monday first.
pub(super) fn weekdays(days: &[WorkDay]) -> [usize; 7] {
    let mut all = [0; 7];
    for day in days {
        if let Some(count) = all.get_mut(day.day.weekday()) {
            *count += 1;
        }
    }
    all
}

/// A length from a number of millimetres that knows its doubt.
pub(super) fn length(mm: &Uncertain) -> Length {
    Length::from_mm(mm.value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quartiles_are_those_of_the_definition() {
        // Source, reference library: Python 3, statistics.quantiles(method="inclusive"), which is
        // definition 7 of Hyndman and Fan: [1, 2, 3, 4] has 1.75, 2.5, 3.25; [2, 4, 4, 5, 9] has 4, 4, 5.
        let quartiles = |all: &[f64]| [0.25, 0.5, 0.75].map(|p| quantile(all, p).unwrap());
        assert_eq!(quartiles(&[1.0, 2.0, 3.0, 4.0]), [1.75, 2.5, 3.25]);
        assert_eq!(quartiles(&[2.0, 4.0, 4.0, 5.0, 9.0]), [4.0, 4.0, 5.0]);
        assert_eq!(quartiles(&[7.0]), [7.0; 3]);
        assert_eq!(quantile(&[], 0.5), None);
    }
}
