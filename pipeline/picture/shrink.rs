//! Decoded pixels to linear light of the size that is wanted, and light to less light.
//!
//! Light adds up, sRGB values do not: fine dark and light threads keep their mean only when a picture is shrunk
//! in linear light. The whole photo is never held as light, which would take twice the room of its pixels:
//! it is shrunk in strips, each of so many rows of the outcome, and every core takes strips. A strip is
//! reckoned from all the rows its filter reaches, so that strips leave no seams and the number of cores
//! changes nothing. Resizing is by `fast_image_resize` (Lanczos, three lobes) with its integer arithmetic; its
//! vector paths give the same sums as its plain one (a test holds that).

use super::curve::Curve;
use super::decode::{Channels, Pixels, Samples};
use super::facts::Size;
use super::linear::Light;
use super::srgb::to_u16;
use fast_image_resize::images::{Image, ImageRef};
use fast_image_resize::{FilterType, PixelType, ResizeAlg, ResizeOptions, Resizer};
use rayon::prelude::*;
use std::ops::Range;

/// Rows of the outcome in a strip: enough that the rows which neighbours share cost little.
const STRIP: usize = 128;
/// Lobes of the filter on either side.
const LOBES: f64 = 3.0;

impl Light {
    /// Linear light of decoded pixels, each channel by its curve, shrunk to a long edge of `long_edge` pixels at
    /// most; transparent parts lie on white.
    pub(super) fn of(pixels: &Pixels, curves: &[Curve; 3], long_edge: u32) -> Self {
        let size = fitting(pixels.size, pixels.size, long_edge);
        let steps = match &pixels.samples {
            Samples::Eight(_) => 256,
            Samples::Sixteen(_) => 65536,
        };
        let tables = tables(curves, steps);
        let row = pixels.size.width as usize * pixels.channels.count();
        let light_of = |rows: Range<usize>, out: &mut Vec<u16>| {
            let range = rows.start * row..rows.end * row;
            out.clear();
            match &pixels.samples {
                Samples::Eight(samples) => {
                    let at = |v: u8| usize::from(v);
                    look_up(&samples[range], pixels.channels, &tables, out, at, |a| {
                        u32::from(a) * 257
                    });
                }
                Samples::Sixteen(samples) => {
                    let at = |v: u16| usize::from(v);
                    look_up(
                        &samples[range],
                        pixels.channels,
                        &tables,
                        out,
                        at,
                        u32::from,
                    );
                }
            }
        };
        let mut samples = vec![0_u16; size.pixels() as usize * 3];
        strips(&mut samples, size).for_each_init(
            || (Resizer::new(), Vec::new()),
            |(resizer, rows), (at, out)| {
                let strip = Strip::new(at, out, pixels.size, size);
                light_of(strip.rows.clone(), rows);
                strip.draw(resizer, rows, out);
            },
        );
        Self::part_of(pixels.size, size, samples)
    }

    /// Shrinks to a long edge of `long_edge` pixels at most; never enlarges.
    pub(super) fn shrunk(&self, long_edge: u32) -> Self {
        let size = fitting(self.photo, self.size, long_edge);
        if size == self.size {
            return self.clone();
        }
        let row = self.size.width as usize * 3;
        let mut samples = vec![0_u16; size.pixels() as usize * 3];
        strips(&mut samples, size).for_each_init(Resizer::new, |resizer, (at, out)| {
            let strip = Strip::new(at, out, self.size, size);
            let rows = &self.samples[strip.rows.start * row..strip.rows.end * row];
            strip.draw(resizer, rows, out);
        });
        Self::part_of(self.photo, size, samples)
    }
}

/// The size of a photo's proportions with the long edge that is wanted, but not larger than what there is.
fn fitting(photo: Size, have: Size, long_edge: u32) -> Size {
    let scale = (f64::from(long_edge) / f64::from(photo.long_edge())).min(1.0);
    let to = |edge: u32, have: u32| (libm::round(f64::from(edge) * scale) as u32).clamp(1, have);
    Size {
        width: to(photo.width, have.width),
        height: to(photo.height, have.height),
    }
}

/// The strips of an outcome, with their number.
fn strips(
    samples: &mut [u16],
    size: Size,
) -> impl IndexedParallelIterator<Item = (usize, &mut [u16])> {
    samples
        .par_chunks_mut(STRIP * size.width as usize * 3)
        .enumerate()
}

