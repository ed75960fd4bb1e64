//! How sharp a photo is, as the spread of its edges in pixels.
//!
//! The picture is blurred once more by a known amount and the energy of its gradients before and after is
//! compared. Across an edge that is spread like a bell curve of standard deviation s, that energy is in
//! proportion to 1/s (the integral of the squared bell curve is 1/(2s√π)); blurred by a further b, to
//! 1/√(s² + b²). So the ratio R of the two says s² = b²·R²/(1 − R²), whatever the height of the edges and
//! however many there are: the measure does not take a plain cloth for a soft one. The differences are taken
//! over two pixels, which spreads an edge by a variance of 1/3 more; it is taken off again.
//!
//! Only the parts of the piece with the strongest edges are heard, in square tiles: soft shading is no blur.
//! Grain of the sensor counts as sharp, so a soft photo that is very grainy is not found out.

use super::measures::{Ring, Tone, depth};

/// Edge of a tile, pixels.
const TILE: usize = 32;
/// The share of tiles that is heard, and the fewest that will do.
const HEARD: usize = 4;
const FEWEST: usize = 4;
/// Variance of the second blur: the kernel 1 4 6 4 1 has a variance of 1 and is applied twice.
const VARIANCE: f64 = 2.0;
/// Variance of a difference over two pixels.
const OF_DIFFERENCE: f64 = 1.0 / 3.0;
/// Root mean square of the gradients below which there is nothing to see, as a share of full light.
const LEAST: f64 = 0.002;
/// Reached where the second blur changes nothing.
const MOST: f64 = 20.0;

/// The spread of the edges within the ring (pixels of the tone), or nothing where there are too few.
pub(super) fn spread(tone: &Tone, ring: &Ring) -> Option<f64> {
    let reach = |k: usize, most: usize| {
        let values = ring.iter().map(|p| p[k].clamp(0.0, most as f64));
        let (low, high) = values.fold((f64::INFINITY, 0.0_f64), |(l, h), v| (l.min(v), h.max(v)));
        (low as usize, high as usize)
    };
    let ((left, right), (top, foot)) = (reach(0, tone.width), reach(1, tone.height));
    let (width, height) = (right - left, foot - top);
    if width < 2 * TILE || height < 2 * TILE {
        return None;
    }
    let mut sharp = Vec::with_capacity(width * height);
    for y in top..foot {
        let row = &tone.values[y * tone.width..][left..right];
        sharp.extend(row.iter().map(|&v| f32::from(v)));
    }
    let soft = blurred(&blurred(&sharp, width), width);
    // The outermost tiles are left alone: the edge of the cloth throws a shadow, and blurring ends there.
    let mut tiles: Vec<(f64, f64)> = Vec::new();
    for y in (TILE / 4..height - TILE).step_by(TILE) {
        for x in (TILE / 4..width - TILE).step_by(TILE) {
            let half = TILE as f64 / 2.0;
            let middle = [(left + x) as f64 + half, (top + y) as f64 + half];
            if depth(ring, middle) > TILE as f64 {
                tiles.push((energy(&soft, width, x, y), energy(&sharp, width, x, y)));
            }
        }
    }
    tiles.sort_by(|a, b| b.0.total_cmp(&a.0).then(b.1.total_cmp(&a.1)));
    tiles.truncate((tiles.len() / HEARD).max(FEWEST));
    if tiles.len() < FEWEST {
        return None;
    }
    let (after, before) = tiles
        .iter()
        .fold((0.0, 0.0), |sum, tile| (sum.0 + tile.0, sum.1 + tile.1));
    let pixels = (tiles.len() * TILE * TILE) as f64;
    if libm::sqrt(after / pixels) < LEAST * 65535.0 {
        return None;
    }
    let ratio = after / before;
    let variance = VARIANCE * ratio * ratio / (1.0 - ratio * ratio).max(1e-6) - OF_DIFFERENCE;
    Some(libm::sqrt(variance.max(0.0)).min(MOST))
}

