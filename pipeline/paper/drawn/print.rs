//! Figures of the papers with drawings, in the language's and the studio's way.

use crate::paper::figures::{THIN, eighths, short};
use crate::paper::words::Words;
use crate::quantity::Length;
use crate::reckon::hang::GRAVITY;
use crate::reckon::{Uncertain, printed, significant};
use crate::record::Measures;

/// Newtons in a pound-force: 0.453 592 37 kg under standard gravity (yard and pound agreement of 1959;
/// third General Conference on Weights and Measures, 1901).
const POUND_N: f64 = 0.453_592_37 * GRAVITY;

/// With the language's decimal mark, a true minus and no break around ±.
pub(super) fn marked(text: &str, w: &Words) -> String {
    text.replace('.', &w.language.decimal)
        .replace('-', "−")
        .replace(" ± ", "\u{A0}±\u{A0}")
}

/// A figure rounded by its uncertainty, with it and with its unit: "3.860 ± 0.029 kg".
pub(in crate::paper) fn doubted(x: &Uncertain, unit: &str, w: &Words) -> String {
    let text = printed(x.value, Some(x.u()));
    format!("{}{THIN}{unit}", marked(&text, w))
}

/// Doubts under this part of a figure are no matter to who lifts and hangs: own rule.
const SLIGHT: f64 = 0.005;

/// A figure with its unit, and with its doubt to one digit where that is more than slight:
/// "3.86 kg", "46.7 ± 0.9 N". The studio sheet and the reckoning have every doubt in full.
pub(super) fn rounded(x: &Uncertain, unit: &str, w: &Words) -> String {
    to_digits(x, 3, unit, w)
}

/// The same, to so many digits where the doubt is slight.
fn to_digits(x: &Uncertain, known: i32, unit: &str, w: &Words) -> String {
    let (value, u) = (x.value, x.u());
    let slight = u.is_nan() || u <= SLIGHT * value.abs();
    let text = if slight {
        significant(value, known)
    } else {
        // Rounded at the doubt's first digit; the doubt itself upwards.
        let places = -(libm::floor(libm::log10(u)) as i32);
        let step = libm::pow(10.0, f64::from(-places));
        let most = libm::ceil(u / step - 1e-9) * step;
        let digits = usize::try_from(places).unwrap_or(0);
        let value = libm::round(value / step) * step;
        format!("{value:.digits$} ± {most:.digits$}")
    };
    with_unit(&marked(&text, w), unit)
}

/// A figure without a unit goes without the space before it.
fn with_unit(text: &str, unit: &str) -> String {
    if unit.is_empty() {
        text.to_string()
    } else {
        format!("{text}{THIN}{unit}")
    }
}

/// The least that may be asked of what must hold: the figure and its doubt, rounded up to three digits.
pub(super) fn held_for(x: &Uncertain) -> f64 {
    upwards(x.value + x.u(), 3)
}

/// Rounded up to so many digits.
fn upwards(x: f64, digits: i32) -> f64 {
    if x <= 0.0 || !x.is_finite() {
        return x;
    }
    let step = libm::pow(10.0, libm::floor(libm::log10(x)) + 1.0 - f64::from(digits));
    libm::ceil(x / step - 1e-9) * step
}

/// A figure to so many digits, without a unit.
pub(in crate::paper) fn plain(x: f64, digits: i32, w: &Words) -> String {
    marked(&significant(x, digits), w)
}

/// What a scale would show under a force, rounded up to two digits: fixings are rated so.
pub(super) fn as_mass(newtons: f64, measures: Measures, w: &Words) -> String {
    let kg = format!("{}{THIN}kg", plain(upwards(newtons / GRAVITY, 2), 2, w));
    let lb = format!("{}{THIN}lb", plain(upwards(newtons / POUND_N, 2), 2, w));
    in_measures(&kg, &lb, measures)
}

