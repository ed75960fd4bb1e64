//! Tone curves: from the stored value of one channel to linear light.
//!
//! Curve types of ICC.1:2022, 10.6 (tables and plain gamma) and 10.18 (formulas). All powers by `libm`. What
//! becomes of the light is left to `colour`.

use super::srgb::decode_srgb;
use moxcms::ToneReprCurve;

/// How one channel turns into linear light, 0 to 1 both ways.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Curve {
    Srgb,
    Gamma(f64),
    /// ICC's general form: `(a·x + b)^g + e` from `d` upwards, `c·x + f` below.
    Parametric {
        g: f64,
        a: f64,
        b: f64,
        c: f64,
        d: f64,
        e: f64,
        f: f64,
    },
    Table(Vec<u16>),
}

impl Curve {
    /// Linear light of a stored value, both 0 to 1.
    pub(super) fn light(&self, x: f64) -> f64 {
        match self {
            Self::Srgb => decode_srgb(x),
            Self::Gamma(gamma) => libm::pow(x, *gamma),
            Self::Parametric {
                g,
                a,
                b,
                c,
                d,
                e,
                f,
            } => {
                if x >= *d {
                    libm::pow((a * x + b).max(0.0), *g) + e
                } else {
                    c * x + f
                }
            }
            Self::Table(table) => {
                let place = x * (table.len() - 1) as f64;
                let low = (place as usize).min(table.len() - 1);
                let high = (low + 1).min(table.len() - 1);
                let part = place - low as f64;
                (f64::from(table[low]) * (1.0 - part) + f64::from(table[high]) * part) / 65535.0
            }
        }
    }

    /// A profile's curve; nothing if it leads nowhere, as in a broken or hostile profile.
    pub(super) fn of(tone: &ToneReprCurve) -> Option<Self> {
        let curve = match tone {
            ToneReprCurve::Lut(table) => match table.as_slice() {
                [] => Self::Gamma(1.0),
                [gamma] => Self::Gamma(f64::from(*gamma) / 256.0),
                _ => Self::Table(table.clone()),
            },
            ToneReprCurve::Parametric(p) => {
                let p: Vec<f64> = p.iter().map(|v| f64::from(*v)).collect();
                match *p.as_slice() {
                    [g] => Self::Gamma(g),
                    [g, a, b] => Self::Parametric {
                        g,
                        a,
                        b,
                        c: 0.0,
                        d: -b / a,
                        e: 0.0,
                        f: 0.0,
                    },
                    [g, a, b, e] => Self::Parametric {
                        g,
                        a,
                        b,
                        c: 0.0,
                        d: -b / a,
                        e,
                        f: e,
                    },
                    [g, a, b, c, d] => Self::Parametric {
                        g,
                        a,
                        b,
                        c,
                        d,
                        e: 0.0,
                        f: 0.0,
                    },
                    [g, a, b, c, d, e, f] => Self::Parametric {
                        g,
                        a,
                        b,
                        c,
                        d,
                        e,
                        f,
                    },
                    _ => return None,
                }
            }
        };
        let sane = |x: f64| curve.light(x).is_finite();
        (sane(0.0) && sane(0.5) && sane(1.0) && curve.light(1.0) > 0.1).then_some(curve)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_formula_with_the_numbers_of_srgb_is_the_srgb_curve() {
        let numbers = vec![2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045];
        let curve = Curve::of(&ToneReprCurve::Parametric(numbers)).expect("a sound curve");
        for v in 0..=255 {
            let x = f64::from(v) / 255.0;
            assert!((curve.light(x) - Curve::Srgb.light(x)).abs() < 1e-6);
        }
    }

    #[test]
    fn a_single_number_is_a_gamma_and_a_table_is_read_between_its_entries() {
        let gamma = Curve::of(&ToneReprCurve::Lut(vec![0x0200])).expect("a sound curve");
        assert!((gamma.light(0.5) - 0.25).abs() < 1e-12);
        let table = Curve::of(&ToneReprCurve::Lut(vec![0, 0x4000, 0xFFFF])).expect("a sound curve");
        assert!((table.light(0.25) - f64::from(0x2000) / 65535.0).abs() < 1e-12);
        assert_eq!(table.light(1.0), 1.0);
    }

    #[test]
    fn a_curve_that_leads_nowhere_is_none() {
        assert_eq!(Curve::of(&ToneReprCurve::Parametric(vec![])), None);
        assert_eq!(Curve::of(&ToneReprCurve::Parametric(vec![f32::NAN])), None);
        assert_eq!(Curve::of(&ToneReprCurve::Lut(vec![0, 0])), None);
    }
}
