//! Made-up pictures of the size and kind that papers are given.

use offloom::paper::{Picture, Plates};

/// A JPEG of bands and slits, nothing like a photograph, but of that size.
pub fn jpeg(width: u32, height: u32, seed: u32) -> Vec<u8> {
    let inks: [[u8; 3]; 6] = [
        [38, 70, 83],
        [120, 142, 136],
        [214, 205, 184],
        [168, 62, 44],
        [92, 84, 70],
        [58, 104, 96],
    ];
    let picture = image::RgbImage::from_fn(width, height, |x, y| {
        let band = (y * 23 / height + seed) as usize;
        let slit = x * 31 / width;
        let i = (band * 7 + (band * slit as usize) % 5 + usize::from((x / 3 + y / 5) % 7 == 0)) % 6;
        let ridge = if x % 6 < 2 { 12 } else { 0 };
        image::Rgb(inks[i].map(|c| c.saturating_sub(ridge)))
    });
    let mut out = Vec::new();
    let mut encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut out, 88);
    encoder.encode_image(&picture).unwrap();
    out
}

/// A ladder of eleven colours.
pub fn ladder() -> String {
    let inks = [
        "#26465a", "#788e88", "#d6cdb8", "#3a6860", "#5c5446", "#a83e2c", "#788e88", "#26465a",
        "#d6cdb8", "#5c5446", "#3a6860",
    ];
    let bands: String = inks
        .iter()
        .enumerate()
        .map(|(i, ink)| {
            format!("<rect x=\"0\" y=\"{i}\" width=\"1\" height=\"1.02\" fill=\"{ink}\"/>")
        })
        .collect();
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 1 11\" preserveAspectRatio=\"none\" width=\"1\" height=\"11\">{bands}</svg>"
    )
}

/// Pictures owned by a test.
pub struct Pictures {
    front: Option<(Vec<u8>, u32, u32)>,
    second: Option<(Vec<u8>, u32, u32)>,
    ladder: Option<String>,
}

impl Pictures {
    pub fn none() -> Pictures {
        Pictures {
            front: None,
            second: None,
            ladder: None,
        }
    }

    pub fn of(front: (u32, u32), second: Option<(u32, u32)>) -> Pictures {
        let make = |(w, h): (u32, u32), seed| (jpeg(w, h, seed), w, h);
        Pictures {
            front: Some(make(front, 1)),
            second: second.map(|s| make(s, 4)),
            ladder: Some(ladder()),
        }
    }

    pub fn plates(&self) -> Plates<'_> {
        fn picture(p: &(Vec<u8>, u32, u32)) -> Picture<'_> {
            Picture {
                jpeg: &p.0,
                width: p.1,
                height: p.2,
                alt: "Bands of green and grey with a red buoy low on the left.".into(),
                credit: Some("Ines Farthing".into()),
            }
        }
        Plates {
            front: self.front.as_ref().map(picture),
            second: self.second.as_ref().map(picture),
            ladder_svg: self.ladder.as_deref(),
        }
    }
}
