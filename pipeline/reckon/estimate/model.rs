//! The model: a piece takes so much by the square metre, more where the sett is finer, the colours are more, or the
//! piece is larger or smaller than usual. On logarithms that is a straight line with errors that are as large upwards
//! as downwards, ln(what it takes / area) = a + b·ln sett + c·ln colours + d·ln area + error.
//!
//! How many slopes there are is settled by how many pieces there are and what they say, before anything is fitted, and
//! never by how well it fits: an interval of a model chosen by its fit promises too much.

use super::least_squares::{Fit, Forecast};

/// What may explain that one square metre takes longer than another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Column {
    /// Closeness of the warp.
    Sett,
    /// Number of weft yarns.
    Colours,
    /// Area of the face.
    Size,
}

impl Column {
    /// In the order in which they are taken in.
    pub const ALL: [Column; 3] = [Column::Sett, Column::Colours, Column::Size];
}

/// What is known of a piece before it is woven.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Traits {
    /// Area in m².
    pub area: f64,
    /// Ends in a centimetre.
    pub sett: Option<f64>,
    /// Weft yarns.
    pub colours: usize,
}

impl Traits {
    fn of(&self, column: Column) -> Option<f64> {
        let value = match column {
            Column::Sett => self.sett?,
            Column::Colours => self.colours as f64,
            Column::Size => self.area,
        };
        (value > 0.0 && value.is_finite()).then(|| libm::log(value))
    }

    fn row(&self, columns: &[Column]) -> Option<Vec<f64>> {
        let slopes: Option<Vec<f64>> = columns.iter().map(|c| self.of(*c)).collect();
        let mut row = vec![1.0];
        row.extend(slopes?);
        Some(row)
    }
}

/// The fewest pieces that an interval is given for: two leave one degree of freedom, and t there is 6.3 at 90 %.
pub const FEWEST: usize = 3;

/// Pieces for each slope beyond those.
const A_SLOPE: usize = 3;

/// An estimate of one thing: hours, weeks, grams.
#[derive(Debug, Clone, PartialEq)]
pub struct Estimated {
    /// Half of all such pieces take less, half more: the middle of the interval on logarithms.
    pub likely: f64,
    /// The interval that a new piece falls into with the probability asked for. Nothing where fewer than [`FEWEST`]
    /// pieces tell.
    pub range: Option<(f64, f64)>,
    /// How many pieces it leans on.
    pub pieces: usize,
    /// The slopes that were taken in.
    pub columns: Vec<Column>,
    /// a and the slopes, in the order of `columns`.
    pub coefficients: Vec<f64>,
    /// Standard deviation of the error on logarithms: 0.2 is about 20 % up or down.
    pub deviation: Option<f64>,
    /// Degrees of freedom.
    pub freedom: usize,
    /// For each piece what the others would have foretold, in the order of the pieces.
    pub left_out: Vec<LeftOut>,
}

/// What was foretold for a finished piece from the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeftOut {
    /// What it took.
    pub took: f64,
    /// The line's own value for it, with itself counted.
    pub fitted: f64,
    /// What the others foretell; nothing where they do not suffice.
    pub foretold: Option<f64>,
    /// The interval from the others.
    pub range: Option<(f64, f64)>,
}

impl LeftOut {
    /// Whether what it took lies in the interval from the others.
    pub fn inside(&self) -> Option<bool> {
        self.range
            .map(|(low, high)| (low..=high).contains(&self.took))
    }
}

impl Estimated {
    /// Estimates what a piece with the traits `wanted` takes, from finished pieces with what each took, at a
    /// probability between 0 and 1. Nothing without a piece that took something.
    pub fn of(
        past: &[(Traits, f64)],
        wanted: &Traits,
        level: f64,
        allowed: &[Column],
    ) -> Option<Estimated> {
        let known = |t: &Traits, took: f64| t.area > 0.0 && took > 0.0 && took.is_finite();
        let past: Vec<&(Traits, f64)> = past.iter().filter(|(t, took)| known(t, *took)).collect();
        if past.is_empty() || wanted.area <= 0.0 {
            return None;
        }
        let y: Vec<f64> = past
            .iter()
            .map(|(t, took)| libm::log(took / t.area))
            .collect();
        let mut columns = chosen(&past, wanted, allowed);
        let fit = loop {
            let rows: Option<Vec<Vec<f64>>> = past.iter().map(|(t, _)| t.row(&columns)).collect();
            match rows.and_then(|rows| Fit::of(&rows, &y)) {
                Some(fit) => break Some(fit),
                // One follows from the others: the last taken in goes.
                None if columns.pop().is_some() => {}
                None => break None,
            }
        };
        let scaled = |f: &Forecast, area: f64| {
            let (low, high) = f.interval(level);
            (libm::exp(low) * area, libm::exp(high) * area)
        };
        let Some(fit) = fit.filter(|_| past.len() >= FEWEST) else {
            let mean = y.iter().sum::<f64>() / y.len() as f64;
            let left_out = past.iter().map(|(t, took)| LeftOut {
                took: *took,
                fitted: libm::exp(mean) * t.area,
                foretold: None,
                range: None,
            });
            return Some(Estimated {
                likely: libm::exp(mean) * wanted.area,
                range: None,
                pieces: past.len(),
                columns: Vec::new(),
                coefficients: vec![mean],
                deviation: None,
                freedom: 0,
                left_out: left_out.collect(),
            });
        };
        let forecast = fit.forecast(&wanted.row(&columns)?);
        let others = fit.left_out(&y);
        let left_out = past
            .iter()
            .zip(&y)
            .enumerate()
            .map(|(i, ((traits, took), y))| LeftOut {
                took: *took,
                fitted: libm::exp(y - fit.residuals[i]) * traits.area,
                foretold: others[i].map(|f| libm::exp(f.centre) * traits.area),
                range: others[i].map(|f| scaled(&f, traits.area)),
            });
        Some(Estimated {
            likely: libm::exp(forecast.centre) * wanted.area,
            range: Some(scaled(&forecast, wanted.area)),
            pieces: past.len(),
            left_out: left_out.collect(),
            coefficients: fit.coefficients,
            deviation: Some(fit.deviation),
            freedom: fit.freedom,
            columns,
        })
    }
}

