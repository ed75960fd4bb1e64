//! What a date expression can mean, as far as rules need it: whether it is sure, when a making was
//! over at the earliest, and how it is written.

use crate::quantity::{Day, Edtf, EdtfDate, End, Month};

/// Whether nothing in the date is marked `?`, `~` or `%`: only then can it contradict another.
pub(super) fn sure(date: &Edtf) -> bool {
    let one = |d: &EdtfDate| !d.uncertain && !d.approximate;
    let end = |e: &End| match e {
        End::Known(d) => one(d),
        End::Unknown | End::Open => true,
    };
    match date {
        Edtf::Date(d) => one(d),
        Edtf::Interval(a, b) => end(a) && end(b),
        Edtf::OneOf(all) | Edtf::AllOf(all) => all.iter().all(sure),
    }
}

/// The earliest day on which a making so dated can have been over.
pub(super) fn over_from(date: &Edtf) -> Option<Day> {
    match date {
        Edtf::Date(d) => Some(d.earliest()),
        Edtf::Interval(_, End::Known(d)) => Some(d.earliest()),
        Edtf::Interval(..) => date.earliest(),
        Edtf::OneOf(all) => all.iter().filter_map(over_from).min(),
        Edtf::AllOf(all) => all.iter().filter_map(over_from).max(),
    }
}

/// The expression as it is written.
pub(super) fn written(date: &Edtf) -> String {
    let many = |all: &[Edtf]| all.iter().map(in_set).collect::<Vec<_>>().join(",");
    match date {
        Edtf::Date(d) => one(d),
        Edtf::Interval(a, b) => format!("{}/{}", end(a), end(b)),
        Edtf::OneOf(all) => format!("[{}]", many(all)),
        Edtf::AllOf(all) => format!("{{{}}}", many(all)),
    }
}

fn in_set(date: &Edtf) -> String {
    let bound = |e: &End| match e {
        End::Known(d) => one(d),
        End::Unknown | End::Open => String::new(),
    };
    match date {
        Edtf::Interval(a, b) => format!("{}..{}", bound(a), bound(b)),
        other => written(other),
    }
}

fn end(end: &End) -> String {
    match end {
        End::Known(d) => one(d),
        End::Unknown => String::new(),
        End::Open => "..".to_string(),
    }
}

fn one(date: &EdtfDate) -> String {
    let mut text: String = date
        .year
        .iter()
        .map(|d| d.map_or('X', |d| char::from(b'0' + d)))
        .collect();
    match date.month {
        Some(Month::Of(n) | Month::Season(n)) => text.push_str(&format!("-{n:02}")),
        Some(Month::Unknown) => text.push_str("-XX"),
        None => {}
    }
    match date.day {
        Some(Some(n)) => text.push_str(&format!("-{n:02}")),
        Some(None) => text.push_str("-XX"),
        None => {}
    }
    match (date.uncertain, date.approximate) {
        (true, true) => text.push('%'),
        (true, false) => text.push('?'),
        (false, true) => text.push('~'),
        (false, false) => {}
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_are_quoted_as_they_are_written() {
        for text in [
            "2026-03-04",
            "199X",
            "1994~/1996?",
            "2001-21",
            "1985-XX-XX",
            "1985/..",
            "1985/",
            "[1667,1668,1670..1672]",
            "{1960,1961-12}",
            "1984%",
        ] {
            assert_eq!(written(&Edtf::parse(text).unwrap()), text);
        }
    }

    #[test]
    fn a_making_is_over_when_its_last_date_can_first_be() {
        let over = |t: &str| over_from(&Edtf::parse(t).unwrap()).map(|d| d.to_string());
        assert_eq!(over("2026-03/2026-06").as_deref(), Some("2026-06-01"));
        assert_eq!(over("2026").as_deref(), Some("2026-01-01"));
        assert_eq!(over("2026-03/..").as_deref(), Some("2026-03-01"));
        assert_eq!(over("../2026").as_deref(), Some("2026-01-01"));
        assert_eq!(over("{2024,2026}").as_deref(), Some("2026-01-01"));
        assert!(!sure(&Edtf::parse("1994~/1995").unwrap()));
    }
}
