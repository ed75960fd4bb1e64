//! Squaring up: the piece cut out of its photo along four corners and drawn as the true rectangle it is.
//!
//! Every pixel of the rectangle is looked for in the photo through the projective map of its corners, and read
//! there in linear light with a Lanczos filter of three lobes, widened where the photo is finer than the
//! rectangle, so that the ribs of the cloth do not beat with the pixels. Rows are worked on by every core;
//! each pixel is reckoned alone, so the number of cores changes nothing.

use super::crop::Crop;
use super::facts::Size;
use super::homography::{Homography, Points};
use super::linear::Light;
use rayon::prelude::*;
use std::sync::LazyLock;

/// Lobes of the filter on either side.
const LOBES: f64 = 3.0;
/// Entries of the filter's table to a pixel.
const STEPS: f64 = 1024.0;
/// How much finer than the rectangle the photo may be before it is shrunk by the resizer first: wider filters
/// cost time and gain nothing.
const FINEST: f64 = 1.5;
/// How far the seen shape may be from the measured one: a camera held 40° aslant shortens a side by
/// 1 − cos 40° = 23 % (elementary geometry). Beyond it figures or corners are wrong, and to stretch the
/// picture to them would falsify it.
const FARTHEST: f64 = 1.35;

/// What is to be squared up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Square {
    /// Corners in pixels of the photo as stored: upper left, upper right, lower right, lower left as hung.
    stored: Points,
    /// Width over height as measured.
    proportion: f64,
}

impl Square {
    /// The piece of a crop, if the measured proportion can be that of what the crop shows. `upright` is the
    /// size of the upright photo, `orientation` how EXIF says it is stored.
    pub(super) fn of(crop: &Crop, proportion: f64, upright: Size, orientation: u8) -> Option<Self> {
        let seen = crop.proportion();
        let off = (seen / proportion).max(proportion / seen);
        (off <= FARTHEST).then(|| Self {
            stored: crop.ring().map(|p| as_stored(p, upright, orientation)),
            proportion,
        })
    }

    /// The long edge of the light to draw from, for a photo as stored: as fine as is of use.
    pub(super) fn fine_edge(&self, photo: Size, long_edge: u32) -> u32 {
        let size = self.sized(area(&self.stored), long_edge);
        let finer = libm::sqrt(area(&self.stored) / size.pixels() as f64);
        let edge = f64::from(photo.long_edge());
        libm::ceil(edge * (FINEST / finer).min(1.0)) as u32
    }

    /// Draws the rectangle from light as stored, its long edge at most `long_edge`, with about as many pixels as
    /// the piece has in the light.
    pub(super) fn draw(&self, light: &Light, long_edge: u32) -> Light {
        let size = self.sized(area(&self.points(light)), long_edge);
        let finer = libm::sqrt(area(&self.points(light)) / size.pixels() as f64);
        if finer <= FINEST * 1.01 {
            return warp(light, &self.points(light), size);
        }
        let edge = f64::from(light.size.long_edge()) * FINEST / finer;
        let small = light.shrunk(edge as u32 + 1);
        warp(&small, &self.points(&small), size)
    }

    /// The corners in pixels of the light.
    fn points(&self, light: &Light) -> Points {
        let scale = light.scale();
        self.stored.map(|[x, y]| [x * scale[0], y * scale[1]])
    }

    /// The rectangle of an area and the measured proportion, in whole pixels.
    fn sized(&self, area: f64, long_edge: u32) -> Size {
        let wide = self.proportion >= 1.0;
        let slim = if wide {
            1.0 / self.proportion
        } else {
            self.proportion
        };
        let long = libm::floor(libm::sqrt(area / slim)).clamp(1.0, f64::from(long_edge));
        let short = libm::round(long * slim).max(1.0);
        let (long, short) = (long as u32, short as u32);
        match wide {
            true => Size {
                width: long,
                height: short,
            },
            false => Size {
                width: short,
                height: long,
            },
        }
    }
}

/// The place in the photo as stored of a place in the upright photo: the way back from `Light::upright`, for
/// places between pixels too (CIPA DC-008, tag 0x0112).
fn as_stored([x, y]: [f64; 2], upright: Size, orientation: u8) -> [f64; 2] {
    let (w, h) = (f64::from(upright.width), f64::from(upright.height));
    match orientation {
        2 => [w - x, y],
        3 => [w - x, h - y],
        4 => [x, h - y],
        5 => [y, x],
        6 => [y, w - x],
        7 => [h - y, w - x],
        8 => [h - y, x],
        _ => [x, y],
    }
}

/// The area of a four-sided figure, by the surveyor's formula.
fn area(ring: &Points) -> f64 {
    let doubled: f64 = (0..4)
        .map(|i| ring[i][0] * ring[(i + 1) % 4][1] - ring[(i + 1) % 4][0] * ring[i][1])
        .sum();
    doubled.abs() / 2.0
}

