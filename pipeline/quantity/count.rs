//! Yarn counts in every system in use, with their plies, as mass per length.
//!
//! The hank lengths are definitions: cotton 840 yd, worsted 560 yd, linen lea 300 yd, all to the
//! pound; metric 1 km to the kilogram (Brooks, *Cotton Manufacturing*, and the conversion table of
//! ASTM D2260 as seen in its public scope page). With 1 yd = 0.9144 m and 1 lb = 453.59237 g
//! exactly, tex = K / count, K as given beside each system.

use super::error::{ErrorKind, QuantityError};
use super::number::{Number, split_number};

/// Mass per length in tex, that is grams a kilometre.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct LinearDensity(f64);

impl LinearDensity {
    /// A yarn of so many tex.
    pub fn from_tex(tex: f64) -> Self {
        LinearDensity(tex)
    }
    /// Grams a kilometre.
    pub fn tex(self) -> f64 {
        self.0
    }
}

/// A system of yarn counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CountSystem {
    /// tex, dtex: mass per length.
    Tex,
    /// Denier: grams in 9000 m.
    Denier,
    /// Nm: kilometres to the kilogram.
    Metric,
    /// Ne: hanks of 840 yd to the pound; also spun silk.
    Cotton,
    /// NeW: hanks of 560 yd to the pound.
    Worsted,
    /// NeL: leas of 300 yd to the pound.
    LinenLea,
    /// Yards to the pound, metres to the kilogram: of the yarn as it is.
    LengthPerMass,
}

/// The systems whose figure grows as the yarn gets finer: name as written, system, K in tex × count.
const INDIRECT: &[(&str, CountSystem, f64, &str)] = &[
    // K = 1000 by definition.
    ("Nm", CountSystem::Metric, 1000.0, "metric"),
    // K = 453.59237 g / (840 × 0.9144 m) × 1000 m = 32399455/54864.
    ("Ne", CountSystem::Cotton, 32_399_455.0 / 54_864.0, "cotton"),
    (
        "NeC",
        CountSystem::Cotton,
        32_399_455.0 / 54_864.0,
        "cotton",
    ),
    // K = 32399455/36576.
    (
        "NeW",
        CountSystem::Worsted,
        32_399_455.0 / 36_576.0,
        "worsted",
    ),
    // K = 45359237/27432.
    (
        "NeL",
        CountSystem::LinenLea,
        45_359_237.0 / 27_432.0,
        "linen lea",
    ),
];

/// A yarn count as written, with what it means.
#[derive(Debug, Clone, PartialEq)]
pub struct YarnCount {
    /// The text as written, trimmed.
    pub text: String,
    /// The system the count is written in.
    pub system: CountSystem,
    /// How many singles are plied; 1 where the writing does not say.
    pub plies: u32,
    /// Mass per length of the yarn as it is used, plies together. The shortening by ply twist is
    /// left out, so the true yarn is a little heavier than nominal (Brooks).
    pub resultant: LinearDensity,
    /// The figures as written in an indirect system, plies among them, such as `8/2`; empty for the
    /// others.
    pub figures: String,
    /// Half of the last place written, as mass per length of the yarn as used. A count is a
    /// nominal figure; the true yarn may differ by a few percent.
    pub half_place: LinearDensity,
}

const REMEDY: &str = "name the system: `Ne 8/2` (cotton), `NeW 2/8` (worsted), `NeL 16/2` (linen lea), `Nm 8/2` (metric), `250 tex`, `1200 dtex`, `den 840`, `1100 yd/lb` or `700 m/kg`";

impl YarnCount {
    /// Parses a yarn count. The system is compulsory: a bare `8/2` is refused with what each
    /// reading would mean.
    ///
    /// Order of the figures: count/plies in Nm, Ne and NeL (`Ne 12/6`); in NeW either order, the
    /// smaller figure being the plies (`NeW 2/8`, the worsted trade's habit: Taylor, *Cotton
    /// Weaving and Designing*). Where both orders make sense the count is refused.
    pub fn parse(text: &str) -> Result<YarnCount, QuantityError> {
        let text = text.trim();
        let squeezed = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if let Some(found) = indirect(&squeezed)? {
            return Ok(found);
        }
        if let Some(found) = direct(&squeezed)? {
            return Ok(found);
        }
        if let Some(found) = length_per_mass(&squeezed)? {
            return Ok(found);
        }
        Err(refuse(&squeezed))
    }

