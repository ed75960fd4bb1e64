//! Dates as people write them, put as EDTF has them: what to write instead of `August to October
//! 2026`, `the 1980s`, `10.11.2026`. Only a remedy is made of it; nothing is guessed into the record.

use super::edtf::Edtf;

const MONTHS: [&str; 12] = [
    "january",
    "february",
    "march",
    "april",
    "may",
    "june",
    "july",
    "august",
    "september",
    "october",
    "november",
    "december",
];
/// The seasons of EDTF, level 1: 21 to 24.
const SEASONS: [(&str, u8); 5] = [
    ("spring", 21),
    ("summer", 22),
    ("autumn", 23),
    ("fall", 23),
    ("winter", 24),
];

/// What to write instead, for a sentence: `write ...`. `None` where nobody can tell.
pub(super) fn instead(text: &str) -> Option<String> {
    match dates_meant(text).as_slice() {
        [one] => Some(format!("write `{one}`")),
        [one, other] => Some(format!(
            "is it day or month first? Write `{one}` or `{other}`: year, month, day"
        )),
        _ => None,
    }
}

/// The dates in EDTF that a date as people write it can mean: none where nobody can tell, two where it is
/// not said whether day or month stands first.
pub fn dates_meant(text: &str) -> Vec<String> {
    let text = text.trim().to_lowercase();
    let found = figures(&text)
        .or_else(|| period(&text).map(|one| vec![one]))
        .or_else(|| span(&text).map(|one| vec![one]))
        .unwrap_or_default();
    // What is offered must be a date.
    match found.iter().all(|f| Edtf::parse(f).is_ok()) {
        true => found,
        false => Vec::new(),
    }
}

/// Three figures with the year last: 10.11.2026 has the day first, 10/11/2026 may have the month.
fn figures(text: &str) -> Option<Vec<String>> {
    let mark = text.chars().find(|c| "./-".contains(*c))?;
    let parts: Vec<&str> = text.split(mark).map(str::trim).collect();
    let [a, b, year] = parts.as_slice() else {
        return None;
    };
    let (a, b) = (small(a)?, small(b)?);
    let year = year_of(year)?;
    let day_first = (b <= 12).then(|| format!("{year}-{b:02}-{a:02}"));
    let month_first = (mark != '.' && a <= 12).then(|| format!("{year}-{a:02}-{b:02}"));
    let mut found: Vec<String> = day_first.into_iter().chain(month_first).collect();
    found.dedup();
    (!found.is_empty()).then_some(found)
}

/// A decade or a century: 1980s, the 1980's, 19th century.
fn period(text: &str) -> Option<String> {
    let text = text.strip_prefix("the ").unwrap_or(text);
    let decade = text.strip_suffix("'s").or_else(|| text.strip_suffix('s'));
    if let Some(decade) = decade.and_then(year_of).filter(|d| d.ends_with('0')) {
        return Some(format!("{}X", decade.get(..3)?));
    }
    let number: u32 = text
        .strip_suffix("century")?
        .trim()
        .trim_end_matches(|c: char| c.is_ascii_alphabetic())
        .parse()
        .ok()?;
    let number = number.checked_sub(1).filter(|n| *n < 100)?;
    Some(format!("{number:02}XX"))
}

/// Words with a year, one or two of them: `March 2026`, `4 March 2026`, `August to October 2026`.
fn span(text: &str) -> Option<String> {
    for part in [" to ", " until ", " – ", " - ", "–", " and ", "-"] {
        if let Some((from, to)) = text.split_once(part) {
            let to = date(to, None)?;
            let from = date(from, to.get(..4))?;
            return Some(format!("{from}/{to}"));
        }
    }
    // A plain year needs no words put right.
    date(text, None).filter(|d| d.len() > 4)
}

/// Day, month or season, and year, in any order; the year of the other end where none is written.
fn date(text: &str, other: Option<&str>) -> Option<String> {
    let text = text.strip_prefix("from ").unwrap_or(text);
    let (mut year, mut month, mut day) = (None, None, None);
    for word in text.split([' ', ',', '.']).filter(|w| !w.is_empty()) {
        if let Some(found) = year_of(word) {
            year = Some(found);
        } else if let Some(found) = month_of(word) {
            month = Some(found);
        } else {
            let figure = word.trim_end_matches(|c: char| c.is_ascii_alphabetic());
            day = Some(small(figure)?);
        }
    }
    let year = year.or(other.map(str::to_string))?;
    match (month, day) {
        (Some(month), Some(day)) if month <= 12 => Some(format!("{year}-{month:02}-{day:02}")),
        (Some(month), None) => Some(format!("{year}-{month:02}")),
        (None, None) => Some(year),
        _ => None,
    }
}

fn year_of(word: &str) -> Option<String> {
    let four = word.len() == 4 && word.bytes().all(|b| b.is_ascii_digit());
    four.then(|| word.to_string())
}

fn month_of(word: &str) -> Option<u8> {
    let month = (word.len() >= 3)
        .then(|| MONTHS.iter().position(|m| m.starts_with(word)))
        .flatten()
        .map(|i| i as u8 + 1);
    month.or_else(|| SEASONS.iter().find(|(s, _)| *s == word).map(|(_, n)| *n))
}

/// One or two digits, from 1 to 31.
fn small(text: &str) -> Option<u8> {
    (!text.is_empty() && text.len() <= 2)
        .then(|| text.parse::<u8>().ok())
        .flatten()
        .filter(|n| (1..=31).contains(n))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_as_people_write_them_are_put_right() {
        // Source, published: Library of Congress, Extended Date/Time Format (2019): intervals with a slash,
        // unspecified digits as X, seasons 21 to 24.
        for (text, want) in [
            ("August to October 2026", "write `2026-08/2026-10`"),
            ("Aug–Oct 2026", "write `2026-08/2026-10`"),
            ("August 2025 to October 2026", "write `2025-08/2026-10`"),
            ("from March until June 2026", "write `2026-03/2026-06`"),
            ("2024-2026", "write `2024/2026`"),
            ("2024 to 2026", "write `2024/2026`"),
            ("March 2026", "write `2026-03`"),
            ("4 March 2026", "write `2026-03-04`"),
            ("March 4th, 2026", "write `2026-03-04`"),
            ("spring 2026", "write `2026-21`"),
            ("1980s", "write `198X`"),
            ("the 1980's", "write `198X`"),
            ("19th century", "write `18XX`"),
            ("10.11.2026", "write `2026-11-10`"),
            ("25/12/2026", "write `2026-12-25`"),
            ("12/25/2026", "write `2026-12-25`"),
            ("11/11/2026", "write `2026-11-11`"),
        ] {
            let got = Edtf::parse(text).unwrap_err().remedy;
            assert_eq!(got, want, "{text}");
        }
        let unsure = Edtf::parse("10/11/2026").unwrap_err().remedy;
        assert!(unsure.contains("`2026-11-10` or `2026-10-11`"), "{unsure}");
    }

    #[test]
    fn what_nobody_can_tell_gets_the_general_remedy() {
        for text in [
            "soon",
            "31/31/2026",
            "30.02.2026",
            "May",
            "June to May 2026",
            "1983s",
            "ünd 2026",
            "–",
        ] {
            let remedy = Edtf::parse(text).unwrap_err().remedy;
            assert!(remedy.contains("1994~"), "{text}: {remedy}");
        }
    }
}
