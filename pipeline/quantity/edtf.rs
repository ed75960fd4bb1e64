//! Dates as they are known: to the day, to the month, about, or somewhere in a decade. Levels 0
//! and 1 of the Extended Date/Time Format (Library of Congress, 4 February 2019; ISO 8601-2:2019)
//! and, of level 2, sets and unknown digits anywhere. Times of day are not dates of a tapestry and
//! are refused.

use super::date_hint;
use super::day::Day;
use super::error::{ErrorKind, QuantityError};

/// The month place of a date.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Month {
    /// January is 1.
    Of(u8),
    /// `XX`: not known.
    Unknown,
    /// 21 spring, 22 summer, 23 autumn, 24 winter.
    Season(u8),
}

/// One date, as far as it is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EdtfDate {
    /// Four digits of the year, `None` for an `X`.
    pub year: [Option<u8>; 4],
    /// Month, if given.
    pub month: Option<Month>,
    /// Day, if given; `Some(None)` for `XX`.
    pub day: Option<Option<u8>>,
    /// Marked `?` or `%`.
    pub uncertain: bool,
    /// Marked `~` or `%`.
    pub approximate: bool,
}

/// One end of an interval.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum End {
    /// A date.
    Known(EdtfDate),
    /// Empty: it ends, but nobody knows when.
    Unknown,
    /// `..`: it has no end.
    Open,
}

/// A date expression.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Edtf {
    /// One date.
    Date(EdtfDate),
    /// From one to the other.
    Interval(End, End),
    /// One of these, `[1994,1996]`; a range inside is held as an interval.
    OneOf(Vec<Edtf>),
    /// All of these, `{1994,1996}`.
    AllOf(Vec<Edtf>),
}

const HELP: &str = "write `2026-03-04`, `2026-03`, `2026`, `2026-03/2026-06`, `1994~` (about), `1994?` (uncertain) or `199X` (in the 1990s)";

impl Edtf {
    /// Parses an EDTF date. A date written in another way is refused, with the right form where it can
    /// be told.
    pub fn parse(text: &str) -> Result<Edtf, QuantityError> {
        let text = text.trim();
        Edtf::read(text).map_err(|error| match date_hint::instead(text) {
            Some(remedy) if error.remedy == HELP => QuantityError { remedy, ..error },
            _ => error,
        })
    }

    fn read(text: &str) -> Result<Edtf, QuantityError> {
        for (open, close) in [('[', ']'), ('{', '}')] {
            if let Some(inner) = text.strip_prefix(open).and_then(|t| t.strip_suffix(close)) {
                let mut members = Vec::new();
                for part in inner.split(',') {
                    members.push(match part.trim().split_once("..") {
                        Some((a, b)) => Edtf::Interval(set_end(a, text)?, set_end(b, text)?),
                        None => Edtf::Date(EdtfDate::parse(part.trim(), text)?),
                    });
                }
                return Ok(if open == '[' {
                    Edtf::OneOf(members)
                } else {
                    Edtf::AllOf(members)
                });
            }
        }
        let found = match text.split_once('/') {
            None => Edtf::Date(EdtfDate::parse(text, text)?),
            Some((start, end)) => Edtf::Interval(end_of(start, text)?, end_of(end, text)?),
        };
        if let Edtf::Interval(End::Known(a), End::Known(b)) = &found
            && a.earliest() > b.latest()
        {
            return Err(QuantityError::new(
                ErrorKind::Impossible,
                format!("`{text}` ends before it begins"),
                "write the earlier date first",
            ));
        }
        Ok(found)
    }

    /// The first day it can mean, if it has one.
    pub fn earliest(&self) -> Option<Day> {
        match self {
            Edtf::Date(d) => Some(d.earliest()),
            Edtf::Interval(End::Known(d), _) => Some(d.earliest()),
            Edtf::Interval(..) => None,
            Edtf::OneOf(m) | Edtf::AllOf(m) => m
                .iter()
                .map(Edtf::earliest)
                .collect::<Option<Vec<_>>>()
                .and_then(|all| all.into_iter().min()),
        }
    }

