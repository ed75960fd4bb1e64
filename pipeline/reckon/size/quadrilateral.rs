//! The four corners that fit all tape readings best.
//!
//! Height readings, width readings and both diagonals are more figures than a quadrilateral has
//! (five, once it may be turned and shifted at will), so they are adjusted by least squares, each
//! weighted by its own uncertainty, and what is left over tells which reading fits worst. Edges are
//! taken as straight between the corners.

use super::normal::inverse;
use crate::reckon::Uncertain;

/// What is unknown: with the top left corner at the origin and the top edge along x, the top right
/// corner's x, then the lower right corner, then the lower left one; y runs downwards. Millimetres.
const UNKNOWN: usize = 5;
type Unknowns = [f64; UNKNOWN];

/// One tape reading and what it was taken of.
#[derive(Debug, Clone)]
pub(super) struct Observation {
    /// What was measured.
    pub of: Span,
    /// The reading in mm, with its uncertainty.
    pub reading: Uncertain,
}

/// What a reading was taken of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Span {
    /// Down, at this fraction of the top edge and of the foot, from the left.
    Down(f64),
    /// Across, at this fraction of both sides, from the top.
    Across(f64),
    /// From the top left corner to the lower right one.
    Falling,
    /// From the top right corner to the lower left one.
    Rising,
    /// Left side less right side.
    SidesApart,
    /// Top less foot.
    EdgesApart,
    /// Falling diagonal less the rising one.
    DiagonalsApart,
}

/// The adjusted quadrilateral.
#[derive(Debug, Clone)]
pub(super) struct Quadrilateral {
    at: Unknowns,
    /// ∂unknown/∂reading, reading by reading.
    gain: Vec<Unknowns>,
    readings: Vec<Uncertain>,
    /// Readings less the adjusted figures, in mm.
    pub residuals: Vec<f64>,
    /// √(χ²/ν), where readings are left over: over 1, the readings scatter more than their last
    /// places explain (the Birge ratio).
    pub scatter: Option<f64>,
}

/// An assumption stands where a reading is missing; it is held to a hundredth of a millimetre.
const HELD: f64 = 0.01;

impl Observation {
    pub fn assumed(of: Span) -> Self {
        Observation {
            of,
            reading: Uncertain::input(0.0, HELD, format!("assumed {of:?}")),
        }
    }

    fn is_assumed(&self) -> bool {
        matches!(
            self.of,
            Span::SidesApart | Span::EdgesApart | Span::DiagonalsApart
        )
    }
}

impl Quadrilateral {
    /// Adjusts the readings; `width` and `height` are where the search begins. `None` where no
    /// quadrilateral comes near them.
    pub fn adjusted(observations: &[Observation], width: f64, height: f64) -> Option<Self> {
        let weights: Vec<f64> = observations
            .iter()
            .map(|o| {
                let u = o.reading.u();
                if u > 0.0 {
                    1.0 / (u * u)
                } else {
                    1.0 / (HELD * HELD)
                }
            })
            .collect();
        let misfit = |x: &Unknowns| -> f64 {
            observations
                .iter()
                .zip(&weights)
                .map(|(o, w)| {
                    let v = o.reading.value - length(o.of, x).0;
                    w * v * v
                })
                .sum()
        };
        let mut x: Unknowns = [width, width, height, 0.0, height];
        let mut worth = misfit(&x);
        let mut converged = false;
        for _ in 0..100 {
            let (normal, right) = equations(observations, &weights, &x);
            let step = multiply(&inverse(&normal)?, &right);
            // Halved until it helps: Gauss and Newton alone can overshoot from readings that contradict.
            let mut share = 1.0;
            let moved = loop {
                let mut next = x;
                for (n, s) in next.iter_mut().zip(step) {
                    *n += share * s;
                }
                let next_worth = misfit(&next);
                if next_worth <= worth {
                    break Some((next, next_worth));
                }
                share /= 2.0;
                if share < 1e-6 {
                    break None;
                }
            };
            let largest = step.iter().fold(0.0_f64, |m, s| m.max(s.abs()));
            if let Some((next, next_worth)) = moved {
                x = next;
                worth = next_worth;
            }
            if largest < 1e-9 * (width + height) || moved.is_none() {
                converged = true;
                break;
            }
        }
        if !converged || x.iter().any(|v| !v.is_finite()) {
            return None;
        }
        let (normal, _) = equations(observations, &weights, &x);
        let covariance = inverse(&normal)?;
        let gain = observations
            .iter()
            .zip(&weights)
            .map(|(o, w)| multiply(&covariance, &length(o.of, &x).1.map(|slope| w * slope)))
            .collect();
        let residuals: Vec<f64> = observations
            .iter()
            .map(|o| o.reading.value - length(o.of, &x).0)
            .collect();
        let left_over = observations.len().saturating_sub(UNKNOWN);
        let scatter = (left_over > 0).then(|| (worth / left_over as f64).sqrt());
        // Where readings scatter more than their last places explain, all are trusted less.
        let trust = scatter.unwrap_or(1.0).max(1.0);
        let freedom = if trust > 1.0 {
            left_over as f64
        } else {
            f64::INFINITY
        };
        let readings = observations
            .iter()
            .enumerate()
            .map(|(i, o)| {
                let name = o
                    .reading
                    .sources()
                    .first()
                    .map_or_else(|| format!("reading {i}"), |(source, _)| source.to_string());
                let trust = if o.is_assumed() { 1.0 } else { trust };
                Uncertain::estimated(o.reading.value, trust * o.reading.u(), freedom, name)
            })
            .collect();
        Some(Quadrilateral {
            at: x,
            gain,
            readings,
            residuals,
            scatter,
        })
    }

