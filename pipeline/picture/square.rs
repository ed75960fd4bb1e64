//! Squaring up: the piece cut out of its photo along four corners and drawn as the true rectangle it is.
//!
//! What size the rectangle has, whether the corners can be those of the measured piece, and how fine the light
//! has to be stands here; `warp` reads the pixels, in linear light.

use super::crop::Crop;
use super::facts::Size;
use super::homography::Points;
use super::linear::Light;
use super::warp::warp;

/// How much finer than the rectangle the photo may be before it is shrunk by the resizer first: wider filters
/// cost time and gain nothing.
const FINEST: f64 = 1.4;
/// How far the seen shape may be from the measured one: a camera held 40° aslant shortens a side by
/// 1 − cos 40° = 23 % (elementary geometry). Beyond it figures or corners are wrong, and to stretch the
/// picture to them would falsify it.
const FARTHEST: f64 = 1.35;

/// What is to be squared up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Square {
    /// Corners in pixels of the upright photo: upper left, upper right, lower right, lower left as hung.
    ring: Points,
    /// Width over height as measured.
    proportion: f64,
}

impl Square {
    /// The piece of a crop, if the measured proportion can be that of what the crop shows.
    pub(super) fn of(crop: &Crop, proportion: f64) -> Option<Self> {
        let seen = crop.proportion();
        let off = (seen / proportion).max(proportion / seen);
        (off <= FARTHEST).then(|| Self {
            ring: crop.ring(),
            proportion,
        })
    }

    /// The long edge of the light to draw from, for a photo of this size: as fine as is of use.
    pub(super) fn fine_edge(&self, photo: Size, long_edge: u32) -> u32 {
        let size = self.sized(area(&self.ring), long_edge);
        let finer = libm::sqrt(area(&self.ring) / size.pixels() as f64);
        let edge = f64::from(photo.long_edge());
        libm::ceil(edge * (FINEST / finer).min(1.0)) as u32
    }

    /// Draws the rectangle from upright light, its long edge at most `long_edge`, with about as many pixels as
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
        self.ring.map(|[x, y]| [x * scale[0], y * scale[1]])
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

/// The area of a four-sided figure, by the surveyor's formula.
fn area(ring: &Points) -> f64 {
    let doubled: f64 = (0..4)
        .map(|i| ring[i][0] * ring[(i + 1) % 4][1] - ring[(i + 1) % 4][0] * ring[i][1])
        .sum();
    doubled.abs() / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::crop::Side;
    use crate::picture::homography::Homography;

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
        let square = Square::of(&crop, 1.4).unwrap();
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
            let square = Square::of(&crop, 1.0).unwrap();
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
        let square = Square::of(&crop, 1.4).unwrap();
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
        assert!(Square::of(&crop, 1.5).is_some());
        assert!(Square::of(&crop, 1.3).is_some());
        // Height and width swapped.
        assert!(Square::of(&crop, 1.0 / 1.5).is_none());
        assert!(Square::of(&crop, f64::NAN).is_none());
    }
}