    /// The first and the last day on which it can have come to its end, as far as they are sure: an end that is marked
    /// uncertain or about tells nothing.
    pub fn ended(&self) -> (Option<Day>, Option<Day>) {
        let of = |d: &EdtfDate| {
            if d.uncertain || d.approximate {
                (None, None)
            } else {
                (Some(d.earliest()), Some(d.latest()))
            }
        };
        match self {
            Edtf::Date(d) | Edtf::Interval(_, End::Known(d)) => of(d),
            Edtf::Interval(End::Known(d), _) => (of(d).0, None),
            Edtf::Interval(..) => (None, None),
            Edtf::OneOf(m) => {
                let all: Vec<_> = m.iter().map(Edtf::ended).collect();
                let first: Option<Vec<Day>> = all.iter().map(|(a, _)| *a).collect();
                let last: Option<Vec<Day>> = all.iter().map(|(_, b)| *b).collect();
                let first = first.and_then(|days| days.into_iter().min());
                (first, last.and_then(|days| days.into_iter().max()))
            }
            // It ended with the last of all.
            Edtf::AllOf(m) => {
                let all: Vec<_> = m.iter().map(Edtf::ended).collect();
                let last: Option<Vec<Day>> = all.iter().map(|(_, b)| *b).collect();
                let first = all.iter().filter_map(|(a, _)| *a).max();
                (first, last.and_then(|days| days.into_iter().max()))
            }
        }
    }

    /// The last day it can mean, if it has one.
    pub fn latest(&self) -> Option<Day> {
        match self {
            Edtf::Date(d) => Some(d.latest()),
            Edtf::Interval(_, End::Known(d)) => Some(d.latest()),
            Edtf::Interval(..) => None,
            Edtf::OneOf(m) | Edtf::AllOf(m) => m
                .iter()
                .map(Edtf::latest)
                .collect::<Option<Vec<_>>>()
                .and_then(|all| all.into_iter().max()),
        }
    }
}

fn end_of(text: &str, whole: &str) -> Result<End, QuantityError> {
    match text.trim() {
        "" => Ok(End::Unknown),
        ".." => Ok(End::Open),
        date => EdtfDate::parse(date, whole).map(End::Known),
    }
}

fn set_end(text: &str, whole: &str) -> Result<End, QuantityError> {
    match text.trim() {
        "" => Ok(End::Open),
        date => EdtfDate::parse(date, whole).map(End::Known),
    }
}

impl EdtfDate {
    fn parse(text: &str, whole: &str) -> Result<EdtfDate, QuantityError> {
        let wrong = |hint: &str| {
            QuantityError::new(
                ErrorKind::Unreadable,
                format!("`{whole}` is not a date as EDTF has them{hint}"),
                HELP,
            )
        };
        if text == "open" || text == "unknown" {
            return Err(wrong(
                "; `open` is now written `..`, `unknown` is now left empty",
            ));
        }
        if text.contains('T') {
            return Err(wrong("; leave the time of day out"));
        }
        for about in ["about", "around", "circa", "ca.", "ca", "c.", "c"] {
            let year = text.strip_prefix(about).map(str::trim_start);
            if let Some(year) = year.filter(|y| y.starts_with(|c: char| c.is_ascii_digit())) {
                return Err(wrong(&format!("; for \"about {year}\" write `{year}~`")));
            }
        }
        if text.contains(['x', 'u']) && text.starts_with(|c: char| c.is_ascii_digit()) {
            return Err(wrong("; an unknown digit is written with a capital `X`"));
        }
        if text.matches('/').count() == 2 || text.contains('.') && !text.contains("..") {
            return Err(wrong("; year, month and day are joined by hyphens"));
        }
        let (body, uncertain, approximate) = match text.as_bytes().last() {
            Some(b'?') => (&text[..text.len() - 1], true, false),
            Some(b'~') => (&text[..text.len() - 1], false, true),
            Some(b'%') => (&text[..text.len() - 1], true, true),
            _ => (text, false, false),
        };
        let mut parts = body.split('-');
        let year = parts
            .next()
            .and_then(four_digits)
            .ok_or_else(|| wrong("; the year has four places"))?;
        let month = match parts.next() {
            None => None,
            Some("XX") => Some(Month::Unknown),
            Some(m) => match two_digits(m) {
                Some(n @ 1..=12) => Some(Month::Of(n)),
                Some(n @ 21..=24) => Some(Month::Season(n)),
                _ => return Err(wrong("; months are 01 to 12, seasons 21 to 24")),
            },
        };
        let day = match parts.next() {
            None => None,
            Some("XX") => Some(None),
            Some(d) => Some(Some(
                two_digits(d).ok_or_else(|| wrong("; days have two places"))?,
            )),
        };
        if parts.next().is_some() || matches!((month, day), (Some(Month::Season(_)), Some(_))) {
            return Err(wrong(""));
        }
        let date = EdtfDate {
            year,
            month,
            day,
            uncertain,
            approximate,
        };
        if let Some(Some(d)) = day {
            let longest = match month {
                Some(Month::Of(m)) => days(date.year_at(9), m).max(days(date.year_at(0), m)),
                _ => 31,
            };
            if d == 0 || d > longest {
                return Err(wrong("; that month has no such day"));
            }
        }
        Ok(date)
    }

