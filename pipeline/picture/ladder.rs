//! The colour ladder: the colours of a piece in the order in which they were woven.
//!
//! The cloth in the front photo is cut across the direction of weaving into bands, from the edge where the
//! weaving began. Each band states which of the piece's colours it holds and how much of its width they
//! take. It is a reading of a photo: it says nothing a colorimeter would.

use super::crop::Crop;
use super::facts::Size;
use super::linear::Light;
use super::oklab::Oklab;
use super::palette::{nearest, palette};
use super::srgb::Rgb8;
use serde::Serialize;
use std::fmt::Write as _;

/// The number of bands.
pub const BANDS: usize = 48;
/// Shares below this are left off.
const LEAST_SHARE: f64 = 0.06;
/// Samples of the cloth: along each band, and across the piece.
const ROWS: usize = 6;
const COLUMNS: usize = 144;
/// Long edge, pixels, of the picture the samples are taken from: small enough that a sample is the mean of
/// several threads.
const READ_EDGE: u32 = 720;
/// What is left off at each edge of the cloth, where shadow and wall show through.
const MARGIN: f64 = 0.012;
/// Bands to either side that have a say in where a colour stands, so that the order does not flicker.
const CALM: usize = 2;

/// Neighbours that differ by less look alike: the unevenness of one yarn.
const CALM_WITHIN: f64 = 0.05;
/// Colours farther apart than this have a border that can look like a third colour.
const APART: f64 = 0.08;
/// How much longer than the straight way the way over a mixture may be: unevenness of the cloth.
const BETWEEN: f64 = 1.15;

/// The colour ladder of one piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Ladder {
    /// From the edge where the weaving began.
    pub bands: Vec<Band>,
    /// The colours of the whole piece, the most frequent first.
    pub palette: Vec<Rgb8>,
    /// The same with the area each takes, the largest first.
    pub shades: Vec<Shade>,
    /// No usable corners were given: the piece was assumed to fill the middle of the photo.
    pub assumed: bool,
}

/// One colour of the piece and how much of it there is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Shade {
    pub colour: Rgb8,
    /// Share of the piece's area in thousandths; those of all shades add up to 1000.
    pub thousandths: u32,
}

/// One band across the piece.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Band {
    /// From left to right, seen with the start edge at the foot. Shares add up to 1.
    pub strips: Vec<Strip>,
}

/// One colour of a band.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Strip {
    pub colour: Rgb8,
    /// Share of the band's width, 0 to 1, rounded to four decimals.
    pub share: f32,
}

/// Reads the ladder from upright light in sRGB primaries. `photo` is the size the crop was given in.
pub(super) fn read(light: &Light, photo: Size, crop: &Crop, assumed: bool) -> Ladder {
    let small = light.shrunk(READ_EDGE);
    let scale = [
        f64::from(small.size.width) / f64::from(photo.width),
        f64::from(small.size.height) / f64::from(photo.height),
    ];
    let place = crop.place();
    let mut samples = Vec::with_capacity(BANDS * ROWS * COLUMNS);
    for row in 0..BANDS * ROWS {
        for column in 0..COLUMNS {
            let within = |at: usize, of: usize| {
                MARGIN + (1.0 - 2.0 * MARGIN) * (at as f64 + 0.5) / of as f64
            };
            let [x, y] = place(within(column, COLUMNS), within(row, BANDS * ROWS));
            samples.push(Oklab::from_light(between(
                &small,
                x * scale[0],
                y * scale[1],
            )));
        }
    }
    let calm = calm(&samples);
    let palette = palette(&calm_of(&samples, &calm));
    let of_colours = assign(&samples, &palette);
    let tallies: Vec<Vec<Tally>> = of_colours
        .chunks(ROWS * COLUMNS)
        .map(|band| tally(band, palette.len()))
        .collect();
    let colours: Vec<Rgb8> = palette.iter().map(|colour| colour.to_rgb8()).collect();
    let bands = (0..tallies.len())
        .map(|at| band(&tallies, at, &colours))
        .collect();
    Ladder {
        bands,
        shades: shades(&of_colours, &colours),
        palette: colours,
        assumed,
    }
}

