//! A photographed piece is squared up to its true rectangle, and its corners are found where they are.

mod picture_support;

use image::{Rgb, RgbImage};
use offloom::picture::{
    Ask, CornerTrouble, Developed, LadderAsk, NotFound, Note, PRINT_EDGE, Side, Sureness, develop,
    find_corners,
};
use picture_support::*;
use std::path::Path;

/// A pinhole camera before a plane, and the plane's places in its picture. Written for these tests from the
/// camera's definition: it shares nothing with the program.
struct Camera {
    /// From the plane (x, y, 1) to the picture, homogeneous.
    to: [[f64; 3]; 3],
    /// And back.
    back: [[f64; 3]; 3],
}

impl Camera {
    /// Turned by three angles in degrees, `away` from the plane's origin, which it sees at `middle`; `focal` in
    /// pixels.
    fn new([pan, tilt, roll]: [f64; 3], away: f64, focal: f64, middle: [f64; 2]) -> Self {
        let (pan, tilt, roll) = (pan.to_radians(), tilt.to_radians(), roll.to_radians());
        let turned = |x: f64, y: f64| {
            let (x, y) = (
                x * libm::cos(roll) - y * libm::sin(roll),
                x * libm::sin(roll) + y * libm::cos(roll),
            );
            let (x, z) = (x * libm::cos(pan), x * libm::sin(pan));
            [
                x,
                y * libm::cos(tilt) - z * libm::sin(tilt),
                y * libm::sin(tilt) + z * libm::cos(tilt),
            ]
        };
        let (a, b) = (turned(1.0, 0.0), turned(0.0, 1.0));
        let row = |k: usize| {
            [
                focal * a[k] + middle[k] * a[2],
                focal * b[k] + middle[k] * b[2],
                middle[k] * away,
            ]
        };
        let to = [row(0), row(1), [a[2], b[2], away]];
        let minor = |r: usize, c: usize| {
            let (r1, r2, c1, c2) = ((r + 1) % 3, (r + 2) % 3, (c + 1) % 3, (c + 2) % 3);
            to[r1][c1] * to[r2][c2] - to[r1][c2] * to[r2][c1]
        };
        let back = std::array::from_fn(|r| std::array::from_fn(|c| minor(c, r)));
        Self { to, back }
    }

    fn through(m: &[[f64; 3]; 3], [x, y]: [f64; 2]) -> [f64; 2] {
        let [u, v, w] = [0, 1, 2].map(|r| m[r][0] * x + m[r][1] * y + m[r][2]);
        [u / w, v / w]
    }

    /// The picture's corners of a piece of the given width and height around the plane's origin.
    fn corners(&self, [w, h]: [f64; 2]) -> [[f64; 2]; 4] {
        [[-w, -h], [w, -h], [w, h], [-w, h]]
            .map(|[x, y]| Self::through(&self.to, [x / 2.0, y / 2.0]))
    }

    /// A photograph: `colour` gives linear light at a place of the plane and of the picture.
    fn photograph(
        &self,
        [w, h]: [u32; 2],
        colour: impl Fn([f64; 2], [f64; 2]) -> [f64; 3],
    ) -> RgbImage {
        const FINE: u32 = 3;
        RgbImage::from_fn(w, h, |x, y| {
            let mut sum = [0.0; 3];
            for n in 0..FINE * FINE {
                let part = |n: u32| (f64::from(n) + 0.5) / f64::from(FINE);
                let at = [f64::from(x) + part(n % FINE), f64::from(y) + part(n / FINE)];
                let here = colour(Self::through(&self.back, at), at);
                (0..3).for_each(|c| sum[c] += here[c] / f64::from(FINE * FINE));
            }
            let value = |v: f64| offloom::picture::encode_srgb(v.clamp(0.0, 1.0)) * 255.0 + 0.5;
            Rgb(sum.map(|v| value(v) as u8))
        })
    }
}

/// A die that falls the same way every time.
struct Die(u64);

impl Die {
    fn next(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as f64 / f64::from(1_u32 << 31)
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }
}

fn light(rgb: [u8; 3]) -> [f64; 3] {
    rgb.map(|v| offloom::picture::decode_srgb(f64::from(v) / 255.0))
}

const WALLS: [[u8; 3]; 5] = [
    [226, 221, 211],
    [240, 240, 238],
    [176, 182, 186],
    [120, 62, 54],
    [58, 62, 66],
];

/// Yarns of an invented studio.
const YARNS: [[u8; 3]; 8] = [
    [38, 52, 86],
    [92, 132, 78],
    [206, 168, 60],
    [172, 62, 44],
    [70, 120, 160],
    [40, 40, 44],
    [150, 84, 120],
    [96, 74, 52],
];

