//! Where the piece lies in a photo: four corners found by its edges against an even wall.
//!
//! A proposal to be looked at and written down, never used unasked. What differs from the wall (`wall`) and
//! hangs together is the piece; its hull gives a rough outline of four sides; straight lines along its edges
//! (`edges`) meet in the corners. How sure that is follows from how much of each edge is seen and how straight
//! it runs.

use super::edges::{Edge, edge};
use super::facts::{Fault, Size};
use super::homography::Points;
use super::linear::Light;
use super::oklab::Oklab;
use super::wall::Wall;
use rayon::prelude::*;
use serde::Serialize;

/// Long edge, pixels, of the picture that is searched.
pub(super) const FIND_EDGE: u32 = 1200;
/// What differs from the wall by less is wall (Oklab).
const DIFFERENT: f64 = 0.035;
/// The least share of the photo that a piece takes, and the most of the photo's border that it may touch.
const LEAST_PIECE: f64 = 0.04;
const MOST_BORDER: f64 = 0.02;
/// How much of its hull a four-sided figure fills.
const FOUR_SIDED: f64 = 0.86;
/// What each rank of sureness asks for: the share of every edge that is seen, and how far it may bow as a share
/// of the diagonal (own choice, no source).
const SURE: (f64, f64) = (0.75, 0.0015);
const FAIR: (f64, f64) = (0.5, 0.0022);
/// Neighbouring places along an edge bow together: so many of them count as one.
const TOGETHER: f64 = 8.0;

/// Four corners, and how sure they are.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct FoundCorners {
    /// Clockwise from the upper left, pixels of the upright photo.
    pub corners: [[f64; 2]; 4],
    /// Standard uncertainty of the least sure corner, pixels of the upright photo.
    pub within: f64,
    /// The share of the least seen edge that stands out from the wall in a straight line, 0 to 1.
    pub seen: f64,
    /// In a word.
    pub sure: Sureness,
}

/// How sure found corners are, in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Sureness {
    /// Some edge is half hidden or far from straight: look closely.
    Doubtful,
    /// Most of every edge is seen.
    Fair,
    /// Every edge is seen and straight.
    Sure,
}

/// Why no corners were found.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, thiserror::Error)]
#[serde(rename_all = "kebab-case")]
pub enum NotFound {
    #[error("the photo can not be read: {0}")]
    Fault(Fault),
    #[error("no even wall shows all around: the photo may be trimmed to the piece")]
    NoWall,
    #[error("nothing of some size stands out from the wall")]
    Nothing,
    #[error("the piece reaches beyond the edge of the photo")]
    CutOff,
    #[error("what stands out from the wall has not four sides")]
    NotFourSided,
    #[error("an edge of the piece can not be told from the wall, or is not straight")]
    NoEdge,
}

/// Finds the piece in upright light in sRGB primaries; `photo` is the size of the upright photo.
pub(super) fn find(light: &Light, photo: Size) -> Result<FoundCorners, NotFound> {
    let size = light.size;
    let colours: Vec<Oklab> = light
        .samples
        .par_chunks_exact(3)
        .map(|p| Oklab::from_light([p[0], p[1], p[2]].map(|v| f64::from(v) / 65535.0)))
        .collect();
    let wall = Wall::around(size, &colours).ok_or(NotFound::NoWall)?;
    let hull = hull(&piece(size, &colours, &wall)?);
    let outline = four_sides(&hull).ok_or(NotFound::NotFourSided)?;
    if area(&outline) < FOUR_SIDED * area(&hull) {
        return Err(NotFound::NotFourSided);
    }
    let sides: Vec<usize> = (0..4).collect();
    let edges: Vec<Edge> = sides
        .par_iter()
        .map(|&i| {
            edge(
                size,
                &colours,
                [outline[i], outline[(i + 1) % 4]],
                wall.stray,
            )
        })
        .collect::<Option<_>>()
        .ok_or(NotFound::NoEdge)?;
    let mut corners = [[0.0; 2]; 4];
    for (i, corner) in corners.iter_mut().enumerate() {
        *corner = edges[(i + 3) % 4]
            .meets(&edges[i])
            .ok_or(NotFound::NoEdge)?;
    }
    let scale = light.scale();
    let corners = upper_left_first(corners.map(|[x, y]| [x / scale[0], y / scale[1]]));
    let (w, h) = (f64::from(photo.width), f64::from(photo.height));
    if !corners
        .iter()
        .all(|[x, y]| (0.0..=w).contains(x) && (0.0..=h).contains(y))
    {
        return Err(NotFound::CutOff);
    }
    Ok(judged(corners, &edges, size, scale))
}

fn judged(corners: Points, edges: &[Edge], size: Size, scale: [f64; 2]) -> FoundCorners {
    let diagonal = libm::hypot(f64::from(size.width), f64::from(size.height));
    let seen = edges.iter().fold(1.0, |least: f64, e| least.min(e.share));
    let bow = edges.iter().fold(0.0, |most: f64, e| most.max(e.bow)) / diagonal;
    // A line's end is twice as uncertain as its middle; half a pixel for all that is not looked at.
    let end = |e: &Edge| 2.0 * e.bow / libm::sqrt((e.share * 160.0 / TOGETHER).max(1.0));
    let within = (0..4)
        .map(|i| libm::hypot(libm::hypot(end(&edges[i]), end(&edges[(i + 1) % 4])), 0.5))
        .fold(0.0, f64::max)
        / scale[0].min(scale[1]);
    let meets = |(share, bowed): (f64, f64)| seen >= share && bow <= bowed;
    FoundCorners {
        corners,
        within,
        seen,
        sure: if meets(SURE) {
            Sureness::Sure
        } else if meets(FAIR) {
            Sureness::Fair
        } else {
            Sureness::Doubtful
        },
    }
}