/// Blurred by 1 4 6 4 1 across and down; at the rim the outermost pixel is repeated.
fn blurred(values: &[f32], width: usize) -> Vec<f32> {
    let height = values.len() / width;
    let weigh = |v: [f32; 5]| (v[0] + v[4] + 4.0 * (v[1] + v[3]) + 6.0 * v[2]) * (1.0 / 16.0);
    let near = |at: usize, step: usize, most: usize| (at + step).saturating_sub(2).min(most - 1);
    let mut across = vec![0.0; values.len()];
    for (out, row) in across
        .chunks_exact_mut(width)
        .zip(values.chunks_exact(width))
    {
        for (out, five) in out[2..width - 2].iter_mut().zip(row.windows(5)) {
            *out = weigh([five[0], five[1], five[2], five[3], five[4]]);
        }
        for x in [0, 1, width - 2, width - 1] {
            out[x] = weigh(std::array::from_fn(|step| row[near(x, step, width)]));
        }
    }
    let mut down = vec![0.0; values.len()];
    for (y, out) in down.chunks_exact_mut(width).enumerate() {
        let [a, b, c, d, e]: [&[f32]; 5] =
            std::array::from_fn(|step| &across[near(y, step, height) * width..][..width]);
        for (x, out) in out.iter_mut().enumerate() {
            *out = weigh([a[x], b[x], c[x], d[x], e[x]]);
        }
    }
    down
}

/// The sum of squared gradients over a tile.
fn energy(values: &[f32], width: usize, left: usize, top: usize) -> f64 {
    let mut sum = 0.0;
    for y in top..top + TILE {
        for x in left..left + TILE {
            let at = y * width + x;
            let across = f64::from(values[at + 1] - values[at - 1]) / 2.0;
            let down = f64::from(values[at + width] - values[at - width]) / 2.0;
            sum += across * across + down * down;
        }
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Squares of many greys with edges spread by `spread` pixels, aslant so that they fall between pixels.
    fn squares(spread: f64) -> Tone {
        let (width, height) = (400, 300);
        let step = |d: f64| 0.5 * (1.0 + libm::erf(d / (spread * std::f64::consts::SQRT_2)));
        let values = (0..width * height)
            .map(|i| {
                let (x, y) = ((i % width) as f64, (i / width) as f64);
                // Stripes 40 pixels wide, turned by about 17°.
                let across = 0.956 * x + 0.292 * y;
                let within = across.rem_euclid(80.0);
                let light = step(within) - step(within - 40.0) + step(within - 80.0);
                (10_000.0 + 40_000.0 * light) as u16
            })
            .collect();
        Tone {
            width,
            height,
            values,
        }
    }

    const ALL: Ring = [[0.0, 0.0], [400.0, 0.0], [400.0, 300.0], [0.0, 300.0]];

    #[test]
    fn an_edge_blurred_by_a_known_amount_is_told_by_that_amount() {
        // Source, exact case: the error function is a step blurred by a bell curve.
        for wanted in [0.7, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0] {
            let found = spread(&squares(wanted), &ALL).expect("there are edges");
            assert!((found / wanted - 1.0).abs() < 0.06, "{found}, not {wanted}");
        }
    }

    #[test]
    fn the_contrast_of_the_cloth_has_no_say_in_its_sharpness() {
        let strong = squares(1.5);
        let weak = Tone {
            values: strong.values.iter().map(|v| 20_000 + v / 16).collect(),
            ..strong
        };
        let found = spread(&weak, &ALL).expect("there are edges");
        assert!((found - 1.5).abs() < 0.1, "{found}");
    }

    #[test]
    fn of_a_plain_wall_or_a_tiny_picture_nothing_is_said() {
        let flat = Tone {
            values: vec![30_000; 400 * 300],
            ..squares(1.0)
        };
        assert_eq!(spread(&flat, &ALL), None);
        let speck = Tone {
            width: 20,
            height: 20,
            values: vec![0; 400],
        };
        let ring = [[0.0, 0.0], [20.0, 0.0], [20.0, 20.0], [0.0, 20.0]];
        assert_eq!(spread(&speck, &ring), None);
    }
}
