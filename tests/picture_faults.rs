//! Photos that are cut short, damaged, far too large or no photos at all are named, and never bring the
//! program down.

mod picture_support;

use image::DynamicImage;
use offloom::picture::{Ask, Fault, Format, LadderAsk, MAX_PIXELS, Note, develop, look};
use picture_support::*;

fn fault(bytes: &[u8]) -> Option<Fault> {
    let developed = develop(
        bytes,
        &Ask {
            ladder: Some(LadderAsk::default()),
            ..Ask::default()
        },
    );
    let has_fault = developed.facts.fault.is_some();
    assert_eq!(developed.print.is_none(), has_fault);
    assert_eq!(developed.screen.is_none(), has_fault);
    assert_eq!(developed.thumb.is_none(), has_fault);
    assert_eq!(developed.ladder.is_none(), has_fault);
    developed.facts.fault
}

#[test]
fn a_photo_cut_short_is_named() {
    let picture = tapestry(320, 240);
    let whole = DynamicImage::ImageRgb8(picture.clone());
    for bytes in [jpeg(&picture, 90), png(&whole), tiff(&whole), webp(&whole)] {
        assert_eq!(fault(&bytes), None);
        for share in [30, 60, 90, 99] {
            let cut = &bytes[..bytes.len() * share / 100];
            let found = fault(cut);
            assert!(
                matches!(found, Some(Fault::Truncated { .. } | Fault::Damaged { .. })),
                "{} cut to {share} %: {found:?}",
                look(&bytes).format
            );
        }
    }
}

#[test]
fn a_jpeg_that_lacks_only_its_end_marker_is_cut_short() {
    let bytes = jpeg(&tapestry(320, 240), 90);
    let cut = &bytes[..bytes.len() - 2];
    assert_eq!(
        look(cut).fault,
        Some(Fault::Truncated {
            length: cut.len() as u64
        })
    );
}

#[test]
fn a_copy_that_failed_and_was_filled_with_zeros_is_cut_short() {
    let mut bytes = jpeg(&tapestry(320, 240), 90);
    let length = bytes.len();
    bytes[length / 2..].fill(0);
    assert_eq!(
        fault(&bytes),
        Some(Fault::Truncated {
            length: length as u64
        })
    );
}

#[test]
fn a_hole_in_the_middle_of_a_jpeg_is_damage_and_not_a_grey_foot() {
    let bytes = jpeg(&tapestry(640, 480), 90);
    let third = bytes.len() / 3;
    let with_hole = [&bytes[..third], &bytes[2 * third..]].concat();
    assert!(
        matches!(fault(&with_hole), Some(Fault::Damaged { .. })),
        "{:?}",
        fault(&with_hole)
    );
}

#[test]
fn what_a_phone_writes_behind_the_picture_does_no_harm() {
    let bytes = jpeg(&tapestry(320, 240), 90);
    let second = jpeg(&corners(64, 64), 80);
    let film = b"\0\0\0\x18ftypisom\0\0\x02\0isommp42 and so on";
    for behind in [&second[..], film, &[0; 700]] {
        assert_eq!(fault(&[&bytes[..], behind].concat()), None);
    }
}

#[test]
fn stray_bytes_between_the_parts_of_a_jpeg_are_noted_and_forgiven() {
    let bytes = jpeg(&tapestry(320, 240), 90);
    let stray = [&bytes[..20], &[1, 2, 3, 4, 5, 6, 7], &bytes[20..]].concat();
    let developed = develop(&stray, &Ask::default());
    assert_eq!(developed.facts.fault, None);
    assert!(developed.facts.notes.contains(&Note::StrayBytes));
    assert_eq!(developed.print, develop(&bytes, &Ask::default()).print);
}

#[test]
fn a_photo_of_thirty_thousand_by_thirty_thousand_is_refused_before_it_is_decoded() {
    let too_large = Some(Fault::TooLarge {
        width: 30_000,
        height: 30_000,
        limit_pixels: MAX_PIXELS,
    });
    let (w, h) = (30_000_u16.to_be_bytes(), 30_000_u32.to_be_bytes());
    let picture = corners(16, 16);
    let mut bytes = jpeg(&picture, 90);
    let frame = bytes.windows(2).position(|x| x == [0xFF, 0xC0]).unwrap();
    bytes[frame + 5..frame + 7].copy_from_slice(&w);
    bytes[frame + 7..frame + 9].copy_from_slice(&w);
    assert_eq!(fault(&bytes), too_large);
    let mut bytes = png(&DynamicImage::ImageRgb8(picture.clone()));
    bytes[16..20].copy_from_slice(&h);
    bytes[20..24].copy_from_slice(&h);
    assert_eq!(fault(&bytes), too_large);
    let mut bytes = tiff(&DynamicImage::ImageRgb8(picture));
    for tag in [0x0100_u16, 0x0101] {
        let pattern = [tag.to_le_bytes(), 4_u16.to_le_bytes(), [1, 0]].concat();
        let at = bytes
            .windows(6)
            .position(|x| x == pattern)
            .expect("the encoder writes edges as long numbers");
        bytes[at + 8..at + 12].copy_from_slice(&30_000_u32.to_le_bytes());
    }
    assert_eq!(fault(&bytes), too_large);
}

