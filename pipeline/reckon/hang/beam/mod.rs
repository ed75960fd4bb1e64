//! A straight bar on any number of supports at any places, under loads that change evenly along it:
//! reactions, moments and sag after Euler and Bernoulli. The moments over the supports come from
//! Clapeyron's three-moment equations, a system of three diagonals that is always dominated by the
//! middle one, so no arrangement of supports makes it ill to solve; everything between them are
//! polynomials, kept as such (`curve`). Lengths in mm, forces in N, stiffness E·I in N mm².

mod curve;
#[cfg(test)]
mod tests;

pub use curve::{Bent, Local, Peak};

use curve::{Piece, State};

/// A bar with its loads. It is uniform and is held up and down, free to turn, at each support.
#[derive(Debug, Clone, PartialEq)]
pub struct Beam {
    /// Its length, mm.
    pub length: f64,
    /// E·I, N mm².
    pub stiffness: f64,
    /// Places of the supports from the left end, mm, in any order.
    pub supports: Vec<f64>,
    /// Loads spread along it.
    pub spread: Vec<Spread>,
    /// Loads at one place: mm from the left end, N downwards.
    pub points: Vec<(f64, f64)>,
}

/// A load that changes evenly from one place to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Where it begins, mm from the left end.
    pub from: f64,
    /// Where it ends, mm.
    pub to: f64,
    /// N/mm downwards where it begins.
    pub start: f64,
    /// N/mm downwards where it ends.
    pub end: f64,
}

impl Spread {
    /// The same all along, N/mm.
    pub fn even(from: f64, to: f64, load: f64) -> Spread {
        Spread {
            from,
            to,
            start: load,
            end: load,
        }
    }

    /// All of it together, N.
    pub fn total(&self) -> f64 {
        (self.to - self.from) * (self.start + self.end) / 2.0
    }
}

impl Beam {
    /// Solves the bar. `None` where nothing can be told: fewer than two supports at different places,
    /// a support or load beside the bar, a length or stiffness of nothing, a figure that is none.
    pub fn solve(&self) -> Option<Bent> {
        let mut at = self.supports.clone();
        at.sort_by(f64::total_cmp);
        at.dedup();
        let on_bar = |x: f64| (0.0..=self.length).contains(&x);
        let sound = self.length.is_finite()
            && self.stiffness.is_finite()
            && self.length > 0.0
            && self.stiffness > 0.0
            && at.iter().all(|x| on_bar(*x))
            && self.points.iter().all(|(x, p)| on_bar(*x) && p.is_finite())
            && self.spread.iter().all(|s| {
                on_bar(s.from)
                    && on_bar(s.to)
                    && s.from <= s.to
                    && s.start.is_finite()
                    && s.end.is_finite()
            });
        let (Some(&first), Some(&last)) = (at.first(), at.last()) else {
            return None;
        };
        if !sound || first == last {
            return None;
        }
        let cuts = self.cuts(&at);

        // The overhangs need no equation: shear and moment over the outer supports follow from the
        // loads outside of them.
        let left = self.march(&cuts, 0.0, first, State::default(), true).1;
        let hung = self
            .march(&cuts, last, self.length, State::default(), false)
            .1;
        let reach = self.length - last;
        let at_end = if reach > 0.0 {
            self.point(self.length)
        } else {
            0.0
        };
        let overhang = State {
            moment: hung.shear * reach - hung.moment - at_end * reach,
            shear: at_end - hung.shear,
            ..State::default()
        };

        let spans: Vec<Span> = at
            .windows(2)
            .map(|pair| self.span(&cuts, pair[0], pair[1]))
            .collect();
        let moments = three_moments(&spans, left.moment, overhang.moment);

        let mut pieces = Vec::new();
        let mut reactions: Vec<f64> = at.iter().map(|x| self.point(*x)).collect();
        let mut before = left;
        for (k, span) in spans.iter().enumerate() {
            let (m, n) = (moments[k], moments[k + 1]);
            let start = State {
                sag: 0.0,
                slope: span.slopes.0 + span.length * (2.0 * m + n) / 6.0,
                moment: m,
                shear: span.shear + (n - m) / span.length,
            };
            if k == 0 && first > 0.0 {
                // The overhang is turned and shifted until it meets the first span.
                let slope = start.slope - left.slope;
                let begin = State {
                    slope,
                    sag: -slope * first - left.sag,
                    ..State::default()
                };
                pieces.extend(self.march(&cuts, 0.0, first, begin, true).0);
            }
            reactions[k] += start.shear - before.shear;
            let (more, end) = self.march(&cuts, at[k], at[k + 1], start, false);
            pieces.extend(more);
            before = end;
        }
        if let Some(reaction) = reactions.last_mut() {
            *reaction += overhang.shear - before.shear;
        }
        if reach > 0.0 {
            let begin = State {
                slope: before.slope,
                ..overhang
            };
            pieces.extend(self.march(&cuts, last, self.length, begin, false).0);
        }
        Some(Bent::new(pieces, at, reactions, self.stiffness))
    }

