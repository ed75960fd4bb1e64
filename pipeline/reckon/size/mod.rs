//! Size, area and squareness of the piece as it hangs, from every tape reading at once.

mod entries;
mod normal;
mod quadrilateral;

use super::figure::{Figure, source};
use super::printed::significant;
use super::uncertain::Uncertain;
use crate::quantity::{Area, Length, Reading};
use crate::record::{At, Piece};
use quadrilateral::{Observation, Quadrilateral, Span};

/// How large the piece is.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// The greatest height: what captions and papers state, as museums do for an outline that is not
    /// quite even (Wellcome Collection's cataloguing note).
    pub height: Figure<Length>,
    /// The greatest width.
    pub width: Figure<Length>,
    /// The mean height.
    pub mean_height: Figure<Length>,
    /// The mean width.
    pub mean_width: Figure<Length>,
    /// Thickness.
    pub thickness: Option<Figure<Length>>,
    /// Area of the face, of the quadrilateral that fits all readings best.
    pub area: Figure<Area>,
    /// How far one side leans out of square, along the width: (p² − q²)/4W, derived from the two
    /// diagonals of a parallelogram of width W. Positive when the top leans to the left.
    pub lean: Option<Figure<Length>>,
    /// The inner angle furthest from a right angle, less 90°, in degrees; where there are diagonals.
    pub out_of_square: Option<f64>,
    /// The corners of the quadrilateral that fits all readings best, mm: top left, top right, lower right,
    /// lower left, with the top edge along x from the origin and y running down.
    pub corners: Option<[[f64; 2]; 4]>,
    /// How much more the middle height reads than the mean of the outer two (three readings or more).
    pub bow_height: Option<Figure<Length>>,
    /// How much more the middle width reads than the mean of the outer two.
    pub bow_width: Option<Figure<Length>>,
    /// The reading that fits worst, where more were taken than needed.
    pub worst: Option<Misfit>,
    /// What was taken as so for want of readings.
    pub assumed: Vec<&'static str>,
    lean_worked: String,
    corner: &'static str,
    /// √(χ²/ν) of the adjustment: over 1, the readings scatter more than their last places explain.
    pub scatter: Option<f64>,
}

/// A reading against the quadrilateral that fits all best.
#[derive(Debug, Clone, PartialEq)]
pub struct Misfit {
    /// The reading, such as `measured.height[1]`.
    pub reading: String,
    /// As it was written.
    pub text: String,
    /// Reading less adjusted figure.
    pub by: Length,
    /// The same in the reading's own standard uncertainties.
    pub in_uncertainties: f64,
}

impl Size {
    /// Reckons the size. Height and width are never empty in a record.
    pub fn of(piece: &Piece) -> Size {
        let m = &piece.measured;
        let zero = || Figure::new(Uncertain::exact(0.0), [""; 0]);
        let mean_height = Figure::mean(&m.height, "measured.height").unwrap_or_else(zero);
        let mean_width = Figure::mean(&m.width, "measured.width").unwrap_or_else(zero);
        let mut assumed = Vec::new();
        let mut taken = observations(piece, &mut assumed);
        let (width, height) = (mean_width.value.mm(), mean_height.value.mm());
        let adjust = |taken: &[Taken]| {
            let all: Vec<Observation> = taken.iter().map(|t| t.observation.clone()).collect();
            Quadrilateral::adjusted(&all, width, height)
        };
        let mut shape = adjust(&taken);
        // Diagonals that contradict everything else are left out rather than believed.
        if m.diagonals.is_some() && shape.as_ref().is_none_or(|s| !likely(s, width, height)) {
            let without = Piece {
                measured: crate::record::Measured {
                    diagonals: None,
                    ..m.clone()
                },
                ..piece.clone()
            };
            assumed.clear();
            taken = observations(&without, &mut assumed);
            assumed.push("the diagonals are left out: no piece of this height and width has them");
            shape = adjust(&taken);
        }
        let has_diagonals = taken.iter().any(|t| t.observation.of == Span::Falling);
        let mut from = vec!["measured.height", "measured.width"];
        from.extend(has_diagonals.then_some("measured.diagonals"));
        let area = shape.as_ref().map_or_else(
            || (mean_height.number() * mean_width.number()).times(1e-6),
            |s| s.area().times(1e-6),
        );
        let square = shape.as_ref().filter(|_| has_diagonals);
        let lean = square.filter(|_| width > 0.0).map(|s| {
            let (p, q) = (s.span(Span::Falling), s.span(Span::Rising));
            let e = &(&(&p * &p) - &(&q * &q)) / &mean_width.number().times(4.0);
            Figure::new(e, from.clone())
        });
        let lean_worked = square.map_or(String::new(), |s| {
            let mm = |x: f64| significant(x, 7);
            let (p, q) = (s.span(Span::Falling).value, s.span(Span::Rising).value);
            format!(
                "({}² − {}²) / (4 × {}), as adjusted",
                mm(p),
                mm(q),
                mm(width)
            )
        });
        let corners = ["top left", "top right", "lower right", "lower left"];
        let (corner, out_of_square) = square.map_or(("", None), |s| {
            let off = s.angles().map(|a| a - 90.0);
            let all = corners.into_iter().zip(off);
            let worst = all.reduce(|a, b| if b.1.abs() > a.1.abs() { b } else { a });
            worst.map_or(("", None), |(corner, a)| (corner, Some(a)))
        });
        let worst = shape.as_ref().and_then(|s| worst(s, &taken));
        Size {
            height: greatest(&m.height, "measured.height").unwrap_or_else(zero),
            width: greatest(&m.width, "measured.width").unwrap_or_else(zero),
            thickness: m
                .thickness
                .as_ref()
                .map(|t| Figure::read(&t.value, "measured.thickness")),
            area: Figure::new(area, from),
            lean,
            out_of_square,
            corners: shape.as_ref().map(Quadrilateral::corners),
            bow_height: bow(&m.height, "measured.height"),
            bow_width: bow(&m.width, "measured.width"),
            worst,
            lean_worked,
            corner,
            assumed,
            scatter: shape.and_then(|s| s.scatter),
            mean_height,
            mean_width,
        }
    }
}

