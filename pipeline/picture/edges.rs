//! Straight lines along the four edges of a piece: where cloth ends and wall begins, to a part of a pixel.
//!
//! Across each side of a rough outline the picture is followed from the wall inwards. The first sharp change
//! of colour is the edge there; a shadow on the wall grows darker slowly and is passed over. A line is then
//! laid through most of these places, whatever the others say, and last through the near ones by least squares.

use super::facts::Size;
use super::oklab::Oklab;

/// Places along each side, and the share of a side that is left out at either end, where corners are round.
const STATIONS: usize = 160;
const ENDS: f64 = 0.05;
/// How far to either side of the outline an edge is looked for, as a share of the diagonal.
const REACH: f64 = 0.035;
/// Pixels between two colours that are compared, and half of what is averaged along the edge.
const ACROSS: f64 = 1.5;
const ALONG: i32 = 2;
/// Steps to a pixel.
const STEPS: f64 = 2.0;
/// A change of colour smaller than this is no edge: a contact shadow changes by less (own choice, no source).
const SHARP: f64 = 0.05;
/// How wide the dark line between wall and cloth may be, which is the shadow of a thick cloth and not the cloth,
/// as a share of the diagonal (own choice, no source).
const DARK_LINE: f64 = 0.003;
/// How far from the line a place may lie to speak for it, as shares of the diagonal: cloth bows, and small
/// pieces of thick yarn run in waves. The first with which enough places speak for the line is taken.
const NEAR: [f64; 3] = [0.003, 0.007, 0.015];
const ENOUGH: f64 = 0.8;
/// Places that lines are tried through, in pairs.
const TRIED: usize = 28;

/// A line fitted to one edge: points p with p · normal = distance, pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Edge {
    pub normal: [f64; 2],
    pub distance: f64,
    /// Share of the places along the side that speak for it, 0 to 1.
    pub share: f64,
    /// How far those places lie from it: the standard deviation, pixels.
    pub bow: f64,
}

impl Edge {
    /// Where two lines meet; nothing if they are all but parallel.
    pub(super) fn meets(&self, other: &Edge) -> Option<[f64; 2]> {
        let (n, m) = (self.normal, other.normal);
        let determinant = n[0] * m[1] - n[1] * m[0];
        (determinant.abs() > 0.2).then(|| {
            [
                (self.distance * m[1] - other.distance * n[1]) / determinant,
                (n[0] * other.distance - m[0] * self.distance) / determinant,
            ]
        })
    }
}

/// The edge near the side from `a` to `b` of an outline that runs clockwise. `stray` is how far the wall's own
/// colour strays. Nothing where too little of an edge is seen.
pub(super) fn edge(
    size: Size,
    colours: &[Oklab],
    [a, b]: [[f64; 2]; 2],
    stray: f64,
) -> Option<Edge> {
    let diagonal = libm::hypot(f64::from(size.width), f64::from(size.height));
    let length = libm::hypot(b[0] - a[0], b[1] - a[1]);
    let side = [(b[0] - a[0]) / length, (b[1] - a[1]) / length];
    let inwards = [-side[1], side[0]];
    let sharp = SHARP.max(8.0 * stray);
    let reach = (REACH * diagonal * STEPS) as i32;
    let colour = |along: f64, depth: f64| {
        let mut sum = Oklab::default();
        for n in -ALONG..=ALONG {
            let along = along + f64::from(n);
            let at = [0, 1].map(|k| a[k] + side[k] * along + inwards[k] * depth);
            let here = between(size, colours, at);
            (sum.l, sum.a, sum.b) = (sum.l + here.l, sum.a + here.a, sum.b + here.b);
        }
        let n = f64::from(2 * ALONG + 1);
        Oklab {
            l: sum.l / n,
            a: sum.a / n,
            b: sum.b / n,
        }
    };
    let places: Vec<[f64; 2]> = (0..STATIONS)
        .filter_map(|n| {
            let part = ENDS + (1.0 - 2.0 * ENDS) * (n as f64 + 0.5) / STATIONS as f64;
            let along = part * length;
            let profile: Vec<Oklab> = (-reach..=reach)
                .map(|step| colour(along, f64::from(step) / STEPS))
                .collect();
            let apart = (ACROSS * STEPS) as usize;
            let change: Vec<f64> = (apart..profile.len().saturating_sub(apart))
                .map(|i| profile[i - apart].distance(profile[i + apart]))
                .collect();
            let lighter = |top: f64| {
                let i = top as usize;
                profile[i + 2 * apart].l > profile[i].l
            };
            let mut top = first_top(&change, sharp, 0)?;
            if !lighter(top) {
                // Pale cloth on a pale wall: the shadow at its foot is darker than both.
                let next = first_top(&change, sharp, top as usize + apart);
                let within = |next: &f64| next - top <= DARK_LINE * diagonal * STEPS;
                top = next
                    .filter(|next| within(next) && lighter(*next))
                    .unwrap_or(top);
            }
            let depth = (top + apart as f64 - f64::from(reach)) / STEPS;
            Some([0, 1].map(|k| a[k] + side[k] * along + inwards[k] * depth))
        })
        .collect();
    let mut lines = NEAR
        .iter()
        .filter_map(|near| line(&places, inwards, near * diagonal));
    let mut found = lines.next();
    for wider in lines {
        if found.is_some_and(|edge| edge.share >= ENOUGH) {
            break;
        }
        found = Some(wider);
    }
    found
}