/// Levels of the wall's and the yarns' colours apart: at least so far that an eye sees an edge.
fn stands_out(yarn: [u8; 3], wall: [u8; 3]) -> bool {
    let apart: u32 = yarn
        .iter()
        .zip(wall)
        .map(|(a, b)| u32::from(a.abs_diff(b)))
        .sum();
    apart > 100
}

#[test]
fn corners_of_fifty_generated_photos_are_found() {
    let mut die = Die(11);
    let (mut worst, mut sure) = (0.0_f64, 0);
    for number in 0..50 {
        let size = [800, 600];
        let diagonal = libm::hypot(800.0, 600.0);
        let wall_colour = WALLS[number % WALLS.len()];
        let yarns: Vec<[f64; 3]> = YARNS
            .iter()
            .filter(|y| stands_out(**y, wall_colour))
            .map(|y| light(*y))
            .collect();
        let ratio = die.between(0.55, 1.8);
        let piece = [ratio.sqrt(), 1.0 / ratio.sqrt()];
        let turns = [
            die.between(-18.0, 18.0),
            die.between(-14.0, 14.0),
            die.between(-6.0, 6.0),
        ];
        let away = die.between(1.05, 1.5) * 1.9 * piece[0].max(piece[1] * 4.0 / 3.0);
        let middle = [
            400.0 + die.between(-15.0, 15.0),
            300.0 + die.between(-12.0, 12.0),
        ];
        let camera = Camera::new(turns, away, 1.25 * 800.0, middle);
        let bands = die.between(3.0, 9.0);
        let (fall, from) = (
            die.between(0.0, 0.25),
            [die.between(0.0, 1.0), die.between(0.0, 1.0)],
        );
        let wall = light(wall_colour);
        let shadow = die.between(0.0, 0.3);
        let noise = std::cell::RefCell::new(Die(number as u64 + 1));
        let photo = camera.photograph(size, |[x, y], at| {
            let within = |x: f64, y: f64| {
                let out = |v: f64, edge: f64| (v.abs() - edge / 2.0).max(0.0);
                libm::hypot(out(x, piece[0]), out(y, piece[1]))
            };
            let colour = if within(x, y) == 0.0 {
                // Bands with a slanting shape in every other; ribs across.
                let band = ((y / piece[1] + 0.5) * bands) as usize;
                let shape = (x / piece[0] + 0.2 * y).abs() < 0.2 && band.is_multiple_of(2);
                let yarn = yarns[(band + usize::from(shape) * 3 + number) % yarns.len()];
                let rib = 1.0 + 0.15 * libm::sin(x * 260.0);
                yarn.map(|v| v * rib)
            } else {
                // A soft shadow below and to the right.
                let far = within(x - 0.012, y - 0.025);
                wall.map(|v| v * (1.0 - shadow * libm::exp(-(far / 0.03) * (far / 0.03))))
            };
            let far = libm::hypot(at[0] / 800.0 - from[0], at[1] / 600.0 - from[1]);
            let grain = 1.0 + 0.06 * (noise.borrow_mut().next() - 0.5);
            colour.map(|v| v * (1.0 - fall * far * far) * grain)
        });
        let found =
            find_corners(&jpeg(&photo, 92)).unwrap_or_else(|e| panic!("photo {number}: {e}"));
        let true_corners = camera.corners(piece);
        for (found, wanted) in found.corners.iter().zip(true_corners) {
            let off = libm::hypot(found[0] - wanted[0], found[1] - wanted[1]) / diagonal;
            worst = worst.max(off);
            // Source, exact case: the corners are those the photo was made with.
            assert!(off < 0.005, "photo {number}: {found:?} is not {wanted:?}");
        }
        sure += usize::from(found.sure == Sureness::Sure);
    }
    assert!(
        sure >= 45,
        "{sure} of 50 are sure; the worst is off by {worst}"
    );
}

/// The front photos of the sample archive and the corners their maker wrote down.
fn samples() -> Vec<(String, Vec<u8>, [[f64; 2]; 4])> {
    let pieces = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-archive/pieces");
    let mut found = Vec::new();
    for entry in std::fs::read_dir(pieces).unwrap() {
        let folder = entry.unwrap().path();
        let text = std::fs::read_to_string(folder.join("piece.yaml")).unwrap();
        let piece: serde_yaml::Value = serde_yaml::from_str(&text).unwrap();
        for photo in piece["photos"].as_sequence().unwrap() {
            if photo["view"] == "front" && !photo["corners"].is_null() {
                let file = photo["file"].as_str().unwrap();
                let bytes = std::fs::read(folder.join("photos").join(file)).unwrap();
                let corners = serde_yaml::from_value(photo["corners"].clone()).unwrap();
                found.push((folder.display().to_string(), bytes, corners));
            }
        }
    }
    assert!(found.len() >= 6);
    found
}

