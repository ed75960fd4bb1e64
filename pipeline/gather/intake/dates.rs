//! Dates as lists of works have them, put as EDTF has them. Where day and month could change places, nothing is
//! guessed.

use super::head::plain;
use crate::quantity::{Edtf, dates_meant};

/// Words before or behind a year that mean about (EDTF `~`).
const ABOUT: &[&str] = &[
    "ca",
    "c",
    "circa",
    "about",
    "approx",
    "approximately",
    "around",
    "um",
    "etwa",
    "ungefahr",
    "vers",
    "environ",
    "hacia",
    "alrededor de",
    "noin",
    "n",
];

/// Months in German, French, Spanish and Finnish, without accents, as English has them.
const MONTHS: &[(&str, &[&str])] = &[
    (
        "january",
        &["januar", "janner", "janvier", "enero", "tammikuu"],
    ),
    ("february", &["februar", "fevrier", "febrero", "helmikuu"]),
    ("march", &["marz", "maerz", "mars", "marzo", "maaliskuu"]),
    ("april", &["avril", "abril", "huhtikuu"]),
    ("may", &["mai", "mayo", "toukokuu"]),
    ("june", &["juni", "juin", "junio", "kesakuu"]),
    ("july", &["juli", "juillet", "julio", "heinakuu"]),
    ("august", &["aout", "agosto", "elokuu"]),
    ("september", &["sept", "septembre", "septiembre", "syyskuu"]),
    ("october", &["oktober", "octobre", "octubre", "lokakuu"]),
    ("november", &["novembre", "noviembre", "marraskuu"]),
    (
        "december",
        &["dezember", "decembre", "diciembre", "joulukuu"],
    ),
    (
        "spring",
        &["fruhling", "fruhjahr", "printemps", "primavera", "kevat"],
    ),
    ("summer", &["sommer", "ete", "verano", "kesa"]),
    ("autumn", &["herbst", "automne", "otono", "syksy"]),
    ("to", &["bis", "a", "hasta"]),
];

/// A date in EDTF, or what is wrong and what to write. `order` is what the head line or she said: `day first` or
/// `month first`.
pub(super) fn edtf(text: &str, order: Option<&str>) -> Result<String, (String, String)> {
    let text = text.trim();
    let fail = |what: String, remedy: &str| Err((what, remedy.to_string()));
    let open = |text: &str| format!("`{text}` can be read in two ways");
    // Two figures behind a year are a month, a season of EDTF, or the end of a span: 2019-21.
    let short = text.split_once(['-', '/', '–']).filter(|(year, end)| {
        year.trim().len() == 4
            && is_figures(year.trim())
            && end.trim().len() == 2
            && is_figures(end.trim())
    });
    if let Some((year, end)) = short {
        let (year, end) = (year.trim(), end.trim());
        let number: u8 = end.parse().unwrap_or(0);
        let hyphen = text.contains('-');
        let month = (1..=12).contains(&number);
        let span = format!("{year}/{}{end}", &year[..2]);
        match (month, Edtf::parse(&span).is_ok()) {
            (true, _) if hyphen => {}
            (true, false) => return Ok(format!("{year}-{end}")),
            (true, true) => {
                return fail(open(text), &format!("write `{year}-{end}` or `{span}`"));
            }
            (false, true) if hyphen && (21..=24).contains(&number) => {
                return fail(
                    open(text),
                    &format!("write the season as a word, or `{span}` for the years"),
                );
            }
            (false, true) => return Ok(span),
            (false, false) => {}
        }
    }
    if Edtf::parse(text).is_ok() {
        return Ok(text.to_string());
    }
    if let Some(year_month) = month_and_year(text) {
        return Ok(year_month);
    }
    let (words, about) = without_about(&plain_date(text));
    if about
        && Edtf::parse(&words).is_ok_and(|_| !words.contains('/'))
        && !words.ends_with(['~', '?'])
    {
        return Ok(format!("{words}~"));
    }
    let meant = dates_meant(&words);
    let meant = match (meant.as_slice(), order) {
        ([first, _], Some("day first")) => vec![first.clone()],
        ([_, second], Some("month first")) => vec![second.clone()],
        _ => meant,
    };
    match meant.as_slice() {
        [one] if about && !one.contains('/') => Ok(format!("{one}~")),
        [one] if !about => Ok(one.clone()),
        [one, other] => fail(
            format!("`{text}`: is day or month first?"),
            &format!(
                "write `{one}` or `{other}`; or, for the whole column, --map 'HEAD LINE=made (day first)' or '… (month first)'"
            ),
        ),
        _ => match Edtf::parse(text) {
            Ok(_) => Ok(text.to_string()),
            Err(e) => fail(e.message, &e.remedy),
        },
    }
}

