//! Plates are upright, true in colour, of the right size, and carry nothing private.

mod picture_support;

use image::{DynamicImage, ImageBuffer, Luma, Rgb, RgbImage, Rgba};
use offloom::picture::{
    Ask, Format, PRINT_EDGE, PlateWords, ProfileFound, SCREEN_EDGE, Size, THUMB_EDGE, Treatment,
    develop, inscribe, look, srgb_profile,
};
use picture_support::*;

fn develop_plain(bytes: &[u8]) -> offloom::picture::Developed {
    develop(bytes, &Ask::default())
}

fn print_pixels(bytes: &[u8]) -> RgbImage {
    let developed = develop_plain(bytes);
    assert_eq!(developed.facts.fault, None);
    pixels(
        &developed
            .print
            .expect("a sound photo has a print plate")
            .jpeg,
    )
}

/// EXIF 2.32 (CIPA DC-008), tag 0x0112, as the libvips documentation and the jpegexiforient manual give it:
/// for each value, the visual side the stored first row and the stored first column stand for.
const ORIENTATIONS: [(u16, &str, &str); 8] = [
    (1, "top", "left"),
    (2, "top", "right"),
    (3, "bottom", "right"),
    (4, "bottom", "left"),
    (5, "left", "top"),
    (6, "right", "top"),
    (7, "right", "bottom"),
    (8, "left", "bottom"),
];

#[test]
fn a_photo_is_turned_upright_from_all_eight_orientations() {
    let upright = corners(48, 32);
    for (value, first_row, first_column) in ORIENTATIONS {
        // Store the picture as the table says: walking along stored rows and columns from their stated sides.
        let along = |side: &str, at: u32, edge: u32| {
            if matches!(side, "top" | "left") {
                at
            } else {
                edge - 1 - at
            }
        };
        let rows_are_vertical = matches!(first_row, "left" | "right");
        let (w, h) = if rows_are_vertical {
            (32, 48)
        } else {
            (48, 32)
        };
        let stored = RgbImage::from_fn(w, h, |column, row| {
            let (x, y) = if rows_are_vertical {
                (along(first_row, row, 48), along(first_column, column, 32))
            } else {
                (along(first_column, column, 48), along(first_row, row, 32))
            };
            *upright.get_pixel(x, y)
        });
        let bytes = with_exif(&jpeg(&stored, 98), ExifBlock::oriented(value));
        let developed = develop_plain(&bytes);
        assert_eq!(u16::from(developed.facts.orientation), value);
        assert_eq!(
            developed.facts.stored,
            Some(Size {
                width: w,
                height: h
            })
        );
        assert_eq!(
            developed.facts.upright,
            Some(Size {
                width: 48,
                height: 32
            })
        );
        let plate = pixels(&developed.print.unwrap().jpeg);
        assert_eq!(plate.dimensions(), (48, 32));
        for (x, y) in [(6, 4), (40, 4), (6, 28), (40, 28)] {
            let (got, wanted) = (plate.get_pixel(x, y).0, upright.get_pixel(x, y).0);
            assert!(
                is_near(got, wanted, 12),
                "orientation {value} at {x},{y}: {got:?}, not {wanted:?}"
            );
        }
    }
}

