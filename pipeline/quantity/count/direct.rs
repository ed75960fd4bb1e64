//! Counts that grow with the yarn, and lengths per mass of the yarn as it is.

use super::{CountSystem, QuantityError, YarnCount, made, unreadable};
use crate::quantity::number::{Number, split_number};

/// `250 tex`, `1200 dtex`, `den 840`, `R 250 tex/2`, `125 tex x 2`. Direct figures are of the yarn
/// as it is and are never divided by plies; `x 2` says that so many of them are plied.
pub(super) fn direct(text: &str) -> Result<Option<YarnCount>, QuantityError> {
    const UNITS: &[(&str, CountSystem, f64)] = &[
        ("dtex", CountSystem::Tex, 0.1),
        ("ktex", CountSystem::Tex, 1000.0),
        // Pounds to a spyndle of 14 400 yd.
        (
            "jute",
            CountSystem::Spyndle,
            453_592.37 / (14_400.0 * 0.9144),
        ),
        ("tex", CountSystem::Tex, 1.0),
        ("denier", CountSystem::Denier, 1.0 / 9.0),
        ("den", CountSystem::Denier, 1.0 / 9.0),
    ];
    let Some((at, (unit, system, factor))) = UNITS
        .iter()
        .find_map(|entry| text.find(entry.0).map(|at| (at, *entry)))
    else {
        return Ok(None);
    };
    let before = text[..at].trim();
    let after = text[at + unit.len()..].trim();
    let resultant = before.strip_prefix('R').map(str::trim);
    let (figure, tail) = match (before.is_empty(), resultant) {
        (true, _) => split_number(after),
        (false, Some(figure)) => (figure, after),
        (false, None) => (before, after),
    };
    let number = Number::parse(figure).map_err(|_| unreadable(text))?;
    let strands = |tail: &str| {
        tail.trim()
            .parse::<u32>()
            .ok()
            .filter(|n| (1..=200).contains(n))
    };
    let (plies, times) = match tail.trim().chars().next() {
        None => (1, 1.0),
        Some('/') => (strands(&tail[1..]).ok_or_else(|| unreadable(text))?, 1.0),
        Some('x' | '×') => {
            let n = strands(tail.trim().trim_start_matches(['x', '×']))
                .ok_or_else(|| unreadable(text))?;
            (n, f64::from(n))
        }
        Some(_) => return Err(unreadable(text)),
    };
    let scale = factor * times;
    made(
        text,
        system,
        plies,
        number.value * scale,
        number.half_place * scale,
    )
    .map(Some)
}

/// `1100 yd/lb`, `700 m/kg`, `350 m/100 g`: of the yarn as it is, never multiplied by plies.
pub(super) fn length_per_mass(text: &str) -> Result<Option<YarnCount>, QuantityError> {
    // tex × (yd/lb) = 1133980925/2286; tex × (m/kg) = 10⁶.
    const UNITS: &[(&str, f64)] = &[
        ("yd/lb", 1_133_980_925.0 / 2286.0),
        ("yds/lb", 1_133_980_925.0 / 2286.0),
        ("m/kg", 1e6),
        ("m/100 g", 1e5),
        ("m/100g", 1e5),
        ("m/50 g", 5e4),
        ("m/50g", 5e4),
    ];
    let Some((figure, k)) = UNITS
        .iter()
        .find_map(|(unit, k)| text.strip_suffix(unit).map(|figure| (figure, *k)))
    else {
        return Ok(None);
    };
    let number = Number::parse(figure).map_err(|_| unreadable(text))?;
    if number.value <= 0.0 {
        return Err(unreadable(text));
    }
    let tex = k / number.value;
    made(
        text,
        CountSystem::LengthPerMass,
        1,
        tex,
        tex * number.half_place / number.value,
    )
    .map(Some)
}