/// The first top above `least` from an entry on, between entries by a parabola through three of them. Where that
/// entry lies on a slope that falls, the top after it is meant.
fn first_top(change: &[f64], least: f64, from: usize) -> Option<f64> {
    let rises = |i: &usize| change[*i] >= least && (*i == 0 || change[*i] >= change[*i - 1]);
    let mut top = (from..change.len()).find(rises)?;
    while change.get(top + 1).is_some_and(|next| *next > change[top]) {
        top += 1;
    }
    let (before, at, after) = (
        change.get(top.checked_sub(1)?)?,
        change[top],
        change.get(top + 1)?,
    );
    let bend = before - 2.0 * at + after;
    let aside = if bend < 0.0 {
        ((before - after) / (2.0 * bend)).clamp(-0.5, 0.5)
    } else {
        0.0
    };
    Some(top as f64 + aside)
}

/// The line that most places speak for; its normal points the way `inwards` does.
fn line(places: &[[f64; 2]], inwards: [f64; 2], near: f64) -> Option<Edge> {
    if places.len() < STATIONS / 4 {
        return None;
    }
    let through = |p: [f64; 2], q: [f64; 2]| {
        let length = libm::hypot(q[0] - p[0], q[1] - p[1]);
        let normal = [-(q[1] - p[1]) / length, (q[0] - p[0]) / length];
        (normal, normal[0] * p[0] + normal[1] * p[1])
    };
    let off = |(normal, distance): ([f64; 2], f64), p: &[f64; 2]| {
        normal[0] * p[0] + normal[1] * p[1] - distance
    };
    let tried: Vec<[f64; 2]> = (0..TRIED)
        .map(|i| places[i * (places.len() - 1) / (TRIED - 1)])
        .collect();
    let mut best = (0.0, ([0.0; 2], 0.0));
    for i in 0..TRIED {
        // Pairs close together say little of a direction.
        for j in i + TRIED / 4..TRIED {
            let candidate = through(tried[i], tried[j]);
            // Each place counts the more the nearer it lies.
            let score: f64 = places
                .iter()
                .map(|p| (1.0 - off(candidate, p).abs() / near).max(0.0))
                .sum();
            if score > best.0 {
                best = (score, candidate);
            }
        }
    }
    let mut found = best.1;
    let mut kept: Vec<[f64; 2]> = Vec::new();
    for _ in 0..4 {
        kept = places
            .iter()
            .filter(|p| off(found, p).abs() <= near)
            .copied()
            .collect();
        if kept.len() < STATIONS / 4 {
            return None;
        }
        found = least_squares(&kept);
    }
    let (mut normal, mut distance) = found;
    if normal[0] * inwards[0] + normal[1] * inwards[1] < 0.0 {
        (normal, distance) = (normal.map(|v| -v), -distance);
    }
    let square: f64 = kept.iter().map(|p| off(found, p) * off(found, p)).sum();
    Some(Edge {
        normal,
        distance,
        share: kept.len() as f64 / STATIONS as f64,
        bow: libm::sqrt(square / kept.len() as f64),
    })
}

/// The line with the least squares of distances: along the longer axis of the places' spread.
fn least_squares(places: &[[f64; 2]]) -> ([f64; 2], f64) {
    let n = places.len() as f64;
    let middle = [0, 1].map(|k| places.iter().map(|p| p[k]).sum::<f64>() / n);
    let spread = |j: usize, k: usize| -> f64 {
        places
            .iter()
            .map(|p| (p[j] - middle[j]) * (p[k] - middle[k]))
            .sum()
    };
    let angle = libm::atan2(2.0 * spread(0, 1), spread(0, 0) - spread(1, 1)) / 2.0;
    let normal = [-libm::sin(angle), libm::cos(angle)];
    (normal, normal[0] * middle[0] + normal[1] * middle[1])
}

/// The colour at a place between pixels, weighted by nearness.
fn between(size: Size, colours: &[Oklab], [x, y]: [f64; 2]) -> Oklab {
    let (w, h) = (size.width as usize, size.height as usize);
    let near = |v: f64, of: usize| {
        let v = (v - 0.5).clamp(0.0, (of - 1) as f64);
        let low = (v as usize).min(of.saturating_sub(2));
        (low, (low + 1).min(of - 1), v - low as f64)
    };
    let ((x0, x1, fx), (y0, y1, fy)) = (near(x, w), near(y, h));
    let mix = |k: fn(&Oklab) -> f64| {
        let at = |x: usize, y: usize| k(&colours[y * w + x]);
        (at(x0, y0) * (1.0 - fx) + at(x1, y0) * fx) * (1.0 - fy)
            + (at(x0, y1) * (1.0 - fx) + at(x1, y1) * fx) * fy
    };
    Oklab {
        l: mix(|c| c.l),
        a: mix(|c| c.a),
        b: mix(|c| c.b),
    }
}