    /// A figure of the shape from its value and its slopes ∂f/∂unknown.
    fn figure(&self, value: f64, slopes: &Unknowns) -> Uncertain {
        let parts: Vec<(&Uncertain, f64)> = self
            .readings
            .iter()
            .zip(&self.gain)
            .map(|(reading, gain)| (reading, gain.iter().zip(slopes).map(|(g, s)| g * s).sum()))
            .collect();
        Uncertain::derived(value, &parts)
    }

    /// The area in mm²: half the cross product of the diagonals (elementary geometry).
    pub fn area(&self) -> Uncertain {
        let [a, x2, y2, x3, y3] = self.at;
        // ½ |p × q| with p = (x2, y2) and q = (x3 − a, y3).
        let value = (x2 * y3 - y2 * (x3 - a)) / 2.0;
        let slopes = [y2 / 2.0, y3 / 2.0, (a - x3) / 2.0, -y2 / 2.0, x2 / 2.0];
        self.figure(value, &slopes)
    }

    /// What a span would read in mm.
    pub fn span(&self, of: Span) -> Uncertain {
        let (value, slopes) = length(of, &self.at);
        self.figure(value, &slopes)
    }

    /// The corners in mm: top left, top right, lower right, lower left.
    pub fn corners(&self) -> [[f64; 2]; 4] {
        corners(&self.at)
    }

    /// The inner angles in degrees: top left, top right, lower right, lower left.
    pub fn angles(&self) -> [f64; 4] {
        let c = corners(&self.at);
        let mut out = [0.0; 4];
        for (i, angle) in out.iter_mut().enumerate() {
            let (here, next, before) = (c[i], c[(i + 1) % 4], c[(i + 3) % 4]);
            let a = [next[0] - here[0], next[1] - here[1]];
            let b = [before[0] - here[0], before[1] - here[1]];
            let cross = (a[0] * b[1] - a[1] * b[0]).abs();
            *angle = libm::atan2(cross, a[0] * b[0] + a[1] * b[1]).to_degrees();
        }
        out
    }
}

fn corners(x: &Unknowns) -> [[f64; 2]; 4] {
    [[0.0, 0.0], [x[0], 0.0], [x[1], x[2]], [x[3], x[4]]]
}

/// The normal equations JᵀWJ and JᵀWv.
fn equations(
    observations: &[Observation],
    weights: &[f64],
    x: &Unknowns,
) -> ([Unknowns; UNKNOWN], Unknowns) {
    let mut normal = [[0.0; UNKNOWN]; UNKNOWN];
    let mut right = [0.0; UNKNOWN];
    for (o, w) in observations.iter().zip(weights) {
        let (value, slope) = length(o.of, x);
        for i in 0..UNKNOWN {
            right[i] += w * slope[i] * (o.reading.value - value);
            for j in 0..UNKNOWN {
                normal[i][j] += w * slope[i] * slope[j];
            }
        }
    }
    (normal, right)
}

fn multiply(m: &[Unknowns; UNKNOWN], v: &Unknowns) -> Unknowns {
    let mut out = [0.0; UNKNOWN];
    for (o, row) in out.iter_mut().zip(m) {
        *o = row.iter().zip(v).map(|(a, b)| a * b).sum();
    }
    out
}

