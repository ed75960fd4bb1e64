//! The day she may have meant: every single slip of the pen in a date, tried in the order of how often
//! it happens (own judgement: last year's number in January first).

use crate::quantity::Day;

/// The likeliest day near `day`, by one slip, for which `fits` holds.
pub(super) fn meant(day: Day, fits: impl Fn(Day) -> bool) -> Option<Day> {
    slips(day)
        .into_iter()
        .find(|other| *other != day && Day::parse(&other.to_string()).is_ok() && fits(*other))
}

fn slips(day: Day) -> Vec<Day> {
    let with = |year: i32, month: u8, d: u8| Day {
        year,
        month,
        day: d,
    };
    let Day {
        year,
        month,
        day: d,
    } = day;
    let swapped = |n: u8| n % 10 * 10 + n / 10;
    // Two digits of the year, or two of its last ones, changed places: 2062 for 2026.
    let tens = year / 100 * 100 + (year % 10) * 10 + year / 10 % 10;
    let hundreds = year / 1000 * 1000 + year / 10 % 10 * 100 + year / 100 % 10 * 10 + year % 10;
    vec![
        // Last year's number, or next year's.
        with(year + 1, month, d),
        with(year - 1, month, d),
        // Month and day the other way round.
        with(year, d, month),
        // The month before or after.
        with(year, month + 1, d),
        with(year, month.saturating_sub(1), d),
        with(year, month, swapped(d)),
        with(year, swapped(month), d),
        with(tens, month, d),
        with(hundreds, month, d),
        // Ten years, or a century.
        with(year + 10, month, d),
        with(year - 10, month, d),
        with(year + 100, month, d),
        with(year - 100, month, d),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_day_she_meant_is_found() {
        let day = |t: &str| Day::parse(t).unwrap();
        for (written, from, to, want) in [
            ("2025-01-08", "2026-01-02", "2026-03-01", Some("2026-01-08")),
            ("2026-12-03", "2026-03-01", "2026-06-30", Some("2026-03-12")),
            ("2026-04-21", "2026-04-10", "2026-04-14", Some("2026-04-12")),
            ("2062-03-04", "2026-03-01", "2026-06-30", Some("2026-03-04")),
            ("2206-03-04", "2026-03-01", "2026-06-30", Some("2026-03-04")),
            ("1926-03-04", "2026-03-01", "2026-06-30", Some("2026-03-04")),
            ("2026-11-30", "2026-03-01", "2026-06-30", None),
        ] {
            let (from, to) = (day(from), day(to));
            let found = meant(day(written), |d| (from..=to).contains(&d));
            assert_eq!(found.map(|d| d.to_string()).as_deref(), want, "{written}");
        }
    }
}
