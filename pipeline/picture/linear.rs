//! Pictures as linear light: brought to sRGB primaries, turned upright, and made values again.
//!
//! Samples are 16 bits, three to a pixel. Where light comes from and how it is shrunk stands in `shrink`.

use super::colour::Matrix;
use super::facts::Size;
use super::srgb::FROM_LIGHT;
use rayon::prelude::*;

/// Samples that a core takes at a time: whole pixels.
const PART: usize = 3 << 16;

/// Linear light, red, green and blue, row by row.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Light {
    pub size: Size,
    /// Width and height of the photo it comes from: its proportions, free of the rounding of sizes.
    pub photo: Size,
    pub samples: Vec<u16>,
}

impl Light {
    /// A picture of given samples.
    pub(super) fn new(size: Size, samples: Vec<u16>) -> Self {
        Self::part_of(size, size, samples)
    }

    /// A picture of a size, shrunk from a photo.
    pub(super) fn part_of(photo: Size, size: Size, samples: Vec<u16>) -> Self {
        Self {
            size,
            photo,
            samples,
        }
    }

    /// Pixels of this light to one pixel of the photo it comes from, across and down.
    pub(super) fn scale(&self) -> [f64; 2] {
        [
            f64::from(self.size.width) / f64::from(self.photo.width),
            f64::from(self.size.height) / f64::from(self.photo.height),
        ]
    }

    /// Changes primaries; what lies outside the new ones is clipped.
    pub(super) fn through(mut self, matrix: &Matrix) -> Self {
        // Single precision is finer than the 16 bits of the samples.
        let matrix = matrix.map(|row| row.map(|v| v as f32));
        self.samples.par_chunks_mut(PART).for_each(|part| {
            for pixel in part.as_chunks_mut::<3>().0 {
                let [r, g, b] = pixel.map(f32::from);
                // To whole numbers the nearest; a saturating cast clips what lies outside.
                *pixel = matrix.map(|m| (m[0] * r + m[1] * g + m[2] * b + 0.5) as u16);
            }
        });
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
        let mut values = vec![0_u8; self.samples.len()];
        values
            .par_chunks_mut(PART)
            .zip(self.samples.par_chunks(PART))
            .for_each(|(values, samples)| {
                for (value, &sample) in values.iter_mut().zip(samples) {
                    *value = table[usize::from(sample)];
                }
            });
        values
    }
}
