//! Numbers as they are printed: rounded by their uncertainty, never more digits than are known.

/// A number rounded so that its standard uncertainty shows two significant figures (GUM 7.2.6), with
/// the uncertainty behind ±; without one, four significant digits, whole numbers as they are.
pub fn printed(value: f64, u: Option<f64>) -> String {
    match u {
        Some(u) if u > 0.0 && u.is_finite() => {
            let places = places_for(u);
            let zeros = |x: f64| {
                // Rounding to tens or hundreds where the doubt is that large.
                if places >= 0 {
                    format!("{x:.*}", places as usize)
                } else {
                    let step = libm::pow(10.0, f64::from(-places));
                    format!("{:.0}", libm::round(x / step) * step)
                }
            };
            format!("{} ± {}", zeros(value), zeros(u))
        }
        _ => significant(value, 4),
    }
}

/// Decimal places at which u has two significant figures, negative for tens and more. The second look
/// is for a u such as 0.0996, which rounds up to 0.10.
fn places_for(u: f64) -> i32 {
    let places = 1 - libm::floor(libm::log10(u)) as i32;
    let step = libm::pow(10.0, f64::from(-places));
    if libm::round(u / step) >= 100.0 {
        places - 1
    } else {
        places
    }
}

/// A number with so many significant digits, trailing zeros cut; whole numbers keep all digits.
pub fn significant(value: f64, digits: i32) -> String {
    if value == 0.0 {
        return "0".to_string();
    }
    let places = digits - 1 - libm::floor(libm::log10(value.abs())) as i32;
    let text = format!("{value:.*}", places.clamp(0, 12) as usize);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_string()
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_shows_what_is_known_of_it() {
        // Source, published: GUM (JCGM 100:2008), 7.2.2 and 7.2.6: two significant figures of u, the
        // estimate rounded to match (100.021 47 g with 0.35 mg).
        assert_eq!(printed(100.02147, Some(0.000_35)), "100.02147 ± 0.00035");
        assert_eq!(printed(10.057_62, Some(0.027)), "10.058 ± 0.027");
        assert_eq!(printed(0.5, Some(0.0996)), "0.50 ± 0.10");
        assert_eq!(printed(3841.2, Some(123.0)), "3840 ± 120");
        assert_eq!(printed(2.0, None), "2");
        assert_eq!(printed(139.037, None), "139");
        assert_eq!(printed(0.069_41, None), "0.06941");
    }
}