#[test]
fn every_kind_and_depth_of_photo_gives_the_same_picture() {
    let picture = corners(64, 40);
    let eight = DynamicImage::ImageRgb8(picture.clone());
    let sixteen = DynamicImage::ImageRgb16(eight.to_rgb16());
    let with_alpha = DynamicImage::ImageRgba8(eight.to_rgba8());
    let photos: [(&str, Format, Vec<u8>); 8] = [
        ("JPEG", Format::Jpeg, jpeg(&picture, 98)),
        ("PNG 8", Format::Png, png(&eight)),
        ("PNG 16", Format::Png, png(&sixteen)),
        ("PNG with alpha", Format::Png, png(&with_alpha)),
        ("TIFF 8", Format::Tiff, tiff(&eight)),
        ("TIFF 16", Format::Tiff, tiff(&sixteen)),
        ("TIFF with alpha", Format::Tiff, tiff(&with_alpha)),
        ("WebP", Format::WebP, webp(&eight)),
    ];
    for (name, format, bytes) in photos {
        let developed = develop_plain(&bytes);
        assert_eq!(developed.facts.format, format, "{name}");
        assert_eq!(developed.facts.fault, None, "{name}");
        assert_eq!(developed.facts, look(&bytes), "{name}");
        let plate = pixels(&developed.print.unwrap().jpeg);
        for (x, y) in [(9, 6), (52, 6), (9, 33), (52, 33)] {
            assert!(
                is_near(plate.get_pixel(x, y).0, picture.get_pixel(x, y).0, 10),
                "{name}"
            );
        }
    }
}

#[test]
fn grey_photos_of_8_and_16_bits_stay_grey() {
    let grey = ImageBuffer::from_fn(40, 40, |x, _| Luma([(x * 6) as u8]));
    let eight = DynamicImage::ImageLuma8(grey);
    let sixteen = DynamicImage::ImageLuma16(eight.to_luma16());
    let mut as_jpeg = Vec::new();
    eight
        .write_with_encoder(image::codecs::jpeg::JpegEncoder::new_with_quality(
            &mut as_jpeg,
            98,
        ))
        .unwrap();
    for bytes in [png(&eight), png(&sixteen), tiff(&sixteen), as_jpeg] {
        let plate = print_pixels(&bytes);
        let pixel = plate.get_pixel(30, 20).0;
        assert!(is_near(pixel, [180; 3], 3), "{pixel:?}");
    }
}

#[test]
fn what_is_transparent_lies_on_white() {
    let clear = ImageBuffer::from_pixel(32, 32, Rgba([200_u8, 0, 0, 0]));
    let plate = print_pixels(&png(&DynamicImage::ImageRgba8(clear)));
    assert!(is_near(plate.get_pixel(16, 16).0, [255; 3], 1));
    // Source, published: half covered black on white is half the light: sRGB 188 (IEC 61966-2-1).
    let half = ImageBuffer::from_pixel(32, 32, Rgba([0_u16, 0, 0, 32768]));
    let plate = print_pixels(&png(&DynamicImage::ImageRgba16(half)));
    assert!(is_near(plate.get_pixel(16, 16).0, [188; 3], 2));
}

#[test]
fn plates_are_bounded_and_never_enlarged() {
    let sizes = [
        (3480_u32, 900_u32, [(2900, 750), (1600, 414), (400, 103)]),
        (500, 5800, [(250, 2900), (138, 1600), (34, 400)]),
        (640, 480, [(640, 480), (640, 480), (400, 300)]),
        (64, 48, [(64, 48); 3]),
    ];
    for (width, height, expected) in sizes {
        let developed = develop_plain(&jpeg(&corners(width, height), 90));
        let plates = [developed.print, developed.screen, developed.thumb].map(Option::unwrap);
        let edges = [PRINT_EDGE, SCREEN_EDGE, THUMB_EDGE];
        for ((plate, size), edge) in plates.iter().zip(expected).zip(edges) {
            assert_eq!((plate.width, plate.height), size);
            assert_eq!(pixels(&plate.jpeg).dimensions(), size);
            assert!(plate.width.max(plate.height) <= edge);
        }
    }
    // One pixel high, and longer than a plate.
    let line = develop_plain(&png(&DynamicImage::ImageRgb8(corners(7000, 1))));
    let plate = line.print.unwrap();
    assert_eq!((plate.width, plate.height), (2900, 1));
}

#[test]
fn colours_are_not_subsampled_and_the_profile_is_srgb() {
    let developed = develop_plain(&jpeg(&corners(64, 64), 90));
    for plate in [developed.print, developed.screen, developed.thumb] {
        let plate = plate.unwrap().jpeg;
        assert!(holds(&plate, srgb_profile()));
        let frame = plate.windows(2).position(|w| w == [0xFF, 0xC0]).unwrap();
        // Source, published: ITU-T T.81, B.2.2: three components, each with sampling factors 1 and 1.
        assert_eq!(
            [plate[frame + 11], plate[frame + 14], plate[frame + 17]],
            [0x11; 3]
        );
    }
}

