//! Counts that grow as the yarn gets finer: lengths to a mass, with their plies.

use super::{CountSystem, QuantityError, YarnCount, made, unreadable};
use crate::quantity::error::ErrorKind;
use crate::quantity::number::Number;

/// The systems whose figure grows as the yarn gets finer: name as written, system, K in tex × count.
pub(super) const INDIRECT: &[(&str, CountSystem, f64, &str)] = &[
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
    // Spun silk is counted in cotton hanks, but of the plied yarn: 40/2 has 40 hanks to the pound
    // (Taylor, *Cotton Weaving and Designing*; Brooks).
    (
        "silk",
        CountSystem::SpunSilk,
        32_399_455.0 / 54_864.0,
        "spun silk",
    ),
    // 1600 yd to the pound, 100 yd to the ounce: K = 45359237/146304.
    (
        "run",
        CountSystem::WoollenRun,
        45_359_237.0 / 146_304.0,
        "woollen run",
    ),
    // 256 yd to the pound, 1536 yd to six: K = 1133980925/585216.
    (
        "Yorkshire",
        CountSystem::YorkshireSkein,
        1_133_980_925.0 / 585_216.0,
        "Yorkshire skeins",
    ),
];

/// The systems whose figures a weaver takes for each other.
pub(super) const COMMON: &[&str] = &["Nm", "Ne", "NeW", "NeL"];

/// `Nm 8/2`, `8/2 Nm`, `Ne 12/3/2`.
pub(super) fn indirect(text: &str) -> Result<Option<YarnCount>, QuantityError> {
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
    let in_hank = if system == CountSystem::SpunSilk {
        1.0
    } else {
        plies
    };
    let tex = in_hank * k / count.value;
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
