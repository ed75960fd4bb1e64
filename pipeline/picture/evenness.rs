//! How even the light on the wall is.
//!
//! A plane is laid through the luminance of the wall around the piece by least squares, three times, leaving
//! out each time what lies far off it (a hook, a socket, the shadow of the cloth). What is told is how far
//! the plane falls across the picture, as a share of its height in the middle: 0.26 is a third of a stop.
//! It says nothing of light that is brightest in the middle, nor of a wall that is no plain wall.

use super::measures::{Ring, Tone, depth};

/// Samples along each edge of the picture.
const SAMPLES: usize = 160;
/// What is left out around the piece, where its shadow falls, as a share of the picture's longer edge.
const SHADOW: f64 = 0.025;
/// The fewest samples of wall: a fiftieth of all.
const FEWEST: usize = SAMPLES * SAMPLES / 50;
/// The wall has to lie on more than one side: the least standard deviation of its places, as a share of the
/// edge (a wall all around has about 0.35, one strip along one edge far less in one direction).
const ALL_AROUND: f64 = 0.15;
const ROUNDS: usize = 3;
/// What lies farther off the plane than so many times the root mean square is left out.
const FAR: f64 = 2.0;
/// The share of samples that must remain.
const REMAIN: f64 = 0.6;
/// The most that the rest may lie off the plane, root mean square as a share of the light: else it is no
/// plain wall.
const PLAIN: f64 = 0.08;
/// Darker walls say nothing.
const DARKEST: f64 = 0.01 * 65535.0;

/// A sample of wall: its place from −½ to ½ across and down, and its light.
type Sample = [f64; 3];

/// The fall of the light across the picture, as a share of the mean; nothing where it can not be told.
pub(super) fn across(tone: &Tone, ring: &Ring) -> Option<f64> {
    let wall = wall(tone, ring);
    if wall.len() < FEWEST {
        return None;
    }
    let all = wall.len() as f64;
    let mut kept = wall;
    for round in 0..=ROUNDS {
        if !all_around(&kept) {
            return None;
        }
        let plane = plane(&kept)?;
        let off = |s: &Sample| s[2] - (plane[0] + plane[1] * s[0] + plane[2] * s[1]);
        let square: f64 = kept.iter().map(|s| off(s) * off(s)).sum();
        let usual = libm::sqrt(square / kept.len() as f64);
        if round == ROUNDS {
            let remain = kept.len() as f64 >= REMAIN * all;
            let plain = plane[0] >= DARKEST && usual <= PLAIN * plane[0];
            // From one corner of the picture to the opposite one, whichever way it falls.
            return (remain && plain).then(|| (plane[1].abs() + plane[2].abs()) / plane[0]);
        }
        // A step of the 8 bits is no reason to leave anything out.
        kept.retain(|s| off(s).abs() <= (FAR * usual).max(256.0));
    }
    None
}

fn wall(tone: &Tone, ring: &Ring) -> Vec<Sample> {
    let far = SHADOW * tone.width.max(tone.height) as f64;
    let place = |at: usize, edge: usize| ((2 * at + 1) * edge / (2 * SAMPLES)).min(edge - 1);
    let mut found = Vec::new();
    for row in 0..SAMPLES {
        for column in 0..SAMPLES {
            let (x, y) = (place(column, tone.width), place(row, tone.height));
            if depth(ring, [x as f64 + 0.5, y as f64 + 0.5]) < -far {
                let within = |at: usize, edge: usize| (at as f64 + 0.5) / edge as f64 - 0.5;
                found.push([within(x, tone.width), within(y, tone.height), tone.at(x, y)]);
            }
        }
    }
    found
}

/// Whether there is wall on more than one side.
fn all_around(samples: &[Sample]) -> bool {
    (0..2).all(|k| {
        let count = samples.len().max(1) as f64;
        let mean = samples.iter().map(|s| s[k]).sum::<f64>() / count;
        let square: f64 = samples.iter().map(|s| (s[k] - mean) * (s[k] - mean)).sum();
        libm::sqrt(square / count) >= ALL_AROUND
    })
}

/// The plane a + b·x + c·y of least squares, by the normal equations of centred values.
fn plane(samples: &[Sample]) -> Option<[f64; 3]> {
    let count = samples.len() as f64;
    let mean: Sample = std::array::from_fn(|k| samples.iter().map(|s| s[k]).sum::<f64>() / count);
    let sum = |i: usize, j: usize| -> f64 {
        samples
            .iter()
            .map(|s| (s[i] - mean[i]) * (s[j] - mean[j]))
            .sum()
    };
    let (xx, xy, yy, xz, yz) = (sum(0, 0), sum(0, 1), sum(1, 1), sum(0, 2), sum(1, 2));
    let determinant = xx * yy - xy * xy;
    if determinant <= 1e-9 * xx * yy {
        return None;
    }
    let (b, c) = (
        (xz * yy - yz * xy) / determinant,
        (yz * xx - xz * xy) / determinant,
    );
    Some([mean[2] - b * mean[0] - c * mean[1], b, c])
}

#[cfg(test)]
mod tests {
    use super::*;

    const PIECE: Ring = [[80.0, 60.0], [320.0, 60.0], [320.0, 240.0], [80.0, 240.0]];

    fn photo(light: impl Fn(f64, f64) -> f64) -> Tone {
        let (width, height) = (400, 300);
        let values = (0..width * height)
            .map(|i| light((i % width) as f64 + 0.5, (i / width) as f64 + 0.5) as u16)
            .collect();
        Tone {
            width,
            height,
            values,
        }
    }

    #[test]
    fn light_that_falls_by_a_known_share_is_told_by_that_share() {
        // Source, exact case: a plane of 40 000 in the middle that falls by 30 % from left to right.
        let wall = |x: f64, _: f64| 40_000.0 * (1.0 - 0.3 * (x / 400.0 - 0.5));
        let even = |_: f64, _: f64| 40_000.0;
        assert!((across(&photo(wall), &PIECE).unwrap() - 0.3).abs() < 1e-3);
        assert!(across(&photo(even), &PIECE).unwrap() < 1e-6);
        // The piece itself, a hook and its shadow have no say.
        let hung = |x: f64, y: f64| {
            let cloth = depth(&PIECE, [x, y]) > 0.0;
            let shadow = depth(&PIECE, [x - 6.0, y - 6.0]) > 0.0;
            let hook = (x - 200.0).abs() < 4.0 && y < 30.0;
            match (cloth, shadow || hook) {
                (true, _) => 3_000.0 + 40.0 * y,
                (_, true) => 0.4 * wall(x, y),
                _ => wall(x, y),
            }
        };
        let found = across(&photo(hung), &PIECE).unwrap();
        assert!((found - 0.3).abs() < 0.01, "{found}");
    }

    #[test]
    fn without_a_plain_wall_all_around_nothing_is_said() {
        // A piece that fills the photo, one that leaves wall above alone, and a wall of large tiles.
        let even = |_: f64, _: f64| 40_000.0;
        let filled = [[2.0, 2.0], [398.0, 2.0], [398.0, 298.0], [2.0, 298.0]];
        let above = [[0.0, 100.0], [400.0, 100.0], [400.0, 300.0], [0.0, 300.0]];
        assert_eq!(across(&photo(even), &filled), None);
        assert_eq!(across(&photo(even), &above), None);
        let tiles = |x: f64, y: f64| match (x as u32 / 50 + y as u32 / 50) % 2 {
            0 => 20_000.0,
            _ => 40_000.0,
        };
        assert_eq!(across(&photo(tiles), &PIECE), None);
    }
}