    /// What the same figures would be in the other systems that have counts and plies, each by its
    /// name; empty for direct counts and lengths per mass.
    pub fn in_other_systems(&self) -> Vec<YarnCount> {
        if self.figures.is_empty() {
            return Vec::new();
        }
        INDIRECT
            .iter()
            .filter(|entry| entry.0 != "NeC" && entry.1 != self.system)
            .filter_map(|entry| YarnCount::parse(&format!("{} {}", entry.0, self.figures)).ok())
            .collect()
    }

    /// The same count with its plies mistaken: passed over (`Nm 8/2` for eight to the kilogram as it
    /// is), or forgotten where none are written (`Ne 12` for a twine of six).
    pub fn with_other_plies(&self) -> Vec<YarnCount> {
        let Some(entry) = INDIRECT.iter().find(|entry| entry.1 == self.system) else {
            return Vec::new();
        };
        let count = f64::from(self.plies) * entry.2 / self.resultant.0;
        let written = |plies: u32| {
            let count = format!("{count:.4}");
            let count = count.trim_end_matches('0').trim_end_matches('.');
            match plies {
                1 => format!("{} {count}", entry.0),
                n => format!("{} {count}/{n}", entry.0),
            }
        };
        let others: &[u32] = if self.plies > 1 {
            &[1]
        } else {
            &[2, 3, 4, 5, 6, 8, 9, 10, 12, 15, 18]
        };
        others
            .iter()
            .filter_map(|plies| YarnCount::parse(&written(*plies)).ok())
            .collect()
    }
}

fn unreadable(text: &str) -> QuantityError {
    QuantityError::new(
        ErrorKind::Unreadable,
        format!("`{text}` is not a yarn count"),
        REMEDY,
    )
}

fn made(
    text: &str,
    system: CountSystem,
    plies: u32,
    tex: f64,
    half: f64,
) -> Result<YarnCount, QuantityError> {
    if !(tex.is_finite() && tex > 0.1 && tex < 100_000.0) {
        return Err(QuantityError::new(
            ErrorKind::Impossible,
            format!("`{text}` would be a yarn of {tex:.3} tex, which no yarn is"),
            REMEDY,
        ));
    }
    Ok(YarnCount {
        text: text.to_string(),
        figures: String::new(),
        system,
        plies,
        resultant: LinearDensity(tex),
        half_place: LinearDensity(half),
    })
}

