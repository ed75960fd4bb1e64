//! A reading: a quantity together with the precision and the words it was written with.

use super::dimension::{ALL_KINDS, Dimension, Length, Mass};
use super::error::{ErrorKind, QuantityError};
use super::number::{Number, split_number};

/// A quantity as written: `121.4 cm` is known to half a millimetre.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading<D: Dimension> {
    /// The value, as its own type.
    pub value: D,
    /// Half of the last place written, as a quantity of the same kind: the reading is taken to lie
    /// evenly within ± this much (GUM, JCGM 100:2008, 4.3.7: rectangular).
    pub half_place: D,
    /// The text as it was written, trimmed.
    pub text: String,
}

impl<D: Dimension> Reading<D> {
    /// The standard uncertainty that the writing implies: half a place over √3
    /// (GUM, JCGM 100:2008, 4.3.7).
    pub fn standard_uncertainty(&self) -> D {
        D::of(self.half_place.base() / 3.0_f64.sqrt())
    }

    /// The same quantity with its unit as [`Reading::parse`] reads it, where a mark or a word stands for one:
    /// `44"` is `44 in`, `121.4 centimetres` is `121.4 cm`.
    pub fn respelled(text: &str) -> Option<String> {
        spelled::<D>(text)
    }

    /// Parses `number unit`, such as `121.4 cm`, `1,5 cm`, `8 epi`, or feet and inches
    /// (`4 ft 8 1/8 in`). A unit is never guessed.
    pub fn parse(text: &str) -> Result<Reading<D>, QuantityError> {
        let text = text.trim();
        if text.is_empty() {
            return Err(QuantityError::new(
                ErrorKind::Unreadable,
                format!("nothing is written where {} is due", D::WHAT),
                format!("write a number and a unit, such as {}", D::EXAMPLE),
            ));
        }
        let (value, half) = if D::WHAT == Length::WHAT && text.contains("ft") {
            two_units::<Length>(
                text,
                ("ft", "in"),
                12.0 * 25.4,
                "write it as `4 ft 8 1/8 in`, the inches under 12",
            )?
        } else if D::WHAT == Mass::WHAT && text.contains("lb") {
            two_units::<Mass>(
                text,
                ("lb", "oz"),
                453.592_37,
                "write it as `5 lb 15 oz`, the ounces under 16",
            )?
        } else {
            let (number, unit) = split_number(text);
            single::<D>(text, number, unit)?
        };
        if !D::SIGNED && value < 0.0 {
            return Err(QuantityError::new(
                ErrorKind::Impossible,
                format!("`{text}` is below zero, which {} can not be", D::WHAT),
                format!("write it without the minus sign, such as {}", D::EXAMPLE),
            ));
        }
        Ok(Reading {
            value: D::of(value),
            half_place: D::of(half),
            text: text.to_string(),
        })
    }
}

fn single<D: Dimension>(text: &str, number: &str, unit: &str) -> Result<(f64, f64), QuantityError> {
    if number.is_empty() {
        return Err(QuantityError::new(
            ErrorKind::Unreadable,
            format!("`{text}` does not begin with a number"),
            format!("write a number and a unit, such as {}", D::EXAMPLE),
        ));
    }
    let parsed = Number::parse(number)?;
    if unit.is_empty() {
        return Err(QuantityError::new(
            ErrorKind::NoUnit,
            format!("`{text}` has no unit; {} is due here", D::WHAT),
            format!("write the unit too: {}", with_each_unit::<D>(text)),
        ));
    }
    match D::UNITS.iter().find(|(name, _)| *name == unit) {
        Some((name, factor)) => {
            let offset = if name.ends_with('F') { -32.0 } else { 0.0 };
            Ok(((parsed.value + offset) * factor, parsed.half_place * factor))
        }
        None => Err(unit_error::<D>(text, number, unit)),
    }
}

