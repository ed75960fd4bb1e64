//! Pictures made in memory for the tests of `picture`, and readers for what comes out.
#![allow(dead_code)]

use image::codecs::{jpeg::JpegEncoder, png::PngEncoder, tiff::TiffEncoder, webp::WebPEncoder};
use image::{DynamicImage, ExtendedColorType, ImageEncoder, RgbImage};
use std::io::Cursor;

/// A small picture whose corners are red, green, blue and white, read from the upper left by rows.
pub fn corners(width: u32, height: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| {
        image::Rgb(match (x < width / 2, y < height / 2) {
            (true, true) => [220, 20, 20],
            (false, true) => [20, 200, 20],
            (true, false) => [20, 20, 220],
            (false, false) => [250, 250, 250],
        })
    })
}

/// A weaving of an invented kind: broad horizontal bands, each with shapes in a second colour.
pub fn tapestry(width: u32, height: u32) -> RgbImage {
    let bands: [([u8; 3], [u8; 3]); 6] = [
        ([38, 52, 66], [38, 52, 66]),
        ([92, 112, 78], [196, 178, 120]),
        ([196, 178, 120], [172, 62, 44]),
        ([120, 150, 160], [38, 52, 66]),
        ([222, 214, 196], [120, 150, 160]),
        ([172, 62, 44], [222, 214, 196]),
    ];
    RgbImage::from_fn(width, height, |x, y| {
        // The first band of the list lies at the foot.
        let from_foot = height - 1 - y;
        let band = (from_foot * 6 / height) as usize;
        let (ground, figure) = bands[band];
        let (u, v) = (
            f64::from(x) / f64::from(width),
            f64::from(from_foot * 6 % height) / f64::from(height),
        );
        let inside = (u - 0.3 - 0.3 * v).abs() < 0.16;
        let colour = if inside { figure } else { ground };
        // Rib and nap of the cloth: every other thread darker, and a little unevenness.
        let rib = if y % 4 < 2 { 0.96 } else { 1.04 };
        let nap = 1.0 + f64::from((x * 7919 + y * 104_729) % 17) / 400.0 - 0.02;
        image::Rgb(colour.map(|c| (f64::from(c) * rib * nap).clamp(0.0, 255.0) as u8))
    })
}

pub fn jpeg(picture: &RgbImage, quality: u8) -> Vec<u8> {
    let mut out = Vec::new();
    JpegEncoder::new_with_quality(&mut out, quality)
        .encode_image(picture)
        .unwrap();
    out
}

pub fn jpeg_with_profile(picture: &RgbImage, icc: Vec<u8>) -> Vec<u8> {
    let mut out = Vec::new();
    let mut encoder = JpegEncoder::new_with_quality(&mut out, 98);
    encoder.set_icc_profile(icc).unwrap();
    encoder
        .write_image(
            picture,
            picture.width(),
            picture.height(),
            ExtendedColorType::Rgb8,
        )
        .unwrap();
    out
}

pub fn png(picture: &DynamicImage) -> Vec<u8> {
    let mut out = Vec::new();
    picture
        .write_with_encoder(PngEncoder::new(&mut out))
        .unwrap();
    out
}

pub fn tiff(picture: &DynamicImage) -> Vec<u8> {
    let mut out = Cursor::new(Vec::new());
    picture
        .write_with_encoder(TiffEncoder::new(&mut out))
        .unwrap();
    out.into_inner()
}

pub fn webp(picture: &DynamicImage) -> Vec<u8> {
    let mut out = Vec::new();
    picture
        .write_with_encoder(WebPEncoder::new_lossless(&mut out))
        .unwrap();
    out
}

/// One entry of an EXIF directory: tag, type, count, and the value's bytes (big-endian).
pub struct Entry(pub u16, pub u16, pub u32, pub Vec<u8>);

impl Entry {
    pub fn short(tag: u16, value: u16) -> Self {
        Self(tag, 3, 1, value.to_be_bytes().to_vec())
    }
    pub fn long(tag: u16, value: u32) -> Self {
        Self(tag, 4, 1, value.to_be_bytes().to_vec())
    }
    pub fn text(tag: u16, value: &str) -> Self {
        let bytes = [value.as_bytes(), &[0]].concat();
        Self(tag, 2, bytes.len() as u32, bytes)
    }
    pub fn rationals(tag: u16, values: &[(u32, u32)]) -> Self {
        let bytes = values
            .iter()
            .flat_map(|(a, b)| [a.to_be_bytes(), b.to_be_bytes()].concat())
            .collect();
        Self(tag, 5, values.len() as u32, bytes)
    }
}