fn in_measures(metric: &str, pounds: &str, measures: Measures) -> String {
    match measures {
        Measures::Cm => metric.to_string(),
        Measures::In => pounds.to_string(),
        Measures::Both => format!("{metric}, {pounds}"),
    }
}

/// The unit that lengths on drawings are told in.
pub(super) fn unit(measures: Measures) -> &'static str {
    match measures {
        Measures::In => "in",
        _ => "cm",
    }
}

/// A length without its unit: centimetres to a tenth, or inches to an eighth.
pub(super) fn bare(mm: f64, measures: Measures, w: &Words) -> String {
    match measures {
        Measures::In => eighths(Length::from_mm(mm)),
        _ => short(libm::round(mm) / 10.0, w),
    }
}

/// A length with its unit.
pub(in crate::paper) fn long(mm: f64, measures: Measures, w: &Words) -> String {
    format!("{}{THIN}{}", bare(mm, measures, w), unit(measures))
}

/// Several lengths and their unit once: "2.1 × 3 × 3 m" with the sides parted by ×.
pub(super) fn sides(all: &[Length], measures: Measures, w: &Words) -> String {
    let each: Vec<String> = all.iter().map(|s| bare(s.mm(), measures, w)).collect();
    format!("{}{THIN}{}", each.join("\u{A0}×\u{A0}"), unit(measures))
}

/// The side of a square twice: "10 × 10 cm".
pub(super) fn sides_of(mm: f64, measures: Measures, w: &Words) -> String {
    let one = bare(mm, measures, w);
    format!("{one}\u{A0}×\u{A0}{one}{THIN}{}", unit(measures))
}

/// A thickness in millimetres to a tenth.
pub(super) fn thin(mm: f64, w: &Words) -> String {
    format!("{}{THIN}mm", plain(libm::round(mm * 10.0) / 10.0, 6, w))
}

/// Kilograms in a pound (yard and pound agreement of 1959).
const POUND_KG: f64 = 0.453_592_37;

/// A mass to two digits, kg given: where it is only reckoned.
pub(in crate::paper) fn about(kg: f64, measures: Measures, w: &Words) -> String {
    let metric = format!("{}{THIN}kg", plain(kg, 2, w));
    let pounds = format!("{}{THIN}lb", plain(kg / POUND_KG, 2, w));
    in_measures(&metric, &pounds, measures)
}

/// A mass with its doubt in full, kg given: in kilograms, in pounds, or in both.
pub(in crate::paper) fn weight(kg: &Uncertain, measures: Measures, w: &Words) -> String {
    let metric = doubted(kg, "kg", w);
    let pounds = doubted(&kg.times(1.0 / POUND_KG), "lb", w);
    match measures {
        Measures::Cm => metric,
        Measures::In => pounds,
        Measures::Both => format!("{metric} ({pounds})"),
    }
}

/// A mass, kg given: in grams under a kilogram; in pounds, or ounces under a pound; or in both.
pub(super) fn rounded_weight(kg: &Uncertain, measures: Measures, w: &Words) -> String {
    let metric = || {
        if kg.value < 1.0 {
            to_digits(&kg.times(1e3), 4, "g", w)
        } else {
            to_digits(kg, 4, "kg", w)
        }
    };
    let imperial = || {
        if kg.value < POUND_KG {
            to_digits(&kg.times(16.0 / POUND_KG), 4, "oz", w)
        } else {
            to_digits(&kg.times(1.0 / POUND_KG), 4, "lb", w)
        }
    };
    match measures {
        Measures::Cm => metric(),
        Measures::In => imperial(),
        Measures::Both => format!("{} ({})", metric(), imperial()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_must_hold_is_never_rounded_down() {
        // Source, exact case: upwards to two and three digits by hand.
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} {b}");
        near(upwards(116.74, 3), 117.0);
        near(upwards(12.01, 2), 13.0);
        near(upwards(12.0, 2), 12.0);
        near(upwards(0.0241, 2), 0.025);
        near(upwards(0.0, 2), 0.0);
    }
}
