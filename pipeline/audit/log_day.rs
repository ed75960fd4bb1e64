//! Moments and ages in the log of audits. The clock is read by the command line, never here.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};
use time::{Date, Month, OffsetDateTime, Time, UtcOffset};

/// A second in UTC, printed and read as `2026-07-02T09:30:00Z` (RFC 3339).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Instant(OffsetDateTime);

impl Instant {
    /// The second that is so many seconds after the beginning of 1970 in UTC; nothing beyond the year 9999.
    pub fn from_seconds(seconds: i64) -> Option<Self> {
        OffsetDateTime::from_unix_timestamp(seconds).ok().map(Self)
    }

    /// That much later.
    pub fn plus(self, age: Age) -> Self {
        Self(self.0.saturating_add(time::Duration::days(age.days.into())))
    }

    /// The day in UTC, as `2026-07-02`.
    pub fn day(self) -> String {
        let date = self.0.date();
        format!(
            "{:04}-{:02}-{:02}",
            date.year(),
            u8::from(date.month()),
            date.day()
        )
    }
}

impl fmt::Display for Instant {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let time = self.0.time();
        let (hour, minute, second) = time.as_hms();
        write!(f, "{}T{hour:02}:{minute:02}:{second:02}Z", self.day())
    }
}

impl FromStr for Instant {
    type Err = String;

    /// Reads a second, or a day, which stands for its first second.
    fn from_str(text: &str) -> Result<Self, String> {
        let wrong = || format!("`{text}` is no day; write it like 2026-07-02");
        let (day, time) = match text.split_once('T') {
            Some((day, time)) => (day, time.strip_suffix('Z').ok_or_else(wrong)?),
            None => (text, "00:00:00"),
        };
        let three = |text: &str, by: char, widths: [usize; 3]| -> Option<[u16; 3]> {
            let parts: Vec<&str> = text.split(by).collect();
            let fits = parts.len() == 3
                && parts
                    .iter()
                    .zip(widths)
                    .all(|(p, w)| p.len() == w && p.bytes().all(|o| o.is_ascii_digit()));
            let number = |at: usize| parts.get(at)?.parse().ok();
            fits.then_some(())?;
            Some([number(0)?, number(1)?, number(2)?])
        };
        let [year, month, day] = three(day, '-', [4, 2, 2]).ok_or_else(wrong)?;
        let [hour, minute, second] = three(time, ':', [2, 2, 2]).ok_or_else(wrong)?;
        let small = |number: u16| u8::try_from(number).map_err(|_| wrong());
        let month = Month::try_from(small(month)?).map_err(|_| wrong())?;
        let date =
            Date::from_calendar_date(year.into(), month, small(day)?).map_err(|_| wrong())?;
        let time =
            Time::from_hms(small(hour)?, small(minute)?, small(second)?).map_err(|_| wrong())?;
        Ok(Self(date.with_time(time).assume_offset(UtcOffset::UTC)))
    }
}

impl Serialize for Instant {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Instant {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map_err(de::Error::custom)
    }
}

/// How long ago, in days, weeks or years of 365 days: `90d`, `12w`, `2y`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Age {
    days: u32,
}

impl FromStr for Age {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let wrong = || format!("`{text}` is no age; write it like 90d, 12w or 2y");
        let mut letters = text.chars();
        let unit = match letters.next_back() {
            Some('d') => 1,
            Some('w') => 7,
            Some('y') => 365,
            _ => return Err(wrong()),
        };
        let number = letters.as_str();
        if !number.bytes().all(|octet| octet.is_ascii_digit()) {
            return Err(wrong());
        }
        let days = number.parse::<u32>().ok().and_then(|n| n.checked_mul(unit));
        days.map(|days| Self { days }).ok_or_else(wrong)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moment_survives_being_written_down() {
        // Source, published: RFC 3339 section 5.8 has 1985-04-12T23:20:50.52Z; the leap day is from the calendar.
        for text in ["1985-04-12T23:20:50Z", "2024-02-29T00:00:00Z"] {
            assert_eq!(text.parse::<Instant>().unwrap().to_string(), text);
        }
        let day: Instant = "2026-07-02".parse().unwrap();
        assert_eq!(day.to_string(), "2026-07-02T00:00:00Z");
        for wrong in [
            "2026-02-29",
            "2026-7-2",
            "2026-07-02T25:00:00Z",
            "today",
            "",
        ] {
            assert!(wrong.parse::<Instant>().is_err(), "{wrong}");
        }
    }

    #[test]
    fn ages_are_days_weeks_and_years() {
        let day: Instant = "2026-07-02".parse().unwrap();
        let later = |age: &str| day.plus(age.parse().unwrap()).day();
        assert_eq!(later("90d"), "2026-09-30");
        assert_eq!(later("1w"), "2026-07-09");
        assert_eq!(later("1y"), "2027-07-02");
        for wrong in ["90", "d", "-3d", "1.5y", "4m", ""] {
            assert!(wrong.parse::<Age>().is_err(), "{wrong}");
        }
    }
}