/// `3/2019`, `03.2019`, `3-2019`, `2019-3`, `2019/3`.
fn month_and_year(text: &str) -> Option<String> {
    let (a, b) = text.split_once(['/', '.', '-'])?;
    let (a, b) = (a.trim(), b.trim());
    let (month, year) = match (a.len(), b.len()) {
        (1 | 2, 4) => (a, b),
        (4, 1) => (b, a),
        _ => return None,
    };
    if !is_figures(month) || !is_figures(year) {
        return None;
    }
    let month: u8 = month.parse().ok().filter(|m| (1..=12).contains(m))?;
    Some(format!("{year}-{month:02}"))
}

fn is_figures(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())
}

/// Lower case without accents, with the months in English and without linking words.
fn plain_date(text: &str) -> String {
    let spread = text.replace('–', " – ").replace('-', " - ");
    // A hyphen between figures alone keeps its place: it parts a date in figures.
    let spread = match text
        .bytes()
        .all(|b| b.is_ascii_digit() || b"-./ ".contains(&b))
    {
        true => text.to_string(),
        false => spread,
    };
    let words: Vec<String> = spread
        .split_whitespace()
        .map(|word| {
            let bare = plain(word.trim_end_matches(['.', ',']));
            if bare.is_empty() || bare.contains(' ') || bare.chars().all(|c| c.is_ascii_digit()) {
                return word.trim_end_matches(',').to_lowercase();
            }
            let english = MONTHS
                .iter()
                .find(|(_, all)| all.contains(&bare.as_str()))
                .map(|(english, _)| english.to_string());
            english.unwrap_or(bare)
        })
        .filter(|word| !matches!(word.as_str(), "de" | "del" | "en" | "im" | "the" | "vuonna"))
        .collect();
    words.join(" ")
}

/// The text without a word that means about, and whether there was one.
fn without_about(text: &str) -> (String, bool) {
    if let Some(rest) = text.strip_prefix('~') {
        return (rest.trim().to_string(), true);
    }
    for word in ABOUT {
        let before = text.strip_prefix(word);
        let before = before.map(|rest| rest.strip_prefix('.').unwrap_or(rest));
        if let Some(rest) = before {
            // `c1994` is written too; before a word it must end where it ends.
            let apart = rest.starts_with(' ');
            let rest = rest.trim_start();
            if apart || rest.starts_with(|c: char| c.is_ascii_digit()) {
                return (rest.to_string(), true);
            }
        }
        let behind = text.trim_end_matches('.').strip_suffix(word);
        if let Some(rest) = behind.filter(|rest| rest.ends_with([' ', '('])) {
            return (rest.trim_end_matches([' ', '(']).to_string(), true);
        }
    }
    (text.to_string(), false)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_of_lists_are_put_as_edtf_has_them() {
        // Source, published: Library of Congress, Extended Date/Time Format (2019), levels 0 and 1.
        for (text, want) in [
            ("2019", "2019"),
            ("3/2019", "2019-03"),
            ("03.2019", "2019-03"),
            ("2019-3", "2019-03"),
            ("2019-03", "2019-03"),
            ("March 2019", "2019-03"),
            ("Mar. 2019", "2019-03"),
            ("März 2019", "2019-03"),
            ("15 mars 2019", "2019-03-15"),
            ("marzo de 2019", "2019-03"),
            ("maaliskuu 2019", "2019-03"),
            ("2019-2020", "2019/2020"),
            ("2019–2020", "2019/2020"),
            ("2019-20", "2019/2020"),
            ("2019/20", "2019/2020"),
            ("März bis Mai 2019", "2019-03/2019-05"),
            ("March-May 2019", "2019-03/2019-05"),
            ("ca. 1994", "1994~"),
            ("ca 1994", "1994~"),
            ("c1994", "1994~"),
            ("c. 1994", "1994~"),
            ("circa 1994", "1994~"),
            ("um 1994", "1994~"),
            ("noin 1994", "1994~"),
            ("1994 (ca.)", "1994~"),
            ("about March 2019", "2019-03~"),
            ("1994?", "1994?"),
            ("1990s", "199X"),
            ("the 1990s", "199X"),
            ("4.3.2019", "2019-03-04"),
            ("25/12/2019", "2019-12-25"),
            ("4 March 2019", "2019-03-04"),
            ("2026-03/2026-06", "2026-03/2026-06"),
            ("Summer 2019", "2019-22"),
        ] {
            assert_eq!(edtf(text, None), Ok(want.to_string()), "{text}");
        }
    }

    #[test]
    fn what_can_be_read_in_two_ways_is_not_guessed() {
        for text in [
            "04/03/2019",
            "2019-21",
            "2005/06",
            "soon",
            "?",
            "n.d.",
            "12/2019/3",
            "43831",
            "13/2019",
        ] {
            let answer = edtf(text, None);
            assert!(answer.is_err(), "{text}: {answer:?}");
        }
        assert_eq!(
            edtf("04/03/2019", Some("day first")),
            Ok("2019-03-04".into())
        );
        assert_eq!(
            edtf("04/03/2019", Some("month first")),
            Ok("2019-04-03".into())
        );
    }
}
