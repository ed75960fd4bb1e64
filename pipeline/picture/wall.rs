//! The wall a piece hangs on: its colour everywhere in the photo, told from the photo's border.
//!
//! Light falls off across a wall, slowly; a surface of the second degree in each of Oklab's three axes follows
//! it. It is fitted to the border by least squares, again and again without what lies far off, so that a nail
//! or the end of a bench does not matter.

use super::facts::Size;
use super::oklab::Oklab;

/// Width of the border, as a share of the shorter edge.
const BORDER: f64 = 0.02;
/// Rounds of fitting and leaving out.
const ROUNDS: usize = 6;
/// At first, what is farther from the border's middle colour than this is left out.
const AT_FIRST: f64 = 0.16;
/// Nothing nearer to the surface than this is left out.
const LEAST: f64 = 0.012;
/// The share of the border that has to be wall, and how much it may stray (a plain painted wall strays by less
/// than 0.01; both own choice, no source).
const WALL_SHARE: f64 = 0.7;
const EVEN: f64 = 0.03;

/// Terms of the surface: 1, x, y, x², xy, y².
const TERMS: usize = 6;

/// An even wall.
pub(super) struct Wall {
    surface: [[f64; TERMS]; 3],
    size: Size,
    /// How far its own pixels stray from it: the standard deviation, in Oklab.
    pub stray: f64,
}

fn terms(size: Size, x: f64, y: f64) -> [f64; TERMS] {
    let (x, y) = (
        2.0 * x / f64::from(size.width) - 1.0,
        2.0 * y / f64::from(size.height) - 1.0,
    );
    [1.0, x, y, x * x, x * y, y * y]
}

fn axes(colour: Oklab) -> [f64; 3] {
    [colour.l, colour.a, colour.b]
}

impl Wall {
    /// The wall around a picture of the given colours, row by row; nothing where there is no even one.
    pub(super) fn around(size: Size, colours: &[Oklab]) -> Option<Self> {
        let (w, h) = (size.width as usize, size.height as usize);
        let border = ((w.min(h) as f64 * BORDER) as usize).max(2);
        if w < 8 * border || h < 8 * border {
            return None;
        }
        let edge = |at: usize, of: usize| at < border || at + border >= of;
        let samples: Vec<(f64, f64, [f64; 3])> = (0..w * h)
            .filter(|i| (i % w + i / w).is_multiple_of(2) && (edge(i % w, w) || edge(i / w, h)))
            .map(|i| (i % w, i / w, axes(colours[i])))
            .map(|(x, y, c)| (x as f64 + 0.5, y as f64 + 0.5, c))
            .collect();
        let middle: [f64; 3] = [0, 1, 2].map(|k| median(samples.iter().map(|s| s.2[k]).collect()));
        let mut off: Vec<f64> = samples.iter().map(|s| apart(s.2, middle)).collect();
        let mut within = AT_FIRST;
        let mut wall = Wall {
            surface: [[0.0; TERMS]; 3],
            size,
            stray: 0.0,
        };
        for _ in 0..ROUNDS {
            let kept = samples.iter().zip(&off).filter(|(_, off)| **off <= within);
            wall.surface = fit(size, kept.map(|(s, _)| s))?;
            off = samples
                .iter()
                .map(|&(x, y, c)| apart(c, axes(wall.at(x, y))))
                .collect();
            // Of distances in three axes the middle one is 1.54 standard deviations of each.
            wall.stray = median(off.clone()) / 1.54;
            within = (5.0 * wall.stray).max(LEAST);
        }
        let kept = off.iter().filter(|off| **off <= within).count();
        (kept as f64 >= WALL_SHARE * samples.len() as f64 && wall.stray <= EVEN).then_some(wall)
    }

    /// Its colour at a place in pixels.
    pub(super) fn at(&self, x: f64, y: f64) -> Oklab {
        let t = terms(self.size, x, y);
        let [l, a, b] = self
            .surface
            .map(|s| s.iter().zip(t).map(|(s, t)| s * t).sum::<f64>());
        Oklab { l, a, b }
    }
}

fn apart(a: [f64; 3], b: [f64; 3]) -> f64 {
    libm::sqrt((0..3).map(|k| (a[k] - b[k]) * (a[k] - b[k])).sum())
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}

/// Least squares by the normal equations, for all three axes at once.
fn fit<'a>(
    size: Size,
    samples: impl Iterator<Item = &'a (f64, f64, [f64; 3])>,
) -> Option<[[f64; TERMS]; 3]> {
    let mut rows = [[0.0; TERMS + 3]; TERMS];
    for &(x, y, colour) in samples {
        let t = terms(size, x, y);
        for (row, by) in rows.iter_mut().zip(t) {
            for (cell, other) in row.iter_mut().zip(t.iter().chain(&colour)) {
                *cell += by * other;
            }
        }
    }
    // Gauss and Jordan, with the largest pivot.
    for i in 0..TERMS {
        let pivot = (i..TERMS).max_by(|&a, &b| rows[a][i].abs().total_cmp(&rows[b][i].abs()))?;
        rows.swap(i, pivot);
        let own = rows[i];
        if own[i].abs() < 1e-9 {
            return None;
        }
        for (n, row) in rows.iter_mut().enumerate() {
            let part = row[i] / own[i];
            if n == i {
                row.iter_mut().for_each(|v| *v /= own[i]);
            } else {
                row.iter_mut().zip(own).for_each(|(v, o)| *v -= part * o);
            }
        }
    }
    Some([0, 1, 2].map(|k| std::array::from_fn(|n| rows[n][TERMS + k])))
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIZE: Size = Size {
        width: 240,
        height: 180,
    };

    fn picture(colour: impl Fn(f64, f64) -> Oklab) -> Vec<Oklab> {
        (0..SIZE.height)
            .flat_map(|y| (0..SIZE.width).map(move |x| (f64::from(x) + 0.5, f64::from(y) + 0.5)))
            .map(|(x, y)| colour(x, y))
            .collect()
    }

    #[test]
    fn light_that_falls_off_is_followed_under_the_piece() {
        let lit = |x: f64, y: f64| Oklab {
            l: 0.9 - 4e-6 * (x - 80.0) * (x - 80.0) - 3e-6 * (y - 50.0) * (y - 50.0),
            a: 0.004,
            b: 0.02 + 1e-5 * x,
        };
        let photo = picture(
            |x, y| match (40.0..200.0).contains(&x) && y > 30.0 && y < 150.0 {
                true => Oklab::default(),
                // The end of a bench at the foot.
                false if y > 170.0 && x < 60.0 => Oklab::default(),
                false => lit(x, y),
            },
        );
        let wall = Wall::around(SIZE, &photo).unwrap();
        // Source, exact case: a surface of the second degree is fitted by one of the second degree.
        assert!(wall.at(120.0, 90.0).distance(lit(120.0, 90.0)) < 1e-6);
        assert!(wall.stray < 1e-6);
    }

    #[test]
    fn a_picture_trimmed_to_the_piece_has_no_wall() {
        let stripes = picture(|x, y| Oklab {
            l: if ((x + y) as u32 / 12).is_multiple_of(2) {
                0.3
            } else {
                0.7
            },
            a: 0.0,
            b: 0.0,
        });
        assert!(Wall::around(SIZE, &stripes).is_none());
    }
}