/// sinc(x) sinc(x / 3) for 0 to 3, and a nought beyond.
static LANCZOS: LazyLock<Vec<f32>> = LazyLock::new(|| {
    let sinc = |x: f64| match x {
        0.0 => 1.0,
        x => libm::sin(std::f64::consts::PI * x) / (std::f64::consts::PI * x),
    };
    (0..=(LOBES * STEPS) as usize + 1)
        .map(|i| {
            let x = i as f64 / STEPS;
            if x < LOBES {
                (sinc(x) * sinc(x / LOBES)) as f32
            } else {
                0.0
            }
        })
        .collect()
});

/// The filter at a distance of `x` pixels, between the entries of its table in a straight line.
fn lanczos(table: &[f32], x: f64) -> f32 {
    let at = (x.abs() * STEPS).min(LOBES * STEPS);
    let low = at as usize;
    let part = (at - low as f64) as f32;
    table[low] + (table[low + 1] - table[low]) * part
}

/// The weights of the pixels around one place along one axis.
#[derive(Default)]
struct Taps {
    first: i64,
    weights: Vec<f32>,
}

impl Taps {
    /// For the place `at` (a pixel's middle lies at a half) where the picture is `finer` than the rectangle.
    fn set(&mut self, table: &[f32], at: f64, finer: f64) {
        let reach = LOBES * finer;
        self.first = libm::ceil(at - reach - 0.5) as i64;
        let last = libm::floor(at + reach - 0.5) as i64;
        self.weights.clear();
        self.weights
            .extend((self.first..=last).map(|i| lanczos(table, (i as f64 + 0.5 - at) / finer)));
        let sum: f32 = self.weights.iter().sum();
        self.weights.iter_mut().for_each(|w| *w /= sum);
    }
}

/// Reads the rectangle out of the light, row by row.
fn warp(light: &Light, corners: &Points, size: Size) -> Light {
    let map = Homography::to(*corners);
    let (width, height) = (size.width as usize, size.height as usize);
    let mut samples = vec![0_u16; width * height * 3];
    samples.par_chunks_mut(width * 3).enumerate().for_each_init(
        <(Taps, Taps)>::default,
        |(across, down), (row, out)| {
            let v = (row as f64 + 0.5) / height as f64;
            for (column, out) in out.as_chunks_mut::<3>().0.iter_mut().enumerate() {
                let spot = map.spot((column as f64 + 0.5) / width as f64, v);
                let finer = spot
                    .moves
                    .map(|[u, v]| libm::hypot(u / width as f64, v / height as f64).max(1.0));
                across.set(&LANCZOS, spot.at[0], finer[0]);
                down.set(&LANCZOS, spot.at[1], finer[1]);
                *out = read(light, across, down);
            }
        },
    );
    Light::new(size, samples)
}

