//! The palette of a piece as a small file: each colour, its share of the area in percent, and the yarn that
//! it is likely to be.
//!
//! Yarns are matched by colour alone, where the record gives their colours. In Oklab a difference of
//! lightness counts half, since cloth lies darker in the shadow of its own ribs than a skein does. A colour
//! farther from every yarn than `NEAR`, or about as near to a second one, is given to none.

use super::oklab::Oklab;
use super::srgb::{Rgb8, decode_srgb};
use serde::Serialize;

/// A yarn by name, and its colour as a photo of the yarn shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Yarn {
    pub name: String,
    pub colour: Rgb8,
}

/// The farthest a colour may lie from its yarn. Own rule: twice what parts two colours of one palette.
const NEAR: f64 = 0.09;
/// By how much the second yarn has to be farther than the first. Own rule: about the least difference seen.
const CLEARLY: f64 = 0.02;
/// Colours that take less of the area, in thousandths, are not listed one by one.
const LEAST: u32 = 10;

const METHOD: &str = "Read from the front photograph: samples on a grid over the flat piece, grouped by \
                      k-means in Oklab with a start that follows from the picture alone; colours closer \
                      than 0.045 are one.";
const LIMITS: &str = "A photograph is no colorimeter: light, camera and shadow have their part in every \
                      colour. These serve to tell colours of one piece apart, not to match a dye.";

#[derive(Serialize)]
struct File<'a> {
    photo: &'a str,
    method: &'static str,
    limits: &'static str,
    colours: Vec<Line<'a>>,
    /// Percent of the area that colours of less than one percent take together.
    others_percent: f64,
}

#[derive(Serialize)]
struct Line<'a> {
    srgb: Rgb8,
    oklab: [f64; 3],
    percent: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    yarn: Option<&'a str>,
}

/// The palette as JSON text with a line end. `shades` are colours with their area in thousandths, `photo`
/// the name of the photo they were read from.
pub fn palette_json(photo: &str, shades: &[(Rgb8, u32)], yarns: &[Yarn]) -> String {
    let percent = |thousandths: u32| f64::from(thousandths) / 10.0;
    let others = shades.iter().map(|s| s.1).filter(|&part| part < LEAST);
    let file = File {
        photo,
        method: METHOD,
        limits: LIMITS,
        others_percent: percent(others.sum()),
        colours: shades
            .iter()
            .filter(|(_, part)| *part >= LEAST)
            .map(|&(srgb, part)| {
                let lab = of(srgb);
                Line {
                    srgb,
                    oklab: [lab.l, lab.a, lab.b].map(|v| libm::round(v * 1000.0) / 1000.0),
                    percent: percent(part),
                    yarn: yarn_of(srgb, yarns).map(|yarn| yarn.name.as_str()),
                }
            })
            .collect(),
    };
    // Plain text and numbers always serialise.
    let mut text = serde_json::to_string_pretty(&file).unwrap_or_default();
    text.push('\n');
    text
}

fn of(colour: Rgb8) -> Oklab {
    let light = |v: u8| decode_srgb(f64::from(v) / 255.0);
    Oklab::from_light([colour.r, colour.g, colour.b].map(light))
}

/// The yarn that a colour is likely to be.
fn yarn_of(colour: Rgb8, yarns: &[Yarn]) -> Option<&Yarn> {
    let seen = of(colour);
    let mut near: Vec<(f64, &Yarn)> = yarns
        .iter()
        .map(|yarn| {
            let own = of(yarn.colour);
            let (l, a, b) = ((own.l - seen.l) / 2.0, own.a - seen.a, own.b - seen.b);
            (libm::sqrt(l * l + a * a + b * b), yarn)
        })
        .filter(|(distance, _)| *distance <= NEAR + CLEARLY)
        .collect();
    near.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (distance, yarn) = near.first()?;
    let clear = near.get(1).is_none_or(|(d, _)| d - distance >= CLEARLY);
    (*distance <= NEAR && clear).then_some(*yarn)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rgb(r: u8, g: u8, b: u8) -> Rgb8 {
        Rgb8 { r, g, b }
    }

    fn yarn(name: &str, colour: Rgb8) -> Yarn {
        Yarn {
            name: name.to_string(),
            colour,
        }
    }

    #[test]
    fn a_colour_is_given_to_its_yarn_though_the_cloth_is_darker_and_to_none_in_doubt() {
        let yarns = [
            yarn("buoy red", rgb(180, 50, 40)),
            yarn("deep indigo", rgb(30, 40, 90)),
            yarn("sand", rgb(210, 190, 150)),
        ];
        let named = |colour, yarns| yarn_of(colour, yarns).map(|y: &Yarn| y.name.clone());
        assert_eq!(named(rgb(150, 38, 30), &yarns).as_deref(), Some("buoy red"));
        assert_eq!(named(rgb(196, 176, 138), &yarns).as_deref(), Some("sand"));
        assert_eq!(named(rgb(40, 160, 60), &yarns), None);
        let two = [
            yarn("sand", rgb(210, 190, 150)),
            yarn("oat", rgb(206, 188, 150)),
        ];
        assert_eq!(named(rgb(208, 189, 150), &two), None);
    }

    #[test]
    fn the_file_adds_up_to_all_of_the_piece() {
        let shades = [
            (rgb(30, 40, 90), 612),
            (rgb(180, 50, 40), 379),
            (rgb(1, 2, 3), 9),
        ];
        let text = palette_json("front.jpg", &shades, &[yarn("red", rgb(180, 50, 40))]);
        let file: serde_json::Value = serde_json::from_str(&text).expect("it is JSON");
        assert_eq!(file["colours"][0]["srgb"], "#1e285a");
        assert_eq!(file["colours"][0]["percent"], 61.2);
        assert!(file["colours"][0].get("yarn").is_none());
        assert_eq!(file["colours"][1]["yarn"], "red");
        assert_eq!(file["colours"].as_array().map(Vec::len), Some(2));
        assert_eq!(file["others_percent"], 0.9);
    }
}
