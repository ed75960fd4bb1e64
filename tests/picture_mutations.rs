//! Side data that are damaged or made in bad faith: every reader of a photograph's head answers, quickly, with
//! facts that make sense, and none of them panics. The cases are the same on every machine and day.

mod picture_support;

use image::{DynamicImage, ExtendedColorType, ImageEncoder};
use offloom::picture::{
    Ask, Fault, MAX_PIXELS, PhotoFacts, PlateWords, ProfileFound, develop, inscribe, look,
};
use picture_support::*;

/// Cases for each seed. All of them together take a few seconds.
const CASES: usize = 4_000;
/// Of these, how many are developed to plates as well.
const DEVELOPED: usize = 150;

/// A small generator of its own, so that the cases are the same everywhere.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % limit
    }
}

/// Changes one to four places among the first `reach` bytes, in the ways that hurt a reader of lengths,
/// counts and offsets.
fn mutated(seed: &[u8], reach: usize, dice: &mut Dice) -> Vec<u8> {
    let mut bytes = seed.to_vec();
    for _ in 0..=dice.below(4) {
        let at = dice.below(reach.min(bytes.len()));
        let four = at..(at + 4).min(bytes.len());
        match dice.below(8) {
            0 => bytes[at] ^= 1 << dice.below(8),
            1 => bytes[at] = [0, 1, 0x7F, 0x80, 0xFE, 0xFF][dice.below(6)],
            2 => bytes[four].fill(0xFF),
            3 => bytes[four].fill(0),
            // The greatest signed number, in both orders.
            4 => {
                let value = [[0x7F, 0xFF, 0xFF, 0xFF], [0xFF, 0xFF, 0xFF, 0x7F]][dice.below(2)];
                let length = four.len();
                bytes[four].copy_from_slice(&value[..length]);
            }
            // An offset to where it stands itself, in both orders: a reader that follows must not go round.
            5 => {
                let here = [(at as u32).to_be_bytes(), (at as u32).to_le_bytes()][dice.below(2)];
                let length = four.len();
                bytes[four].copy_from_slice(&here[..length]);
            }
            6 => bytes.truncate((at + 1).max(16)),
            _ => {
                let end = (at + 1 + dice.below(24)).min(bytes.len());
                let piece = bytes[at..end].to_vec();
                bytes.splice(at..at, piece);
            }
        }
    }
    bytes
}

fn make_sense(facts: &PhotoFacts) {
    assert!((1..=8).contains(&facts.orientation));
    if let Some(Fault::Damaged { reason }) = &facts.fault {
        assert_ne!(reason, "the decoder gave up on it", "a reader panicked");
        assert!(reason.chars().count() <= 160 && !reason.contains('\n'));
    }
    if facts.fault.is_none() {
        let (stored, upright) = (facts.stored.unwrap(), facts.upright.unwrap());
        assert!((1..=MAX_PIXELS).contains(&stored.pixels()));
        assert_eq!(stored.pixels(), upright.pixels());
    }
    if let ProfileFound::Profile { name } = &facts.colour.found {
        assert!(name.chars().count() <= 80 && !name.chars().any(char::is_control));
    }
    if let Some(taken) = &facts.taken {
        assert!(
            taken.is_ascii() && matches!(taken.len(), 19 | 25),
            "{taken}"
        );
    }
}

fn put_through(what: &str, seed: &[u8], reach: usize) {
    assert_eq!(look(seed).fault, None, "{what}");
    let mut dice = Dice(20_261_125);
    let (mut sound, mut changed) = (0, 0);
    let before = look(seed);
    for case in 0..CASES {
        let bytes = mutated(seed, reach, &mut dice);
        let facts = look(&bytes);
        make_sense(&facts);
        sound += usize::from(facts.fault.is_none());
        changed += usize::from(facts.fault.is_none() && facts != before);
        if case < DEVELOPED {
            let developed = develop(&bytes, &Ask::default());
            assert_eq!(developed.print.is_some(), developed.facts.fault.is_none());
        }
    }
    // The changes reach the reader in question: some photographs stay sound with other facts.
    assert!(
        sound > 0 && changed > 0,
        "{what}: {sound} sound, {changed} changed"
    );
}

fn exif_block() -> ExifBlock {
    ExifBlock {
        first: vec![Entry::short(0x0112, 6), Entry::text(0x013B, "Nobody")],
        exif: vec![
            Entry::short(0xA001, 0xFFFF),
            Entry::text(0x9003, "2026:06:21 14:05:09"),
            Entry::text(0x9011, "+02:00"),
            Entry::text(0xA431, "123456"),
        ],
        gps: vec![
            Entry::text(1, "N"),
            Entry::rationals(2, &[(54, 1), (3, 60), (0, 1)]),
        ],
        interop: vec![Entry::text(1, "R03")],
        thumbnail: Some(vec![1; 40]),
    }
}

fn big_endian(numbers: &[u32]) -> Vec<u8> {
    numbers.iter().flat_map(|n| n.to_be_bytes()).collect()
}

