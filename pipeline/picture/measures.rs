//! What a photo's own pixels say of it: how sharp, how much burnt out or drowned in black, how even the
//! light on the wall, and what it looks like from far away.
//!
//! All of it is read from the light that the plates are made of, so there is no second decode, and every
//! figure speaks of the picture as it is printed. Whether a figure is bad is for a check to say. The three
//! measures with some arithmetic to them have files of their own: `sharpness`, `evenness`, `likeness`.

use super::crop::Crop;
use super::facts::Size;
use super::linear::Light;
use super::srgb::FROM_LIGHT;
use super::{evenness, likeness, sharpness};
use serde::Serialize;

/// What was measured in one photo. Figures are rounded to four decimals.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Measures {
    /// Width and height of the piece by its corners, or of the photo where none are given or usable: pixels
    /// of the upright original.
    pub across: (u32, u32),
    /// How far an edge is spread: the standard deviation, in pixels of the print plate, of the bell curve
    /// that a sharp edge would have to be blurred with. Nothing where there is too little to see.
    pub spread: Option<f64>,
    /// Share of the piece that is white without drawing: 255 in all three channels of the plate, 0 to 1.
    pub burnt: f64,
    /// Share of the piece that is black without drawing: 0 in all three channels, 0 to 1.
    pub drowned: f64,
    /// By how much the light on the wall differs across the picture, as a share of its mean; nothing where
    /// no plain wall shows around given corners.
    pub uneven: Option<f64>,
    /// 64 bits that are nearly the same for the same picture; nothing for a picture of one tone.
    pub likeness: Option<u64>,
}

/// Samples along each edge of the piece when its white and black are counted.
const SAMPLES: usize = 500;

/// Measures upright light in sRGB primaries. `photo` is the size of the upright original, which `crop` is
/// given in; `given` is the piece by its corners, where there are some that can be used. Without them the
/// middle of the photo stands for the piece.
pub(super) fn of(light: &Light, photo: Size, given: Option<&Crop>) -> Measures {
    let middle = Crop::assumed(photo, super::crop::Side::Foot);
    let corners = ring(given.unwrap_or(&middle));
    let scale = [
        f64::from(light.size.width) / f64::from(photo.width),
        f64::from(light.size.height) / f64::from(photo.height),
    ];
    let on_light = corners.map(|[x, y]| [x * scale[0], y * scale[1]]);
    let tone = Tone::of(light);
    let (burnt, drowned) = ends(light, given.unwrap_or(&middle), scale);
    Measures {
        across: match given {
            Some(_) => extent(&corners),
            None => (photo.width, photo.height),
        },
        spread: sharpness::spread(&tone, &on_light).map(rounded),
        burnt: rounded(burnt),
        drowned: rounded(drowned),
        uneven: given
            .and_then(|_| evenness::across(&tone, &on_light))
            .map(rounded),
        likeness: likeness::of(&tone),
    }
}

/// Four decimals: short enough to be written and read back as the same number.
fn rounded(value: f64) -> f64 {
    libm::round(value * 1e4) / 1e4
}

/// The luminance of a picture, 0 to 65535, row by row.
pub(super) struct Tone {
    pub width: usize,
    pub height: usize,
    pub values: Vec<u16>,
}

impl Tone {
    /// Luminance by the weights of ITU-R BT.709 (0.2126, 0.7152, 0.0722) in 65536ths.
    pub(super) fn of(light: &Light) -> Self {
        let values = light
            .samples
            .as_chunks::<3>()
            .0
            .iter()
            .map(|p| {
                let [r, g, b] = p.map(u32::from);
                ((13_933 * r + 46_871 * g + 4_732 * b + 32_768) >> 16) as u16
            })
            .collect();
        Self {
            width: light.size.width as usize,
            height: light.size.height as usize,
            values,
        }
    }

    pub fn at(&self, x: usize, y: usize) -> f64 {
        f64::from(self.values[y * self.width + x])
    }
}