/// Both ends of every row of the largest thing that is not wall.
fn piece(size: Size, colours: &[Oklab], wall: &Wall) -> Result<Vec<[f64; 2]>, NotFound> {
    let (w, h) = (size.width as usize, size.height as usize);
    let different = DIFFERENT.max(6.0 * wall.stray);
    let mut open: Vec<bool> = colours
        .par_iter()
        .enumerate()
        .map(|(i, colour)| {
            let wall = wall.at((i % w) as f64 + 0.5, (i / w) as f64 + 0.5);
            colour.distance(wall) > different
        })
        .collect();
    let mut largest: Vec<usize> = Vec::new();
    for start in 0..w * h {
        if !std::mem::take(&mut open[start]) {
            continue;
        }
        let mut found = vec![start];
        let mut next = 0;
        while next < found.len() {
            let (x, y) = (found[next] % w, found[next] / w);
            let neighbours = [
                (x > 0).then(|| found[next] - 1),
                (x + 1 < w).then(|| found[next] + 1),
                (y > 0).then(|| found[next] - w),
                (y + 1 < h).then(|| found[next] + w),
            ];
            for neighbour in neighbours.into_iter().flatten() {
                if std::mem::take(&mut open[neighbour]) {
                    found.push(neighbour);
                }
            }
            next += 1;
        }
        if found.len() > largest.len() {
            largest = found;
        }
    }
    if (largest.len() as f64) < LEAST_PIECE * (w * h) as f64 {
        return Err(NotFound::Nothing);
    }
    let at_border = |i: &&usize| {
        let (x, y) = (*i % w, *i / w);
        x == 0 || y == 0 || x + 1 == w || y + 1 == h
    };
    let touching = largest.iter().filter(at_border).count();
    if touching as f64 > MOST_BORDER * (2 * (w + h)) as f64 {
        return Err(NotFound::CutOff);
    }
    let mut ends = vec![(usize::MAX, 0); h];
    for i in largest {
        let (x, row) = (i % w, &mut ends[i / w]);
        *row = (row.0.min(x), row.1.max(x + 1));
    }
    Ok(ends
        .into_iter()
        .enumerate()
        .filter(|(_, (left, right))| left < right)
        .flat_map(|(y, (left, right))| [left, right].map(|x| [x as f64, y as f64 + 0.5]))
        .collect())
}

/// The convex hull, clockwise as seen (Andrew's monotone chain, 1979).
fn hull(points: &[[f64; 2]]) -> Vec<[f64; 2]> {
    let mut sorted = points.to_vec();
    sorted.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    let chain = |points: &mut dyn Iterator<Item = &[f64; 2]>| {
        let mut chain: Vec<[f64; 2]> = Vec::new();
        for p in points {
            while let [.., a, b] = chain.as_slice() {
                if (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(*p);
        }
        chain.pop();
        chain
    };
    let mut around = chain(&mut sorted.iter());
    around.extend(chain(&mut sorted.iter().rev()));
    around
}

/// Twice-signed area halved: positive, for figures that run clockwise as seen.
fn area(ring: &[[f64; 2]]) -> f64 {
    let n = ring.len();
    (0..n)
        .map(|i| ring[i][0] * ring[(i + 1) % n][1] - ring[(i + 1) % n][0] * ring[i][1])
        .sum::<f64>()
        / 2.0
}

/// The largest four-sided figure within the hull: each corner in turn goes where it makes the figure largest,
/// until none moves.
fn four_sides(hull: &[[f64; 2]]) -> Option<Points> {
    let n = hull.len();
    if n < 4 {
        return None;
    }
    let farthest =
        |f: &dyn Fn(&[f64; 2]) -> f64| (0..n).max_by(|&a, &b| f(&hull[a]).total_cmp(&f(&hull[b])));
    let extent = |k: usize| {
        let along = || hull.iter().map(|p| p[k]);
        along().fold(f64::MIN, f64::max) - along().fold(f64::MAX, f64::min)
    };
    let (w, h) = (extent(0).max(1.0), extent(1).max(1.0));
    let mut chosen = [
        farthest(&|p| -p[0] / w - p[1] / h)?,
        farthest(&|p| p[0] / w - p[1] / h)?,
        farthest(&|p| p[0] / w + p[1] / h)?,
        farthest(&|p| -p[0] / w + p[1] / h)?,
    ];
    let figure = |chosen: [usize; 4]| chosen.map(|i| hull[i]);
    // It grows at every turn, and there are finitely many figures: it ends long before.
    for _ in 0..64 {
        let before = chosen;
        for corner in 0..4 {
            let with = |i: usize| {
                let mut tried = chosen;
                tried[corner] = i;
                area(&figure(tried))
            };
            let best = (0..n).max_by(|&a, &b| with(a).total_cmp(&with(b)))?;
            if with(best) > with(chosen[corner]) {
                chosen[corner] = best;
            }
        }
        if chosen == before {
            break;
        }
    }
    Some(figure(chosen))
}

fn upper_left_first(mut ring: Points) -> Points {
    let sum = |i: &usize| ring[*i][0] + ring[*i][1];
    let first = (0..4).min_by(|a, b| sum(a).total_cmp(&sum(b)));
    ring.rotate_left(first.unwrap_or(0));
    ring
}