#[test]
fn an_embedded_adobe_rgb_profile_is_honoured() {
    let picture = RgbImage::from_pixel(32, 32, Rgb([100, 180, 90]));
    let icc = moxcms::ColorProfile::new_adobe_rgb().encode().unwrap();
    let developed = develop_plain(&jpeg_with_profile(&picture, icc.clone()));
    assert_eq!(developed.facts.colour.treatment, Treatment::ByCurves);
    assert!(
        matches!(&developed.facts.colour.found, ProfileFound::Profile { name } if name.contains("Adobe RGB"))
    );
    // The same colour through the reference library's own way.
    let profile = moxcms::ColorProfile::new_from_slice(&icc).unwrap();
    let layout = moxcms::Layout::Rgb;
    let transform = profile
        .create_transform_8bit(
            layout,
            &moxcms::ColorProfile::new_srgb(),
            layout,
            Default::default(),
        )
        .unwrap();
    let mut expected = [0_u8; 3];
    transform.transform(&[100, 180, 90], &mut expected).unwrap();
    let got = pixels(&developed.print.unwrap().jpeg).get_pixel(16, 16).0;
    assert!(is_near(got, expected, 2), "{got:?}, not {expected:?}");
    assert!(
        !is_near(expected, [100, 180, 90], 10),
        "the profile must make a difference"
    );
}

#[test]
fn adobe_rgb_on_the_word_of_exif_gives_the_same_as_its_profile() {
    let picture = RgbImage::from_pixel(32, 32, Rgb([100, 180, 90]));
    let by_profile = jpeg_with_profile(
        &picture,
        moxcms::ColorProfile::new_adobe_rgb().encode().unwrap(),
    );
    let block = ExifBlock {
        exif: vec![Entry::short(0xA001, 0xFFFF)],
        interop: vec![Entry::text(1, "R03")],
        ..ExifBlock::default()
    };
    let by_exif = with_exif(&jpeg(&picture, 98), block);
    let facts = look(&by_exif).colour;
    assert_eq!(
        (facts.found, facts.treatment),
        (ProfileFound::ExifAdobeRgb, Treatment::TakenAsAdobeRgb)
    );
    let (a, b) = (print_pixels(&by_profile), print_pixels(&by_exif));
    assert!(is_near(a.get_pixel(9, 9).0, b.get_pixel(9, 9).0, 1));
}

#[test]
fn a_photo_without_a_profile_is_srgb_and_says_so() {
    let plain = look(&jpeg(&corners(32, 32), 90)).colour;
    assert_eq!(
        (plain.found, plain.treatment),
        (ProfileFound::Nothing, Treatment::TakenAsSrgb)
    );
    let block = ExifBlock {
        exif: vec![Entry::short(0xA001, 0xFFFF)],
        ..ExifBlock::default()
    };
    let uncalibrated = look(&with_exif(&jpeg(&corners(32, 32), 90), block)).colour;
    assert_eq!(uncalibrated.found, ProfileFound::ExifUncalibrated);
}

#[test]
fn a_broken_profile_is_set_aside_and_said_so() {
    let picture = RgbImage::from_pixel(32, 32, Rgb([100, 180, 90]));
    let developed = develop_plain(&jpeg_with_profile(&picture, vec![7; 300]));
    assert_eq!(developed.facts.colour.found, ProfileFound::BrokenProfile);
    assert_eq!(developed.facts.colour.treatment, Treatment::ProfileSetAside);
    assert!(is_near(
        pixels(&developed.print.unwrap().jpeg).get_pixel(9, 9).0,
        [100, 180, 90],
        2
    ));
}

