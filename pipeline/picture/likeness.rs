//! What a picture looks like from far away, in 64 bits: nearly the same bits mean the same picture.
//!
//! The picture is averaged in 32 × 32 fields, their lightness (the cube root of luminance) goes through a
//! two-dimensional cosine transform (DCT-II), and each of the 8 × 8 slowest waves gives one bit: whether its
//! coefficient is above the median of all but the first. The first (the mean) always gives 0. Size, quality
//! of compression and exposure hardly change the bits; mirroring, turning or another framing change them all.

use super::measures::Tone;

/// Fields along each edge.
const FIELDS: usize = 32;
/// Waves along each edge.
const WAVES: usize = 8;
/// Standard deviation of the slow waves' lightness below which a picture has nothing to be known by.
const LEAST: f64 = 0.01;

/// The bits, row by row from the slowest waves, the first in the highest place.
pub(super) fn of(tone: &Tone) -> Option<u64> {
    if tone.width < FIELDS || tone.height < FIELDS {
        return None;
    }
    let waves = waves(&fields(tone));
    let squares: f64 = waves.iter().skip(1).map(|w| w * w).sum();
    if libm::sqrt(squares) < LEAST {
        return None;
    }
    let mut sorted = waves[1..].to_vec();
    sorted.sort_by(f64::total_cmp);
    let median = sorted[sorted.len() / 2];
    let bit = |at: usize| u64::from(at > 0 && waves[at] > median);
    Some((0..WAVES * WAVES).fold(0, |bits, at| bits << 1 | bit(at)))
}

/// The mean lightness of each field, 0 to 1.
fn fields(tone: &Tone) -> Vec<f64> {
    let border = |at: usize, edge: usize| at * edge / FIELDS;
    let mut out = Vec::with_capacity(FIELDS * FIELDS);
    for row in 0..FIELDS {
        let (top, foot) = (border(row, tone.height), border(row + 1, tone.height));
        for column in 0..FIELDS {
            let (left, right) = (border(column, tone.width), border(column + 1, tone.width));
            let sum: u64 = (top..foot)
                .flat_map(|y| &tone.values[y * tone.width..][left..right])
                .map(|&v| u64::from(v))
                .sum();
            let count = ((foot - top) * (right - left)) as f64;
            out.push(libm::cbrt(sum as f64 / count / 65535.0));
        }
    }
    out
}

/// The slowest waves of the orthonormal cosine transform over the number of fields along an edge, so that
/// their squares add up to at most the variance.
fn waves(fields: &[f64]) -> Vec<f64> {
    let n = FIELDS as f64;
    let wave = |k: usize, at: usize| {
        let scale = if k == 0 { 1.0 } else { 2.0 };
        libm::sqrt(scale / n) * libm::cos(std::f64::consts::PI * (at as f64 + 0.5) * k as f64 / n)
    };
    let table: Vec<f64> = (0..WAVES * FIELDS)
        .map(|i| wave(i / FIELDS, i % FIELDS))
        .collect();
    let mut out = Vec::with_capacity(WAVES * WAVES);
    for down in 0..WAVES {
        for across in 0..WAVES {
            let mut sum = 0.0;
            for y in 0..FIELDS {
                let row = &fields[y * FIELDS..][..FIELDS];
                let along: f64 = (0..FIELDS)
                    .map(|x| row[x] * table[across * FIELDS + x])
                    .sum();
                sum += along * table[down * FIELDS + y];
            }
            out.push(sum / n);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_single_wave_has_a_single_coefficient() {
        // Source, exact case: the cosines of the transform are orthogonal, so a picture of one of them has
        // no other; of amplitude 1 across one axis its square is the variance, ½.
        let fields: Vec<f64> = (0..FIELDS * FIELDS)
            .map(|i| {
                libm::cos(std::f64::consts::PI * ((i % FIELDS) as f64 + 0.5) * 3.0 / FIELDS as f64)
            })
            .collect();
        let found = waves(&fields);
        for (at, wave) in found.iter().enumerate() {
            let wanted = if at == 3 { libm::sqrt(0.5) } else { 0.0 };
            assert!((wave - wanted).abs() < 1e-12, "{at}: {wave}");
        }
    }

    #[test]
    fn a_picture_of_one_tone_has_no_likeness() {
        let flat = Tone {
            width: 64,
            height: 64,
            values: vec![30_000; 64 * 64],
        };
        assert_eq!(of(&flat), None);
    }
}
