//! The colours a piece is made of: a small palette found in its photo.
//!
//! k-means in Oklab over a histogram, with a start that depends on the picture alone and a fixed number of
//! rounds. Each colour is the mean of what lies close to its centre, so that the mixed pixels along the
//! edges of shapes do not muddy it.

use super::oklab::Oklab;
use std::collections::BTreeMap;

/// The most colours a palette has.
const MOST: usize = 12;
const ROUNDS: usize = 20;
/// Centres nearer than this are one colour: shades of one yarn in light and shadow.
const MERGE: f64 = 0.045;
/// What a difference counts that a shadow could make. Half the light on a yarn makes all three of its Oklab
/// values smaller by the same factor (they are cube roots), so it lies on the line towards black. It must
/// count for something, since greys of two yarns lie on one such line too (own rule).
const BY_SHADOW: f64 = 0.7;
/// What is farther from a centre than this does not count for its mean.
const CLOSE: f64 = 0.06;
/// Cells of the histogram.
const CELL: f64 = 0.01;
/// Distances beyond this do not make a starting colour more worth having: it keeps stray specks out.
const FAR: f64 = 0.25;

#[derive(Debug, Clone, Copy, Default)]
struct Heap {
    weight: f64,
    sum: Oklab,
}

impl Heap {
    fn add(&mut self, colour: Oklab, weight: f64) {
        self.weight += weight;
        self.sum.l += colour.l * weight;
        self.sum.a += colour.a * weight;
        self.sum.b += colour.b * weight;
    }

    fn mean(self) -> Oklab {
        Oklab {
            l: self.sum.l / self.weight,
            a: self.sum.a / self.weight,
            b: self.sum.b / self.weight,
        }
    }
}

/// Finds the palette of the given colours, the most frequent first. Empty only if `colours` is.
pub(super) fn palette(colours: &[Oklab]) -> Vec<Oklab> {
    let cells = histogram(colours);
    let mut centres = starts(&cells);
    for _ in 0..ROUNDS {
        let heaps = gather(&cells, &centres, f64::INFINITY);
        centres = heaps
            .iter()
            .filter(|h| h.weight > 0.0)
            .map(|h| h.mean())
            .collect();
    }
    let mut heaps = gather(&cells, &centres, f64::INFINITY);
    merge_near(&mut heaps);
    let centres: Vec<Oklab> = heaps.iter().map(|h| h.mean()).collect();
    let close = gather(&cells, &centres, CLOSE);
    let mut found: Vec<(f64, Oklab)> = heaps
        .iter()
        .zip(close)
        .map(|(heap, close)| {
            (
                heap.weight,
                if close.weight > 0.0 {
                    close.mean()
                } else {
                    heap.mean()
                },
            )
        })
        .collect();
    found.sort_by(|x, y| {
        y.0.total_cmp(&x.0)
            .then(x.1.l.total_cmp(&y.1.l))
            .then(x.1.a.total_cmp(&y.1.a))
    });
    found.into_iter().map(|(_, colour)| colour).collect()
}

/// The place of the palette's colour nearest to `colour`.
pub(super) fn nearest(palette: &[Oklab], colour: Oklab) -> usize {
    let distance = |i: &usize| palette[*i].distance_squared(colour);
    (0..palette.len())
        .min_by(|a, b| distance(a).total_cmp(&distance(b)))
        .unwrap_or(0)
}

fn histogram(colours: &[Oklab]) -> Vec<(Oklab, f64)> {
    let mut cells: BTreeMap<[i32; 3], Heap> = BTreeMap::new();
    for colour in colours {
        let cell = [colour.l / 2.0, colour.a, colour.b].map(|v| libm::floor(v / CELL) as i32);
        cells.entry(cell).or_default().add(*colour, 1.0);
    }
    cells
        .into_values()
        .map(|heap| (heap.mean(), heap.weight))
        .collect()
}

/// Starting colours: first the one with most neighbours, then each time the one most worth having, by how
/// much of it there is and how far it lies from those already chosen.
fn starts(cells: &[(Oklab, f64)]) -> Vec<Oklab> {
    let mut chosen: Vec<Oklab> = Vec::new();
    let mut gap = vec![FAR; cells.len()];
    while chosen.len() < MOST {
        let worth = |i: &usize| libm::sqrt(cells[*i].1) * gap[*i] * gap[*i];
        let best = (0..cells.len())
            .filter(|&i| gap[i] > MERGE / 2.0)
            .max_by(|a, b| worth(a).total_cmp(&worth(b)));
        let Some(best) = best else { break };
        let colour = cells[best].0;
        chosen.push(colour);
        for (gap, (other, _)) in gap.iter_mut().zip(cells) {
            *gap = gap.min(other.distance(colour));
        }
    }
    chosen
}

/// Gives each cell to its nearest centre, unless it lies farther than `limit` from it.
fn gather(cells: &[(Oklab, f64)], centres: &[Oklab], limit: f64) -> Vec<Heap> {
    let mut heaps = vec![Heap::default(); centres.len()];
    for &(colour, weight) in cells {
        let at = nearest(centres, colour);
        if centres[at].distance(colour) <= limit {
            heaps[at].add(colour, weight);
        }
    }
    heaps
}

/// How different two colours are as yarns: what a shadow could do counts less.
fn yarns_apart(a: Oklab, b: Oklab) -> f64 {
    let line = [a.l + b.l, a.a + b.a, a.b + b.b];
    let length = libm::sqrt(line.iter().map(|v| v * v).sum::<f64>()).max(1e-9);
    let apart = [a.l - b.l, a.a - b.a, a.b - b.b];
    let along = apart.iter().zip(line).map(|(d, v)| d * v).sum::<f64>() / length;
    let aside = (a.distance_squared(b) - along * along).max(0.0);
    libm::sqrt(aside + BY_SHADOW * BY_SHADOW * along * along)
}

/// Joins the two nearest colours until none are nearer than `MERGE`.
fn merge_near(heaps: &mut Vec<Heap>) {
    heaps.retain(|h| h.weight > 0.0);
    loop {
        let mut nearest: Option<(f64, usize, usize)> = None;
        for i in 0..heaps.len() {
            for j in i + 1..heaps.len() {
                let distance = yarns_apart(heaps[i].mean(), heaps[j].mean());
                if distance < nearest.map_or(MERGE, |(d, _, _)| d) {
                    nearest = Some((distance, i, j));
                }
            }
        }
        let Some((_, i, j)) = nearest else { break };
        let taken = heaps.remove(j);
        heaps[i].add(taken.mean(), taken.weight);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_yarns_with_a_blurred_border_are_two_colours_and_keep_their_own() {
        let red = Oklab {
            l: 0.5,
            a: 0.18,
            b: 0.08,
        };
        let blue = Oklab {
            l: 0.4,
            a: -0.02,
            b: -0.12,
        };
        let mut colours = vec![red; 500];
        colours.extend(vec![blue; 300]);
        let mixed = Oklab {
            l: 0.45,
            a: 0.08,
            b: -0.02,
        };
        colours.extend(vec![mixed; 8]);
        let found = palette(&colours);
        assert!(found[0].distance(red) < 0.005, "{found:?}");
        assert!(found[1].distance(blue) < 0.005, "{found:?}");
    }

    #[test]
    fn a_piece_of_one_colour_has_one_colour() {
        let found = palette(&vec![
            Oklab {
                l: 0.7,
                a: 0.01,
                b: 0.05
            };
            100
        ]);
        assert_eq!(found.len(), 1);
        assert!(palette(&[]).is_empty());
    }
}
