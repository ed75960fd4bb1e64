//! Numbers as they are written by hand: decimal point or comma, common fractions (`56 1/8`),
//! and the precision that the writing implies.

use super::error::{ErrorKind, QuantityError};

/// A number and half of its last written place.
///
/// `121.4` is known to ± 0.05, `56 1/8` to ± 1/16, `56` to ± 0.5.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number {
    /// The value.
    pub value: f64,
    /// Half of the last place written.
    pub half_place: f64,
}

impl Number {
    /// Parses a number without unit: `12`, `12.5`, `12,5`, `12 1/2`, `1/2`, `12 ½`.
    pub fn parse(text: &str) -> Result<Number, QuantityError> {
        let text = text.trim();
        let spaced = spell_vulgar_fractions(text);
        let parts: Vec<&str> = spaced.split_whitespace().collect();
        match parts.as_slice() {
            [one] if one.contains('/') => fraction(one, text),
            [one] => decimal(one, text),
            [whole, part] if part.contains('/') => {
                if !whole.bytes().all(|b| b.is_ascii_digit()) {
                    return Err(unreadable(text));
                }
                let whole = decimal(whole, text)?;
                let part = fraction(part, text)?;
                Ok(Number {
                    value: whole.value + part.value,
                    half_place: part.half_place,
                })
            }
            _ => Err(unreadable(text)),
        }
    }
}

/// Splits `12,5 cm` into the number's text and the rest, both trimmed.
pub(super) fn split_number(text: &str) -> (&str, &str) {
    let text = text.trim();
    let end = text
        .char_indices()
        .find(|&(_, c)| !(c.is_ascii_digit() || " .,/+-−".contains(c) || is_vulgar(c)))
        .map_or(text.len(), |(i, _)| i);
    (text[..end].trim(), text[end..].trim())
}

fn unreadable(text: &str) -> QuantityError {
    QuantityError::new(
        ErrorKind::Unreadable,
        format!("`{text}` is not a number"),
        "write digits with a decimal point or comma, or a fraction such as `56 1/8`; no thousands separator",
    )
}

fn decimal(digits: &str, whole: &str) -> Result<Number, QuantityError> {
    let minus = digits.starts_with(['-', '−']);
    let plain = digits.trim_start_matches(['-', '−', '+']);
    let marks = plain.chars().filter(|c| ".,".contains(*c)).count();
    let well_formed = marks <= 1
        && plain.starts_with(|c: char| c.is_ascii_digit())
        && plain.ends_with(|c: char| c.is_ascii_digit())
        && plain
            .chars()
            .all(|c| c.is_ascii_digit() || ".,".contains(c));
    if !well_formed || plain.len() > 18 {
        return Err(unreadable(whole));
    }
    let point = plain.replace(',', ".");
    let value: f64 = point.parse().map_err(|_| unreadable(whole))?;
    let places = point.split_once('.').map_or(0, |(_, after)| after.len());
    let mut half_place = 0.5;
    for _ in 0..places {
        half_place /= 10.0;
    }
    Ok(Number {
        value: if minus { -value } else { value },
        half_place,
    })
}

fn fraction(text: &str, whole: &str) -> Result<Number, QuantityError> {
    let (top, bottom) = text.split_once('/').ok_or_else(|| unreadable(whole))?;
    let top: u32 = top.parse().map_err(|_| unreadable(whole))?;
    let bottom: u32 = bottom.parse().map_err(|_| unreadable(whole))?;
    if bottom == 0 || bottom > 128 || top >= bottom {
        return Err(unreadable(whole));
    }
    Ok(Number {
        value: f64::from(top) / f64::from(bottom),
        half_place: 0.5 / f64::from(bottom),
    })
}

const VULGAR: &[(char, &str)] = &[
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
];

fn is_vulgar(c: char) -> bool {
    VULGAR.iter().any(|(v, _)| *v == c)
}

fn spell_vulgar_fractions(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 4);
    for c in text.chars() {
        match VULGAR.iter().find(|(v, _)| *v == c) {
            Some((_, spelled)) => {
                out.push(' ');
                out.push_str(spelled);
            }
            None => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn precision_follows_the_writing() {
        let cases = [
            ("121.4", 121.4, 0.05),
            ("1,50", 1.5, 0.005),
            ("56 1/8", 56.125, 0.0625),
            ("12½", 12.5, 0.25),
            ("56", 56.0, 0.5),
            ("3/4", 0.75, 0.125),
        ];
        for (text, value, half) in cases {
            let n = Number::parse(text).unwrap();
            assert!((n.value - value).abs() < 1e-12, "{text}");
            assert!((n.half_place - half).abs() < 1e-12, "{text}");
        }
    }

    #[test]
    fn thousands_separators_and_rubbish_are_refused() {
        for text in [
            "1,234.5", "1.234,5", "12 34", "", "5/0", ".5", "5.", "9/8", "1e5",
        ] {
            assert!(Number::parse(text).is_err(), "{text}");
        }
    }
}
