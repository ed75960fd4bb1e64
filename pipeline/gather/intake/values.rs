//! One cell to the text of one field: read by the project's own parsers, so that what is made can be read back.

use crate::quantity::{
    Dimension, ErrorKind, Length, Mass, Money, QuantityError, Reading, Sett, YarnCount,
    amounts_meant,
};
use crate::read::kinds;
use crate::record::{FindingKind, Kind, fibre_written};

/// Letters of a text of one line.
const LONGEST_TEXT: usize = 500;
/// Letters of a statement.
const LONGEST_PROSE: usize = 20_000;

/// Why a value can not be taken.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bad {
    pub kind: FindingKind,
    pub message: String,
    pub remedy: String,
}

impl Bad {
    pub(super) fn unreadable(message: impl Into<String>, remedy: impl Into<String>) -> Bad {
        Bad {
            kind: kinds::UNREADABLE_VALUE,
            message: message.into(),
            remedy: remedy.into(),
        }
    }
}

impl From<QuantityError> for Bad {
    fn from(e: QuantityError) -> Bad {
        Bad {
            kind: kinds::of_quantity(e.kind),
            message: e.message,
            remedy: e.remedy,
        }
    }
}

type Value = Result<String, Bad>;

/// Text of one line.
pub(super) fn text(text: &str) -> Value {
    let folded = text.split_whitespace().collect::<Vec<_>>().join(" ");
    short_enough(folded, LONGEST_TEXT)
}

/// Text of several paragraphs.
pub(super) fn prose(text: &str) -> Value {
    short_enough(text.to_string(), LONGEST_PROSE)
}

fn short_enough(text: String, longest: usize) -> Value {
    let letters = text.chars().count();
    if letters > longest {
        return Err(Bad {
            kind: kinds::IMPOSSIBLE_VALUE,
            message: format!("{letters} letters are too many for this field"),
            remedy: format!("write at most {longest}; the whole text is kept in notes.md"),
        });
    }
    Ok(text)
}

/// A length, with the column's unit where it has none of its own.
pub(super) fn length(text: &str, unit: Option<&str>) -> Value {
    let found = quantity::<Length>(text, unit)?;
    let three = text
        .split_once([',', '.'])
        .is_some_and(|(_, after)| after.bytes().take_while(u8::is_ascii_digit).count() == 3);
    if three && found.ends_with("mm") {
        return Err(thousands(text));
    }
    Ok(found)
}

/// A mass.
pub(super) fn mass(text: &str, unit: Option<&str>) -> Value {
    let found = quantity::<Mass>(text, unit)?;
    let grams = found.ends_with('g') && !found.ends_with("kg");
    let three = text
        .split_once([',', '.'])
        .is_some_and(|(_, after)| after.bytes().take_while(u8::is_ascii_digit).count() == 3);
    if three && grams {
        return Err(thousands(text));
    }
    Ok(found)
}

fn thousands(text: &str) -> Bad {
    Bad::unreadable(
        format!("`{text}`: does the mark part thousands or decimals?"),
        "write it without a mark between thousands",
    )
}

/// Ends over a length.
pub(super) fn sett(text: &str, unit: Option<&str>) -> Value {
    quantity::<Sett>(text, unit)
}

fn quantity<D: Dimension>(text: &str, unit: Option<&str>) -> Value {
    let text = text.trim();
    let read = |text: &str| {
        let reading = Reading::<D>::parse(text)?;
        if reading.value.base() <= 0.0 {
            return Err(Bad {
                kind: kinds::IMPOSSIBLE_VALUE,
                message: format!("`{text}` is nothing at all"),
                remedy: "leave the cell empty where it is not known".to_string(),
            });
        }
        Ok(reading.text)
    };
    let first = match Reading::<D>::parse(text) {
        Ok(_) => return read(text),
        Err(e) => e,
    };
    if first.kind == ErrorKind::NoUnit
        && let Some(unit) = unit
    {
        return read(&format!("{text} {unit}"));
    }
    if let Some(respelled) = Reading::<D>::respelled(text) {
        return read(&respelled);
    }
    Err(Bad::from(first))
}