/// Some rows of the outcome, and the rows that they are reckoned from.
struct Strip {
    /// Rows of the source that the filter reaches.
    rows: Range<usize>,
    /// Where in them the strip's own part begins and how high it is, pixels of the source.
    top: f64,
    height: f64,
    from_width: u32,
    to: Size,
    same: bool,
}

impl Strip {
    fn new(at: usize, out: &[u16], from: Size, to: Size) -> Self {
        let high = out.len() / (to.width as usize * 3);
        let scale = f64::from(from.height) / f64::from(to.height);
        let (first, last) = (
            (at * STRIP) as f64 * scale,
            (at * STRIP + high) as f64 * scale,
        );
        // One row more than the filter reaches, so that rounding never cuts one off.
        let reach = LOBES * scale + 1.0;
        let rows = if from.height == to.height {
            at * STRIP..at * STRIP + high
        } else {
            libm::floor((first - reach).max(0.0)) as usize
                ..libm::ceil((last + reach).min(f64::from(from.height))) as usize
        };
        let top = first - rows.start as f64;
        // Rounding must not put the part's foot below the last row, even by the least step there is.
        let height = (last - first).min((rows.len() as f64 - top) * (1.0 - f64::EPSILON));
        Self {
            top: if from.height == to.height { 0.0 } else { top },
            height: if from.height == to.height {
                high as f64
            } else {
                height
            },
            from_width: from.width,
            to: Size {
                width: to.width,
                height: high as u32,
            },
            rows,
            same: from == to,
        }
    }

    /// Draws the strip from its rows.
    fn draw(&self, resizer: &mut Resizer, rows: &[u16], out: &mut [u16]) {
        if self.same {
            out.copy_from_slice(rows);
            return;
        }
        let source = ImageRef::new(
            self.from_width,
            self.rows.len() as u32,
            bytemuck::cast_slice(rows),
            PixelType::U16x3,
        )
        .expect("the samples fill the rows and lie on even addresses");
        let mut target = Image::from_slice_u8(
            self.to.width,
            self.to.height,
            bytemuck::cast_slice_mut(out),
            PixelType::U16x3,
        )
        .expect("the samples fill the strip and lie on even addresses");
        let options = ResizeOptions::new()
            .resize_alg(ResizeAlg::Convolution(FilterType::Lanczos3))
            .crop(0.0, self.top, f64::from(self.from_width), self.height);
        resizer
            .resize(&source, &mut target, &options)
            .expect("both pictures are of the same kind and the part taken lies within the source");
    }
}

fn tables(curves: &[Curve; 3], steps: usize) -> [Vec<u16>; 3] {
    let table = |curve: &Curve| -> Vec<u16> {
        (0..steps)
            .map(|v| to_u16(curve.light(v as f64 / (steps - 1) as f64)))
            .collect()
    };
    let first = table(&curves[0]);
    let other = |curve: &Curve| {
        if *curve == curves[0] {
            first.clone()
        } else {
            table(curve)
        }
    };
    let (second, third) = (other(&curves[1]), other(&curves[2]));
    [first, second, third]
}