#[test]
fn corners_of_the_sample_photos_are_found() {
    for (name, bytes, corners) in samples() {
        let found = find_corners(&bytes).unwrap_or_else(|e| panic!("{name}: {e}"));
        let size = develop(&bytes, &Ask::default()).facts.upright.unwrap();
        let diagonal = libm::hypot(f64::from(size.width), f64::from(size.height));
        for (found, wanted) in found.corners.iter().zip(corners) {
            let off = libm::hypot(found[0] - wanted[0], found[1] - wanted[1]) / diagonal;
            // Source, exact case: the corners are those the photo was made with.
            assert!(off < 0.005, "{name}: {off} {found:?} is not {wanted:?}");
        }
    }
}

#[test]
fn where_no_corners_can_be_found_the_reason_is_told() {
    let find = |photo: &RgbImage| find_corners(&jpeg(photo, 92)).unwrap_err();
    assert_eq!(find(&tapestry(500, 600)), NotFound::NoWall);
    let wall = RgbImage::from_pixel(500, 400, Rgb(WALLS[0]));
    assert_eq!(find(&wall), NotFound::Nothing);
    let mut cut_off = wall.clone();
    image::imageops::overlay(&mut cut_off, &tapestry(300, 300), 260, 100);
    assert!(
        matches!(find(&cut_off), NotFound::CutOff | NotFound::NoWall),
        "{:?}",
        find(&cut_off)
    );
    let round = RgbImage::from_fn(500, 400, |x, y| {
        let far = libm::hypot(f64::from(x) - 250.0, f64::from(y) - 200.0);
        Rgb(if far < 120.0 { YARNS[0] } else { WALLS[0] })
    });
    assert_eq!(find(&round), NotFound::NotFourSided);
    assert!(matches!(
        find_corners(b"title: Low Water\n"),
        Err(NotFound::Fault(_))
    ));
}

const QUARTERS: [[u8; 3]; 4] = [[180, 40, 40], [40, 140, 60], [40, 60, 170], [210, 180, 60]];

/// A piece of four quarters, 1.6 wide and 1 high, photographed aslant on a pale wall; its corners.
fn quarters() -> (RgbImage, [[f64; 2]; 4]) {
    let camera = Camera::new([24.0, -15.0, 2.0], 2.6, 1100.0, [430.0, 310.0]);
    let photo = camera.photograph([900, 640], |[x, y], _| {
        if x.abs() < 0.8 && y.abs() < 0.5 {
            light(QUARTERS[usize::from(x > 0.0) + 2 * usize::from(y > 0.0)])
        } else {
            light(WALLS[0])
        }
    });
    (photo, camera.corners([1.6, 1.0]))
}

fn squared(bytes: &[u8], corners: [[f64; 2]; 4], proportion: f64) -> Developed {
    let ladder = Some(LadderAsk {
        corners: Some(corners),
        began: Side::Foot,
    });
    let proportion = Some(proportion);
    develop(bytes, &Ask { ladder, proportion })
}

/// That a plate shows four equal quarters to its very edges, and nothing else.
fn shows_quarters(plate: &offloom::picture::Plate) {
    assert!((f64::from(plate.width) - 1.6 * f64::from(plate.height)).abs() <= 1.5);
    let pixels = pixels(&plate.jpeg);
    let mut wrong = Vec::new();
    for (x, y, pixel) in pixels.enumerate_pixels() {
        let (u, v) = (
            (f64::from(x) + 0.5) / f64::from(plate.width),
            (f64::from(y) + 0.5) / f64::from(plate.height),
        );
        // Where two quarters meet, colours run into each other.
        let near = |t: f64, edge: f64| (t - edge).abs() < 0.015;
        if near(u, 0.5) || near(v, 0.5) {
            continue;
        }
        // The outermost pixel is in part wall, as the photo's own pixels there are; next to it the filter's ringing and two
        // JPEGs see a little of it. Wall is more than 140 levels from every quarter in some channel.
        let inwards = x.min(plate.width - 1 - x).min(y).min(plate.height - 1 - y);
        let within = match inwards {
            0 => 130,
            1..8 => 60,
            _ => 12,
        };
        let wanted = QUARTERS[usize::from(u > 0.5) + 2 * usize::from(v > 0.5)];
        if !is_near(pixel.0, wanted, within) {
            wrong.push((x, y, pixel.0));
        }
    }
    // Source, exact case: four quarters of one colour each, seen by a pinhole camera.
    assert!(
        wrong.is_empty(),
        "{} pixels: {:?}",
        wrong.len(),
        &wrong[..wrong.len().min(12)]
    );
}