/// Feet and inches, pounds and ounces: the smaller unit under one of the larger.
fn two_units<D: Dimension>(
    text: &str,
    (larger, smaller): (&str, &str),
    one: f64,
    remedy: &str,
) -> Result<(f64, f64), QuantityError> {
    let (whole, rest) = text.split_once(larger).unwrap_or((text, ""));
    let whole = single::<D>(text, whole.trim(), larger)?;
    let rest = rest.trim();
    if rest.is_empty() {
        return Ok(whole);
    }
    let (number, unit) = split_number(rest);
    let part = single::<D>(text, number, unit)?;
    if unit != smaller || part.0 >= one {
        return Err(QuantityError::new(
            ErrorKind::Unreadable,
            format!("`{text}` is not `{larger}` and `{smaller}`"),
            remedy,
        ));
    }
    Ok((whole.0 + part.0, part.1))
}

fn with_each_unit<D: Dimension>(number: &str) -> String {
    let mut seen: Vec<&str> = Vec::new();
    for (unit, _) in D::UNITS {
        if seen.len() < 3 {
            seen.push(unit);
        }
    }
    seen.iter()
        .map(|unit| format!("`{number} {unit}`"))
        .collect::<Vec<_>>()
        .join(" or ")
}

fn unit_error<D: Dimension>(text: &str, number: &str, unit: &str) -> QuantityError {
    for (what, units) in ALL_KINDS {
        if *what != D::WHAT && units.iter().any(|(name, _)| *name == unit) {
            return QuantityError::new(
                ErrorKind::WrongUnit,
                format!("`{text}` is {what}, but {} is due here", D::WHAT),
                format!("write {}", D::EXAMPLE),
            );
        }
    }
    let known = D::UNITS
        .iter()
        .map(|(name, _)| *name)
        .collect::<Vec<_>>()
        .join(", ");
    let unknown = format!("`{unit}` is not a unit known for {}", D::WHAT);
    if let Some(spelled) = spelled::<D>(text) {
        return QuantityError::new(
            ErrorKind::UnknownUnit,
            unknown,
            format!("write `{spelled}`. Known units: {known}"),
        );
    }
    let nearest = D::UNITS
        .iter()
        .map(|(name, _)| {
            (
                strsim::damerau_levenshtein(&unit.to_lowercase(), &name.to_lowercase()),
                *name,
            )
        })
        .min()
        .filter(|(distance, name)| *distance <= name.len().max(2) / 2 + 1);
    QuantityError::new(
        ErrorKind::UnknownUnit,
        unknown,
        match nearest {
            Some((_, name)) => format!("did you mean `{number} {name}`? Known units: {known}"),
            None => format!("known units: {known}"),
        },
    )
}

/// Marks and words that stand for a unit, longest first where one begins another.
const SPELLED: &[(&str, &str)] = &[
    ("\"", " in"),
    ("''", " in"),
    ("″", " in"),
    ("”", " in"),
    ("'", " ft "),
    ("′", " ft "),
    ("’", " ft "),
    ("inches", " in"),
    ("inch", " in"),
    ("feet", " ft"),
    ("foot", " ft"),
    ("centimetres", " cm"),
    ("centimeters", " cm"),
    ("millimetres", " mm"),
    ("millimeters", " mm"),
    ("metres", " m"),
    ("meters", " m"),
    ("kilograms", " kg"),
    ("kilos", " kg"),
    ("kilo", " kg"),
    ("grams", " g"),
    ("pounds", " lb"),
    ("lbs", " lb"),
    ("ounces", " oz"),
    ("hrs", " h"),
    ("hr", " h"),
    ("minutes", " min"),
];

/// The same quantity with its unit as it is known here, where a mark or a word stands for one.
fn spelled<D: Dimension>(text: &str) -> Option<String> {
    let mut out = text.to_lowercase();
    for (mark, unit) in SPELLED {
        out = out.replace(mark, unit);
    }
    let out = out.split_whitespace().collect::<Vec<_>>().join(" ");
    let unit = out.split(' ').next_back();
    let known = D::UNITS.iter().any(|(name, _)| Some(*name) == unit);
    (known && out != text && Reading::<D>::parse(&out).is_ok()).then_some(out)
}