/// Looks every sample up and lays it on white. `index` finds a sample's place in its table, `cover` turns an
/// alpha sample into 0 to 65535.
fn look_up<T: Copy>(
    samples: &[T],
    channels: Channels,
    tables: &[Vec<u16>; 3],
    out: &mut Vec<u16>,
    index: impl Fn(T) -> usize,
    cover: impl Fn(T) -> u32,
) {
    let look = |channel: usize, sample: T| tables[channel][index(sample)];
    let on_white = |light: u16, alpha: T| {
        let a = u64::from(cover(alpha));
        ((u64::from(light) * a + 65535 * (65535 - a) + 32767) / 65535) as u16
    };
    match channels {
        Channels::Grey => out.extend(samples.iter().flat_map(|&v| [look(0, v); 3])),
        Channels::GreyAlpha => {
            let pixels = samples.as_chunks::<2>().0;
            out.extend(
                pixels
                    .iter()
                    .flat_map(|&[v, a]| [on_white(look(0, v), a); 3]),
            );
        }
        Channels::Rgba => {
            let pixels = samples.as_chunks::<4>().0;
            out.extend(pixels.iter().flat_map(|&[r, g, b, a]| {
                [(0, r), (1, g), (2, b)].map(|(c, v)| on_white(look(c, v), a))
            }));
        }
        Channels::Inks => {
            // Inks were brought to sRGB values before; what is left of them here are their colours.
            let pixels = samples.as_chunks::<4>().0;
            out.extend(
                pixels
                    .iter()
                    .flat_map(|&[r, g, b, _]| [look(0, r), look(1, g), look(2, b)]),
            );
        }
        Channels::Rgb => {
            let (pixels, _) = samples.as_chunks::<3>();
            out.resize(samples.len(), 0);
            for (light, &[r, g, b]) in out.as_chunks_mut::<3>().0.iter_mut().zip(pixels) {
                *light = [look(0, r), look(1, g), look(2, b)];
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noise(width: u32, height: u32) -> Light {
        let mut state = 7_u32;
        let samples = (0..width * height * 3)
            .map(|_| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (state >> 16) as u16
            })
            .collect();
        Light::new(Size { width, height }, samples)
    }

    #[test]
    fn a_processor_with_and_one_without_vector_units_make_the_same_plate() {
        let light = noise(311, 97);
        let with = light.shrunk(120);
        let source = ImageRef::new(
            311,
            97,
            bytemuck::cast_slice(&light.samples),
            PixelType::U16x3,
        )
        .unwrap();
        let mut target = Image::new(with.size.width, with.size.height, PixelType::U16x3);
        let mut plain = Resizer::new();
        // SAFETY: doing without extensions is sound on every processor.
        unsafe { plain.set_cpu_extensions(fast_image_resize::CpuExtensions::None) };
        plain
            .resize(&source, &mut target, &ResizeOptions::new())
            .unwrap();
        assert_eq!(
            target.buffer(),
            bytemuck::cast_slice::<u16, u8>(&with.samples)
        );
    }

    #[test]
    fn a_checkerboard_of_black_and_white_shrinks_to_half_the_light_and_not_to_half_the_value() {
        let size = Size {
            width: 512,
            height: 512,
        };
        let samples = (0..512 * 512)
            .flat_map(|i| {
                [if (i % 512 + i / 512) % 2 == 0 {
                    65535
                } else {
                    0
                }; 3]
            })
            .collect();
        let grey = Light::new(size, samples).shrunk(64).to_srgb();
        // Source, published: half the light is sRGB 188 (IEC 61966-2-1: 1.055 × 0.5^(1/2.4) − 0.055 = 0.7354).
        assert!(
            (187..=189).contains(&grey[3 * (32 * 64 + 32)]),
            "{}",
            grey[3 * (32 * 64 + 32)]
        );
    }

    #[test]
    fn strips_leave_no_seams() {
        // Higher than two strips, and by no whole number.
        let light = noise(40, 1003);
        for edge in [1000, 700, 450] {
            let strips = light.shrunk(edge);
            let source = ImageRef::new(
                40,
                1003,
                bytemuck::cast_slice(&light.samples),
                PixelType::U16x3,
            )
            .unwrap();
            let mut whole = Image::new(strips.size.width, strips.size.height, PixelType::U16x3);
            // Source, reference library: fast_image_resize on the whole picture at once.
            Resizer::new()
                .resize(&source, &mut whole, &ResizeOptions::new())
                .unwrap();
            let whole: &[u16] = bytemuck::cast_slice(whole.buffer());
            for (a, b) in strips.samples.iter().zip(whole) {
                assert!(a.abs_diff(*b) <= 2, "{a} {b}");
            }
        }
    }

    #[test]
    fn shrinking_in_two_steps_keeps_the_mean_and_the_shape() {
        let (w, h) = (1003_u32, 501_u32);
        let bytes: Vec<u8> = (0..w * h)
            .flat_map(|i| [(i % w / 4) as u8, (i / w / 2) as u8, 90])
            .collect();
        let size = Size {
            width: w,
            height: h,
        };
        let pixels = Pixels {
            size,
            channels: Channels::Rgb,
            samples: Samples::Eight(bytes),
        };
        let curves = [Curve::Srgb, Curve::Srgb, Curve::Srgb];
        let direct = Light::of(&pixels, &curves, 100);
        let by_steps = Light::of(&pixels, &curves, 400).shrunk(100);
        assert_eq!(direct.size, by_steps.size);
        for (a, b) in direct.to_srgb().iter().zip(by_steps.to_srgb()) {
            assert!(a.abs_diff(b) <= 3, "{a} {b}");
        }
    }
}
