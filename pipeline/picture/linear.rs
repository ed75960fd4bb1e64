//! Pictures as linear light: made from decoded pixels, resized, brought to sRGB primaries, turned upright.
//!
//! Light adds up, sRGB values do not: fine dark and light threads keep their mean only when a picture is
//! shrunk in linear light. Samples are 16 bits, three to a pixel. Resizing is by `fast_image_resize` with
//! its integer arithmetic; its vector paths give the same sums as its plain one (a test holds that).

use super::colour::{Matrix, apply};
use super::curve::Curve;
use super::decode::{Channels, Pixels, Samples};
use super::facts::Size;
use super::srgb::{FROM_LIGHT, to_u16};
use fast_image_resize::images::{Image, ImageRef};
use fast_image_resize::{FilterType, PixelType, ResizeAlg, ResizeOptions, Resizer};

/// Linear light, red, green and blue, row by row.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Light {
    pub size: Size,
    /// What the pixels measure: equal to `size`, but for a remainder when whole pixels were averaged.
    measure: (f64, f64),
    /// Width and height of the photo it comes from: its proportions, free of the rounding of sizes.
    photo: Size,
    pub samples: Vec<u16>,
}

/// The least factor by which a picture has to be larger than wanted before it is averaged in whole blocks.
const BLOCKS_FROM: u32 = 2;

impl Light {
    /// A picture of given samples.
    pub(super) fn new(size: Size, samples: Vec<u16>) -> Self {
        Self {
            size,
            measure: (f64::from(size.width), f64::from(size.height)),
            photo: size,
            samples,
        }
    }

    /// Pixels of this light to one pixel of the photo it comes from, across and down.
    pub(super) fn scale(&self) -> [f64; 2] {
        [
            self.measure.0 / f64::from(self.photo.width),
            self.measure.1 / f64::from(self.photo.height),
        ]
    }

    /// Linear light of decoded pixels, each channel by its curve; transparent parts lie on white. A picture
    /// more than twice as large as `wanted` (long edge, pixels) is averaged in whole blocks down to not less
    /// than twice `wanted`, which spares memory and time and leaves the final filter enough to work on.
    pub(super) fn of(pixels: &Pixels, curves: &[Curve; 3], wanted: u32) -> Self {
        let block = (pixels.size.long_edge() / (BLOCKS_FROM * wanted)).max(1) as usize;
        match &pixels.samples {
            Samples::Eight(samples) => {
                let tables = tables(curves, 256);
                spread(samples, pixels, &tables, block, usize::from, |a| {
                    u32::from(a) * 257
                })
            }
            Samples::Sixteen(samples) => {
                let tables = tables(curves, 65536);
                spread(samples, pixels, &tables, block, usize::from, u32::from)
            }
        }
    }

    /// Shrinks to a long edge of `long_edge` pixels at most (Lanczos, three lobes); never enlarges.
    pub(super) fn shrunk(&self, long_edge: u32) -> Self {
        let scale = f64::from(long_edge) / f64::from(self.photo.long_edge());
        let to = |edge: u32, have: u32| {
            let wanted = f64::from(edge) * scale.min(1.0);
            (libm::round(wanted) as u32).clamp(1, have)
        };
        let size = Size {
            width: to(self.photo.width, self.size.width),
            height: to(self.photo.height, self.size.height),
        };
        let (width, height) = self.measure;
        if size == self.size {
            return self.clone();
        }
        let source = ImageRef::new(
            self.size.width,
            self.size.height,
            bytemuck::cast_slice(&self.samples),
            PixelType::U16x3,
        )
        .expect("the samples fill the picture and lie on even addresses");
        let mut target = Image::new(size.width, size.height, PixelType::U16x3);
        let options = ResizeOptions::new()
            .resize_alg(ResizeAlg::Convolution(FilterType::Lanczos3))
            .crop(0.0, 0.0, width, height);
        Resizer::new()
            .resize(&source, &mut target, &options)
            .expect("both pictures are of the same kind and the part taken lies within the source");
        let samples = target
            .buffer()
            .as_chunks::<2>()
            .0
            .iter()
            .map(|b| u16::from_ne_bytes(*b))
            .collect();
        Self {
            photo: self.photo,
            ..Self::new(size, samples)
        }
    }

    /// Changes primaries; what lies outside the new ones is clipped.
    pub(super) fn through(mut self, matrix: &Matrix) -> Self {
        for pixel in self.samples.as_chunks_mut::<3>().0 {
            *pixel = apply(matrix, pixel.map(|v| f64::from(v) / 65535.0)).map(to_u16);
        }
        self
    }

