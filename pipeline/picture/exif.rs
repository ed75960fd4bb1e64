//! What EXIF and XMP say that matters here: which way is up, which colours, when, and whether private facts
//! are aboard.
//!
//! Reading is done by the `kamadak-exif` library; tags by CIPA DC-008 (EXIF 2.32). Values of private tags
//! are not kept. A damaged directory yields what could still be read of it.

use super::facts::{Private, ProfileFound};
use exif::{Exif, In, Reader, Tag, Value};

/// The few things taken from EXIF and XMP.
#[derive(Debug)]
pub(super) struct ExifFacts {
    pub orientation: u8,
    pub colour: ProfileFound,
    pub private: Private,
    pub taken: Option<String>,
    /// Millimetres, for film of 36 × 24 mm; nought means unknown and is left out.
    pub focal_35mm: Option<u32>,
}

impl Default for ExifFacts {
    fn default() -> Self {
        Self {
            orientation: 1,
            colour: ProfileFound::Nothing,
            private: Private::default(),
            taken: None,
            focal_35mm: None,
        }
    }
}

/// Reads a block of EXIF (beginning at its byte-order mark; a whole TIFF file is one too) and a packet of XMP.
pub(super) fn read_side_data(exif: Option<&[u8]>, xmp: &[u8]) -> ExifFacts {
    let mut facts = exif
        .and_then(parse)
        .map(|exif| from_exif(&exif))
        .unwrap_or_default();
    let says = |word: &str| xmp.windows(word.len()).any(|w| w == word.as_bytes());
    facts.private.gps |= [
        "GPSLatitude",
        "GPSLongitude",
        "GPSPosition",
        "GPSCoordinates",
    ]
    .iter()
    .any(|w| says(w));
    facts.private.serials |= says("SerialNumber");
    facts.private.owner |= ["OwnerName", "tiff:Artist", "dc:creator"]
        .iter()
        .any(|w| says(w));
    facts.private.thumbnail |= says("xmp:Thumbnails") || says("xap:Thumbnails");
    facts
}

fn parse(block: &[u8]) -> Option<Exif> {
    let mut reader = Reader::new();
    reader.continue_on_error(true);
    reader
        .read_raw(block.to_vec())
        .or_else(|e| e.distill_partial_result(|_| ()))
        .ok()
}

fn from_exif(exif: &Exif) -> ExifFacts {
    let number = |tag| {
        exif.get_field(tag, In::PRIMARY)
            .and_then(|f| f.value.get_uint(0))
    };
    let text = |tag| {
        exif.get_field(tag, In::PRIMARY)
            .and_then(|f| ascii(&f.value))
    };
    let has = |tag| {
        exif.get_field(tag, In::PRIMARY)
            .is_some_and(|f| !is_blank(&f.value))
    };
    let orientation = match number(Tag::Orientation) {
        Some(n @ 1..=8) => n as u8,
        _ => 1,
    };
    let colour = match number(Tag::ColorSpace) {
        Some(1) => ProfileFound::ExifSrgb,
        Some(0xFFFF) if text(Tag::InteroperabilityIndex).is_some_and(|t| t == "R03") => {
            ProfileFound::ExifAdobeRgb
        }
        Some(0xFFFF) => ProfileFound::ExifUncalibrated,
        _ => ProfileFound::Nothing,
    };
    let gps = exif.fields().any(|f| {
        f.tag.context() == exif::Context::Gps && f.tag != Tag::GPSVersionID && !is_blank(&f.value)
    });
    let private = Private {
        gps,
        serials: has(Tag::BodySerialNumber) || has(Tag::LensSerialNumber),
        owner: has(Tag::CameraOwnerName) || has(Tag::Artist),
        thumbnail: exif
            .get_field(Tag::JPEGInterchangeFormat, In::THUMBNAIL)
            .is_some(),
        maker_note: has(Tag::MakerNote),
    };
    let taken = text(Tag::DateTimeOriginal)
        .and_then(|t| date_and_time(&t))
        .map(|t| {
            t + &text(Tag::OffsetTimeOriginal)
                .filter(|z| is_zone(z))
                .unwrap_or_default()
        });
    ExifFacts {
        orientation,
        colour,
        private,
        taken,
        focal_35mm: number(Tag::FocalLengthIn35mmFilm).filter(|mm| *mm > 0),
    }
}

fn ascii(value: &Value) -> Option<String> {
    let Value::Ascii(lines) = value else {
        return None;
    };
    let line = lines.first()?;
    let end = line.iter().position(|&b| b == 0).unwrap_or(line.len());
    std::str::from_utf8(&line[..end])
        .ok()
        .map(|t| t.trim().to_owned())
}

fn is_blank(value: &Value) -> bool {
    match value {
        Value::Ascii(lines) => lines.iter().flatten().all(|&b| b == b' ' || b == 0),
        Value::Undefined(bytes, _) => bytes.is_empty(),
        _ => false,
    }
}

/// `2026:06:21 14:05:09` as `2026-06-21T14:05:09`; blanks and zeros, as cameras without a clock write, as nothing.
fn date_and_time(exif: &str) -> Option<String> {
    let bytes = exif.as_bytes();
    let shape = b"dddd:dd:dd dd:dd:dd";
    let fits = bytes.len() == shape.len()
        && bytes.iter().zip(shape).all(|(b, s)| {
            if *s == b'd' {
                b.is_ascii_digit()
            } else {
                b == s
            }
        });
    if !fits || exif.starts_with("0000") {
        return None;
    }
    Some(format!(
        "{}-{}-{}T{}",
        &exif[..4],
        &exif[5..7],
        &exif[8..10],
        &exif[11..]
    ))
}

fn is_zone(zone: &str) -> bool {
    let b = zone.as_bytes();
    b.len() == 6
        && matches!(b[0], b'+' | b'-')
        && b[3] == b':'
        && [1, 2, 4, 5].iter().all(|&i| b[i].is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_is_taken_only_when_it_is_one() {
        assert_eq!(
            date_and_time("2026:06:21 14:05:09").as_deref(),
            Some("2026-06-21T14:05:09")
        );
        assert_eq!(date_and_time("0000:00:00 00:00:00"), None);
        assert_eq!(date_and_time("    :  :     :  :  "), None);
        assert!(is_zone("+02:00") && !is_zone("+2:00") && !is_zone("Z"));
    }

    #[test]
    fn a_place_hidden_in_xmp_is_noticed() {
        let facts = read_side_data(None, b"<x exif:GPSLatitude=\"1\" aux:SerialNumber=\"2\"/>");
        assert!(facts.private.gps && facts.private.serials && !facts.private.owner);
    }
}
