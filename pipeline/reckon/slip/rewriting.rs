//! How a figure may have been written down wrongly, as other texts for it: another unit, two digits
//! changed places, the decimal point shifted.

use crate::quantity::{Dimension, Reading};

/// What was mistaken in the writing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Pen {
    Unit,
    Digits,
    Point,
}

/// Every other text for a reading, with what was mistaken. `units` are those a weaver would take for
/// each other.
pub(super) fn others<D: Dimension>(reading: &Reading<D>, units: &[&str]) -> Vec<(Pen, Reading<D>)> {
    let text = &reading.text;
    let split = text
        .char_indices()
        .find(|(_, c)| c.is_alphabetic() || *c == '%' || *c == '°')
        .map_or(text.len(), |(i, _)| i);
    let (number, unit) = (text[..split].trim(), text[split..].trim());
    // Of a fraction only the unit can be mistaken; of feet and inches nothing here.
    let fraction = number.contains('/')
        && number
            .chars()
            .all(|c| c.is_ascii_digit() || "/ ".contains(c))
        && !unit.contains(|c: char| c.is_ascii_digit());
    let plain = !number.is_empty()
        && number
            .chars()
            .all(|c| c.is_ascii_digit() || ".,".contains(c))
        && !unit.contains(|c: char| c.is_ascii_digit());
    let mut texts: Vec<(Pen, String)> = Vec::new();
    if plain || fraction {
        let same = |a: &str| scale::<D>(a) == scale::<D>(unit);
        for other in units.iter().filter(|u| !same(u)) {
            texts.push((Pen::Unit, format!("{number} {other}")));
        }
    }
    if plain {
        for shifted in shifted(number) {
            texts.push((Pen::Point, format!("{shifted} {unit}")));
        }
        for swapped in transposed(number) {
            texts.push((Pen::Digits, format!("{swapped} {unit}")));
        }
    }
    texts
        .into_iter()
        .filter_map(|(pen, text)| Some((pen, Reading::<D>::parse(&text).ok()?)))
        .filter(|(_, r)| r.value.base() > 0.0 && r.value != reading.value)
        .collect()
}

fn scale<D: Dimension>(unit: &str) -> Option<u64> {
    D::UNITS
        .iter()
        .find(|(name, _)| *name == unit)
        .map(|(_, factor)| factor.to_bits())
}

/// The number with two neighbouring digits changed.
pub(super) fn transposed(number: &str) -> Vec<String> {
    let digits: Vec<usize> = number
        .char_indices()
        .filter(|(_, c)| c.is_ascii_digit())
        .map(|(i, _)| i)
        .collect();
    let mut out = Vec::new();
    for pair in digits.windows(2) {
        let mut octets = number.as_bytes().to_vec();
        octets.swap(pair[0], pair[1]);
        if let Ok(text) = String::from_utf8(octets) {
            let opens_with_nought = text.starts_with('0')
                && !text.starts_with("0.")
                && !text.starts_with("0,")
                && text.len() > 1;
            if text != number && !opens_with_nought {
                out.push(text);
            }
        }
    }
    out
}

/// The number ten times as large and a tenth of it, its digits kept.
pub(super) fn shifted(number: &str) -> Vec<String> {
    let mark = if number.contains(',') { ',' } else { '.' };
    let (whole, part) = number.split_once(mark).unwrap_or((number, ""));
    let joined = |whole: String, part: String| {
        let whole = whole.trim_start_matches('0');
        let whole = if whole.is_empty() { "0" } else { whole };
        if part.is_empty() {
            whole.to_string()
        } else {
            format!("{whole}{mark}{part}")
        }
    };
    let mut out = Vec::new();
    // To the right: 12.14 becomes 121.4.
    let (first, rest) = match part.chars().next() {
        Some(c) => (c.to_string(), part[1..].to_string()),
        None => ("0".to_string(), String::new()),
    };
    out.push(joined(format!("{whole}{first}"), rest));
    // To the left: 121.4 becomes 12.14; a nought that ends a whole number goes.
    let last = whole.chars().last().unwrap_or('0');
    let shorter = whole[..whole.len().saturating_sub(1)].to_string();
    let part = format!("{last}{part}");
    let part = if part.chars().all(|c| c == '0') {
        String::new()
    } else {
        part
    };
    out.push(joined(shorter, part));
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Length, Mass};

    #[test]
    fn a_figure_is_rewritten_as_a_hand_would_slip() {
        assert_eq!(transposed("196"), ["916", "169"]);
        assert_eq!(transposed("4.31"), ["3.41", "4.13"]);
        assert_eq!(shifted("121.4"), ["1214", "12.14"]);
        assert_eq!(shifted("0,41"), ["4,1", "0,041"]);
        assert_eq!(shifted("120"), ["1200", "12"]);
        let texts = |r: &str, units: &[&str]| -> Vec<String> {
            let r = Reading::<Mass>::parse(r).unwrap();
            others(&r, units).into_iter().map(|(_, r)| r.text).collect()
        };
        assert!(texts("4.31 kg", &["kg", "lb"]).contains(&"4.31 lb".to_string()));
        let r = Reading::<Length>::parse("56 1/8 in").unwrap();
        let found: Vec<String> = others(&r, &["cm", "in"])
            .into_iter()
            .map(|(_, r)| r.text)
            .collect();
        assert_eq!(found, ["56 1/8 cm"]);
    }
}
