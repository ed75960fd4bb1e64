//! Families of colours, for whoever looks for a blue one among a thousand pieces.

use super::oklab::Oklab;
use super::srgb::{Rgb8, decode_srgb};

/// A family of colours by the name most people give it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Family {
    Red,
    Orange,
    Yellow,
    Green,
    Blue,
    Violet,
    Pink,
    Brown,
    White,
    Grey,
    Black,
}

impl Family {
    /// All of them with the word they are kept under, round the circle of hues and then without hue.
    pub const ALL: [(&'static str, Family); 11] = [
        ("red", Family::Red),
        ("orange", Family::Orange),
        ("yellow", Family::Yellow),
        ("green", Family::Green),
        ("blue", Family::Blue),
        ("violet", Family::Violet),
        ("pink", Family::Pink),
        ("brown", Family::Brown),
        ("white", Family::White),
        ("grey", Family::Grey),
        ("black", Family::Black),
    ];

    /// The word it is kept under.
    pub fn word(self) -> &'static str {
        Family::ALL
            .iter()
            .find(|(_, f)| *f == self)
            .map_or("", |(word, _)| word)
    }

    /// The family of a colour. The borders are our own, in Oklab: little chroma is white, grey or black by lightness;
    /// dark orange and dark yellow are brown, light red and light violet pink.
    pub fn of(rgb: Rgb8) -> Family {
        let lab =
            Oklab::from_light([rgb.r, rgb.g, rgb.b].map(|v| decode_srgb(f64::from(v) / 255.0)));
        let chroma = libm::hypot(lab.a, lab.b);
        let dark = lab.l < 0.62;
        if lab.l < 0.25 || chroma < 0.025 {
            return match lab.l {
                l if l < 0.32 => Family::Black,
                l if l > 0.85 => Family::White,
                _ => Family::Grey,
            };
        }
        if lab.l > 0.88 && chroma < 0.045 {
            return Family::White;
        }
        let hue = libm::atan2(lab.b, lab.a).to_degrees().rem_euclid(360.0);
        match hue {
            h if h < 8.0 && lab.l > 0.62 => Family::Pink,
            h if h < 40.0 && lab.l > 0.72 => Family::Pink,
            h if h < 40.0 => {
                if chroma < 0.09 && dark {
                    Family::Brown
                } else {
                    Family::Red
                }
            }
            h if h < 78.0 => {
                if dark {
                    Family::Brown
                } else {
                    Family::Orange
                }
            }
            h if h < 112.0 => {
                if lab.l < 0.55 {
                    Family::Brown
                } else {
                    Family::Yellow
                }
            }
            h if h < 185.0 => Family::Green,
            h if h < 282.0 => Family::Blue,
            h if h < 325.0 => Family::Violet,
            _ if lab.l > 0.6 => Family::Pink,
            _ => Family::Violet,
        }
    }
}

/// The families that a piece has: those that hold at least so many thousandths of its front together.
pub fn families(palette: &[(Rgb8, u32)], least: u32) -> Vec<Family> {
    Family::ALL
        .iter()
        .map(|(_, family)| *family)
        .filter(|family| {
            let held = palette
                .iter()
                .filter(|(rgb, _)| Family::of(*rgb) == *family);
            held.map(|(_, part)| *part).sum::<u32>() >= least
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(hex: u32) -> Family {
        let [_, r, g, b] = hex.to_be_bytes();
        Family::of(Rgb8 { r, g, b })
    }

    #[test]
    fn colours_named_by_a_standard_fall_into_the_family_of_their_name() {
        // Source, published: CSS Color Module Level 4, section 6.1, named colours (from memory).
        for (hex, family) in [
            (0xff_0000, Family::Red),
            (0xdc_143c, Family::Red),
            (0xff_a500, Family::Orange),
            (0xff_d700, Family::Yellow),
            (0xff_ff00, Family::Yellow),
            (0x00_8000, Family::Green),
            (0x2e_8b57, Family::Green),
            (0x00_00ff, Family::Blue),
            (0x46_82b4, Family::Blue),
            (0x00_0080, Family::Blue),
            (0x80_0080, Family::Violet),
            (0xee_82ee, Family::Pink),
            (0xff_c0cb, Family::Pink),
            (0xff_69b4, Family::Pink),
            (0x8b_4513, Family::Brown),
            (0xa0_522d, Family::Brown),
            (0xff_ffff, Family::White),
            (0xff_faf0, Family::White),
            (0x80_8080, Family::Grey),
            (0xc0_c0c0, Family::Grey),
            (0x00_0000, Family::Black),
        ] {
            assert_eq!(of(hex), family, "{hex:06x}");
        }
    }

    #[test]
    fn a_family_counts_when_it_holds_enough() {
        let palette = [
            (Rgb8 { r: 0, g: 0, b: 255 }, 60),
            (Rgb8 { r: 0, g: 0, b: 128 }, 40),
            (Rgb8 { r: 255, g: 0, b: 0 }, 79),
        ];
        assert_eq!(families(&palette, 80), [Family::Blue]);
        assert_eq!(families(&palette, 79), [Family::Red, Family::Blue]);
    }
}