/// Writes one directory at `start`; the offset of the next directory follows the entries.
fn directory(start: u32, entries: &[Entry], next: u32) -> Vec<u8> {
    let mut fixed = (entries.len() as u16).to_be_bytes().to_vec();
    let mut extra = Vec::new();
    let extra_start = start + 2 + 12 * entries.len() as u32 + 4;
    for Entry(tag, kind, count, value) in entries {
        fixed.extend(tag.to_be_bytes());
        fixed.extend(kind.to_be_bytes());
        fixed.extend(count.to_be_bytes());
        if value.len() <= 4 {
            fixed.extend(value);
            fixed.extend(vec![0; 4 - value.len()]);
        } else {
            fixed.extend((extra_start + extra.len() as u32).to_be_bytes());
            extra.extend(value);
            extra.extend(vec![0; value.len() % 2]);
        }
    }
    fixed.extend(next.to_be_bytes());
    [fixed, extra].concat()
}

/// A block of EXIF: the first directory, the EXIF, GPS and interoperability directories, and a thumbnail.
#[derive(Default)]
pub struct ExifBlock {
    pub first: Vec<Entry>,
    pub exif: Vec<Entry>,
    pub gps: Vec<Entry>,
    pub interop: Vec<Entry>,
    pub thumbnail: Option<Vec<u8>>,
}

impl ExifBlock {
    pub fn oriented(orientation: u16) -> Self {
        Self {
            first: vec![Entry::short(0x0112, orientation)],
            ..Self::default()
        }
    }

    pub fn bytes(mut self) -> Vec<u8> {
        // Sub-directories are laid out at fixed places, far enough apart for the tests.
        const EXIF: u32 = 1024;
        const GPS: u32 = 2048;
        const INTEROP: u32 = 3072;
        const SECOND: u32 = 4096;
        if !self.interop.is_empty() {
            self.exif.push(Entry::long(0xA005, INTEROP));
        }
        if !self.exif.is_empty() {
            self.first.push(Entry::long(0x8769, EXIF));
        }
        if !self.gps.is_empty() {
            self.first.push(Entry::long(0x8825, GPS));
        }
        let second = if self.thumbnail.is_some() { SECOND } else { 0 };
        let mut out = b"MM\0*\0\0\0\x08".to_vec();
        out.extend(directory(8, &self.first, second));
        for (at, entries) in [
            (EXIF, &self.exif),
            (GPS, &self.gps),
            (INTEROP, &self.interop),
        ] {
            if !entries.is_empty() {
                out.resize(at as usize, 0);
                out.extend(directory(at, entries, 0));
            }
        }
        if let Some(thumbnail) = self.thumbnail {
            out.resize(SECOND as usize, 0);
            let at = SECOND + 2 + 24 + 4;
            let entries = [
                Entry::long(0x0201, at),
                Entry::long(0x0202, thumbnail.len() as u32),
            ];
            out.extend(directory(SECOND, &entries, 0));
            out.extend(thumbnail);
        }
        out
    }
}

/// Puts a segment right behind a JPEG's first marker.
pub fn with_segment(jpeg: &[u8], marker: u8, body: &[u8]) -> Vec<u8> {
    let length = (body.len() as u16 + 2).to_be_bytes();
    [&jpeg[..2], &[0xFF, marker], &length, body, &jpeg[2..]].concat()
}

pub fn with_exif(jpeg: &[u8], block: ExifBlock) -> Vec<u8> {
    with_segment(
        jpeg,
        0xE1,
        &[b"Exif\0\0".as_slice(), &block.bytes()].concat(),
    )
}

pub fn holds(bytes: &[u8], needle: &[u8]) -> bool {
    bytes.windows(needle.len()).any(|w| w == needle)
}

/// The pixels of a plate.
pub fn pixels(jpeg: &[u8]) -> RgbImage {
    image::load_from_memory(jpeg).unwrap().into_rgb8()
}

/// Whether a pixel is near a colour.
pub fn is_near(pixel: [u8; 3], colour: [u8; 3], tolerance: u8) -> bool {
    pixel
        .iter()
        .zip(colour)
        .all(|(a, b)| a.abs_diff(b) <= tolerance)
}