/// The slopes: one for every [`A_SLOPE`] pieces beyond [`FEWEST`], in their order, of those that every piece and the
/// wanted one tell, and that take three values a tenth apart.
fn chosen(past: &[&(Traits, f64)], wanted: &Traits, allowed: &[Column]) -> Vec<Column> {
    let room = past.len().saturating_sub(FEWEST) / A_SLOPE;
    let usable = |column: &&Column| {
        let values: Option<Vec<f64>> = past.iter().map(|(t, _)| t.of(**column)).collect();
        let Some(mut values) = values.filter(|_| wanted.of(**column).is_some()) else {
            return false;
        };
        values.sort_by(f64::total_cmp);
        let mut steps = 1;
        let mut last = values[0];
        for v in values {
            if v - last >= TENTH {
                steps += 1;
                last = v;
            }
        }
        steps >= 3
    };
    allowed.iter().filter(usable).take(room).copied().collect()
}

/// ln 1.1.
const TENTH: f64 = 0.095_310_179_804_324_87;

#[cfg(test)]
mod tests {
    use super::*;

    fn traits(area: f64, sett: f64, colours: usize) -> Traits {
        Traits {
            area,
            sett: Some(sett),
            colours,
        }
    }

    #[test]
    fn an_interval_by_hand_is_the_same() {
        // Source, exact case: rates 100, 200, 400 h/m²: the mean of the logarithms is ln 200, their deviation ln 2, and
        // the spread of a new one ln 2·√(4/3); t at 90 % and 2 degrees of freedom is 2.919986.
        let past: Vec<(Traits, f64)> = [(1.0, 100.0), (0.5, 100.0), (2.0, 800.0)]
            .map(|(a, h)| (traits(a, 3.0, 5), h))
            .to_vec();
        let e = Estimated::of(&past, &traits(3.0, 3.0, 5), 0.9, &Column::ALL).unwrap();
        let half = 2.919_985_580_353_726 * std::f64::consts::LN_2 * libm::sqrt(4.0 / 3.0);
        let (low, high) = e.range.unwrap();
        assert!((e.likely - 600.0).abs() < 1e-9, "{}", e.likely);
        assert!((low - 600.0 * libm::exp(-half)).abs() < 1e-6, "{low}");
        assert!(
            (high / (600.0 * libm::exp(half)) - 1.0).abs() < 1e-9,
            "{high}"
        );
        assert!(e.columns.is_empty());
    }

    #[test]
    fn two_pieces_give_no_interval() {
        let past = vec![(traits(1.0, 3.0, 4), 150.0), (traits(2.0, 3.0, 4), 300.0)];
        let e = Estimated::of(&past, &traits(1.0, 3.0, 4), 0.9, &Column::ALL).unwrap();
        assert_eq!((e.range, e.pieces), (None, 2));
        assert!((e.likely - 150.0).abs() < 1e-9);
        assert_eq!(
            Estimated::of(&[], &traits(1.0, 3.0, 4), 0.9, &Column::ALL),
            None
        );
    }

    #[test]
    fn slopes_come_with_pieces_not_with_fit() {
        let past = |n: usize| -> Vec<(Traits, f64)> {
            (0..n)
                .map(|i| {
                    let x = i as f64;
                    let t = traits(0.5 + 0.37 * x, 2.0 + (0.7 * x) % 4.0, 3 + (i * 5) % 17);
                    (t, 100.0 + 10.0 * x)
                })
                .collect()
        };
        let slopes = |n| {
            Estimated::of(&past(n), &traits(1.0, 3.0, 5), 0.9, &Column::ALL)
                .unwrap()
                .columns
                .len()
        };
        assert_eq!([3, 5, 6, 8, 9, 12, 30].map(slopes), [0, 0, 1, 1, 2, 3, 3]);
        // A sett that never changed says nothing.
        let same: Vec<(Traits, f64)> = past(9)
            .into_iter()
            .map(|(t, h)| {
                (
                    Traits {
                        sett: Some(3.0),
                        ..t
                    },
                    h,
                )
            })
            .collect();
        let e = Estimated::of(&same, &traits(1.0, 3.0, 5), 0.9, &Column::ALL).unwrap();
        assert_eq!(e.columns, [Column::Colours, Column::Size]);
    }
}
