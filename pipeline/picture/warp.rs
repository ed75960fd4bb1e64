//! Reading a rectangle out of a picture through a projective map, in two passes.
//!
//! First every row of the picture is read at the places where the rectangle's columns cross it, then every
//! column of that is read at the rectangle's rows (Catmull and Smith, 3-D transformations of images in scanline
//! order, 1980; the order is described in Wolberg, Digital Image Warping, 1990, chapter 7: both from memory). That
//! takes a fifth of the work of a filter in two dimensions, and loses nothing as long as the rectangle lies less
//! than about 45° aslant, which the order of its corners sees to. Each pass reads with a Lanczos filter of three
//! lobes, widened where the picture is finer than the rectangle, so that the ribs of the cloth do not beat with
//! the pixels. Rows are worked on by every core; each pixel is reckoned alone, so the number of cores changes
//! nothing.

use super::facts::Size;
use super::homography::{Homography, Points};
use super::linear::Light;
use rayon::prelude::*;

/// Lobes of the filter on either side.
const LOBES: f64 = 3.0;
/// Places between two pixels that have weights of their own: a place is never off by more than 1/512 pixel.
const PHASES: usize = 256;

/// Reads the rectangle between corners (upper left, upper right, lower right, lower left) out of the light.
/// Beyond the edge of the light its last pixel goes on.
pub(super) fn warp(light: &Light, corners: &Points, size: Size) -> Light {
    let map = Homography::to(*corners);
    let (width, height) = (size.width as usize, size.height as usize);
    let (low, high) = corners
        .iter()
        .fold((f64::MAX, f64::MIN), |(l, h), p| (l.min(p[1]), h.max(p[1])));
    // The rows that the second pass may reach, with a filter as wide as any row's.
    let reach = (0..=8)
        .map(|i| finer(map.spot(f64::from(i) / 8.0, 0.0).moves[1][1], height))
        .chain((0..=8).map(|i| finer(map.spot(f64::from(i) / 8.0, 1.0).moves[1][1], height)))
        .fold(1.0, f64::max)
        * LOBES
        + 2.0;
    let last = f64::from(light.size.height);
    let rows = ((low - reach).max(0.0) as usize)..((high + reach + 1.0).min(last) as usize);
    let from_width = light.size.width as usize;
    let mut across = vec![0_u16; rows.len() * width * 3];
    across
        .par_chunks_mut(width * 3)
        .zip(rows.clone())
        .for_each_init(Filter::default, |filter, (out, y)| {
            let run = map.along_row(y as f64 + 0.5);
            filter.widen(finer(run.slope(0.5), width));
            let row = &light.samples.as_chunks::<3>().0[y * from_width..][..from_width];
            for (column, out) in out.as_chunks_mut::<3>().0.iter_mut().enumerate() {
                let x = run.at((column as f64 + 0.5) / width as f64);
                let (first, weights) = filter.at(x);
                *out = match row.get(first as usize..first as usize + weights.len()) {
                    Some(pixels) if first >= 0 => sum(pixels.iter(), weights),
                    _ => {
                        let place = |i: usize| (first + i as i64).clamp(0, from_width as i64 - 1);
                        sum((0..weights.len()).map(|i| &row[place(i) as usize]), weights)
                    }
                };
            }
        });
    let mut samples = vec![0_u16; width * height * 3];
    samples.par_chunks_mut(width * 3).enumerate().for_each_init(
        Filter::default,
        |filter, (row, out)| {
            let v = (row as f64 + 0.5) / height as f64;
            let run = map.across_at(v);
            filter.widen(finer(map.spot(0.5, v).moves[1][1], height));
            let pixels = across.as_chunks::<3>().0;
            for (column, out) in out.as_chunks_mut::<3>().0.iter_mut().enumerate() {
                let y = run.at((column as f64 + 0.5) / width as f64) - rows.start as f64;
                let (first, weights) = filter.at(y);
                let whole = first >= 0 && first as usize + weights.len() <= rows.len();
                *out = if whole {
                    let column = pixels[first as usize * width + column..].iter();
                    sum(column.step_by(width), weights)
                } else {
                    let place = |i: usize| (first + i as i64).clamp(0, rows.len() as i64 - 1);
                    let pixel = |i: usize| &pixels[place(i) as usize * width + column];
                    sum((0..weights.len()).map(pixel), weights)
                };
            }
        },
    );
    Light::new(size, samples)
}