/// An observation and the reading it came from.
struct Taken {
    observation: Observation,
    text: String,
}

fn observations(piece: &Piece, assumed: &mut Vec<&'static str>) -> Vec<Taken> {
    let m = &piece.measured;
    let mut all = Vec::new();
    let mut take = |of: Span, reading: &Reading<Length>, name: String| {
        let number = Figure::read(reading, &name).number().clone();
        all.push(Taken {
            observation: Observation {
                of,
                reading: number,
            },
            text: reading.text.clone(),
        });
    };
    let at = |i: usize, n: usize| {
        if n < 2 {
            0.5
        } else {
            i as f64 / (n - 1) as f64
        }
    };
    for (i, r) in m.height.iter().enumerate() {
        take(
            Span::Down(at(i, m.height.len())),
            &r.value,
            source("measured.height", i),
        );
    }
    for (i, r) in m.width.iter().enumerate() {
        take(
            Span::Across(at(i, m.width.len())),
            &r.value,
            source("measured.width", i),
        );
    }
    if let Some([p, q]) = &m.diagonals {
        take(Span::Falling, &p.value, source("measured.diagonals", 0));
        take(Span::Rising, &q.value, source("measured.diagonals", 1));
    }
    let mut assume = |of: Span, words: &'static str| {
        all.push(Taken {
            observation: Observation::assumed(of),
            text: String::new(),
        });
        assumed.push(words);
    };
    if m.height.len() < 2 {
        assume(
            Span::SidesApart,
            "both sides are as high as the one height reading",
        );
    }
    if m.width.len() < 2 {
        assume(
            Span::EdgesApart,
            "top and foot are as wide as the one width reading",
        );
    }
    if m.diagonals.is_none() {
        assume(Span::DiagonalsApart, "both diagonals are alike");
    }
    all
}

/// Whether the adjusted shape is a piece at all: its area within a tenth of height × width.
fn likely(shape: &Quadrilateral, width: f64, height: f64) -> bool {
    let share = shape.area().value / (width * height);
    (0.9..=1.1).contains(&share)
}

fn worst(shape: &Quadrilateral, taken: &[Taken]) -> Option<Misfit> {
    shape.scatter?;
    taken
        .iter()
        .zip(&shape.residuals)
        .filter(|(t, _)| !t.text.is_empty())
        .map(|(t, &by)| {
            let u = t.observation.reading.u();
            let name = t.observation.reading.sources().first().map_or("", |s| s.0);
            Misfit {
                reading: name.to_string(),
                text: t.text.clone(),
                by: Length::from_mm(by),
                in_uncertainties: if u > 0.0 { by / u } else { 0.0 },
            }
        })
        .filter(|m| m.in_uncertainties.abs() >= 0.05)
        .max_by(|a, b| {
            a.in_uncertainties
                .abs()
                .total_cmp(&b.in_uncertainties.abs())
        })
}

/// The middle reading (of an even number, the mean of the middle two) less the mean of the outer two.
fn bow(readings: &[At<Reading<Length>>], field: &str) -> Option<Figure<Length>> {
    if readings.len() < 3 {
        return None;
    }
    let n = readings.len();
    let one = |i: usize| {
        Figure::read(&readings[i].value, &source(field, i))
            .number()
            .clone()
    };
    let middle = (&one((n - 1) / 2) + &one(n / 2)).times(0.5);
    let outer = (&one(0) + &one(n - 1)).times(0.5);
    Some(Figure::new(&middle - &outer, [field]))
}

fn greatest(all: &[At<Reading<Length>>], from: &str) -> Option<Figure<Length>> {
    all.iter()
        .enumerate()
        .max_by(|a, b| {
            let mm = |r: &At<Reading<Length>>| r.value.value.mm();
            mm(a.1).total_cmp(&mm(b.1))
        })
        .map(|(i, r)| Figure::read(&r.value, &source(from, i)))
}