#[test]
fn an_srgb_profile_changes_nothing() {
    let picture = RgbImage::from_fn(64, 64, |x, y| Rgb([(x * 4) as u8, (y * 4) as u8, 128]));
    let bytes = |icc: Option<&[u8]>| {
        let mut out = Vec::new();
        let mut encoder = image::codecs::png::PngEncoder::new(&mut out);
        if let Some(icc) = icc {
            image::ImageEncoder::set_icc_profile(&mut encoder, icc.to_vec()).unwrap();
        }
        image::ImageEncoder::write_image(encoder, &picture, 64, 64, image::ExtendedColorType::Rgb8)
            .unwrap();
        out
    };
    let with = develop_plain(&bytes(Some(srgb_profile())));
    assert_eq!(with.facts.colour.treatment, Treatment::ByCurves);
    assert_eq!(with.print, develop_plain(&bytes(None)).print);
}

/// A photo with a place, serial numbers, an owner, a thumbnail and XMP aboard.
fn tell_tale() -> Vec<u8> {
    let block = ExifBlock {
        first: vec![Entry::short(0x0112, 6), Entry::text(0x013B, "ARTIST-ZZYX")],
        exif: vec![
            Entry::text(0x9003, "2026:06:21 14:05:09"),
            Entry::text(0x9011, "+02:00"),
            Entry::text(0xA430, "OWNER-ZZYX"),
            Entry::text(0xA431, "SERIAL-ZZYX"),
            Entry::text(0xA435, "LENS-ZZYX"),
        ],
        gps: vec![
            Entry::text(1, "N"),
            Entry::rationals(2, &[(54, 1), (3_133_773, 60_000), (0, 1)]),
        ],
        thumbnail: Some([b"THUMB-ZZYX".as_slice(), &jpeg(&corners(16, 16), 50)].concat()),
        ..ExifBlock::default()
    };
    let xmp = b"http://ns.adobe.com/xap/1.0/\0<x:xmpmeta exif:GPSLatitude=\"54,XMP-ZZYX\"/>";
    let trailer = b"TRAILER-ZZYX";
    let bytes = with_segment(&with_exif(&jpeg(&tapestry(600, 400), 92), block), 0xE1, xmp);
    let bytes = with_segment(&bytes, 0xFE, b"COMMENT-ZZYX");
    [bytes.as_slice(), trailer].concat()
}

#[test]
fn place_serial_numbers_owner_and_thumbnail_are_noticed_and_do_not_reach_a_plate() {
    let bytes = tell_tale();
    let developed = develop_plain(&bytes);
    let private = developed.facts.private;
    assert!(private.gps && private.serials && private.owner && private.thumbnail && private.any());
    assert_eq!(
        developed.facts.taken.as_deref(),
        Some("2026-06-21T14:05:09+02:00")
    );
    let coordinate = 3_133_773_u32.to_be_bytes();
    assert!(holds(&bytes, b"ZZYX") && holds(&bytes, &coordinate));
    for plate in [developed.print, developed.screen, developed.thumb].map(Option::unwrap) {
        for secret in [
            b"ZZYX".as_slice(),
            b"Exif",
            b"GPS",
            b"xmp",
            b"2026:06",
            &coordinate,
        ] {
            assert!(
                !holds(&plate.jpeg, secret),
                "{}",
                String::from_utf8_lossy(secret)
            );
        }
        // Besides the picture there are the JFIF header and the profile: one APP0 and one APP2.
        assert_eq!(segments(&plate.jpeg), [0xE0, 0xE2]);
        // Nothing follows the end marker.
        assert_eq!(plate.jpeg[plate.jpeg.len() - 2..], [0xFF, 0xD9]);
    }
}

