//! sRGB: its curve, its tables, its colour as text, and the profile embedded in every plate.
//!
//! Curve: IEC 61966-2-1. All powers by `libm`, so that every machine makes the same tables.

use moxcms::{ColorProfile, Xyzd};
use serde::{Serialize, Serializer};
use std::fmt;
use std::sync::LazyLock;

/// An sRGB colour of 8 bits a channel; printed and serialised as `#rrggbb`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Rgb8 {
    pub r: u8,
    pub g: u8,
    pub b: u8,
}

impl fmt::Display for Rgb8 {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.r, self.g, self.b)
    }
}

impl Serialize for Rgb8 {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// From an sRGB value to linear light, both 0 to 1 (IEC 61966-2-1).
pub fn decode_srgb(value: f64) -> f64 {
    if value <= 0.04045 {
        value / 12.92
    } else {
        libm::pow((value + 0.055) / 1.055, 2.4)
    }
}

/// From linear light to an sRGB value, both 0 to 1 (IEC 61966-2-1).
pub fn encode_srgb(light: f64) -> f64 {
    if light <= 0.0031308 {
        light * 12.92
    } else {
        1.055 * libm::pow(light, 1.0 / 2.4) - 0.055
    }
}

/// The 8-bit sRGB value for each 16-bit linear light, rounded to nearest.
pub(super) static FROM_LIGHT: LazyLock<Vec<u8>> = LazyLock::new(|| {
    (0..=u16::MAX)
        .map(|v| libm::round(encode_srgb(f64::from(v) / 65535.0) * 255.0) as u8)
        .collect()
});

/// 0 to 1 as 16 bits, clipped at both ends, rounded to nearest.
pub(super) fn to_u16(light: f64) -> u16 {
    libm::round(light.clamp(0.0, 1.0) * 65535.0) as u16
}

/// The white all ICC profiles meet at: D50, as the profile header writes it (ICC.1:2022, 7.2.16).
const D50: Xyzd = Xyzd {
    x: 0.9642,
    y: 1.0,
    z: 0.8249,
};

/// sRGB's primaries as an ICC profile holds them: in XYZ, adapted to D50 by the Bradford transform, rounded
/// to 16 binary places so that they add up to D50. Rows X, Y, Z; columns red, green, blue (the common sRGB
/// profile's values, from memory; a test derives them anew from the chromaticities of IEC 61966-2-1).
pub(super) const PRIMARIES: [[f64; 3]; 3] = [
    [0.436_065_67, 0.385_147_09, 0.143_066_41],
    [0.222_488_40, 0.716_873_17, 0.060_607_91],
    [0.013_916_02, 0.097_076_42, 0.714_096_07],
];

/// Where a profile's header holds its date (ICC.1:2022, 7.2.8), and the date written there: 2026-01-01 00:00:00.
const DATE: std::ops::Range<usize> = 24..36;
const FIXED_DATE: [u8; 12] = [0x07, 0xEA, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0];

static PROFILE: LazyLock<Vec<u8>> = LazyLock::new(|| {
    let column = |c: usize| Xyzd {
        x: PRIMARIES[0][c],
        y: PRIMARIES[1][c],
        z: PRIMARIES[2][c],
    };
    let mut profile = ColorProfile::new_srgb();
    profile.red_colorant = column(0);
    profile.green_colorant = column(1);
    profile.blue_colorant = column(2);
    profile.white_point = D50;
    // A display profile of version 4 states the white of the connection space here (ICC.1:2022, 9.2.36).
    profile.media_white_point = Some(D50);
    profile.cicp = None;
    let mut bytes = profile
        .encode()
        .expect("a built-in profile with curves and primaries can be written");
    // The library writes the clock's time whatever it is told; the profile has to be the same on any day.
    bytes[DATE].copy_from_slice(&FIXED_DATE);
    bytes
});

/// The sRGB profile embedded in every plate: ICC version 4, the same bytes on any day and machine.
pub fn srgb_profile() -> &'static [u8] {
    &PROFILE
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::colour::{Matrix, inverse};

    fn apply(m: &Matrix, v: [f64; 3]) -> [f64; 3] {
        m.map(|row| row.iter().zip(v).map(|(a, b)| a * b).sum())
    }

    #[test]
    fn every_8_bit_value_survives_the_way_through_linear_light() {
        for v in 0..=255_u8 {
            assert_eq!(
                FROM_LIGHT[usize::from(to_u16(decode_srgb(f64::from(v) / 255.0)))],
                v
            );
        }
    }

    /// Derives the primaries from the chromaticities and white of IEC 61966-2-1 (red .64 .33, green .30 .60,
    /// blue .15 .06, white .3127 .3290) and the Bradford matrix (from memory).
    #[test]
    fn the_embedded_primaries_are_those_of_the_standard() {
        let xyz = |x: f64, y: f64| [x / y, 1.0, (1.0 - x - y) / y];
        let primaries = [xyz(0.64, 0.33), xyz(0.30, 0.60), xyz(0.15, 0.06)];
        let columns = |c: [[f64; 3]; 3]| std::array::from_fn(|r| std::array::from_fn(|k| c[k][r]));
        let m: [[f64; 3]; 3] = columns(primaries);
        let white = xyz(0.3127, 0.3290);
        let scale = apply(&inverse(&m).unwrap(), white);
        let unadapted: [[f64; 3]; 3] =
            std::array::from_fn(|r| std::array::from_fn(|c| m[r][c] * scale[c]));
        let bradford = [
            [0.8951, 0.2664, -0.1614],
            [-0.7502, 1.7135, 0.0367],
            [0.0389, -0.0685, 1.0296],
        ];
        let from = apply(&bradford, white);
        let to = apply(&bradford, [0.96422, 1.0, 0.82521]);
        let back = inverse(&bradford).unwrap();
        for c in 0..3 {
            let cone = apply(&bradford, std::array::from_fn(|r| unadapted[r][c]));
            let adapted = apply(&back, std::array::from_fn(|r| cone[r] * to[r] / from[r]));
            for r in 0..3 {
                assert!(
                    (adapted[r] - PRIMARIES[r][c]).abs() < 2e-4,
                    "row {r} column {c}: {}",
                    adapted[r]
                );
            }
        }
    }

    #[test]
    fn the_embedded_profile_reads_back_and_holds_no_date_of_today() {
        let bytes = srgb_profile();
        assert_eq!(bytes[DATE], FIXED_DATE);
        // No digest stands in the header that a fixed date would belie.
        assert_eq!(bytes[84..100], [0; 16]);
        let back = ColorProfile::new_from_slice(bytes).unwrap();
        assert!(back.is_matrix_shaper());
        assert!((back.red_colorant.x - PRIMARIES[0][0]).abs() < 1e-5);
    }
}
