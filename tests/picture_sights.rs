//! What the photographs say of themselves: sharpness, burnt parts, light on the wall, likeness, and the
//! colours with their areas. Checked on pictures whose answer is known because they were made with it.

mod picture_support;

use image::{DynamicImage, Rgb, RgbImage, imageops};
use offloom::picture::{
    Ask, Fault, LadderAsk, Measures, Shade, Side, Treatment, decode_srgb, develop, encode_srgb,
    look,
};
use picture_support::*;

type Corners = [[f64; 2]; 4];

fn asked(corners: Option<Corners>) -> Ask {
    Ask {
        ladder: Some(LadderAsk {
            corners,
            began: Side::Foot,
        }),
        proportion: None,
    }
}

fn measures(bytes: &[u8], corners: Option<Corners>) -> Measures {
    develop(bytes, &asked(corners))
        .measures
        .expect("the photo was decoded")
}

fn whole(picture: &RgbImage) -> Corners {
    let (w, h) = (f64::from(picture.width()), f64::from(picture.height()));
    [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]]
}

#[test]
fn a_photo_that_lost_its_sharpness_is_told_from_a_sharp_one() {
    let sharp = tapestry(900, 700);
    let spread = |picture: &RgbImage| {
        measures(&jpeg(picture, 92), None)
            .spread
            .expect("there are edges")
    };
    assert!(spread(&sharp) < 0.8, "{}", spread(&sharp));
    // Source, reference library: the blur of the image crate, of a stated standard deviation; the shapes of
    // the picture are steps, so their edges are spread by as much.
    for wanted in [2.0_f32, 3.0, 4.0] {
        let found = spread(&imageops::blur(&sharp, wanted));
        assert!(
            (found / f64::from(wanted) - 1.0).abs() < 0.2,
            "{found}, not {wanted}"
        );
    }
}

#[test]
fn a_large_soft_photo_is_judged_as_it_is_printed() {
    // Blurred by 3 pixels of 3600; a plate has 2400, in which that is 2.
    let soft = imageops::blur(&tapestry(3600, 1200), 3.0);
    let found = measures(&jpeg(&soft, 92), None)
        .spread
        .expect("there are edges");
    assert!((1.6..2.4).contains(&found), "{found}");
}

#[test]
fn what_is_burnt_out_and_what_is_drowned_are_counted_over_the_piece_alone() {
    // A piece of 400 by 300 on a burnt-out wall: an eighth of it white, a quarter black.
    let photo = RgbImage::from_fn(600, 500, |x, y| {
        let (x, y) = (x.wrapping_sub(100), y.wrapping_sub(100));
        Rgb(match (x, y) {
            (0..50, 0..300) => [255; 3],
            (50..400, 0..300) if x < 150 => [0; 3],
            (0..400, 0..300) => [140, 120, 90],
            _ => [255; 3],
        })
    });
    let corners = [
        [100.0, 100.0],
        [500.0, 100.0],
        [500.0, 400.0],
        [100.0, 400.0],
    ];
    let found = measures(&png(&DynamicImage::ImageRgb8(photo)), Some(corners));
    // Source, exact case: 50 of 400 columns and 100 of 400.
    assert!((found.burnt - 0.125).abs() < 0.003, "{found:?}");
    assert!((found.drowned - 0.25).abs() < 0.003, "{found:?}");
    assert_eq!(found.across, (400, 300));
}

/// A wall whose light falls by `fall` of its mean from left to right, with the piece upon it.
fn in_light_that_falls(fall: f64) -> RgbImage {
    let mut photo = RgbImage::from_fn(800, 640, |x, _| {
        let part = 1.0 - fall * ((f64::from(x) + 0.5) / 800.0 - 0.5);
        Rgb([(encode_srgb(0.5 * part) * 255.0).round() as u8; 3])
    });
    imageops::overlay(&mut photo, &tapestry(560, 420), 120, 110);
    photo
}

#[test]
fn light_that_falls_off_across_the_wall_is_told_by_how_much() {
    let corners = [
        [120.0, 110.0],
        [680.0, 110.0],
        [680.0, 530.0],
        [120.0, 530.0],
    ];
    // Source, exact case: light that falls in a straight line by a stated share.
    for fall in [0.0, 0.2, 0.6] {
        let bytes = jpeg(&in_light_that_falls(fall), 92);
        let found = measures(&bytes, Some(corners))
            .uneven
            .expect("a plain wall");
        assert!((found - fall).abs() < 0.02, "{found}, not {fall}");
        assert_eq!(measures(&bytes, None).uneven, None);
    }
}

