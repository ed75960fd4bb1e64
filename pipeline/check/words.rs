//! Figures and lists in the sentences of findings: in her own unit, with no more places than she
//! would write.

use crate::quantity::{Dimension, Length, Reading};
use crate::record::At;

/// A number with at most two decimals, without idle noughts.
pub(super) fn plain(number: f64) -> String {
    let text = format!("{number:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// A fraction as percent with at most one decimal.
pub(super) fn percent(fraction: f64) -> String {
    let text = format!("{:.1}", fraction * 100.0);
    format!("{} %", text.trim_end_matches(".0"))
}

/// A length in the unit that a reading was written in.
pub(super) fn like(reading: &Reading<Length>, mm: f64) -> String {
    let text = &reading.text;
    if text.ends_with("mm") {
        format!("{mm:.0} mm")
    } else if text.ends_with("in") || text.ends_with("ft") {
        format!("{} in", plain((mm / 25.4 * 10.0).round() / 10.0))
    } else if text.ends_with("cm") {
        format!("{} cm", plain((mm).round() / 10.0))
    } else {
        format!("{} m", plain(mm / 1000.0))
    }
}

/// The same number with another unit, so that it lies where `fits` says: what she may have meant.
pub(super) fn other_unit<D: Dimension>(
    reading: &Reading<D>,
    fits: impl Fn(f64) -> bool,
) -> Option<String> {
    let number = reading
        .text
        .split(|c: char| c.is_alphabetic() || c == '°')
        .next()?
        .trim();
    D::UNITS
        .iter()
        .map(|(unit, _)| format!("{number} {unit}"))
        .find(|text| Reading::<D>::parse(text).is_ok_and(|r| fits(r.value.base())))
}

/// The mean of readings in millimetres; nothing where there are none.
pub(super) fn mean(readings: &[At<Reading<Length>>]) -> Option<f64> {
    let sum: f64 = readings.iter().map(|r| r.value.value.mm()).sum();
    (!readings.is_empty()).then(|| sum / readings.len() as f64)
}

/// Names in backticks, the first few of them.
pub(super) fn listed<S: AsRef<str>>(names: &[S]) -> String {
    const SHOWN: usize = 5;
    let quoted = |name: &S| format!("`{}`", name.as_ref().escape_debug());
    let mut shown: Vec<String> = names.iter().take(SHOWN).map(quoted).collect();
    if names.len() > SHOWN {
        shown.push(format!("{} more", names.len() - SHOWN));
    }
    match shown.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
        None => String::new(),
    }
}

/// A list of numbers, runs of three or more drawn together: 2, 4 to 7.
pub(super) fn numbers(all: &[u32]) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for &n in all {
        match runs.last_mut() {
            Some((_, last)) if last.saturating_add(1) == n => *last = n,
            _ => runs.push((n, n)),
        }
    }
    let said = |&(first, last): &(u32, u32)| match last - first {
        0 => format!("{first}"),
        1 => format!("{first}, {last}"),
        _ => format!("{first} to {last}"),
    };
    runs.iter().map(said).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_said_in_her_own_unit() {
        let said = |text: &str, mm| like(&Reading::parse(text).unwrap(), mm);
        assert_eq!(said("121.4 cm", 1213.6), "121.4 cm");
        assert_eq!(said("48 in", 1219.2), "48 in");
        assert_eq!(said("1.2 m", 1219.2), "1.22 m");
        assert_eq!(said("1200 mm", 1219.2), "1219 mm");
        assert_eq!(plain(79.999), "80");
        assert_eq!(percent(0.035), "3.5 %");
    }

    #[test]
    fn a_slip_of_the_unit_is_found_again() {
        let mass = Reading::<crate::quantity::Mass>::parse("4.31 g").unwrap();
        let found = other_unit(&mass, |g| (1000.0..9000.0).contains(&g));
        assert_eq!(found.as_deref(), Some("4.31 kg"));
    }

    #[test]
    fn lists_stay_short() {
        assert_eq!(listed(&["a"]), "`a`");
        assert_eq!(listed(&["a", "b"]), "`a` and `b`");
        let many = ["a", "b", "c", "d", "e", "f", "g"];
        assert_eq!(listed(&many), "`a`, `b`, `c`, `d`, `e` and 2 more");
        assert_eq!(numbers(&[2, 4, 5, 6, 9, 10]), "2, 4 to 6, 9, 10");
    }
}
