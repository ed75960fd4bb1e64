//! Dates in words: "about 1994", "the 1990s", "March to June 2026".

use super::words::{Words, fill};
use crate::quantity::{Day, Edtf, EdtfDate, End, Month};

/// A date expression in words.
pub(super) fn in_words(date: &Edtf, w: &Words) -> String {
    let d = &w.dates;
    match date {
        Edtf::Date(one) => of(one, w),
        Edtf::Interval(start, end) => match (start, end) {
            (End::Known(a), End::Known(b)) => span(a, b, w),
            (End::Known(a), End::Open) => fill(&d.since, &[("date", &of(a, w))]),
            (End::Known(a), End::Unknown) => fill(&d.end_unknown, &[("date", &of(a, w))]),
            (End::Open, End::Known(b)) => fill(&d.until, &[("date", &of(b, w))]),
            (End::Unknown, End::Known(b)) => fill(&d.start_unknown, &[("date", &of(b, w))]),
            _ => String::new(),
        },
        Edtf::OneOf(all) => w.one_of(&members(all, w)),
        Edtf::AllOf(all) => w.all_of(&members(all, w)),
    }
}

/// Since when: an interval as it is, a single date as a beginning.
pub(super) fn since(date: &Edtf, w: &Words) -> String {
    match date {
        Edtf::Date(one) => fill(&w.dates.since, &[("date", &of(one, w))]),
        other => in_words(other, w),
    }
}

/// A calendar day.
pub(super) fn day(day: Day, w: &Words) -> String {
    let month = name(&w.dates.months_after_day, day.month);
    fill(
        &w.dates.day,
        &[
            ("day", &figure(day.day, w)),
            ("month", month),
            ("year", &year(day.year)),
        ],
    )
}

/// A day without its year.
pub(super) fn day_of_year(day: Day, w: &Words) -> String {
    let month = name(&w.dates.months_after_day, day.month);
    fill(
        &w.dates.day_of_year,
        &[("day", &figure(day.day, w)), ("month", month)],
    )
}

/// The years a date covers, in figures alone, for the narrow label: "2026", "1993–1995".
pub(super) fn years(date: &Edtf, w: &Words) -> String {
    match (date, date.earliest(), date.latest()) {
        (Edtf::Date(one), Some(a), Some(b)) if a.year == b.year || winter(one) => {
            hedged(one, year(a.year), w)
        }
        (Edtf::Interval(End::Known(x), End::Known(y)), Some(a), Some(b))
            if plain_year(x) && plain_year(y) =>
        {
            if a.year == b.year {
                year(a.year)
            } else {
                format!("{}–{}", year(a.year), year(b.year))
            }
        }
        _ => in_words(date, w),
    }
}

fn members(all: &[Edtf], w: &Words) -> Vec<String> {
    all.iter()
        .map(|m| match m {
            Edtf::Interval(End::Known(a), End::Known(b)) => between(&of(a, w), &of(b, w), w),
            other => in_words(other, w),
        })
        .collect()
}

fn span(a: &EdtfDate, b: &EdtfDate, w: &Words) -> String {
    if a == b {
        return of(a, w);
    }
    let same_year = a.year == b.year && plain_year(a) && plain_year(b);
    if let (true, Some(Month::Of(m)), Some(Month::Of(n))) = (same_year, a.month, b.month) {
        let days = (a.day.flatten(), b.day.flatten());
        let ends = match days {
            (None, None) if m == n => return of(a, w),
            (None, None) => Some((
                &w.dates.span_in_year,
                name(&w.dates.months, m).to_string(),
                name(&w.dates.months, n).to_string(),
            )),
            (Some(_), Some(_)) => Some((
                &w.dates.days_in_year,
                day_of_year(a.earliest(), w),
                day_of_year(b.earliest(), w),
            )),
            _ => None,
        };
        if let Some((pattern, from, to)) = ends {
            let y = year(a.earliest().year);
            return fill(pattern, &[("from", &from), ("to", &to), ("year", &y)]);
        }
    }
    let of_days = [a, b].iter().all(|d| d.day.flatten().is_some());
    let pattern = if of_days && !hedges(a) && !hedges(b) {
        &w.dates.days
    } else {
        &w.dates.span
    };
    fill(pattern, &[("from", &of(a, w)), ("to", &of(b, w))])
}

fn between(from: &str, to: &str, w: &Words) -> String {
    fill(&w.dates.between, &[("from", from), ("to", to)])
}

/// One date in words, with what is said of its certainty.
fn of(date: &EdtfDate, w: &Words) -> String {
    hedged(date, bare(date, w), w)
}

/// Whether something is said of its certainty, before or behind it.
fn hedges(date: &EdtfDate) -> bool {
    date.approximate || date.uncertain
}

fn hedged(date: &EdtfDate, words: String, w: &Words) -> String {
    let pattern = match (date.approximate, date.uncertain) {
        (false, false) => return words,
        (true, false) => &w.dates.about,
        (false, true) => &w.dates.uncertain,
        (true, true) => &w.dates.about_and_uncertain,
    };
    fill(pattern, &[("date", &words)])
}