    /// Whether it is one certain day of the calendar.
    pub fn is_plain_day(&self) -> bool {
        self.year.iter().all(Option::is_some)
            && matches!(self.month, Some(Month::Of(_)))
            && matches!(self.day, Some(Some(_)))
            && !self.uncertain
            && !self.approximate
    }

    /// The year with every unknown digit replaced by `fill`.
    fn year_at(&self, fill: u8) -> i32 {
        self.year
            .iter()
            .fold(0, |y, d| y * 10 + i32::from(d.unwrap_or(fill)))
    }

    /// The first day it can mean. `?` and `~` do not widen it: they say how sure it is.
    pub fn earliest(&self) -> Day {
        let year = self.year_at(0);
        let month = match self.month {
            Some(Month::Of(m)) => m,
            Some(Month::Season(s)) => 3 * (s - 21) + 3,
            _ => 1,
        };
        let day = self.day.flatten().unwrap_or(1);
        Day {
            year,
            month,
            day: day.min(days(year, month)),
        }
    }

    /// The last day it can mean. A winter ends in the February after.
    pub fn latest(&self) -> Day {
        let mut year = self.year_at(9);
        let month = match self.month {
            Some(Month::Of(m)) => m,
            Some(Month::Season(24)) => {
                year += 1;
                2
            }
            Some(Month::Season(s)) => 3 * (s - 21) + 5,
            _ => 12,
        };
        let last = days(year, month);
        Day {
            year,
            month,
            day: self.day.flatten().unwrap_or(last).min(last),
        }
    }
}

fn days(year: i32, month: u8) -> u8 {
    time::Month::try_from(month).map_or(31, |m| m.length(year))
}

fn four_digits(text: &str) -> Option<[Option<u8>; 4]> {
    let bytes: &[u8; 4] = text.as_bytes().try_into().ok()?;
    let mut out = [None; 4];
    for (place, b) in out.iter_mut().zip(bytes) {
        *place = match b {
            b'0'..=b'9' => Some(b - b'0'),
            b'X' => None,
            _ => return None,
        };
    }
    Some(out)
}

fn two_digits(text: &str) -> Option<u8> {
    (text.len() == 2 && text.bytes().all(|b| b.is_ascii_digit()))
        .then(|| text.parse().ok())
        .flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn examples_of_the_specification_are_read() {
        // Source, published: Library of Congress, EDTF specification of 4 February 2019, level 0 and 1 examples.
        for text in [
            "1985-04-12",
            "1985-04",
            "1985",
            "1964/2008",
            "2004-06/2006-08",
            "2004-02-01/2005-02-08",
            "2004-02-01/2005-02",
            "2004-02-01/2005",
            "2005/2006-02",
            "1984?",
            "2004-06~",
            "2004-06-11%",
            "201X",
            "20XX",
            "2004-XX",
            "1985-04-XX",
            "1985-XX-XX",
            "2001-21",
            "1985-04-12/..",
            "1985/",
            "../1985-04-12",
            "/1985",
            "1984~/2004-06",
            "1984/2004-06~",
            "1984?/2004%",
            "[1667,1668,1670..1672]",
            "{1960,1961-12}",
            "156X-12-25",
            "1XXX-12",
        ] {
            assert!(Edtf::parse(text).is_ok(), "{text}");
        }
    }

    #[test]
    fn what_is_not_a_date_is_refused() {
        for text in [
            "201x",
            "2026-5",
            "05-2026",
            "20260501",
            "26",
            "2026-W05",
            "2026-13",
            "2026-00",
            "2026-02-30",
            "2026-05-32",
            "unknown",
            "open",
            "2024/open",
            "2026-05-01/2026-04-01",
            "2026/05",
            "2026-05-01T10:00:00",
            "3.4.2026",
            "",
            "March 2026",
        ] {
            assert!(Edtf::parse(text).is_err(), "{text}");
        }
    }

    #[test]
    fn a_year_about_is_answered_with_how_to_write_it() {
        for text in ["about 1987", "c. 1987", "circa 1987", "ca 1987"] {
            let error = Edtf::parse(text).unwrap_err();
            assert!(error.message.contains("write `1987~`"), "{}", error.message);
        }
    }

    #[test]
    fn bounds_cover_all_that_a_date_can_mean() {
        let bounds = |t: &str| {
            let e = Edtf::parse(t).unwrap();
            format!("{} {}", e.earliest().unwrap(), e.latest().unwrap())
        };
        assert_eq!(bounds("199X"), "1990-01-01 1999-12-31");
        assert_eq!(bounds("2024-02"), "2024-02-01 2024-02-29");
        assert_eq!(bounds("1993?/1995"), "1993-01-01 1995-12-31");
        assert_eq!(bounds("2001-24"), "2001-12-01 2002-02-28");
        assert_eq!(Edtf::parse("1985/..").unwrap().latest(), None);
    }
}