#[test]
fn words_in_a_plate_leave_its_picture_and_its_profile_alone() {
    let bare = develop_plain(&jpeg(&tapestry(200, 160), 90)).print.unwrap();
    let words = PlateWords {
        title: "Low Water, & High".to_string(),
        alt: "Six dark piles in pale blue water.".to_string(),
        ..PlateWords::default()
    };
    let told = inscribe(&bare.jpeg, &words);
    assert_eq!(segments(&told), [0xE0, 0xE1, 0xE2]);
    assert!(holds(&told, b"Low Water, &amp; High") && holds(&told, srgb_profile()));
    assert_eq!(pixels(&told), pixels(&bare.jpeg));
    assert!(!look(&told).private.any());
    // The same again, and other words, come from the told plate as from the bare one.
    assert_eq!(inscribe(&told, &words), told);
    let none = PlateWords::default();
    assert_eq!(inscribe(&told, &none), inscribe(&bare.jpeg, &none));
}

/// The application and comment segments of a JPEG, in their order.
fn segments(jpeg: &[u8]) -> Vec<u8> {
    let mut found = Vec::new();
    let mut at = 2;
    while jpeg[at + 1] != 0xDA {
        if matches!(jpeg[at + 1], 0xE0..=0xEF | 0xFE) {
            found.push(jpeg[at + 1]);
        }
        at += 2 + usize::from(u16::from_be_bytes([jpeg[at + 2], jpeg[at + 3]]));
    }
    found
}

#[test]
fn a_tiff_is_turned_upright_and_searched_for_private_facts_too() {
    // The first directory of a TIFF written here, moved to the end with two entries more.
    let bytes = tiff(&DynamicImage::ImageRgb8(corners(48, 32)));
    let at = u32::from_le_bytes(bytes[4..8].try_into().unwrap()) as usize;
    let count = usize::from(u16::from_le_bytes([bytes[at], bytes[at + 1]]));
    let mut entries: Vec<[u8; 12]> = bytes[at + 2..at + 2 + 12 * count].as_chunks().0.to_vec();
    let mut out = bytes.clone();
    out.resize(out.len().next_multiple_of(2), 0);
    let artist = out.len() as u32;
    out.extend(b"ARTIST-ZZYX\0");
    entries.retain(|e| e[..2] != [0x12, 0x01]);
    entries.push([0x12, 0x01, 3, 0, 1, 0, 0, 0, 3, 0, 0, 0]);
    let [a, b, c, d] = artist.to_le_bytes();
    entries.push([0x3B, 0x01, 2, 0, 12, 0, 0, 0, a, b, c, d]);
    entries.sort_by_key(|e| u16::from_le_bytes([e[0], e[1]]));
    let directory = out.len() as u32;
    out.extend((entries.len() as u16).to_le_bytes());
    out.extend(entries.as_flattened());
    out.extend([0; 4]);
    out[4..8].copy_from_slice(&directory.to_le_bytes());
    let developed = develop_plain(&out);
    assert_eq!(developed.facts.fault, None);
    assert_eq!(developed.facts.orientation, 3);
    assert!(developed.facts.private.owner);
    let plate = developed.print.unwrap().jpeg;
    assert!(!holds(&plate, b"ZZYX"));
    // Turned half round, the lower right has come to the upper left.
    assert!(is_near(pixels(&plate).get_pixel(6, 4).0, [250; 3], 10));
}

#[test]
fn a_photo_with_nothing_private_is_not_suspected() {
    let private = look(&with_exif(
        &jpeg(&corners(32, 32), 90),
        ExifBlock::oriented(1),
    ))
    .private;
    assert!(!private.any(), "{private:?}");
}

#[test]
fn the_same_photo_gives_the_same_bytes_with_one_thread_and_with_two() {
    use rayon::prelude::*;
    let photos: Vec<Vec<u8>> = (0..4)
        .map(|i| jpeg(&tapestry(900 + 10 * i, 700), 90))
        .collect();
    let ask = Ask {
        ladder: Some(Default::default()),
        ..Ask::default()
    };
    let with = |threads| {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap();
        pool.install(|| {
            photos
                .par_iter()
                .map(|bytes| develop(bytes, &ask))
                .collect::<Vec<_>>()
        })
    };
    assert_eq!(with(1), with(2));
}