#[test]
fn the_same_picture_is_known_again_and_another_is_not_taken_for_it() {
    let picture = tapestry(900, 700);
    let like = |picture: &RgbImage, quality| {
        measures(&jpeg(picture, quality), None)
            .likeness
            .expect("it is not of one tone")
    };
    let own = like(&picture, 92);
    let apart = |other: u64| (own ^ other).count_ones();
    let half = imageops::resize(&picture, 450, 350, imageops::FilterType::Triangle);
    assert!(apart(like(&half, 92)) <= 4);
    assert!(apart(like(&picture, 30)) <= 4);
    assert!(apart(like(&imageops::brighten(&picture, 20), 92)) <= 8);
    assert!(apart(like(&imageops::flip_horizontal(&picture), 92)) > 12);
    assert!(apart(like(&imageops::rotate180(&picture), 92)) > 12);
    assert!(apart(like(&corners(900, 700), 92)) > 12);
    let grey = RgbImage::from_pixel(300, 300, Rgb([120; 3]));
    assert_eq!(measures(&jpeg(&grey, 92), None).likeness, None);
}

const YARNS: [[u8; 3]; 4] = [
    [38, 52, 66],
    [196, 178, 120],
    [172, 62, 44],
    [222, 214, 196],
];

/// Four yarns in level bands of 1/8, 3/8, 1/4 and 1/4 of the height from the foot; `light` is what falls on
/// each place, 1 for the full light.
fn banded(light: impl Fn(f64, f64) -> f64) -> RgbImage {
    RgbImage::from_fn(640, 480, |x, y| {
        let yarn = match 479 - y {
            0..60 => 0,
            60..240 => 1,
            240..360 => 2,
            _ => 3,
        };
        let part = light((f64::from(x) + 0.5) / 640.0, (f64::from(y) + 0.5) / 480.0);
        Rgb(YARNS[yarn].map(|v: u8| {
            let lit = decode_srgb(f64::from(v) / 255.0) * part;
            (encode_srgb(lit.min(1.0)) * 255.0).round() as u8
        }))
    })
}

fn shades(picture: &RgbImage, corners: Corners) -> Vec<Shade> {
    let developed = develop(
        &png(&DynamicImage::ImageRgb8(picture.clone())),
        &asked(Some(corners)),
    );
    developed.ladder.expect("a ladder was asked for").shades
}

/// Thousandths of the area in colours near a yarn's.
fn part_of(shades: &[Shade], yarn: [u8; 3], tolerance: u8) -> u32 {
    shades
        .iter()
        .filter(|s| is_near([s.colour.r, s.colour.g, s.colour.b], yarn, tolerance))
        .map(|s| s.thousandths)
        .sum()
}

#[test]
fn the_palette_has_the_yarns_and_their_areas_and_adds_up() {
    let picture = banded(|_, _| 1.0);
    let found = shades(&picture, whole(&picture));
    assert_eq!(found.len(), 4, "{found:?}");
    assert_eq!(found.iter().map(|s| s.thousandths).sum::<u32>(), 1000);
    // Source, exact case: the bands as drawn; 1.2 % at each edge of the cloth is left off.
    for (yarn, part) in YARNS.iter().zip([125, 375, 250, 250_u32]) {
        let have = part_of(&found, *yarn, 2);
        assert!(have.abs_diff(part) <= 12, "{yarn:?}: {have}, not {part}");
    }
    assert!(found.is_sorted_by(|a, b| a.thousandths >= b.thousandths));
}

#[test]
fn a_shadow_over_part_of_the_piece_makes_no_new_yarns() {
    // Light that falls by three tenths across the piece, and a soft shadow along its left edge.
    let slope = banded(|x, _| 1.0 - 0.3 * x);
    let edge = banded(|x, _| 1.0 - 0.25 * (1.0 - x / 0.08).max(0.0));
    for (what, picture) in [("slope", slope), ("edge", edge)] {
        let found = shades(&picture, whole(&picture));
        let listed: Vec<_> = found.iter().filter(|s| s.thousandths >= 10).collect();
        assert_eq!(listed.len(), 4, "{what}: {found:?}");
        for (yarn, part) in YARNS.iter().zip([125, 375, 250, 250_u32]) {
            let have = part_of(&found, *yarn, 30);
            assert!(
                have.abs_diff(part) <= 25,
                "{what}: {yarn:?}: {have}, not {part}: {found:?}"
            );
        }
    }
}