#[test]
fn files_that_are_no_photos_are_named_by_what_they_are() {
    assert_eq!(fault(&[]), Some(Fault::Empty));
    for (bytes, looks_like) in [
        (b"%PDF-1.7\n".as_slice(), "a PDF"),
        (b"<html><body>Sign in</body></html>", "a web page"),
        (b"title: Tide Tables\n", "plain text"),
        (b"\x01\x02\x03\x04", "nothing known"),
    ] {
        assert_eq!(fault(bytes), Some(Fault::NotAPicture { looks_like }));
    }
}

#[test]
fn kinds_that_are_kept_but_not_read_say_what_to_do() {
    let heic = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic\0\0\0\0";
    let facts = look(heic);
    assert_eq!(facts.format, Format::Heic);
    let message = facts.fault.expect("HEIC is not read").to_string();
    assert!(
        message.contains("HEIC") && message.contains("TIFF or JPEG"),
        "{message}"
    );
}

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

#[test]
fn no_flipped_dropped_or_doubled_byte_brings_the_program_down() {
    let picture = tapestry(40, 30);
    let whole = DynamicImage::ImageRgb8(picture.clone());
    let icc = moxcms::ColorProfile::new_adobe_rgb()
        .encode()
        .expect("a built-in profile");
    let block = || ExifBlock {
        first: vec![Entry::short(0x0112, 6)],
        exif: vec![
            Entry::short(0xA001, 0xFFFF),
            Entry::text(0x9003, "2026:06:21 14:05:09"),
        ],
        gps: vec![Entry::text(1, "N")],
        thumbnail: Some(vec![1; 40]),
        ..ExifBlock::default()
    };
    let seeds = [
        with_exif(&jpeg_with_profile(&picture, icc), block()),
        jpeg(&picture, 50),
        png(&whole),
        png(&DynamicImage::ImageRgba16(whole.to_rgba16())),
        tiff(&whole),
        tiff(&DynamicImage::ImageLuma16(whole.to_luma16())),
        webp(&whole),
    ];
    let mut dice = Dice(20_261_125);
    let mut sound = 0;
    for seed in &seeds {
        assert_eq!(develop(seed, &Ask::default()).facts.fault, None);
        for case in 0..700 {
            let mut bytes = seed.clone();
            for _ in 0..=dice.below(6) {
                // Headers are where a slip hurts: half of the cases fall there.
                let reach = if case % 2 == 0 {
                    bytes.len()
                } else {
                    bytes.len().min(700)
                };
                let at = dice.below(reach.max(1)).min(bytes.len() - 1);
                match dice.below(5) {
                    0 => bytes[at] ^= 1 << dice.below(8),
                    1 => bytes[at] = [0, 0xFF, 0x7F, 0x80][dice.below(4)],
                    2 => {
                        bytes.truncate((at + 1).max(16));
                    }
                    3 => {
                        bytes.remove(at);
                    }
                    _ => {
                        let end = (at + 1 + dice.below(40)).min(bytes.len());
                        let piece = bytes[at..end].to_vec();
                        bytes.splice(at..at, piece);
                    }
                }
            }
            let developed = develop(
                &bytes,
                &Ask {
                    ladder: Some(LadderAsk::default()),
                    ..Ask::default()
                },
            );
            assert_eq!(developed.print.is_some(), developed.facts.fault.is_none());
            sound += usize::from(developed.facts.fault.is_none());
        }
    }
    // Some changes do no harm, most do: the cases reach both ways.
    assert!((100..4000).contains(&sound), "{sound}");
}

#[test]
fn a_moving_picture_shows_its_first_and_says_so() {
    let still = png(&tapestry(64, 48).into());
    // An acTL chunk after the header (PNG, third edition, 11.3.6.1): two pictures, shown for ever.
    let mut chunk = b"acTL".to_vec();
    chunk.extend([0, 0, 0, 2, 0, 0, 0, 0]);
    let mut moving = still[..33].to_vec();
    moving.extend(8_u32.to_be_bytes());
    moving.extend(&chunk);
    moving.extend(crc32fast::hash(&chunk).to_be_bytes());
    moving.extend(&still[33..]);
    assert!(look(&moving).notes.contains(&Note::Moving));
    assert!(!look(&still).notes.contains(&Note::Moving));
}