    /// Turns and mirrors as an EXIF orientation of 1 to 8 asks for (CIPA DC-008, tag 0x0112: which visual
    /// sides the stored first row and first column are; table seen in the libvips documentation).
    pub(super) fn upright(self, orientation: u8) -> Self {
        let (w, h) = (self.size.width as usize, self.size.height as usize);
        let swaps = matches!(orientation, 5..=8);
        let (out_w, out_h) = if swaps { (h, w) } else { (w, h) };
        // The stored place of the upright pixel (x, y).
        let stored: fn(usize, usize, usize, usize) -> (usize, usize) = match orientation {
            2 => |x, y, w, _| (w - 1 - x, y),
            3 => |x, y, w, h| (w - 1 - x, h - 1 - y),
            4 => |x, y, _, h| (x, h - 1 - y),
            5 => |x, y, _, _| (y, x),
            6 => |x, y, _, h| (y, h - 1 - x),
            7 => |x, y, w, h| (w - 1 - y, h - 1 - x),
            8 => |x, y, w, _| (w - 1 - y, x),
            _ => return self,
        };
        let from = self.samples.as_chunks::<3>().0;
        let mut samples = Vec::with_capacity(self.samples.len());
        for y in 0..out_h {
            for x in 0..out_w {
                let (sx, sy) = stored(x, y, w, h);
                samples.extend_from_slice(&from[sy * w + sx]);
            }
        }
        let turned = |size: Size| match swaps {
            true => Size {
                width: size.height,
                height: size.width,
            },
            false => size,
        };
        Self {
            photo: turned(self.photo),
            ..Self::new(turned(self.size), samples)
        }
    }

    /// As sRGB values of 8 bits.
    pub(super) fn to_srgb(&self) -> Vec<u8> {
        let table = &*FROM_LIGHT;
        self.samples
            .iter()
            .map(|&v| table[usize::from(v)])
            .collect()
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

/// Looks every sample up, lays it on white, and averages blocks of `block` × `block` pixels. `index` finds a
/// sample's place in its table, `cover` turns an alpha sample into 0 to 65535.
fn spread<T: Copy>(
    samples: &[T],
    pixels: &Pixels,
    tables: &[Vec<u16>; 3],
    block: usize,
    index: impl Fn(T) -> usize,
    cover: impl Fn(T) -> u32,
) -> Light {
    let (w, h) = (pixels.size.width as usize, pixels.size.height as usize);
    let count = pixels.channels.count();
    let pixel = |p: &[T]| -> [u32; 3] {
        let look = |channel: usize, sample: T| u32::from(tables[channel][index(sample)]);
        let on_white = |light: u32, alpha: T| {
            let a = u64::from(cover(alpha));
            ((u64::from(light) * a + 65535 * (65535 - a) + 32767) / 65535) as u32
        };
        match pixels.channels {
            Channels::Grey => [look(0, p[0]); 3],
            Channels::GreyAlpha => [on_white(look(0, p[0]), p[1]); 3],
            Channels::Rgba => [0, 1, 2].map(|c| on_white(look(c, p[c]), p[3])),
            Channels::Rgb | Channels::Inks => [0, 1, 2].map(|c| look(c, p[c])),
        }
    };
    if block == 1 {
        let mut light = vec![0_u16; w * h * 3];
        let out = light.as_chunks_mut::<3>().0;
        for (out, p) in out.iter_mut().zip(samples.chunks_exact(count)) {
            *out = pixel(p).map(|v| v as u16);
        }
        return Light::new(pixels.size, light);
    }
    let (out_w, out_h) = (w.div_ceil(block), h.div_ceil(block));
    let mut out = Vec::with_capacity(out_w * out_h * 3);
    let mut sums = vec![[0_u64; 3]; out_w];
    for rows in samples.chunks(w * count * block) {
        sums.fill([0; 3]);
        let height = rows.len() / (w * count);
        for row in rows.chunks_exact(w * count) {
            for (sum, cells) in sums.iter_mut().zip(row.chunks(count * block)) {
                for p in cells.chunks_exact(count) {
                    let light = pixel(p);
                    (0..3).for_each(|c| sum[c] += u64::from(light[c]));
                }
            }
        }
        for (column, sum) in sums.iter().enumerate() {
            let cells = (height * block.min(w - column * block)) as u64;
            out.extend(sum.map(|s| ((s + cells / 2) / cells) as u16));
        }
    }
    Light {
        size: Size {
            width: out_w as u32,
            height: out_h as u32,
        },
        measure: (w as f64 / block as f64, h as f64 / block as f64),
        photo: pixels.size,
        samples: out,
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
    fn averaging_in_blocks_first_keeps_the_mean_and_the_shape() {
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
        let direct = Light::of(&pixels, &curves, 1000).shrunk(100);
        let by_blocks = Light::of(&pixels, &curves, 100).shrunk(100);
        assert_eq!(direct.size, by_blocks.size);
        for (a, b) in direct.to_srgb().iter().zip(by_blocks.to_srgb()) {
            assert!(a.abs_diff(b) <= 3, "{a} {b}");
        }
    }
}