/// The area of each colour. Every sample stands for the same area of the flat piece. Thousandths are
/// rounded so that they add up: down first, and what is missing goes to the largest remainders.
fn shades(of_colours: &[usize], colours: &[Rgb8]) -> Vec<Shade> {
    let mut counts = vec![0_u64; colours.len()];
    of_colours.iter().for_each(|&colour| counts[colour] += 1);
    let all = (of_colours.len() as u64).max(1);
    let mut parts: Vec<u64> = counts.iter().map(|count| count * 1000 / all).collect();
    let mut by_remainder: Vec<usize> = (0..colours.len()).collect();
    by_remainder.sort_by_key(|&c| (std::cmp::Reverse(counts[c] * 1000 % all), c));
    let missing = 1000 - parts.iter().sum::<u64>();
    by_remainder
        .iter()
        .take(missing as usize)
        .for_each(|&c| parts[c] += 1);
    let mut shades: Vec<Shade> = colours
        .iter()
        .zip(parts)
        .filter(|(_, part)| *part > 0)
        .map(|(&colour, part)| Shade {
            colour,
            thousandths: part as u32,
        })
        .collect();
    shades.sort_by_key(|s| (std::cmp::Reverse(s.thousandths), s.colour));
    shades
}

/// Which samples look like their neighbours on all sides: cloth of one colour, and not the mixture at the
/// border of two, which may look like a third.
fn calm(samples: &[Oklab]) -> Vec<bool> {
    let like = |at: usize, other: Option<usize>| {
        let other = other.and_then(|other| samples.get(other));
        other.is_none_or(|other| samples[at].distance(*other) < CALM_WITHIN)
    };
    (0..samples.len())
        .map(|at| {
            like(at, at.checked_sub(COLUMNS))
                && like(at, Some(at + COLUMNS))
                && (at % COLUMNS == 0 || like(at, Some(at - 1)))
                && ((at + 1) % COLUMNS == 0 || like(at, Some(at + 1)))
        })
        .collect()
}

/// The calm samples. Where a pattern is so fine that there are few, all of them.
fn calm_of(samples: &[Oklab], calm: &[bool]) -> Vec<Oklab> {
    let found: Vec<Oklab> = samples
        .iter()
        .zip(calm)
        .filter(|(_, calm)| **calm)
        .map(|(s, _)| *s)
        .collect();
    if found.len() * 4 >= samples.len() {
        found
    } else {
        samples.to_vec()
    }
}

/// Whether a sample is the mixture at the border of two colours: it lies between the samples on opposite
/// sides of it, is like neither, and those differ. A thin line of a colour of its own does not.
fn is_mixture(samples: &[Oklab], at: usize) -> bool {
    let column = at % COLUMNS;
    let between = |a: Option<usize>, b: usize| {
        let (Some(a), Some(b)) = (a.and_then(|a| samples.get(a)), samples.get(b)) else {
            return false;
        };
        let apart = a.distance(*b);
        let (to_a, to_b) = (samples[at].distance(*a), samples[at].distance(*b));
        apart > APART && to_a.min(to_b) > apart / 5.0 && to_a + to_b < apart * BETWEEN
    };
    (1..=2).any(|step| {
        let along =
            column >= step && column + step < COLUMNS && between(at.checked_sub(step), at + step);
        along || between(at.checked_sub(step * COLUMNS), at + step * COLUMNS)
    })
}

/// The palette's colour for each sample: the nearest; for a mixture, the nearest of those that its own band
/// or one beside it shows unmixed, so that the border of cream and purple does not turn up as gold.
fn assign(samples: &[Oklab], palette: &[Oklab]) -> Vec<usize> {
    const PER_BAND: usize = ROWS * COLUMNS;
    let mixed: Vec<bool> = (0..samples.len())
        .map(|at| is_mixture(samples, at))
        .collect();
    let mut assigned: Vec<usize> = samples
        .iter()
        .map(|&colour| nearest(palette, colour))
        .collect();
    let mut unmixed = vec![vec![0; palette.len()]; samples.len().div_ceil(PER_BAND)];
    for (at, &colour) in assigned.iter().enumerate() {
        unmixed[at / PER_BAND][colour] += usize::from(!mixed[at]);
    }
    for (at, colour) in assigned.iter_mut().enumerate().filter(|(at, _)| mixed[*at]) {
        let band = at / PER_BAND;
        let beside = &unmixed[band.saturating_sub(1)..(band + 2).min(unmixed.len())];
        let distance = |c: &usize| palette[*c].distance_squared(samples[at]);
        *colour = (0..palette.len())
            .filter(|&c| beside.iter().any(|counts| counts[c] >= COLUMNS / 4))
            .min_by(|a, b| distance(a).total_cmp(&distance(b)))
            .unwrap_or(*colour);
    }
    assigned
}