/// Height and width from one cell, such as `120 x 80 cm`, `48 1/8 in × 36 in`, `H 120 x B 80`; and what stands third.
pub(super) fn size(
    text: &str,
    unit: Option<&str>,
    width_first: bool,
) -> Result<(String, String, Option<String>), Bad> {
    let lower = text.to_lowercase().replace(['×', '*', '✕'], "x");
    let lower = lower
        .replace(" by ", "x")
        .replace(" mal ", "x")
        .replace(" par ", "x");
    let parts: Vec<&str> = lower.split('x').map(str::trim).collect();
    if !(2..=3).contains(&parts.len()) {
        return Err(Bad::unreadable(
            format!("`{text}` is not a height and a width"),
            "write it as `120 x 80 cm`: height first",
        ));
    }
    let labelled: Vec<(String, Option<char>)> = parts.iter().map(|part| label(part)).collect();
    // A unit behind a later part holds for those before it: 120 x 80 cm.
    let mut shared = unit.map(str::to_string);
    let mut values = Vec::new();
    for (part, _) in labelled.iter().rev() {
        let own = part
            .find(|c: char| c.is_alphabetic() || "\"'″′”’".contains(c))
            .map(|at| part[at..].trim().to_string());
        match own {
            Some(own) => {
                values.push(length(part, None)?);
                // Feet and inches are written out with each.
                shared = (!own.contains(' ')).then_some(own);
            }
            None => {
                let with = shared.as_ref().map(|unit| format!("{part} {unit}"));
                values.push(length(with.as_deref().unwrap_or(part), None)?);
            }
        }
    }
    values.reverse();
    let third = match values.len() {
        3 => values.pop(),
        _ => None,
    };
    let wide = match (labelled[0].1, labelled[1].1) {
        (Some('w'), Some('w')) | (Some('h'), Some('h')) => {
            return Err(Bad::unreadable(
                format!("`{text}` has the same edge twice"),
                "write it as `120 x 80 cm`: height first",
            ));
        }
        (Some(first), _) => first == 'w',
        (None, Some(second)) => second == 'h',
        (None, None) => width_first,
    };
    let (first, second) = (values[0].clone(), values[1].clone());
    Ok(match wide {
        true => (second, first, third),
        false => (first, second, third),
    })
}

/// A part of a size without the letter or word that says which edge it is; `h` or `w`.
fn label(part: &str) -> (String, Option<char>) {
    let bare = part.replace(['(', ')', ':', '='], " ");
    let mut edge = None;
    let kept: Vec<&str> = bare
        .split_whitespace()
        .filter(|word| {
            let found = match *word {
                "h" | "height" | "high" | "höhe" | "hoch" | "hauteur" | "alto" | "korkeus" => 'h',
                "w" | "b" | "l" | "width" | "wide" | "breite" | "breit" | "largeur" | "ancho"
                | "leveys" => 'w',
                _ => return true,
            };
            edge = Some(found);
            false
        })
        .collect();
    let kept = kept.join(" ");
    // `h120` and `120h`.
    let edge_of = |c: char| match c {
        'h' => Some('h'),
        'w' | 'b' => Some('w'),
        _ => None,
    };
    if edge.is_none() {
        let first = kept.chars().next().and_then(edge_of);
        if let Some(first) = first.filter(|_| kept[1..].starts_with(|c: char| c.is_ascii_digit())) {
            return (kept[1..].to_string(), Some(first));
        }
        let last = kept.chars().next_back().and_then(edge_of);
        let rest = kept.get(..kept.len().saturating_sub(1)).unwrap_or("");
        if let Some(last) = last.filter(|_| rest.ends_with(|c: char| c.is_ascii_digit())) {
            return (rest.to_string(), Some(last));
        }
    }
    (kept, edge)
}

/// An amount of money, in the column's currency where it has none of its own.
pub(super) fn money(text: &str, currency: Option<&str>) -> Value {
    if let Ok(money) = Money::parse(text) {
        return Ok(money.to_string());
    }
    let signed = amounts_meant(text);
    let in_column = |amount: &&String| currency.is_some_and(|c| amount.ends_with(c));
    match signed.as_slice() {
        [one] => return Ok(one.clone()),
        [] => {}
        several => {
            if let Some(one) = several.iter().find(in_column) {
                return Ok(one.clone());
            }
        }
    }
    if let Some(currency) = currency {
        // `6.800,-` is how some write whole amounts.
        let bare = text
            .trim_end_matches(['-', '–', '—'])
            .trim_end_matches([',', '.']);
        let with = format!("{bare} {currency}");
        if let Ok(money) = Money::parse(&with) {
            return Ok(money.to_string());
        }
        if let [one] = amounts_meant(&with).as_slice() {
            return Ok(one.clone());
        }
    }
    match Money::parse(text) {
        Ok(money) => Ok(money.to_string()),
        Err(e) => Err(Bad::from(e)),
    }
}