/// How many pixels of the picture go into one of the rectangle, at least one.
fn finer(slope: f64, pixels: usize) -> f64 {
    (slope.abs() / pixels as f64).max(1.0)
}

/// The weighted sum of some pixels.
fn sum<'a>(pixels: impl Iterator<Item = &'a [u16; 3]>, weights: &[f32]) -> [u16; 3] {
    let mut sum = [0.0_f32; 3];
    for (pixel, weight) in pixels.zip(weights) {
        for (sum, v) in sum.iter_mut().zip(pixel) {
            *sum += f32::from(*v) * weight;
        }
    }
    // To whole numbers the nearest; a saturating cast clips what the filter's ringing leaves beyond.
    sum.map(|v| (v + 0.5).max(0.0) as u16)
}

/// The weights of the pixels around a place, for every phase between two pixels.
#[derive(Default)]
struct Filter {
    finer: f64,
    /// Pixels on either side.
    reach: usize,
    weights: Vec<f32>,
}

impl Filter {
    /// Makes the weights for a picture so much finer than the rectangle.
    fn widen(&mut self, finer: f64) {
        // A thousandth wider or narrower is the same filter: perspective changes it slowly from row to row.
        let finer = (finer * 1000.0) as u32 as f64 / 1000.0;
        if finer == self.finer {
            return;
        }
        self.finer = finer;
        self.reach = libm::ceil(LOBES * finer) as usize;
        self.weights.clear();
        for phase in 0..=PHASES {
            let part = phase as f64 / PHASES as f64;
            let start = self.weights.len();
            let reach = self.reach as i64;
            self.weights
                .extend((1 - reach..=reach).map(|i| lanczos((i as f64 - part) / finer) as f32));
            let sum: f32 = self.weights[start..].iter().sum();
            self.weights[start..].iter_mut().for_each(|w| *w /= sum);
        }
    }

    /// The first pixel and the weights for a place; a pixel's middle lies at a half.
    fn at(&self, place: f64) -> (i64, &[f32]) {
        // Casting cuts towards nought, and places may lie a little before it.
        const AHEAD: f64 = 65536.0;
        let place = place.clamp(-AHEAD / 2.0, 1e9) - 0.5;
        let whole = (place + AHEAD) as i64 - AHEAD as i64;
        let phase = ((place - whole as f64) * PHASES as f64 + 0.5) as usize;
        let taps = 2 * self.reach;
        let weights = &self.weights[phase * taps..][..taps];
        (whole + 1 - self.reach as i64, weights)
    }
}

/// sinc(x) sinc(x / 3) within three lobes, and nothing beyond.
fn lanczos(x: f64) -> f64 {
    let sinc = |x: f64| match x * std::f64::consts::PI {
        0.0 => 1.0,
        x => libm::sin(x) / x,
    };
    if x.abs() < LOBES {
        sinc(x) * sinc(x / LOBES)
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn at_a_pixels_middle_the_filter_is_that_pixel_and_anywhere_it_keeps_the_mean() {
        let mut filter = Filter::default();
        filter.widen(1.0);
        // Source, exact case: a Lanczos filter is one at nought and nought at all other whole numbers.
        let (first, weights) = filter.at(10.5);
        let at = (10 - first) as usize;
        for (i, weight) in weights.iter().enumerate() {
            let wanted = if i == at { 1.0 } else { 0.0 };
            assert!((weight - wanted).abs() < 1e-6, "{i}: {weight}");
        }
        for finer in [1.0, 1.3, 2.0, 7.7] {
            filter.widen(finer);
            for place in [-3.2, 0.0, 5.1, 5.999, 17.5] {
                let total: f32 = filter.at(place).1.iter().sum();
                assert!((total - 1.0).abs() < 1e-5);
            }
        }
    }
}