#[test]
fn a_photo_taken_aslant_becomes_the_true_rectangle_and_the_wall_is_gone() {
    let (photo, corners) = quarters();
    let developed = squared(&jpeg(&photo, 95), corners, 1.6);
    let (print, screen) = (developed.print.unwrap(), developed.screen.unwrap());
    shows_quarters(&print);
    shows_quarters(&screen);
    assert!(!developed.ladder.as_ref().unwrap().assumed);
    // The ladder is that of the squared piece: two colours to a band, half and half.
    let bands = &developed.ladder.unwrap().bands;
    for band in bands.iter().take(20).chain(bands.iter().skip(28)) {
        assert_eq!(band.strips.len(), 2, "{band:?}");
        assert!((band.strips[0].share - 0.5).abs() < 0.02, "{band:?}");
    }
    assert!(is_near(
        [
            bands[0].strips[0].colour.r,
            bands[0].strips[0].colour.g,
            bands[0].strips[0].colour.b
        ],
        QUARTERS[2],
        12
    ));
}

#[test]
fn corners_in_any_order_and_a_photo_stored_in_any_of_eight_ways_give_the_same_plate() {
    let (photo, [a, b, c, d]) = quarters();
    for order in [[c, a, d, b], [b, c, d, a], [d, c, b, a]] {
        shows_quarters(&squared(&jpeg(&photo, 95), order, 1.6).print.unwrap());
    }
    use image::imageops::{flip_horizontal, flip_vertical, rotate90, rotate180, rotate270};
    // How each orientation is stored: the turn of the table (CIPA DC-008, tag 0x0112) undone.
    let stored: [RgbImage; 8] = [
        photo.clone(),
        flip_horizontal(&photo),
        rotate180(&photo),
        flip_vertical(&photo),
        flip_horizontal(&rotate90(&photo)),
        rotate270(&photo),
        flip_horizontal(&rotate270(&photo)),
        rotate90(&photo),
    ];
    for (n, stored) in stored.iter().enumerate() {
        let bytes = with_exif(&jpeg(stored, 95), ExifBlock::oriented(n as u16 + 1));
        let developed = squared(&bytes, [a, b, c, d], 1.6);
        assert_eq!(usize::from(developed.facts.orientation), n + 1);
        shows_quarters(&developed.print.unwrap());
    }
}

#[test]
fn a_large_photo_is_squared_to_print_size() {
    let piece = tapestry(3600, 2700);
    let mut photo = RgbImage::from_pixel(4200, 3300, Rgb(WALLS[0]));
    image::imageops::overlay(&mut photo, &piece, 300, 300);
    let corners = [
        [300.0, 300.0],
        [3900.0, 300.0],
        [3900.0, 3000.0],
        [300.0, 3000.0],
    ];
    let developed = squared(&jpeg(&photo, 85), corners, 3600.0 / 2700.0);
    let print = developed.print.unwrap();
    assert_eq!(
        (print.width, print.height),
        (PRINT_EDGE, PRINT_EDGE * 3 / 4)
    );
    let pixels = pixels(&print.jpeg);
    for x in 0..print.width {
        let foot = pixels.get_pixel(x, print.height - 2).0;
        assert!(is_near(foot, [38, 52, 66], 30), "{x}: {foot:?}");
    }
}

#[test]
fn without_figures_or_with_senseless_corners_the_whole_photo_is_shown() {
    let (photo, corners) = quarters();
    let bytes = jpeg(&photo, 95);
    let whole = |developed: &Developed| {
        let print = developed.print.as_ref().unwrap();
        (print.width, print.height) == (900, 640)
    };
    let ladder = Some(LadderAsk {
        corners: Some(corners),
        began: Side::Foot,
    });
    assert!(whole(&develop(
        &bytes,
        &Ask {
            ladder,
            ..Ask::default()
        }
    )));
    let [a, b, c, _] = corners;
    let twice = squared(&bytes, [a, b, c, c], 1.6);
    assert!(whole(&twice));
    assert!(
        twice
            .facts
            .notes
            .contains(&Note::Corners(CornerTrouble::Twice))
    );
    // Height and width swapped.
    let swapped = squared(&bytes, corners, 1.0 / 1.6);
    assert!(whole(&swapped));
    assert!(swapped.facts.notes.contains(&Note::NotSquared));
}