/// A span's length and its slopes. Each is the length of a vector that is linear in the unknowns.
fn length(of: Span, x: &Unknowns) -> (f64, Unknowns) {
    let [a, x2, y2, x3, y3] = *x;
    // The vector, and its coordinates' slopes by unknown.
    let vector = |dx: f64, dy: f64, sx: Unknowns, sy: Unknowns| {
        let l = libm::hypot(dx, dy);
        let mut slopes = [0.0; UNKNOWN];
        if l > 0.0 {
            for ((s, sx), sy) in slopes.iter_mut().zip(sx).zip(sy) {
                *s = (dx * sx + dy * sy) / l;
            }
        }
        (l, slopes)
    };
    let apart = |p: Span, q: Span| {
        let ((p, sp), (q, sq)) = (length(p, x), length(q, x));
        let mut slopes = sp;
        for (s, q) in slopes.iter_mut().zip(sq) {
            *s -= q;
        }
        (p - q, slopes)
    };
    match of {
        Span::Down(s) => vector(
            s * (x2 - a) + (1.0 - s) * x3,
            s * y2 + (1.0 - s) * y3,
            [-s, s, 0.0, 1.0 - s, 0.0],
            [0.0, 0.0, s, 0.0, 1.0 - s],
        ),
        Span::Across(s) => vector(
            (1.0 - s) * a + s * (x2 - x3),
            s * (y2 - y3),
            [1.0 - s, s, 0.0, -s, 0.0],
            [0.0, 0.0, s, 0.0, -s],
        ),
        Span::Falling => vector(x2, y2, [0.0, 1.0, 0.0, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0, 0.0]),
        Span::Rising => vector(
            x3 - a,
            y3,
            [-1.0, 0.0, 0.0, 1.0, 0.0],
            [0.0, 0.0, 0.0, 0.0, 1.0],
        ),
        Span::SidesApart => apart(Span::Down(0.0), Span::Down(1.0)),
        Span::EdgesApart => apart(Span::Across(0.0), Span::Across(1.0)),
        Span::DiagonalsApart => apart(Span::Falling, Span::Rising),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seen(of: Span, mm: f64, name: &str) -> Observation {
        let reading = Uncertain::input(mm, 0.5 / 3.0_f64.sqrt(), name);
        Observation { of, reading }
    }

    fn six(c: [[f64; 2]; 4], round: bool) -> Vec<Observation> {
        let d = |i: usize, j: usize| {
            let d = libm::hypot(c[i][0] - c[j][0], c[i][1] - c[j][1]);
            if round { d.round() } else { d }
        };
        vec![
            seen(Span::Down(0.0), d(0, 3), "left"),
            seen(Span::Down(1.0), d(1, 2), "right"),
            seen(Span::Across(0.0), d(0, 1), "top"),
            seen(Span::Across(1.0), d(3, 2), "foot"),
            seen(Span::Falling, d(0, 2), "falling"),
            seen(Span::Rising, d(1, 3), "rising"),
        ]
    }

    #[test]
    fn readings_of_a_true_quadrilateral_give_its_area() {
        // Source, exact case: corners (0,0), (1200,5), (1195,1810), (−5,1800) mm have 2 163 037.5 mm²
        // by the shoelace formula; a 3-4-5 rectangle; a rhombus of side 5 with diagonals 6 and 8 has 24.
        let c = [[0.0, 0.0], [1200.0, 5.0], [1195.0, 1810.0], [-5.0, 1800.0]];
        let q = Quadrilateral::adjusted(&six(c, false), 1200.0, 1800.0).unwrap();
        assert!(
            (q.area().value - 2_163_037.5).abs() < 1e-3,
            "{}",
            q.area().value
        );
        let q = Quadrilateral::adjusted(&six(c, true), 1200.0, 1800.0).unwrap();
        assert!((q.area().value - 2_163_037.5).abs() < 2.0 * q.area().u());
        let rectangle = [[0.0, 0.0], [400.0, 0.0], [400.0, 300.0], [0.0, 300.0]];
        let q = Quadrilateral::adjusted(&six(rectangle, false), 390.0, 310.0).unwrap();
        assert!((q.area().value - 120_000.0).abs() < 1e-6);
        assert!(q.angles().iter().all(|a| (a - 90.0).abs() < 1e-9));
        let rhombus = [[0.0, 300.0], [400.0, 0.0], [800.0, 300.0], [400.0, 600.0]];
        let q = Quadrilateral::adjusted(&six(rhombus, false), 500.0, 500.0).unwrap();
        assert!(
            (q.area().value - 240_000.0).abs() < 1e-3,
            "{}",
            q.area().value
        );
    }

    #[test]
    fn the_reading_that_is_wrong_stands_out() {
        let rectangle = [[0.0, 0.0], [1600.0, 0.0], [1600.0, 1200.0], [0.0, 1200.0]];
        let mut readings = six(rectangle, true);
        readings.push(seen(Span::Down(0.5), 1218.0, "middle"));
        let q = Quadrilateral::adjusted(&readings, 1600.0, 1200.0).unwrap();
        let worst = (0..7).max_by(|&i, &j| q.residuals[i].abs().total_cmp(&q.residuals[j].abs()));
        assert_eq!(worst, Some(6));
        assert!(q.scatter.unwrap() > 3.0);
    }
}