#[test]
fn wall_at_the_edge_does_not_reach_the_palette_when_a_corner_is_a_little_off() {
    let piece = banded(|_, _| 1.0);
    let mut photo = RgbImage::from_pixel(840, 680, Rgb([120, 160, 110]));
    imageops::overlay(&mut photo, &piece, 100, 100);
    // Each corner 6 pixels outside the cloth: just under one in a hundred of its width.
    let corners = [[94.0, 94.0], [746.0, 94.0], [746.0, 586.0], [94.0, 586.0]];
    let found = shades(&photo, corners);
    assert_eq!(part_of(&found, [120, 160, 110], 20), 0, "{found:?}");
    assert_eq!(found.len(), 4, "{found:?}");
}

#[test]
fn the_room_of_a_plate_is_the_catalogue_pages() {
    // The check of the pixels to the inch holds these measures; the page must not move away from them.
    let style = include_str!("../templates/style.typ");
    let page = include_str!("../templates/catalogue-page.typ");
    assert!(style.contains("left: sheet.at(0) * 34 / 210"));
    assert!(style.contains("right: sheet.at(0) * 26 / 210"));
    assert!(page.contains("data.plate.ratio <= 0.75"));
    assert!(page.contains("wide - 56mm - gutter") && page.contains("#let gutter = 8mm"));
}

fn bytes_of(hex: &str) -> Vec<u8> {
    data_encoding::HEXLOWER
        .decode(hex.as_bytes())
        .expect("hexadecimal digits")
}

/// Black on the left half and white on the right, 48 by 40 pixels of one bit each.
const ONE_BIT_PNG: &str = "89504e470d0a1a0a0000000d494844520000003000000028010000000090fc44dc0000001749444154789c63646060f8cfc0c0c4c0c0c0304a2128003fd3014f3eb63c4b0000000049454e44ae426082";
/// Red, then blue; 48 by 40 pixels, two pictures after each other.
const MOVING_WEBP: &str = "524946468800000057454250565038580a000000020000002f0000270000414e494d06000000000000000000414e4d462a0000000000000000002f0000270000640000025650384c110000002f2fc009000750942217a5ff8188e87f0000414e4d462a0000000000000000002f0000270000640000005650384c110000002f2fc00900075094a214b9ff8188e87f0000";

#[test]
fn a_picture_of_one_bit_is_read_as_black_and_white() {
    let developed = develop(&bytes_of(ONE_BIT_PNG), &Ask::default());
    assert_eq!(developed.facts.fault, None);
    let plate = pixels(&developed.print.expect("a plate").jpeg);
    assert!(is_near(plate.get_pixel(8, 20).0, [0; 3], 8));
    assert!(is_near(plate.get_pixel(40, 20).0, [255; 3], 8));
}

#[test]
fn a_moving_picture_gives_its_first_or_a_fault_and_never_half_of_one() {
    let developed = develop(&bytes_of(MOVING_WEBP), &Ask::default());
    match (developed.print, developed.facts.fault) {
        (Some(plate), None) => {
            let plate = pixels(&plate.jpeg);
            assert!(plate.pixels().all(|p| is_near(p.0, [200, 40, 40], 12)));
        }
        (None, Some(_)) => {}
        other => panic!("{other:?}"),
    }
}

#[test]
fn exif_that_leads_round_in_a_ring_is_left_behind() {
    // The directory names itself as the next one and as the one below it.
    let mut block = b"Exif\0\0MM\0\x2a\0\0\0\x08".to_vec();
    block.extend(2_u16.to_be_bytes());
    block.extend([0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0]);
    block.extend([0x87, 0x69, 0, 4, 0, 0, 0, 1, 0, 0, 0, 8]);
    block.extend(8_u32.to_be_bytes());
    let picture = corners(64, 48);
    let developed = develop(
        &with_segment(&jpeg(&picture, 90), 0xE1, &block),
        &Ask::default(),
    );
    assert_eq!(developed.facts.fault, None);
    assert!(developed.print.is_some());
}

#[test]
fn a_profile_of_megabytes_costs_no_photo() {
    let picture = RgbImage::from_pixel(32, 32, Rgb([100, 180, 90]));
    let facts = look(&jpeg_with_profile(&picture, vec![7; 4 << 20]));
    assert_eq!(facts.fault, None);
    assert_eq!(facts.colour.treatment, Treatment::ProfileSetAside);
}

#[test]
fn a_picture_under_the_wrong_ending_is_read_for_what_it_is() {
    // Names are not looked at: bytes of a PNG are a PNG, and text is no JPEG whatever it is called.
    let developed = develop(
        &png(&DynamicImage::ImageRgb8(corners(64, 48))),
        &Ask::default(),
    );
    assert_eq!(developed.facts.format.to_string(), "PNG");
    assert!(developed.print.is_some());
    assert!(matches!(
        look(b"title: Low Water\n").fault,
        Some(Fault::NotAPicture { .. })
    ));
}
