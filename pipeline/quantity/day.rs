//! A day of the calendar: for comparing, counting and finding its week.

use super::edtf::Edtf;
use super::error::{ErrorKind, QuantityError};

/// A day of the Gregorian calendar, for comparing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day {
    /// Year.
    pub year: i32,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, from 1.
    pub day: u8,
}

impl Day {
    /// Days since 1 January of the year 1, for counting days between two.
    pub fn ordinal(self) -> i64 {
        self.date().map_or(0, |d| i64::from(d.to_julian_day()))
    }

    /// The day that has this [`Day::ordinal`]; nothing beyond the calendar's end.
    pub fn from_ordinal(ordinal: i64) -> Option<Day> {
        let date = time::Date::from_julian_day(i32::try_from(ordinal).ok()?).ok()?;
        Some(Day {
            year: date.year(),
            month: u8::from(date.month()),
            day: date.day(),
        })
    }

    /// The day of the week, 0 for Monday to 6 for Sunday.
    pub fn weekday(self) -> usize {
        self.date()
            .map_or(0, |d| usize::from(d.weekday().number_days_from_monday()))
    }

    /// The week it lies in, with the year that the week is counted in: weeks begin on Monday, and
    /// week 1 holds the year's first Thursday (ISO 8601-1:2019, 3.1.1.23).
    pub fn week(self) -> (i32, u8) {
        self.date().map_or((self.year, 1), |d| {
            let (year, week, _) = d.to_iso_week_date();
            (year, week)
        })
    }

    fn date(self) -> Option<time::Date> {
        let month = time::Month::try_from(self.month).ok()?;
        time::Date::from_calendar_date(self.year, month, self.day).ok()
    }

    /// Parses a plain calendar day, `2026-03-04`.
    pub fn parse(text: &str) -> Result<Day, QuantityError> {
        const REMEDY: &str = "write year, month and day, such as `2026-03-04`";
        match Edtf::parse(text) {
            Ok(Edtf::Date(d)) if d.is_plain_day() => Ok(d.earliest()),
            Ok(_) => Err(QuantityError::new(
                ErrorKind::Unreadable,
                format!("`{}` is not one day", text.trim()),
                REMEDY,
            )),
            // A remedy that offers a day helps; one that offers a month does not.
            Err(error) if error.remedy.split('`').any(|part| part.len() == 10) => Err(error),
            Err(error) => Err(QuantityError {
                remedy: REMEDY.to_string(),
                ..error
            }),
        }
    }
}

impl std::fmt::Display for Day {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_remedy_for_a_day_is_a_day() {
        let remedy = |text: &str| Day::parse(text).unwrap_err().remedy;
        assert!(remedy("10.11.2026").contains("`2026-11-10`"));
        assert!(remedy("4 March 2026").contains("`2026-03-04`"));
        for text in ["March 2026", "2026-03", "the 1980s", "soon"] {
            assert!(remedy(text).contains("`2026-03-04`"), "{text}");
        }
    }

    #[test]
    fn weeks_are_those_of_the_standard() {
        // Source, published: PostgreSQL's documentation of isoyear and week (ISO 8601): 2005-01-01 lies in
        // week 53 of 2004, 2006-01-01 in week 52 of 2005, 2012-12-31 in week 1 of 2013.
        let week = |text: &str| Day::parse(text).unwrap().week();
        assert_eq!(week("2005-01-01"), (2004, 53));
        assert_eq!(week("2006-01-01"), (2005, 52));
        assert_eq!(week("2012-12-31"), (2013, 1));
        // Source, published: the documentation of Kusto's week_of_year (ISO 8601): 2020-12-31 lies in week
        // 53, 2020-06-15 in week 25, 1970-01-01 in week 1, 2000-01-01 in week 52.
        assert_eq!(week("2020-12-31").1, 53);
        assert_eq!(week("2020-06-15").1, 25);
        assert_eq!(week("1970-01-01").1, 1);
        assert_eq!(week("2000-01-01"), (1999, 52));
        // Source, published: ISO 8601 as summed up in public: 1996-12-31 is a Tuesday, 1997-W01-2.
        let day = Day::parse("1996-12-31").unwrap();
        assert_eq!((day.week(), day.weekday()), ((1997, 1), 1));
    }
}
