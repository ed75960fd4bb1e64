//! How much there is of each colour in the middle of a photo: front, back and details of one piece have nearly the same
//! yarns in them, another piece has others.
//!
//! Oklab is parted into 5 × 16 × 16 fields, and every pixel is shared out among the eight fields about it, so that a
//! little more or less light moves little. The edge of the photo is left out, for there hangs the wall.

use super::linear::Light;
use super::oklab::Oklab;

const LIGHTNESS: usize = 5;
const AXIS: usize = 16;
/// Oklab's axes of hue are parted from minus to plus this.
const REACH: f64 = 0.24;
/// Share of each edge that is left out.
const MARGIN: f64 = 0.25;

/// Shares of the colours, adding up to 1.
#[derive(Debug, Clone, PartialEq)]
pub struct Tints(Vec<f64>);

impl Tints {
    pub(super) fn of(light: &Light) -> Tints {
        let (width, height) = (light.size.width as usize, light.size.height as usize);
        let cut = |edge: usize| (edge as f64 * MARGIN) as usize;
        let mut fields = vec![0.0; LIGHTNESS * AXIS * AXIS];
        let pixels = light.samples.as_chunks::<3>().0;
        let mut count = 0.0;
        for row in pixels
            .chunks(width.max(1))
            .take(height - cut(height))
            .skip(cut(height))
        {
            for pixel in row.iter().take(width - cut(width)).skip(cut(width)) {
                let colour = Oklab::from_light(pixel.map(|v| f64::from(v) / 65535.0));
                share_out(&mut fields, colour);
                count += 1.0;
            }
        }
        if count > 0.0 {
            fields.iter_mut().for_each(|field| *field /= count);
        }
        Tints(fields)
    }

    /// How different the colours are: 0 for the same shares, 1 where none is in both (half the sum of the
    /// differences, the total variation distance).
    pub fn distance(&self, other: &Tints) -> f64 {
        let sum: f64 = self
            .0
            .iter()
            .zip(&other.0)
            .map(|(a, b)| (a - b).abs())
            .sum();
        sum / 2.0
    }
}

fn share_out(fields: &mut [f64], colour: Oklab) {
    let place = |value: f64, fields: usize| {
        let at = value.clamp(0.0, 1.0) * (fields - 1) as f64;
        let low = (at as usize).min(fields - 2);
        (low, at - low as f64)
    };
    let axis = |value: f64| place((value + REACH) / (2.0 * REACH), AXIS);
    let (l, in_l) = place(colour.l, LIGHTNESS);
    let (a, in_a) = axis(colour.a);
    let (b, in_b) = axis(colour.b);
    for (dl, wl) in [(0, 1.0 - in_l), (1, in_l)] {
        for (da, wa) in [(0, 1.0 - in_a), (1, in_a)] {
            for (db, wb) in [(0, 1.0 - in_b), (1, in_b)] {
                fields[((l + dl) * AXIS + a + da) * AXIS + b + db] += wl * wa * wb;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::facts::Size;
    use super::*;

    fn plain(samples: [u16; 3]) -> Tints {
        let size = Size {
            width: 40,
            height: 40,
        };
        Tints::of(&Light::new(size, samples.repeat(1600)))
    }

    #[test]
    fn shares_add_up_and_colours_far_apart_share_nothing() {
        // Source, exact case: weights of a point between eight corners add up to one; sRGB's red and blue lie further
        // apart in Oklab than one field.
        let (red, blue) = (plain([65535, 0, 0]), plain([0, 0, 65535]));
        assert!((red.0.iter().sum::<f64>() - 1.0).abs() < 1e-9);
        assert!((red.distance(&blue) - 1.0).abs() < 1e-9);
        assert!(red.distance(&plain([64000, 0, 0])) < 0.15);
    }
}