/// A whole number.
pub(super) fn whole(text: &str) -> Value {
    let number = text.trim().parse::<u32>().ok();
    match number.filter(|n| (1..1_000_000).contains(n)) {
        Some(number) => Ok(number.to_string()),
        None => Err(Bad::unreadable(
            format!("`{text}` is not a whole number"),
            "write a number without unit, such as `4`",
        )),
    }
}

/// The number in a series, and of how many where that stands with it: `4`, `4/9`, `4 of 9`.
pub(super) fn in_series(text: &str) -> Result<(String, Option<String>), Bad> {
    let lower = text
        .to_lowercase()
        .replace(" of ", "/")
        .replace(" von ", "/");
    let bare = lower.trim_start_matches(['#', 'n', 'o', 'r', '.', '°', 'º', ' ']);
    match bare.split_once(['/', '\\']) {
        None => Ok((whole(bare.trim())?, None)),
        Some((number, of)) => Ok((whole(number.trim())?, Some(whole(of.trim())?))),
    }
}

/// What a piece was made for.
pub(super) fn kind(text: &str) -> Value {
    let lower = text.to_lowercase();
    let same = match lower.as_str() {
        "commissioned" | "auftrag" | "auftragsarbeit" => "commission",
        "studie" => "study",
        "speculation" | "spec" => "speculative",
        other => other,
    };
    let mut all = Kind::ALL.iter().map(|(word, _)| *word);
    match all.find(|word| *word == same) {
        Some(word) => Ok(word.to_string()),
        None => Err(Bad {
            kind: kinds::UNKNOWN_WORD,
            message: format!("`{text}` is none of the words for what a piece was made for"),
            remedy: "write one of: commission, series, speculative, community, study".to_string(),
        }),
    }
}

/// A yarn's count.
pub(super) fn count(text: &str) -> Value {
    YarnCount::parse(text)?;
    Ok(text.trim().to_string())
}

/// Fibres with their shares, `80 % wool, 20 % silk`, as the lines of a group; nothing where it is not written so.
pub(super) fn fibres(text: &str) -> Option<Vec<(String, String)>> {
    let lower = text.to_lowercase();
    let spread = lower
        .replace(" and ", ",")
        .replace(" und ", ",")
        .replace(" et ", ",");
    let items: Vec<&str> = spread
        .split([',', ';', '/', '+', '&', '\n'])
        .map(str::trim)
        .filter(|item| !item.is_empty())
        .collect();
    let mut out: Vec<(String, String)> = Vec::new();
    for item in items {
        let share: String = item
            .chars()
            .filter(|c| c.is_ascii_digit() || *c == '.')
            .collect();
        let name: String = item
            .chars()
            .filter(|c| !c.is_ascii_digit() && !"%.()".contains(*c))
            .collect();
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        let number: f64 = share.parse().ok()?;
        let known = fibre_written(&name).is_some();
        if !known || number <= 0.0 || number > 100.0 || out.iter().any(|(n, _)| *n == name) {
            return None;
        }
        out.push((name, share));
    }
    (!out.is_empty()).then_some(out)
}