/// `Nm 8/2`, `8/2 Nm`, `Ne 12/3/2`.
fn indirect(text: &str) -> Result<Option<YarnCount>, QuantityError> {
    let Some((figures, entry)) = INDIRECT.iter().find_map(|entry| {
        let name = entry.0;
        text.strip_prefix(name)
            .filter(|rest| {
                rest.starts_with([' ', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9'])
            })
            .or_else(|| {
                text.strip_suffix(name)
                    .filter(|rest| rest.ends_with(|c: char| c == ' ' || c.is_ascii_digit()))
            })
            .map(|rest| (rest.trim(), entry))
    }) else {
        return Ok(None);
    };
    let (name, system, k, _) = *entry;
    let mut parts = Vec::new();
    for part in figures.split('/') {
        parts.push(Number::parse(part.trim()).map_err(|_| unreadable(text))?);
    }
    let whole = |n: &Number| n.value.fract() == 0.0 && n.value >= 1.0 && n.value <= 200.0;
    let (count, plies) = match parts.as_slice() {
        [count] => (*count, 1.0),
        [first, second] => order(text, name, system, k, *first, *second)?,
        [count, inner, outer] if whole(inner) && whole(outer) => {
            (*count, inner.value * outer.value)
        }
        _ => return Err(unreadable(text)),
    };
    if count.value <= 0.0 || plies < 1.0 || plies.fract() != 0.0 {
        return Err(unreadable(text));
    }
    let tex = plies * k / count.value;
    let half = tex * count.half_place / count.value;
    made(text, system, plies as u32, tex, half).map(|made| {
        Some(YarnCount {
            figures: figures.to_string(),
            ..made
        })
    })
}

/// Tells the count from the plies, or refuses where both orders make sense.
fn order(
    text: &str,
    name: &str,
    system: CountSystem,
    k: f64,
    first: Number,
    second: Number,
) -> Result<(Number, f64), QuantityError> {
    let ambiguous = |why: &str| {
        Err(QuantityError::new(
            ErrorKind::AmbiguousCount,
            format!(
                "`{text}` can be read two ways: {} plies of {} make {:.0} tex, {} plies of {} make {:.0} tex{why}",
                second.value,
                first.value,
                second.value * k / first.value,
                first.value,
                second.value,
                first.value * k / second.value,
            ),
            format!(
                "write it in tex (`{:.0} tex` or `{:.0} tex`), or with the count first: `{name} {}/{}`",
                first.value * k / second.value,
                second.value * k / first.value,
                first.value.max(second.value),
                first.value.min(second.value),
            ),
        ))
    };
    if system == CountSystem::Worsted {
        let (small, large) = if first.value < second.value {
            (first, second)
        } else {
            (second, first)
        };
        if small.value == large.value && small.value > 1.0
            || small.value >= 4.0 && large.value <= 2.0 * small.value
        {
            return ambiguous("");
        }
        return Ok((large, small.value));
    }
    // Two or three plies of a fine count written the older way round, such as `2/28`.
    if first.value <= 3.0 && second.value > 2.0 * first.value && first.value > 1.0 {
        return ambiguous(", and in the older way of writing the plies stand first");
    }
    Ok((first, second.value))
}

/// `250 tex`, `1200 dtex`, `den 840`, `R 250 tex/2`, `125 tex x 2`. Direct figures are of the yarn
/// as it is and are never divided by plies; `x 2` says that so many of them are plied.
fn direct(text: &str) -> Result<Option<YarnCount>, QuantityError> {
    const UNITS: &[(&str, CountSystem, f64)] = &[
        ("dtex", CountSystem::Tex, 0.1),
        ("ktex", CountSystem::Tex, 1000.0),
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
fn length_per_mass(text: &str) -> Result<Option<YarnCount>, QuantityError> {
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

/// The finding for a text in no known system; a bare figure is answered with what it could mean.
fn refuse(text: &str) -> QuantityError {
    let mut readings = Vec::new();
    for (name, _, _, words) in INDIRECT.iter().filter(|entry| entry.0 != "NeC") {
        // Only what would be accepted when written so.
        if let Ok(Some(read)) = indirect(&format!("{name} {text}")) {
            let tex = read.resultant.tex();
            readings.push(format!("{tex:.0} tex as {words} (`{name} {text}`)"));
        }
    }
    if readings.is_empty() {
        return unreadable(text);
    }
    QuantityError::new(
        ErrorKind::AmbiguousCount,
        format!("`{text}` does not say in which system it counts"),
        format!("it would be {}; {REMEDY}", readings.join(", ")),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tex(text: &str) -> f64 {
        YarnCount::parse(text).unwrap().resultant.tex()
    }

    #[test]
    fn counts_agree_with_their_definitions() {
        // Exact rationals from 1 yd = 0.9144 m, 1 lb = 453.59237 g; compared with pint's textile
        // units in the outside checks.
        for (text, want) in [
            ("Nm 8/2", 250.0),
            ("Nm 20/2", 100.0),
            ("Ne 8/2", 147.635_311_862),
            ("Ne 12/6", 295.270_623_724),
            ("Ne 12/15", 738.176_559_310),
            ("NeL 16/2", 206.689_436_607),
            ("NeW 2/8", 221.452_967_793),
            ("NeW 8/2", 221.452_967_793),
            ("NeW 12/3", 221.452_967_793),
            ("1200 dtex", 120.0),
            ("den 840", 93.333_333_333),
            ("840 den", 93.333_333_333),
            ("1100 yd/lb", 450.958_770_779),
            ("700 m/kg", 1_428.571_428_571),
            ("R 250 tex/2", 250.0),
            ("125 tex x 2", 250.0),
            ("350 m/100 g", 285.714_285_714),
        ] {
            assert!((tex(text) - want).abs() < 1e-6, "{text}: {}", tex(text));
        }
    }

    #[test]
    fn handbook_equivalents_hold() {
        // Source, published: Brooks, Cotton Manufacturing: 20s cotton = 30s worsted = 56s linen lea.
        assert!((tex("Ne 20") - tex("NeW 30")).abs() < 1e-9);
        assert!((tex("Ne 20") - tex("NeL 56")).abs() < 1e-9);
        // Source, published: ASTM D2260: 30 tex is 19.7 in the cotton count.
        assert!((tex("Ne 19.7") - 30.0).abs() < 0.03);
    }

    #[test]
    fn a_bare_figure_is_refused_with_what_it_could_mean() {
        let e = YarnCount::parse("8/2").unwrap_err();
        assert_eq!(e.kind, ErrorKind::AmbiguousCount);
        for part in [
            "148 tex as cotton",
            "221 tex as worsted",
            "250 tex as metric",
            "413 tex as linen",
        ] {
            assert!(e.remedy.contains(part), "{part}: {}", e.remedy);
        }
    }

    #[test]
    fn an_order_that_reads_both_ways_is_refused() {
        for text in ["NeW 4/8", "NeW 2/2", "Nm 2/28", "Ne 2/20"] {
            let e = YarnCount::parse(text).unwrap_err();
            assert_eq!(e.kind, ErrorKind::AmbiguousCount, "{text}");
        }
    }
}