    /// All loads together, N.
    pub fn total(&self) -> f64 {
        let spread: f64 = self.spread.iter().map(Spread::total).sum();
        spread + self.points.iter().map(|(_, load)| load).sum::<f64>()
    }

    /// Every place where a polynomial ends.
    fn cuts(&self, supports: &[f64]) -> Vec<f64> {
        let mut cuts = vec![0.0, self.length];
        cuts.extend_from_slice(supports);
        cuts.extend(self.spread.iter().flat_map(|s| [s.from, s.to]));
        cuts.extend(self.points.iter().map(|(x, _)| *x));
        cuts.sort_by(f64::total_cmp);
        cuts.dedup();
        cuts
    }

    /// The point loads at a place, N.
    fn point(&self, x: f64) -> f64 {
        let here = self.points.iter().filter(|(at, _)| *at == x);
        here.map(|(_, load)| load).sum()
    }

    /// Goes along the bar from `from` to `to`, both of them cuts, and gives the polynomials on the way
    /// and the state on arrival. Point loads on the way are met, the one at `from` only where
    /// `with_first`, the one at `to` never.
    fn march(
        &self,
        cuts: &[f64],
        from: f64,
        to: f64,
        start: State,
        with_first: bool,
    ) -> (Vec<Piece>, State) {
        let mut state = start;
        let mut pieces = Vec::new();
        for pair in cuts.windows(2).filter(|p| p[0] >= from && p[1] <= to) {
            let (x, end) = (pair[0], pair[1]);
            if x > from || with_first {
                state.shear -= self.point(x);
            }
            let (mut load, mut rise) = (0.0, 0.0);
            for s in self.spread.iter().filter(|s| s.from <= x && end <= s.to) {
                let slope = (s.end - s.start) / (s.to - s.from);
                load += s.start + slope * (x - s.from);
                rise += slope;
            }
            let piece = Piece {
                x,
                length: end - x,
                start: state,
                load,
                rise,
            };
            state = piece.state(piece.length);
            pieces.push(piece);
        }
        (pieces, state)
    }

    /// A span as if it were cut from its neighbours at both supports.
    fn span(&self, cuts: &[f64], from: f64, to: f64) -> Span {
        let length = to - from;
        let fallen = self.march(cuts, from, to, State::default(), false).1;
        let shear = -fallen.moment / length;
        let start = State {
            shear,
            ..State::default()
        };
        let bent = self.march(cuts, from, to, start, false).1;
        let slope = -bent.sag / length;
        Span {
            length,
            shear,
            slopes: (slope, slope + bent.slope),
        }
    }
}

/// A span that rests on its two supports alone.
struct Span {
    length: f64,
    /// Shear at its left end, N.
    shear: f64,
    /// E·I times the slope at its left and right end.
    slopes: (f64, f64),
}

/// The moments over all supports from those over the outer ones:
/// l M₋ + 2 (l + l′) M + l′ M₊ = 6 (slope at the right of the left span − slope at the left of the
/// right span), the slopes times E·I (Clapeyron, 1857). Solved by elimination along the diagonal.
fn three_moments(spans: &[Span], first: f64, last: f64) -> Vec<f64> {
    let inner = spans.len() - 1;
    let mut diagonal = Vec::with_capacity(inner);
    let mut right = Vec::with_capacity(inner);
    for k in 0..inner {
        let (a, b) = (&spans[k], &spans[k + 1]);
        let mut d = 2.0 * (a.length + b.length);
        let mut r = 6.0 * (a.slopes.1 - b.slopes.0);
        match diagonal.last().zip(right.last()) {
            None => r -= a.length * first,
            Some((above, above_right)) => {
                let factor = a.length / above;
                d -= factor * a.length;
                r -= factor * above_right;
            }
        }
        if k + 1 == inner {
            r -= b.length * last;
        }
        diagonal.push(d);
        right.push(r);
    }
    let mut moments = vec![last];
    for k in (0..inner).rev() {
        let after = if k + 1 == inner {
            0.0
        } else {
            moments.last().copied().unwrap_or(0.0)
        };
        moments.push((right[k] - spans[k + 1].length * after) / diagonal[k]);
    }
    moments.push(first);
    moments.reverse();
    moments
}