/// The light at a place between pixels, weighted by nearness.
fn between(light: &Light, x: f64, y: f64) -> [f64; 3] {
    let (w, h) = (light.size.width as usize, light.size.height as usize);
    let corner = |v: f64, edge: usize| {
        let v = (v - 0.5).clamp(0.0, (edge - 1) as f64);
        let low = (v as usize).min(edge.saturating_sub(2));
        (low, (low + 1).min(edge - 1), v - low as f64)
    };
    let ((x0, x1, fx), (y0, y1, fy)) = (corner(x, w), corner(y, h));
    let pixels = light.samples.as_chunks::<3>().0;
    std::array::from_fn(|c| {
        let at = |x: usize, y: usize| f64::from(pixels[y * w + x][c]) / 65535.0;
        let upper = at(x0, y0) * (1.0 - fx) + at(x1, y0) * fx;
        let lower = at(x0, y1) * (1.0 - fx) + at(x1, y1) * fx;
        upper * (1.0 - fy) + lower * fy
    })
}

/// How often a colour stands in a band, and the sum of the columns it stands in.
#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    count: u32,
    columns: u64,
}

fn tally(band: &[usize], colours: usize) -> Vec<Tally> {
    let mut tallies = vec![Tally::default(); colours];
    for (at, &colour) in band.iter().enumerate() {
        tallies[colour].count += 1;
        tallies[colour].columns += (at % COLUMNS) as u64;
    }
    tallies
}

fn band(tallies: &[Vec<Tally>], at: usize, colours: &[Rgb8]) -> Band {
    let own = &tallies[at];
    let total = (ROWS * COLUMNS) as f64;
    let share = |colour: usize| f64::from(own[colour].count) / total;
    let mut kept: Vec<usize> = (0..colours.len())
        .filter(|&c| share(c) >= LEAST_SHARE)
        .collect();
    if kept.is_empty() {
        // Only possible with very many colours: the first of the largest stands for the band.
        kept = (0..colours.len())
            .rev()
            .max_by_key(|&c| own[c].count)
            .into_iter()
            .collect();
    }
    let around = &tallies[at.saturating_sub(CALM)..(at + CALM + 1).min(tallies.len())];
    let position = |colour: usize| {
        let count: u64 = around.iter().map(|t| u64::from(t[colour].count)).sum();
        let columns: u64 = around.iter().map(|t| t[colour].columns).sum();
        columns as f64 / count.max(1) as f64
    };
    kept.sort_by(|&a, &b| position(a).total_cmp(&position(b)).then(a.cmp(&b)));
    let sum: f64 = kept.iter().map(|&c| share(c)).sum();
    let strips = kept
        .iter()
        .map(|&c| Strip {
            colour: colours[c],
            share: (libm::round(share(c) / sum * 1e4) / 1e4) as f32,
        })
        .collect();
    Band { strips }
}

/// How far a rectangle reaches under its neighbour, millimetres, so that no hairline of paper shows.
const UNDER: f64 = 0.03;

impl Ladder {
    /// The ladder as an SVG drawing of the given size in millimetres, start edge at the foot.
    pub fn to_svg(&self, width_mm: f64, height_mm: f64) -> String {
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width_mm:.3}mm\" height=\"{height_mm:.3}mm\" \
             viewBox=\"0 0 {width_mm:.3} {height_mm:.3}\" shape-rendering=\"crispEdges\">\n"
        );
        let step = height_mm / self.bands.len().max(1) as f64;
        for (at, band) in self.bands.iter().enumerate() {
            // Later bands lie above and on top: each reaches down under none and over the one before.
            let top = height_mm - (at + 1) as f64 * step;
            let foot = (top + step + if at == 0 { 0.0 } else { UNDER }).min(height_mm);
            let total: f64 = band.strips.iter().map(|s| f64::from(s.share)).sum();
            let mut left = 0.0;
            for (n, strip) in band.strips.iter().enumerate() {
                let right = left + f64::from(strip.share) / total * width_mm;
                let last = n + 1 == band.strips.len();
                let drawn_to = if last {
                    width_mm
                } else {
                    (right + UNDER).min(width_mm)
                };
                // Writing to a string cannot fail.
                let _ = writeln!(
                    svg,
                    "<rect x=\"{left:.3}\" y=\"{top:.3}\" width=\"{:.3}\" height=\"{:.3}\" fill=\"{}\"/>",
                    drawn_to - left,
                    foot - top,
                    strip.colour
                );
                left = right;
            }
        }
        svg.push_str("</svg>\n");
        svg
    }
}
