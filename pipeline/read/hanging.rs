//! The section `hanging`: support, bar, brackets, fixings, slits. A bar's section and a place beside the
//! middle have parsers of their own here.

use super::fields::Fields;
use super::values::parsed;
use crate::quantity::{ErrorKind, Length, Number, QuantityError, Reading};
use crate::record::{
    Bar, BarMaterial, BarSection, BarShape, Hanging, OffCentre, SlitsLeft, Support,
};

/// Brackets that are looked at; nobody hangs a piece from more.
const MOST_BRACKETS: usize = 200;

pub(super) fn hanging(mut f: Fields) -> Hanging {
    let desk = f.desk();
    let hanging = Hanging {
        place: f.place.clone(),
        support: f.word("support", Support::ALL),
        bar: f.group("bar").map(bar),
        brackets: f
            .nodes("brackets")
            .into_iter()
            .take(MOST_BRACKETS)
            // Nothing at all is a place, too: the bar's left end.
            .filter_map(|node| parsed(desk, "brackets", node, Reading::<Length>::parse))
            .collect(),
        fixings: f.whole("fixings"),
        factor: f.parsed("factor", factor),
        centre_of_mass: f.parsed("centre_of_mass", off_centre),
        longest_slit: f.reading("longest_slit"),
        slits: f.word("slits", SlitsLeft::ALL),
    };
    f.done();
    hanging
}

fn bar(mut f: Fields) -> Bar {
    let bar = Bar {
        place: f.place.clone(),
        material: f.word("material", BarMaterial::ALL),
        section: f.parsed("section", section),
        length: f.reading("length"),
    };
    f.done();
    bar
}

/// How many times the load: 1 to 100.
fn factor(text: &str) -> Result<f64, QuantityError> {
    let value = Number::parse(text)?.value;
    if (1.0..=100.0).contains(&value) {
        return Ok(value);
    }
    Err(QuantityError {
        kind: ErrorKind::Impossible,
        message: format!("`{text}` is no factor to choose fixings by"),
        remedy: "write how many times the load each is to bear, 1 to 100, such as `factor: 5`"
            .to_string(),
    })
}

/// `18 x 70 mm` (thickness out from the wall, then height), `round 25 mm`, `tube 25 x 2 mm`
/// (diameter, wall), `box 20 x 40 x 2 mm`. A unit that stands only once counts for all.
fn section(text: &str) -> Result<BarSection, QuantityError> {
    let text = text.trim();
    let unreadable = || QuantityError {
        kind: ErrorKind::Unreadable,
        message: format!("`{text}` is not the section of a bar"),
        remedy: "write thickness and height as it hangs, `18 x 70 mm`, or `round 25 mm`, \
                 `tube 25 x 2 mm`, `box 20 x 40 x 2 mm`"
            .to_string(),
    };
    let start = text
        .find(|c: char| c.is_ascii_digit())
        .ok_or_else(unreadable)?;
    let (word, sizes) = text.split_at(start);
    let sizes: Vec<&str> = sizes.split(['x', '×', 'X']).map(str::trim).collect();
    let unit = sizes.last().map_or("", |last| unit_of(last));
    let lengths: Vec<Length> = sizes
        .iter()
        .map(|size| match unit_of(size) {
            "" => Reading::<Length>::parse(&format!("{size} {unit}")),
            _ => Reading::<Length>::parse(size),
        })
        .map(|size| size.map(|size| size.value))
        .collect::<Result<_, _>>()?;
    let shape = match (word.trim().to_lowercase().as_str(), lengths.as_slice()) {
        ("" | "flat", &[thick, high]) => BarShape::Flat { thick, high },
        ("round" | "rod" | "dowel", &[across]) => BarShape::Round { across },
        ("tube", &[across, wall]) => BarShape::Tube { across, wall },
        ("box", &[thick, high, wall]) => BarShape::Box { thick, high, wall },
        _ => return Err(unreadable()),
    };
    let fits = match shape {
        BarShape::Tube { across, wall } => 2.0 * wall.mm() < across.mm(),
        BarShape::Box { thick, high, wall } => 2.0 * wall.mm() < thick.mm().min(high.mm()),
        _ => true,
    };
    let there = lengths.iter().all(|l| l.mm() > 0.0);
    if !fits || !there {
        return Err(QuantityError {
            kind: ErrorKind::Impossible,
            message: format!("no bar can have the section `{text}`"),
            remedy: "a tube or box is written with its outer size first and its wall last: \
                     `tube 25 x 2 mm`, `box 20 x 40 x 2 mm`; no size is nothing"
                .to_string(),
        });
    }
    Ok(BarSection {
        shape,
        text: text.to_string(),
    })
}

