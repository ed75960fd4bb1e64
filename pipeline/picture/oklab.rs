//! Oklab, a space in which distances are about as large as they look (Björn Ottosson, 2020).
//!
//! Matrices as published on his page about it (values seen in several public implementations). Cube roots by
//! `libm`.

use super::srgb::{Rgb8, encode_srgb};
use serde::Serialize;

/// A colour in Oklab: lightness 0 to 1, and two axes of about −0.4 to 0.4 (green to red, blue to yellow).
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct Oklab {
    pub l: f64,
    pub a: f64,
    pub b: f64,
}

impl Oklab {
    /// From linear light in sRGB primaries, 0 to 1 each.
    pub fn from_light([r, g, b]: [f64; 3]) -> Self {
        Self::from_cones(
            0.412_221_470_8 * r + 0.536_332_536_3 * g + 0.051_445_992_9 * b,
            0.211_903_498_2 * r + 0.680_699_545_1 * g + 0.107_396_956_6 * b,
            0.088_302_461_9 * r + 0.281_718_837_6 * g + 0.629_978_700_5 * b,
        )
    }

    /// From XYZ relative to D65, white having Y = 1.
    pub fn from_xyz([x, y, z]: [f64; 3]) -> Self {
        Self::from_cones(
            0.818_933_010_1 * x + 0.361_866_742_4 * y - 0.128_859_713_7 * z,
            0.032_984_543_6 * x + 0.929_311_871_5 * y + 0.036_145_638_7 * z,
            0.048_200_301_8 * x + 0.264_366_269_1 * y + 0.633_851_707_0 * z,
        )
    }

    fn from_cones(l: f64, m: f64, s: f64) -> Self {
        let (l, m, s) = (libm::cbrt(l), libm::cbrt(m), libm::cbrt(s));
        Self {
            l: 0.210_454_255_3 * l + 0.793_617_785_0 * m - 0.004_072_046_8 * s,
            a: 1.977_998_495_1 * l - 2.428_592_205_0 * m + 0.450_593_709_9 * s,
            b: 0.025_904_037_1 * l + 0.782_771_766_2 * m - 0.808_675_766_0 * s,
        }
    }

    /// To linear light in sRGB primaries, not clipped.
    pub fn to_light(self) -> [f64; 3] {
        let l = self.l + 0.396_337_777_4 * self.a + 0.215_803_757_3 * self.b;
        let m = self.l - 0.105_561_345_8 * self.a - 0.063_854_172_8 * self.b;
        let s = self.l - 0.089_484_177_5 * self.a - 1.291_485_548_0 * self.b;
        let (l, m, s) = (l * l * l, m * m * m, s * s * s);
        [
            4.076_741_662_1 * l - 3.307_711_591_3 * m + 0.230_969_929_2 * s,
            -1.268_438_004_6 * l + 2.609_757_401_1 * m - 0.341_319_396_5 * s,
            -0.004_196_086_3 * l - 0.703_418_614_7 * m + 1.707_614_701_0 * s,
        ]
    }

    /// The nearest sRGB value of 8 bits, channels clipped.
    pub fn to_rgb8(self) -> Rgb8 {
        let [r, g, b] = self
            .to_light()
            .map(|v| libm::round(encode_srgb(v.clamp(0.0, 1.0)) * 255.0) as u8);
        Rgb8 { r, g, b }
    }

    /// How different two colours look; about 0.02 is just seen side by side (common practice, no source).
    pub fn distance(self, other: Self) -> f64 {
        libm::sqrt(self.distance_squared(other))
    }

    pub(super) fn distance_squared(self, other: Self) -> f64 {
        let (l, a, b) = (self.l - other.l, self.a - other.a, self.b - other.b);
        l * l + a * a + b * b
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(colour: Oklab, expected: [f64; 3], tolerance: f64) {
        let got = [colour.l, colour.a, colour.b];
        for (g, e) in got.iter().zip(expected) {
            assert!((g - e).abs() <= tolerance, "{got:?} is not {expected:?}");
        }
    }

    /// The table of XYZ and Oklab pairs that Ottosson publishes for checking implementations (from memory).
    #[test]
    fn the_published_table_of_checks_is_met() {
        near(
            Oklab::from_xyz([0.950, 1.000, 1.089]),
            [1.000, 0.000, 0.000],
            0.001,
        );
        near(
            Oklab::from_xyz([1.000, 0.000, 0.000]),
            [0.450, 1.236, -0.019],
            0.001,
        );
        near(
            Oklab::from_xyz([0.000, 1.000, 0.000]),
            [0.922, -0.671, 0.263],
            0.001,
        );
        near(
            Oklab::from_xyz([0.000, 0.000, 1.000]),
            [0.153, -1.415, -0.449],
            0.001,
        );
    }

    /// The worked example of the `colour` library for Python (XYZ_to_Oklab), as quoted in public help pages.
    #[test]
    fn the_worked_example_of_a_reference_library_is_met() {
        near(
            Oklab::from_xyz([0.206_540_08, 0.121_972_25, 0.051_369_52]),
            [0.516_340, 0.154_695, 0.062_896],
            2e-6,
        );
    }

    #[test]
    fn every_grey_stays_grey_and_colours_come_back() {
        for v in (0..=255).step_by(5) {
            let light = |x: u8| crate::picture::decode_srgb(f64::from(x) / 255.0);
            let grey = Oklab::from_light([light(v); 3]);
            assert!(grey.a.abs() < 1e-4 && grey.b.abs() < 1e-4);
            let colour = Rgb8 {
                r: v,
                g: 255 - v,
                b: v / 2,
            };
            assert_eq!(
                Oklab::from_light([colour.r, colour.g, colour.b].map(light)).to_rgb8(),
                colour
            );
        }
    }
}
