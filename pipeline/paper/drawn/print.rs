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

/// A figure to so many digits, without a unit.
pub(in crate::paper) fn plain(x: f64, digits: i32, w: &Words) -> String {
    marked(&significant(x, digits), w)
}

/// What a scale would show under a force, to two digits more than none: fixings are rated so.
pub(super) fn as_mass(newtons: f64, measures: Measures, w: &Words) -> String {
    let kg = format!("{}{THIN}kg", plain(newtons / GRAVITY, 2, w));
    let lb = format!("{}{THIN}lb", plain(newtons / POUND_N, 2, w));
    match measures {
        Measures::Cm => kg,
        Measures::In => lb,
        Measures::Both => format!("{kg}, {lb}"),
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

/// A mass to two digits, kg given: where it is only reckoned.
pub(in crate::paper) fn about(kg: f64, measures: Measures, w: &Words) -> String {
    as_mass(kg * GRAVITY, measures, w)
}

/// A mass with its doubt, kg given: in kilograms, in pounds, or in both.
pub(in crate::paper) fn weight(kg: &Uncertain, measures: Measures, w: &Words) -> String {
    let metric = doubted(kg, "kg", w);
    let pounds = doubted(&kg.times(1.0 / 0.453_592_37), "lb", w);
    match measures {
        Measures::Cm => metric,
        Measures::In => pounds,
        Measures::Both => format!("{metric} ({pounds})"),
    }
}