/// Names of photographs: parted by semicolons, commas, bars or line ends.
pub(super) fn photos(text: &str) -> (Vec<String>, Vec<String>) {
    text.split([';', ',', '|', '\n'])
        .map(str::trim)
        .filter(|name| !name.is_empty())
        .map(|name| name.replace('\\', "/"))
        .partition(|name| {
            let parts = name.split('/');
            name.len() <= 200
                && !name.starts_with(['/', '~'])
                && !name.contains([':', '*', '?', '"', '<', '>'])
                && parts
                    .clone()
                    .all(|part| !part.is_empty() && !part.starts_with('.'))
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_take_the_columns_unit_and_their_own_before_it() {
        for (text, unit, want) in [
            ("120", Some("cm"), "120 cm"),
            ("120,5", Some("cm"), "120,5 cm"),
            ("120 cm", Some("in"), "120 cm"),
            ("48 1/8", Some("in"), "48 1/8 in"),
            ("48 1/8\"", None, "48 1/8 in"),
            ("4' 8\"", Some("cm"), "4 ft 8 in"),
            ("120 CM", None, "120 cm"),
            ("1.205", Some("m"), "1.205 m"),
        ] {
            assert_eq!(length(text, unit).as_deref(), Ok(want), "{text}");
        }
        for (text, unit, kind) in [
            ("120", None, "no-unit"),
            ("12x", Some("cm"), "unknown-unit"),
            ("0", Some("cm"), "impossible-value"),
            ("-5", Some("cm"), "impossible-value"),
            ("1,200", Some("mm"), "unreadable-value"),
            ("ca. 120", Some("cm"), "unreadable-value"),
            ("5 kg", Some("cm"), "wrong-unit"),
        ] {
            assert_eq!(length(text, unit).unwrap_err().kind.name, kind, "{text}");
        }
    }

    #[test]
    fn sizes_are_height_by_width_unless_they_say_otherwise() {
        let pair =
            |text: &str, unit, wide| size(text, unit, wide).map(|(h, w, _)| format!("{h} | {w}"));
        for (text, unit, wide, want) in [
            ("120 x 80 cm", None, false, "120 cm | 80 cm"),
            ("120x80", Some("cm"), false, "120 cm | 80 cm"),
            ("120,5 × 80,25", Some("cm"), false, "120,5 cm | 80,25 cm"),
            ("80 x 120 cm", None, true, "120 cm | 80 cm"),
            ("48 1/8 in x 36 in", None, false, "48 1/8 in | 36 in"),
            ("48 1/8\" x 36\"", None, false, "48 1/8 in | 36 in"),
            ("H 120 x W 80 cm", None, true, "120 cm | 80 cm"),
            ("80 cm (w) x 120 cm (h)", None, false, "120 cm | 80 cm"),
            ("B 80 × H 120 cm", None, false, "120 cm | 80 cm"),
            ("h120 x b80", Some("cm"), false, "120 cm | 80 cm"),
            ("120 by 80 cm", None, false, "120 cm | 80 cm"),
            ("1.2 m x 80 cm", None, false, "1.2 m | 80 cm"),
        ] {
            assert_eq!(pair(text, unit, wide).as_deref(), Ok(want), "{text}");
        }
        assert_eq!(
            size("120 x 80 x 3 cm", None, false).unwrap().2.as_deref(),
            Some("3 cm")
        );
        for text in ["120", "120 x", "a x b", "120 x 80", "w 80 x w 120 cm"] {
            assert!(size(text, None, false).is_err(), "{text}");
        }
    }

    #[test]
    fn money_is_read_as_lists_have_it() {
        for (text, currency, want) in [
            ("6800", Some("GBP"), "6800 GBP"),
            ("£6,800", None, "6800 GBP"),
            ("6.800 €", None, "6800 EUR"),
            ("6.800,50", Some("EUR"), "6800.50 EUR"),
            ("6 800", Some("EUR"), "6800 EUR"),
            ("$4,200", Some("CAD"), "4200 CAD"),
            ("1200,-", Some("EUR"), "1200 EUR"),
            ("4200 CAD", Some("GBP"), "4200 CAD"),
        ] {
            assert_eq!(money(text, currency).as_deref(), Ok(want), "{text}");
        }
        for text in ["6800", "$4200", "sold", "NFS"] {
            assert!(money(text, None).is_err(), "{text}");
        }
    }

    #[test]
    fn fibres_are_taken_only_with_their_shares() {
        let pair = |n: &str, s: &str| (n.to_string(), s.to_string());
        assert_eq!(
            fibres("80 % wool, 20% silk"),
            Some(vec![pair("wool", "80"), pair("silk", "20")])
        );
        assert_eq!(fibres("100% cotton"), Some(vec![pair("cotton", "100")]));
        assert_eq!(fibres("wool and silk"), None);
        assert_eq!(fibres("wool 2/8"), None);
    }

    #[test]
    fn a_photograph_outside_its_folder_is_no_photograph() {
        let (good, bad) = photos("a.jpg; sub/b.jpg, ../c.jpg | /etc/passwd\n.hidden");
        assert_eq!(good, ["a.jpg", "sub/b.jpg"]);
        assert_eq!(bad, ["../c.jpg", "/etc/passwd", ".hidden"]);
    }

    #[test]
    fn numbers_in_a_series_are_read() {
        assert_eq!(in_series("4").unwrap(), ("4".into(), None));
        assert_eq!(in_series("4 of 9").unwrap(), ("4".into(), Some("9".into())));
        assert_eq!(
            in_series("No. 4/9").unwrap(),
            ("4".into(), Some("9".into()))
        );
        assert!(in_series("IV").is_err());
    }
}
