//! The best places for so many brackets: those where the ends and every span sag alike, so that none sags
//! more than it must.

use super::beam::Bent;

/// The most brackets that places are sought for.
pub const MOST: usize = 12;

/// Places for `n` brackets, mm from the left end of a bar so long, that are alike from both ends. `bend`
/// bends the bar on given supports; its load is to be alike from both ends, too. Found by Newton's method
/// from places a little closer than even. For two brackets under an even load it is 0.22315 of the length
/// from each end, for a least sag; the Bessel points (0.2203) and Airy points (0.2113) serve other ends.
pub fn best(length: f64, n: usize, bend: impl Fn(&[f64]) -> Option<Bent>) -> Option<Vec<f64>> {
    if !(2..=MOST).contains(&n) || length.is_nan() || length <= 0.0 {
        return None;
    }
    let spans = n - 1;
    // As if every inner span were held fast: an end as long as 0.38 of a span sags like it.
    let span = 1.0 / (spans as f64 + 0.8);
    let mut free = vec![0.4 * span];
    free.resize(spans.div_ceil(2), span);
    let uneven = |free: &[f64]| -> Option<Vec<f64>> {
        let at = spread_out(free, spans, length)?;
        let bent = bend(&at)?;
        let mut sags = vec![bent.sag_at(0.0)];
        let halves = at.windows(2).take(spans.div_ceil(2));
        sags.extend(halves.map(|pair| bent.most_sag(pair[0], pair[1]).value));
        Some(sags.windows(2).map(|pair| pair[0] - pair[1]).collect())
    };
    let size = |all: &[f64]| all.iter().map(|x| x * x).sum::<f64>();
    let mut off = uneven(&free)?;
    let start = size(&off);
    for _ in 0..60 {
        if size(&off) <= 1e-22 * start {
            break;
        }
        let mut rows: Vec<Vec<f64>> = vec![Vec::new(); free.len()];
        for i in 0..free.len() {
            let mut moved = free.clone();
            moved[i] += 1e-6;
            let there = uneven(&moved)?;
            for (row, (a, b)) in rows.iter_mut().zip(there.iter().zip(&off)) {
                row.push((a - b) / 1e-6);
            }
        }
        let step = eliminate(rows, &off)?;
        let mut share = 1.0;
        let next = loop {
            let tried: Vec<f64> = free.iter().zip(&step).map(|(x, s)| x - share * s).collect();
            if let Some(there) = uneven(&tried).filter(|there| size(there) < size(&off)) {
                break Some((tried, there));
            }
            share /= 2.0;
            if share < 1e-6 {
                break None;
            }
        };
        match next {
            Some((tried, there)) => (free, off) = (tried, there),
            None => break,
        }
    }
    // What is left uneven must be nothing beside what there was, else these are not the places.
    (size(&off) <= 1e-8 * start).then(|| spread_out(&free, spans, length))?
}

/// The supports from the free shares: the overhang and all span lengths but the middle one.
fn spread_out(free: &[f64], spans: usize, length: f64) -> Option<Vec<f64>> {
    let outer: f64 = free.iter().sum();
    let middle = (1.0 - 2.0 * outer) / if spans % 2 == 1 { 1.0 } else { 2.0 };
    let mut half: Vec<f64> = free.to_vec();
    half.push(middle);
    if half.iter().any(|share| share.is_nan() || *share <= 0.0) {
        return None;
    }
    let mut at = vec![half[0]];
    for i in 0..spans {
        at.push(at[i] + half[1 + i.min(spans - 1 - i)]);
    }
    Some(
        at.into_iter()
            .map(|share| (share * length).min(length))
            .collect(),
    )
}

/// Solves rows · x = right by elimination with the largest pivot.
fn eliminate(mut rows: Vec<Vec<f64>>, right: &[f64]) -> Option<Vec<f64>> {
    let n = right.len();
    for (row, r) in rows.iter_mut().zip(right) {
        row.push(*r);
    }
    for k in 0..n {
        let pivot = (k..n).max_by(|a, b| rows[*a][k].abs().total_cmp(&rows[*b][k].abs()))?;
        rows.swap(k, pivot);
        let top = rows[k].clone();
        if top[k] == 0.0 || !top[k].is_finite() {
            return None;
        }
        for row in rows.iter_mut().skip(k + 1) {
            let factor = row[k] / top[k];
            for (x, t) in row.iter_mut().zip(&top) {
                *x -= factor * t;
            }
        }
    }
    let mut x = vec![0.0; n];
    for k in (0..n).rev() {
        let known: f64 = (k + 1..n).map(|j| rows[k][j] * x[j]).sum();
        x[k] = (rows[k][n] - known) / rows[k][k];
    }
    Some(x)
}

#[cfg(test)]
mod tests {
    use super::super::beam::{Beam, Spread};
    use super::*;

    fn even(length: f64) -> impl Fn(&[f64]) -> Option<Bent> {
        move |supports: &[f64]| {
            Beam {
                length,
                stiffness: 1.0,
                supports: supports.to_vec(),
                spread: vec![Spread::even(0.0, length, 1.0)],
                points: Vec::new(),
            }
            .solve()
        }
    }

    #[test]
    fn two_brackets_belong_at_the_least_sag_places_and_not_at_the_bessel_points() {
        let at = best(1000.0, 2, even(1000.0)).expect("there are such places");
        // Source, published: least-sag places of a bar on two supports, often printed 0.2232 or 0.223 of its length from each end.
        assert!((at[0] - 223.15).abs() < 0.01, "{at:?}");
        assert!((at[1] - 776.85).abs() < 0.01, "{at:?}");
        // Source, exact case: the sag there is 1/48.27 of that of the bar held at its ends.
        let ends = even(1000.0)(&[0.0, 1000.0])
            .expect("it stands")
            .sag_at(500.0);
        let bent = even(1000.0)(&at).expect("it stands");
        assert!((ends / bent.sag_at(500.0) - 48.27).abs() < 0.01);
        assert!((bent.sag_at(0.0) / bent.sag_at(500.0) - 1.0).abs() < 1e-6);
    }

    #[test]
    fn ends_and_spans_sag_alike_on_any_number_of_brackets() {
        for n in 2..=MOST {
            let at = best(1500.0, n, even(1500.0)).expect("there are such places");
            assert_eq!(at.len(), n);
            let bent = even(1500.0)(&at).expect("it stands");
            let want = bent.sag_at(0.0);
            for pair in at.windows(2) {
                let sag = bent.most_sag(pair[0], pair[1]).value;
                // Source, exact case: this is what the places are sought for.
                assert!((sag / want - 1.0).abs() < 1e-3, "{n}: {sag} {want}");
            }
            for (a, b) in at.iter().zip(at.iter().rev()) {
                assert!((a + b - 1500.0).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn moving_any_bracket_of_the_best_sags_more() {
        for n in 2..=6 {
            let at = best(1.0, n, even(1.0)).expect("there are such places");
            let most = |at: &[f64]| even(1.0)(at).expect("it stands").most_sag(0.0, 1.0).value;
            for i in 0..n {
                for shift in [-0.002, 0.002] {
                    let mut moved = at.clone();
                    moved[i] += shift;
                    assert!(most(&moved) > most(&at), "{n} {i} {shift}");
                }
            }
        }
    }

    #[test]
    fn nothing_is_said_of_one_bracket_or_a_hundred() {
        assert!(best(1.0, 1, even(1.0)).is_none());
        assert!(best(1.0, 100, even(1.0)).is_none());
        assert!(best(f64::NAN, 2, even(1.0)).is_none());
    }
}
