//! Shares as whole numbers that add up, keep their order, never vanish and never cross a legal line.

/// Distance within which a share counts as lying on a line: the noise of the arithmetic.
const HAIR: f64 = 1e-9;

/// What a share must keep to.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Bounds {
    least: u32,
    most: u32,
}

impl Bounds {
    /// A share under a line stays under it in print, one on or above it stays there.
    fn of(share: f64, lines: &[u32]) -> Bounds {
        let mut bounds = Bounds {
            least: 1,
            most: u32::MAX,
        };
        for line in lines {
            if share + HAIR < f64::from(*line) {
                bounds.most = bounds.most.min(line.saturating_sub(1).max(1));
            } else {
                bounds.least = bounds.least.max(*line);
            }
        }
        bounds
    }
}

/// Rounds shares to whole units that add up to `units`. The first `ordered` of them are given in
/// descending order and keep it; each gets at least 1; a share under one of its `lines` (in units) is
/// not lifted onto it and one on or above it does not fall below. Everybody gets the floor, the rest
/// goes one by one to the largest remainder that may still grow; what was lifted too high is taken
/// back from whoever has most too much.
pub(super) fn whole(exact: &[f64], units: u32, ordered: usize, lines: &[Vec<u32>]) -> Vec<u32> {
    let total: f64 = exact.iter().sum();
    if exact.is_empty() || total <= 0.0 || !total.is_finite() {
        return vec![0; exact.len()];
    }
    let scaled: Vec<f64> = exact.iter().map(|x| f64::from(units) * x / total).collect();
    let none = Vec::new();
    let bounds: Vec<Bounds> = scaled
        .iter()
        .enumerate()
        .map(|(i, x)| Bounds::of(*x, lines.get(i).unwrap_or(&none)))
        .collect();
    let mut out: Vec<u32> = scaled
        .iter()
        .zip(&bounds)
        .map(|(x, b)| ((x + HAIR).floor() as u32).clamp(b.least, b.most))
        .collect();
    let mut sum: u32 = out.iter().sum();
    let gap = |out: &[u32], i: usize| scaled[i] - f64::from(out[i]);
    while sum < units {
        let may = |i: &usize| {
            out[*i] < bounds[*i].most && (*i == 0 || *i >= ordered || out[i - 1] > out[*i])
        };
        let next = (0..out.len())
            .filter(may)
            .max_by(|&i, &j| gap(&out, i).total_cmp(&gap(&out, j)).then(j.cmp(&i)));
        let Some(i) = next else { break };
        out[i] += 1;
        sum += 1;
    }
    while sum > units {
        let may = |i: &usize| {
            out[*i] > bounds[*i].least
                && (*i + 1 >= ordered || *i >= ordered || out[i + 1] < out[*i])
        };
        let next = (0..out.len())
            .filter(may)
            .min_by(|&i, &j| gap(&out, i).total_cmp(&gap(&out, j)).then(j.cmp(&i)));
        let Some(i) = next else { break };
        out[i] -= 1;
        sum -= 1;
    }
    out
}

/// Rounds shares to whole units that add up to `units` and, given in descending order, keep it:
/// everybody gets the floor, but at least 1; the rest goes to the largest remainders.
pub fn largest_remainder(exact: &[f64], units: u32) -> Vec<u32> {
    whole(exact, units, exact.len(), &[])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_agrees_with_the_regulation() {
        // Source, published: Regulation (EU) No 1007/2011, Annex VIII, chapter 3, section IV, variants
        // 1 and 4: the published tables, in tenths of a percent.
        assert_eq!(
            largest_remainder(&[48.36647, 40.66197, 10.97156], 1000),
            [484, 406, 110]
        );
        assert_eq!(
            largest_remainder(&[48.62, 40.764, 10.616], 1000),
            [486, 408, 106]
        );
    }

    #[test]
    fn seats_go_to_the_largest_remainders_as_in_an_election() {
        // Source, from memory: the method of Hamilton as textbooks of apportionment show it: 47,000,
        // 16,000, 15,800, 12,000, 6,100 and 3,100 votes and 10 seats give 5, 2, 1, 1, 1 and 0. Where
        // each party is to have one at least, the second's second seat goes to the last.
        let votes = [47_000.0, 16_000.0, 15_800.0, 12_000.0, 6_100.0, 3_100.0];
        assert_eq!(largest_remainder(&votes, 10), [5, 1, 1, 1, 1, 1]);
    }

    #[test]
    fn no_share_is_lifted_onto_a_line() {
        // Source, exact case: 4.6 of 100 rounds to 5 by largest remainder; a line at 5 forbids it.
        let lines = [vec![5], vec![5], vec![5]];
        assert_eq!(largest_remainder(&[60.2, 35.2, 4.6], 100), [60, 35, 5]);
        assert_eq!(whole(&[60.2, 35.2, 4.6], 100, 3, &lines), [61, 35, 4]);
        // Nor does one on the line fall below it, when others must be lifted to 1.
        let lines = [vec![25], vec![], vec![], vec![], vec![]];
        let out = whole(&[25.2, 24.9, 24.9, 24.9, 0.1], 100, 5, &lines);
        assert_eq!(out.iter().sum::<u32>(), 100);
        assert!(out[0] >= 25 && out[4] == 1, "{out:?}");
    }

    #[test]
    fn a_share_on_the_line_but_for_the_noise_of_arithmetic_is_on_it() {
        let five = 100.0 * 0.1 * 0.5;
        let lines = [vec![5], vec![5]];
        assert_eq!(
            whole(&[100.0 - five, five - 1e-13], 100, 2, &lines),
            [95, 5]
        );
    }

    #[test]
    fn nothing_to_share_gives_nothing() {
        assert_eq!(largest_remainder(&[], 100), [0; 0]);
        assert_eq!(largest_remainder(&[0.0, 0.0], 100), [0, 0]);
        assert_eq!(largest_remainder(&[f64::INFINITY], 100), [0]);
    }
}