/// The unit at the end of `70 mm`; empty where there is none.
fn unit_of(size: &str) -> &str {
    let end = size.rfind(|c: char| !c.is_alphabetic()).map_or(0, |i| {
        i + size[i..].chars().next().map_or(1, char::len_utf8)
    });
    &size[end..]
}

/// `2 cm right` or `2 cm left of the middle`.
fn off_centre(text: &str) -> Result<OffCentre, QuantityError> {
    let text = text.trim();
    let lower = text.to_lowercase();
    let side = |word: &str| lower.find(word);
    let (at, sign) = match (side("right"), side("left")) {
        (Some(at), None) => (at, 1.0),
        (None, Some(at)) => (at, -1.0),
        _ => {
            return Err(QuantityError {
                kind: ErrorKind::Unreadable,
                message: format!("`{text}` does not tell on which side of the middle"),
                remedy: "write `2 cm right` or `2 cm left`, seen from the front; leave the field \
                         out where the mass lies in the middle"
                    .to_string(),
            });
        }
    };
    // Lower case may have other lengths in octets, so the place is looked up with care.
    let number = text.get(..at).unwrap_or(text);
    let by = Reading::<Length>::parse(number)?;
    Ok(OffCentre {
        u: by.standard_uncertainty(),
        by: by.value * sign,
        text: text.to_string(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shape(text: &str) -> BarShape {
        section(text).unwrap().shape
    }

    #[test]
    fn a_section_is_read_as_it_is_said() {
        let mm = Length::from_mm;
        let batten = BarShape::Flat {
            thick: mm(18.0),
            high: mm(70.0),
        };
        for text in ["18 x 70 mm", "18x70mm", "1.8 cm × 70 mm", "flat 18 x 70 mm"] {
            assert_eq!(shape(text), batten, "{text}");
        }
        assert_eq!(shape("round 25 mm"), BarShape::Round { across: mm(25.0) });
        let tube = BarShape::Tube {
            across: mm(25.0),
            wall: mm(2.0),
        };
        assert_eq!(shape("tube 25 x 2 mm"), tube);
        let half_by_two = BarShape::Flat {
            thick: mm(12.7),
            high: mm(50.8),
        };
        assert_eq!(shape("1/2 x 2 in"), half_by_two);
        let hollow = BarShape::Box {
            thick: mm(20.0),
            high: mm(40.0),
            wall: mm(2.0),
        };
        assert_eq!(shape("box 20 x 40 x 2 mm"), hollow);
    }

    #[test]
    fn a_section_that_can_not_be_says_what_to_write() {
        for text in [
            "18 x 70",
            "wide",
            "tube 25 x 13 mm",
            "18 x 70 x 3 mm",
            "0 x 70 mm",
            "",
        ] {
            let e = section(text).unwrap_err();
            assert!(!e.remedy.is_empty(), "{text}");
        }
        assert_eq!(section("18 x 70").unwrap_err().kind, ErrorKind::NoUnit);
        assert_eq!(
            section("18 x 70 kg").unwrap_err().kind,
            ErrorKind::WrongUnit
        );
    }

    #[test]
    fn the_side_of_the_middle_is_wanted() {
        assert_eq!(
            off_centre("2 cm right of the middle").unwrap().by.mm(),
            20.0
        );
        assert_eq!(off_centre("1 in LEFT").unwrap().by.mm(), -25.4);
        for text in ["2 cm", "left", "2 cm right or left", "ſ 2 cm right"] {
            assert!(off_centre(text).is_err(), "{text}");
        }
        assert!(factor("0.5").is_err() && factor("5").is_ok());
    }
}