/// Four corners in their order around the piece.
pub(super) type Ring = [[f64; 2]; 4];

fn ring(crop: &Crop) -> Ring {
    let place = crop.place();
    [
        place(0.0, 0.0),
        place(1.0, 0.0),
        place(1.0, 1.0),
        place(0.0, 1.0),
    ]
}

/// How far a point lies within the ring, pixels; negative outside. To the nearest side's line, which near a
/// corner is a little less than to the ring itself.
pub(super) fn depth(ring: &Ring, [x, y]: [f64; 2]) -> f64 {
    let centre = [0, 1].map(|k| ring.iter().map(|p| p[k]).sum::<f64>() / 4.0);
    let side = |i: usize, [x, y]: [f64; 2]| {
        let ([ax, ay], [bx, by]) = (ring[i], ring[(i + 1) % 4]);
        let (dx, dy) = (bx - ax, by - ay);
        ((x - ax) * dy - (y - ay) * dx) / libm::sqrt((dx * dx + dy * dy).max(1e-9))
    };
    (0..4)
        .map(|i| {
            let inner = side(i, centre);
            side(i, [x, y]) * if inner < 0.0 { -1.0 } else { 1.0 }
        })
        .fold(f64::INFINITY, f64::min)
}

/// Width and height, each the mean of two opposite sides, whole pixels.
fn extent(ring: &Ring) -> (u32, u32) {
    let side = |i: usize| {
        let (a, b) = (ring[i], ring[(i + 1) % 4]);
        libm::hypot(b[0] - a[0], b[1] - a[1])
    };
    let level = |i: usize| {
        let (a, b) = (ring[i], ring[(i + 1) % 4]);
        (b[0] - a[0]).abs() >= (b[1] - a[1]).abs()
    };
    let whole = |length: f64| libm::round(length).max(1.0) as u32;
    let (one, other) = (
        whole((side(0) + side(2)) / 2.0),
        whole((side(1) + side(3)) / 2.0),
    );
    if level(0) { (one, other) } else { (other, one) }
}

/// The shares of the piece that are at 255 and at 0 in every channel.
fn ends(light: &Light, crop: &Crop, scale: [f64; 2]) -> (f64, f64) {
    let table = &*FROM_LIGHT;
    let place = crop.place();
    let pixels = light.samples.as_chunks::<3>().0;
    let (w, h) = (light.size.width as usize, light.size.height as usize);
    let (mut white, mut black) = (0_u32, 0_u32);
    let within = |at: usize| (at as f64 + 0.5) / SAMPLES as f64;
    for row in 0..SAMPLES {
        for column in 0..SAMPLES {
            let [x, y] = place(within(column), within(row));
            let x = ((x * scale[0]).max(0.0) as usize).min(w - 1);
            let y = ((y * scale[1]).max(0.0) as usize).min(h - 1);
            let values = pixels[y * w + x].map(|v| table[usize::from(v)]);
            white += u32::from(values == [255; 3]);
            black += u32::from(values == [0; 3]);
        }
    }
    let all = (SAMPLES * SAMPLES) as f64;
    (f64::from(white) / all, f64::from(black) / all)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_depth_of_a_point_is_its_distance_to_the_nearest_side() {
        // Source, exact case: a rectangle of 100 by 60 from (10, 20).
        let ring = [[10.0, 20.0], [110.0, 20.0], [110.0, 80.0], [10.0, 80.0]];
        let turned = [ring[2], ring[1], ring[0], ring[3]];
        for ring in [ring, turned] {
            assert!((depth(&ring, [60.0, 30.0]) - 10.0).abs() < 1e-9);
            assert!((depth(&ring, [13.0, 50.0]) - 3.0).abs() < 1e-9);
            assert!((depth(&ring, [60.0, 85.0]) + 5.0).abs() < 1e-9);
        }
        assert_eq!(extent(&ring), (100, 60));
        let from_the_left = [ring[0], ring[3], ring[2], ring[1]];
        assert_eq!(extent(&from_the_left), (100, 60));
    }
}