fn bare(date: &EdtfDate, w: &Words) -> String {
    let (first, last) = (date.earliest(), date.latest());
    match date.year {
        [Some(_), Some(_), Some(_), Some(_)] => {}
        [Some(_), Some(_), Some(_), None] => {
            return fill(&w.dates.decade, &[("year", &year(first.year))]);
        }
        _ => return between(&year(first.year), &year(last.year), w),
    }
    let y = year(first.year);
    match date.month {
        None | Some(Month::Unknown) => y,
        Some(Month::Season(s)) => {
            let season = w.dates.seasons.get(usize::from(s.saturating_sub(21)));
            let season = season.map_or("", String::as_str);
            fill(&w.dates.season, &[("season", season), ("year", &y)])
        }
        Some(Month::Of(m)) => match date.day.flatten() {
            Some(_) => day(first, w),
            None => {
                let month = name(&w.dates.months, m);
                fill(&w.dates.month, &[("month", month), ("year", &y)])
            }
        },
    }
}

fn winter(date: &EdtfDate) -> bool {
    plain_year(date) && matches!(date.month, Some(Month::Season(24)))
}

fn plain_year(date: &EdtfDate) -> bool {
    date.year.iter().all(Option::is_some)
}

fn year(year: i32) -> String {
    year.to_string()
}

fn figure(day: u8, w: &Words) -> String {
    if day == 1 {
        w.dates.first_of_month.clone()
    } else {
        day.to_string()
    }
}

fn name(months: &[String; 12], month: u8) -> &str {
    months
        .get(usize::from(month.saturating_sub(1)))
        .map_or("", String::as_str)
}

#[cfg(test)]
mod tests {
    use super::super::words::Lexicon;
    use super::*;

    fn say(code: &str, text: &str) -> String {
        let lexicon = Lexicon::new();
        let w = lexicon.choose(&[code.to_string()])[0];
        in_words(&Edtf::parse(text).unwrap(), w)
    }

    #[test]
    fn dates_read_as_a_person_would_say_them() {
        for (text, words) in [
            ("2026-06-18", "18 June 2026"),
            ("2026-03/2026-06", "March to June 2026"),
            ("2026-03-04/2026-06-18", "4 March to 18 June 2026"),
            ("2025-11/2026-02", "November 2025 to February 2026"),
            ("1994~", "about 1994"),
            ("1994?", "1994 (uncertain)"),
            ("1994%", "about 1994 (uncertain)"),
            ("199X", "the 1990s"),
            ("199X~", "about the 1990s"),
            ("20XX", "between 2000 and 2099"),
            ("1993?/1995", "1993 (uncertain) to 1995"),
            ("2001-21", "spring 2001"),
            ("2004-XX", "2004"),
            ("2004-06-XX", "June 2004"),
            ("1985/..", "since 1985"),
            ("1985/", "begun 1985, end not known"),
            ("../1985-04", "until April 1985"),
            ("/1985", "finished 1985, beginning not known"),
            ("[1994,1996]", "1994 or 1996"),
            (
                "[1667,1668,1670..1672]",
                "1667, 1668 or between 1670 and 1672",
            ),
            ("{1994,1996}", "1994 and 1996"),
        ] {
            assert_eq!(say("en", text), words);
        }
    }

    #[test]
    fn other_languages_bend_their_months() {
        assert_eq!(say("fi", "2026-06-18"), "18. kesäkuuta 2026");
        assert_eq!(say("fr", "2026-06-01"), "1er juin 2026");
        assert_eq!(say("de", "199X"), "1990er Jahre");
        assert_eq!(say("es", "2026-03/2026-06"), "marzo a junio de 2026");
        // Source, common practice: from day to day French and Spanish take the article.
        let days = "2026-05-29/2026-06-01";
        assert_eq!(say("fr", days), "du 29 mai au 1er juin 2026");
        assert_eq!(say("es", days), "del 29 de mayo al 1 de junio de 2026");
        let over = "2025-12-29/2026-06-01";
        assert_eq!(say("fr", over), "du 29 décembre 2025 au 1er juin 2026");
        assert_eq!(
            say("es", over),
            "del 29 de diciembre de 2025 al 1 de junio de 2026"
        );
    }

    #[test]
    fn the_label_has_the_years_alone() {
        let lexicon = Lexicon::new();
        let w = lexicon.choose(&[])[0];
        let years = |t: &str| years(&Edtf::parse(t).unwrap(), w);
        assert_eq!(years("2026-03/2026-06"), "2026");
        assert_eq!(years("2025-11/2026-02"), "2025–2026");
        assert_eq!(years("1994~"), "about 1994");
        assert_eq!(years("2001-24"), "2001");
        assert_eq!(years("199X"), "the 1990s");
    }

    #[test]
    fn a_year_that_is_about_right_is_said_so_in_every_language() {
        let lexicon = Lexicon::new();
        for (code, about) in [
            ("en", "about 1994"),
            ("fr", "vers 1994"),
            ("de", "um 1994"),
            ("fi", "noin 1994"),
            ("es", "hacia 1994"),
        ] {
            let w = lexicon.choose(&[code.to_string()])[0];
            assert_eq!(in_words(&Edtf::parse("1994~").unwrap(), w), about);
        }
    }
}