/// The weighted light around one place. Beyond the edge of the photo its last pixel goes on.
fn read(light: &Light, across: &Taps, down: &Taps) -> [u16; 3] {
    let pixels = light.samples.as_chunks::<3>().0;
    let (w, h) = (light.size.width as i64, light.size.height as i64);
    let whole = across.first >= 0 && across.first + across.weights.len() as i64 <= w;
    let mut sum = [0.0_f32; 3];
    for (y, by_row) in (down.first..).zip(&down.weights) {
        let row = &pixels[(y.clamp(0, h - 1) * w) as usize..][..w as usize];
        let mut along = [0.0_f32; 3];
        let mut add = |pixel: &[u16; 3], weight: f32| {
            for (sum, v) in along.iter_mut().zip(pixel) {
                *sum += f32::from(*v) * weight;
            }
        };
        if whole {
            let taps = &row[across.first as usize..];
            for (pixel, weight) in taps.iter().zip(&across.weights) {
                add(pixel, *weight);
            }
        } else {
            for (x, weight) in (across.first..).zip(&across.weights) {
                add(&row[x.clamp(0, w - 1) as usize], *weight);
            }
        }
        for (sum, v) in sum.iter_mut().zip(along) {
            *sum += v * by_row;
        }
    }
    // To whole numbers the nearest; a saturating cast clips what the filter's ringing leaves beyond.
    sum.map(|v| (v + 0.5).max(0.0) as u16)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::crop::Side;

    const PHOTO: Size = Size {
        width: 400,
        height: 300,
    };

    /// Smooth waves in each channel, at a place of the photo.
    fn waves(x: f64, y: f64) -> [u16; 3] {
        [
            0.5 + 0.4 * libm::sin(x / 23.0) * libm::cos(y / 31.0),
            0.5 + 0.4 * libm::cos((x + y) / 40.0),
            x / 800.0 + y / 600.0,
        ]
        .map(crate::picture::srgb::to_u16)
    }

    fn photo() -> Light {
        let samples = (0..PHOTO.height)
            .flat_map(|y| (0..PHOTO.width).map(move |x| (f64::from(x) + 0.5, f64::from(y) + 0.5)))
            .flat_map(|(x, y)| waves(x, y))
            .collect();
        Light::new(PHOTO, samples)
    }

    #[test]
    fn a_smooth_picture_seen_aslant_is_read_as_it_is() {
        let corners = [[52.0, 33.0], [361.0, 47.0], [340.0, 262.0], [41.0, 249.0]];
        let crop = Crop::from_corners(&corners, PHOTO, Side::Foot).unwrap();
        let square = Square::of(&crop, 1.4, PHOTO, 1).unwrap();
        let plate = square.draw(&photo(), 2400);
        assert!((f64::from(plate.size.width) / f64::from(plate.size.height) - 1.4).abs() < 0.005);
        let map = Homography::to(corners);
        for (x, y) in [(0, 0), (100, 40), (160, 120), (200, 199), (299, 90)] {
            let (w, h) = (plate.size.width as usize, plate.size.height as usize);
            assert!(x < w && y < h, "{:?}", plate.size);
            let at = map.place((x as f64 + 0.5) / w as f64, (y as f64 + 0.5) / h as f64);
            // Source, exact case: smooth waves are known at every place without any filter.
            for (got, wanted) in plate.samples[3 * (y * w + x)..]
                .iter()
                .zip(waves(at[0], at[1]))
            {
                assert!(got.abs_diff(wanted) < 200, "{x} {y}: {got} {wanted}");
            }
        }
    }

    #[test]
    fn a_photo_stored_on_its_side_or_mirrored_is_squared_to_the_same_plate() {
        let corners = [[52.0, 33.0], [361.0, 47.0], [340.0, 262.0], [41.0, 249.0]];
        let crop = Crop::from_corners(&corners, PHOTO, Side::Foot).unwrap();
        let wanted = Square::of(&crop, 1.4, PHOTO, 1)
            .unwrap()
            .draw(&photo(), 250);
        for orientation in 1..=8 {
            // Stored so that turning it upright gives the photo: the turn undone.
            let undone = match orientation {
                6 => 8,
                8 => 6,
                same => same,
            };
            let stored = photo().upright(undone);
            assert_eq!(stored.clone().upright(orientation).samples, photo().samples);
            let square = Square::of(&crop, 1.4, PHOTO, orientation).unwrap();
            let got = square.draw(&stored, 250);
            assert_eq!(got.size, wanted.size);
            for (a, b) in got.samples.iter().zip(&wanted.samples) {
                assert!(a.abs_diff(*b) <= 4, "orientation {orientation}: {a} {b}");
            }
        }
    }

    #[test]
    fn fine_ribs_keep_their_mean_and_do_not_beat_when_the_plate_is_coarser() {
        let size = Size {
            width: 1000,
            height: 1000,
        };
        let samples = (0..1_000_000)
            .flat_map(|i| [if i / 1000 % 2 == 0 { 60_000 } else { 10_000 }; 3])
            .collect();
        let corners = [[20.0, 30.0], [970.0, 20.0], [980.0, 985.0], [25.0, 975.0]];
        let crop = Crop::from_corners(&corners, size, Side::Foot).unwrap();
        for long_edge in [700, 300, 90] {
            let square = Square::of(&crop, 1.0, size, 1).unwrap();
            let plate = square.draw(&Light::new(size, Vec::clone(&samples)), long_edge);
            let (lowest, highest) = (
                plate.samples.iter().min().unwrap(),
                plate.samples.iter().max().unwrap(),
            );
            // Source, exact case: ribs finer than a pixel of the plate leave their mean, 35 000. What a filter
            // of three lobes lets through of the ribs' ± 25 000 is less than a tenth.
            assert!(
                *lowest > 32_500 && *highest < 37_500,
                "{long_edge}: {lowest} to {highest}"
            );
        }
    }

    #[test]
    fn one_core_and_many_draw_the_same() {
        let corners = [[52.0, 33.0], [361.0, 47.0], [340.0, 262.0], [41.0, 249.0]];
        let crop = Crop::from_corners(&corners, PHOTO, Side::Foot).unwrap();
        let square = Square::of(&crop, 1.4, PHOTO, 1).unwrap();
        let with = |threads| {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build();
            pool.unwrap().install(|| square.draw(&photo(), 2400))
        };
        assert_eq!(with(1), with(7));
    }

    #[test]
    fn a_picture_is_not_stretched_to_figures_that_can_not_be_its_own() {
        let corners = [[50.0, 50.0], [350.0, 50.0], [350.0, 250.0], [50.0, 250.0]];
        let crop = Crop::from_corners(&corners, PHOTO, Side::Foot).unwrap();
        assert!(Square::of(&crop, 1.5, PHOTO, 1).is_some());
        assert!(Square::of(&crop, 1.3, PHOTO, 1).is_some());
        // Height and width swapped.
        assert!(Square::of(&crop, 1.0 / 1.5, PHOTO, 1).is_none());
        assert!(Square::of(&crop, f64::NAN, PHOTO, 1).is_none());
    }
}