#[cfg(test)]
mod tests {
    use super::super::dimension::*;
    use super::*;

    fn mm(text: &str) -> f64 {
        Reading::<Length>::parse(text).unwrap().value.mm()
    }

    #[test]
    fn lengths_are_read_as_written() {
        // 1 in = 25.4 mm exactly, 1 ft = 304.8 mm exactly (yard and pound agreement, 1959).
        for (text, want) in [
            ("121.4 cm", 1214.0),
            ("1,5cm", 15.0),
            ("56 1/8 in", 1425.575),
            ("4 ft 8 1/8 in", 1425.575),
            ("2 ft", 609.6),
            ("1.2 m", 1200.0),
            ("2 yd", 1828.8),
        ] {
            assert!((mm(text) - want).abs() < 1e-9, "{text}");
        }
    }

    #[test]
    fn a_reading_is_known_to_half_its_last_place() {
        let r = Reading::<Length>::parse("121.4 cm").unwrap();
        assert!((r.half_place.mm() - 0.5).abs() < 1e-12);
        // GUM 4.3.7: u = a/√3.
        assert!((r.standard_uncertainty().mm() - 0.288_675_134_594_812_9).abs() < 1e-12);
    }

    #[test]
    fn each_mistake_is_named_for_what_it_is() {
        let kind = |t: &str| Reading::<Length>::parse(t).unwrap_err().kind;
        assert_eq!(kind("121.4"), ErrorKind::NoUnit);
        assert_eq!(kind("4.3 kg"), ErrorKind::WrongUnit);
        assert_eq!(kind("121 cn"), ErrorKind::UnknownUnit);
        assert_eq!(kind("wide"), ErrorKind::Unreadable);
        assert_eq!(kind("-3 cm"), ErrorKind::Impossible);
        let e = Reading::<Length>::parse("121 cn").unwrap_err();
        assert!(e.remedy.contains("`121 cm`"), "{}", e.remedy);
    }

    #[test]
    fn marks_and_words_for_units_are_answered_with_the_unit() {
        for (text, want) in [
            ("44\"", "`44 in`"),
            ("44 1/2”", "`44 1/2 in`"),
            ("4' 8\"", "`4 ft 8 in`"),
            ("44 inches", "`44 in`"),
            ("121.4 centimetres", "`121.4 cm`"),
        ] {
            let e = Reading::<Length>::parse(text).unwrap_err();
            assert!(e.remedy.contains(want), "{text}: {}", e.remedy);
        }
        let e = Reading::<Mass>::parse("4 kilos").unwrap_err();
        assert!(e.remedy.contains("`4 kg`"), "{}", e.remedy);
        let e = Reading::<Hours>::parse("5 hrs").unwrap_err();
        assert!(e.remedy.contains("`5 h`"), "{}", e.remedy);
    }

    #[test]
    fn pounds_and_ounces_are_read_together() {
        // Source, published: 1 lb = 453.59237 g exactly, 16 oz (agreement of 1959).
        let g = |t: &str| Reading::<Mass>::parse(t).unwrap().value.g();
        assert!((g("5 lb 15 oz") - 5.9375 * 453.592_37).abs() < 1e-9);
        assert!((g("1 lb 2 1/2 oz") - 1.156_25 * 453.592_37).abs() < 1e-9);
        assert!((g("5.95 lb") - 5.95 * 453.592_37).abs() < 1e-9);
        assert!(Reading::<Mass>::parse("1 lb 17 oz").is_err());
    }

    #[test]
    fn fahrenheit_has_its_offset() {
        let t = Reading::<Temperature>::parse("68 F").unwrap();
        assert!((t.value.celsius() - 20.0).abs() < 1e-9);
    }
}