/// A profile of tables with two steps a side: version 2 with `lut16Type`, or version 4 with `lutAToBType`
/// (layouts: ICC.1:2022, 10.10 and 10.12).
fn table_profile(version: u8) -> Vec<u8> {
    let corners = (0..8_u32).flat_map(|i| [(i >> 2) & 1, (i >> 1) & 1, i & 1]);
    let grid: Vec<u8> = corners.flat_map(|on| [0x80, (on * 0x60) as u8]).collect();
    let table = if version == 2 {
        let head = [
            &b"mft2\0\0\0\0\x03\x03\x02\0"[..],
            &big_endian(&[65536, 0, 0, 0, 65536, 0, 0, 0, 65536]),
        ];
        let straight = [0, 0, 0xFF, 0xFF].repeat(3);
        [
            &head.concat(),
            &[0, 2, 0, 2][..],
            &straight,
            &grid,
            &straight,
        ]
        .concat()
    } else {
        let curves = b"curv\0\0\0\0\0\0\0\0".repeat(3);
        let head = [
            &b"mAB \0\0\0\0\x03\x03\0\0"[..],
            &big_endian(&[32, 0, 0, 104, 68]),
        ]
        .concat();
        let sides = [&[2, 2, 2][..], &[0; 13], &[2, 0, 0, 0]].concat();
        [head, curves.clone(), curves, sides, grid].concat()
    };
    let mut out = big_endian(&[144 + table.len() as u32, 0, u32::from(version) << 24]);
    out.extend(b"scnrRGB Lab ");
    out.resize(36, 0);
    out.extend(b"acsp");
    out.resize(68, 0);
    out.extend(big_endian(&[0xF6D6, 0x10000, 0xD32D]));
    out.resize(128, 0);
    out.extend(big_endian(&[1]));
    out.extend(b"A2B0");
    out.extend(big_endian(&[144, table.len() as u32]));
    out.extend(table);
    out
}

/// A PNG with a profile, and EXIF and XMP in chunks of their own.
fn png_with_all(icc: Vec<u8>) -> Vec<u8> {
    let picture = tapestry(24, 16);
    let mut bytes = Vec::new();
    let mut encoder = image::codecs::png::PngEncoder::new(&mut bytes);
    encoder.set_icc_profile(icc).unwrap();
    encoder.set_exif_metadata(exif_block().bytes()).unwrap();
    encoder
        .write_image(&picture, 24, 16, ExtendedColorType::Rgb8)
        .unwrap();
    bytes
}

#[test]
fn no_damage_to_exif_brings_the_program_down() {
    let plain = jpeg(&tapestry(24, 16), 80);
    let seed = with_exif(&plain, exif_block());
    assert!(look(&seed).private.gps);
    put_through("EXIF of a JPEG", &seed, seed.len() - plain.len());
}

#[test]
fn no_damage_to_a_profile_brings_the_program_down() {
    let picture = tapestry(24, 16);
    let matrix = moxcms::ColorProfile::new_adobe_rgb().encode().unwrap();
    let bare = jpeg(&picture, 98).len();
    for (what, icc) in [
        ("a profile of curves", matrix),
        ("a profile of tables, version 2", table_profile(2)),
        ("a profile of tables, version 4", table_profile(4)),
    ] {
        let length = icc.len();
        let seed = jpeg_with_profile(&picture, icc);
        let colour = look(&seed).colour;
        assert!(
            matches!(colour.found, ProfileFound::Profile { .. }),
            "{what}: {colour:?}"
        );
        let before = seed.len().saturating_sub(bare).max(length);
        put_through(what, &seed, before + 40);
    }
}

#[test]
fn no_damage_to_the_parts_of_a_jpeg_brings_the_program_down() {
    let plain = jpeg(&tapestry(24, 16), 80);
    let xmp = b"http://ns.adobe.com/xap/1.0/\0<x aux:SerialNumber='1'/>";
    let seed = with_segment(&with_exif(&plain, exif_block()), 0xE1, xmp);
    put_through("a JPEG with EXIF and XMP", &seed, seed.len());
    put_through("a JPEG", &plain, plain.len());
}

#[test]
fn no_damage_to_the_head_of_a_png_brings_the_program_down() {
    let seed = png_with_all(table_profile(2));
    put_through("a PNG with profile and EXIF", &seed, seed.len());
}

#[test]
fn no_damage_to_the_directory_of_a_tiff_brings_the_program_down() {
    let bytes = tiff(&DynamicImage::ImageRgb8(tapestry(24, 16)));
    // The writer puts the directory last; the readers meet all of it.
    put_through("a TIFF", &bytes, bytes.len());
    let directory = u32::from_le_bytes(bytes[4..8].try_into().unwrap()) as usize;
    let mut dice = Dice(7);
    for _ in 0..CASES {
        let tail = mutated(&bytes[directory..], usize::MAX, &mut dice);
        make_sense(&look(&[&bytes[..directory], &tail].concat()));
    }
}

#[test]
fn no_damage_to_a_plate_brings_its_words_down() {
    let words = PlateWords {
        title: "Low Water".to_string(),
        ..PlateWords::default()
    };
    let seed = inscribe(&jpeg(&tapestry(24, 16), 80), &words);
    let mut dice = Dice(20_261_125);
    for _ in 0..CASES {
        let bytes = mutated(&seed, 700, &mut dice);
        let told = inscribe(&bytes, &words);
        // Either the words are there once more, or nothing was touched.
        assert!(told == bytes || holds(&told, b">Low Water<"));
    }
}
