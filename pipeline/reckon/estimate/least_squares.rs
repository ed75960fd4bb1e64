//! Straight lines through few points: ordinary least squares, what it foretells for one point more, and what it would
//! have foretold for each of its own points without it.

use statrs::distribution::{ContinuousCDF, StudentsT};

/// A fit of y on columns.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// One coefficient a column.
    pub coefficients: Vec<f64>,
    /// Standard deviation of the residuals, n − p in the denominator.
    pub deviation: f64,
    /// Degrees of freedom, n − p.
    pub freedom: usize,
    /// Observed less fitted, in the order of the points.
    pub residuals: Vec<f64>,
    /// How much each point draws the line to itself, 0 to 1.
    pub leverages: Vec<f64>,
    /// The inverse of R in X = Q·R, upper triangle, row by row.
    r_inverse: Vec<Vec<f64>>,
}

/// What is foretold for one point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Forecast {
    /// The value on the line.
    pub centre: f64,
    /// Standard deviation of a new value about it: s·√(1 + h).
    pub spread: f64,
    /// Degrees of freedom.
    pub freedom: usize,
}

impl Forecast {
    /// The interval that a new value falls into with probability `level`: centre ± t·spread, Student's t at
    /// `freedom` degrees (Draper and Smith, *Applied Regression Analysis*, 3rd ed., section 3.1; from memory).
    pub fn interval(&self, level: f64) -> (f64, f64) {
        let half = t_quantile(0.5 + level / 2.0, self.freedom) * self.spread;
        (self.centre - half, self.centre + half)
    }
}

/// The quantile of Student's t; not a number where there is no freedom.
pub fn t_quantile(p: f64, freedom: usize) -> f64 {
    StudentsT::new(0.0, 1.0, freedom as f64).map_or(f64::NAN, |t| t.inverse_cdf(p))
}

impl Fit {
    /// Fits by orthogonal columns (modified Gram and Schmidt; Golub and Van Loan, *Matrix Computations*, section 5.2;
    /// from memory). `rows` holds the columns' values, a row for each point. Nothing where no freedom is left, or where
    /// one column follows from the others.
    pub fn of(rows: &[Vec<f64>], y: &[f64]) -> Option<Fit> {
        let (n, p) = (rows.len(), rows.first()?.len());
        if n <= p || p == 0 || y.len() != n || rows.iter().any(|r| r.len() != p) {
            return None;
        }
        let mut q: Vec<Vec<f64>> = (0..p)
            .map(|j| rows.iter().map(|r| r[j]).collect())
            .collect();
        let mut r = vec![vec![0.0; p]; p];
        for j in 0..p {
            let length = norm(&q[j]);
            for i in 0..j {
                let (done, rest) = q.split_at_mut(j);
                let along = dot(&done[i], &rest[0]);
                r[i][j] = along;
                for (x, d) in rest[0].iter_mut().zip(&done[i]) {
                    *x -= along * d;
                }
            }
            let left = norm(&q[j]);
            if !left.is_finite() || left <= 1e-9 * length.max(f64::MIN_POSITIVE) {
                return None;
            }
            r[j][j] = left;
            q[j].iter_mut().for_each(|x| *x /= left);
        }
        let r_inverse = inverse_of_triangle(&r);
        let mut residuals = y.to_vec();
        let mut along = Vec::with_capacity(p);
        for column in &q {
            let z = dot(column, &residuals);
            residuals
                .iter_mut()
                .zip(column)
                .for_each(|(e, c)| *e -= z * c);
            along.push(z);
        }
        let coefficients = (0..p)
            .map(|i| (i..p).map(|j| r_inverse[i][j] * along[j]).sum())
            .collect();
        let leverages = (0..n)
            .map(|k| q.iter().map(|c| c[k] * c[k]).sum())
            .collect();
        let freedom = n - p;
        let squares: f64 = residuals.iter().map(|e| e * e).sum();
        Some(Fit {
            coefficients,
            deviation: (squares / freedom as f64).sqrt(),
            freedom,
            residuals,
            leverages,
            r_inverse,
        })
    }

    /// What is foretold for a point with these values of the columns.
    pub fn forecast(&self, row: &[f64]) -> Forecast {
        // h = |x·R⁻¹|², since (XᵀX)⁻¹ = R⁻¹·R⁻ᵀ.
        let h: f64 = (0..row.len())
            .map(|j| {
                let along: f64 = (0..=j).map(|i| row[i] * self.r_inverse[i][j]).sum();
                along * along
            })
            .sum();
        Forecast {
            centre: dot(row, &self.coefficients),
            spread: self.deviation * (1.0 + h).sqrt(),
            freedom: self.freedom,
        }
    }

    /// What the other points foretell for each point, in closed form: the residual without it is e / (1 − h), and the
    /// sum of squares falls by e² / (1 − h) (Cook and Weisberg, *Residuals and Influence in Regression*, section 2.2;
    /// from memory). Nothing for a point that the others leave without freedom or that alone holds a column.
    pub fn left_out(&self, y: &[f64]) -> Vec<Option<Forecast>> {
        let squares = self.deviation * self.deviation * self.freedom as f64;
        let each = self.residuals.iter().zip(&self.leverages).zip(y);
        each.map(|((e, h), y)| {
            let freedom = self.freedom.checked_sub(1).filter(|f| *f > 0)?;
            let room = 1.0 - h;
            if room <= 1e-9 {
                return None;
            }
            let variance = ((squares - e * e / room) / freedom as f64).max(0.0);
            Some(Forecast {
                centre: y - e / room,
                // 1 + h of the point among the others is 1 / (1 − h).
                spread: (variance / room).sqrt(),
                freedom,
            })
        })
        .collect()
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

fn norm(a: &[f64]) -> f64 {
    dot(a, a).sqrt()
}

fn inverse_of_triangle(r: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let p = r.len();
    let mut inverse = vec![vec![0.0; p]; p];
    for j in 0..p {
        inverse[j][j] = 1.0 / r[j][j];
        for i in (0..j).rev() {
            let sum: f64 = (i + 1..=j).map(|k| r[i][k] * inverse[k][j]).sum();
            inverse[i][j] = -sum / r[i][i];
        }
    }
    inverse
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(a: f64, b: f64, within: f64) {
        assert!((a - b).abs() <= within, "{a} is not {b}");
    }

    #[test]
    fn a_line_through_anscombes_points_is_the_known_one() {
        // Source, published: F. J. Anscombe, Graphs in Statistical Analysis (The American Statistician, 1973), first
        // set: intercept 3.0, slope 0.5, residual sum of squares 13.75 on 9 degrees of freedom.
        let x = [10.0, 8.0, 13.0, 9.0, 11.0, 14.0, 6.0, 4.0, 12.0, 7.0, 5.0];
        let y = [
            8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68,
        ];
        let rows: Vec<Vec<f64>> = x.iter().map(|x| vec![1.0, *x]).collect();
        let fit = Fit::of(&rows, &y).unwrap();
        near(fit.coefficients[0], 3.0, 0.01);
        near(fit.coefficients[1], 0.5, 0.001);
        near(fit.deviation * fit.deviation * 9.0, 13.75, 0.02);
        assert_eq!(fit.freedom, 9);
    }

    #[test]
    fn t_is_that_of_the_tables() {
        // Source, published: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, critical values of Student's
        // t, two sides 90 %: 6.314 at 1, 2.920 at 2, 2.353 at 3, 1.812 at 10 degrees of freedom (from memory).
        for (freedom, t) in [(1, 6.314), (2, 2.920), (3, 2.353), (10, 1.812)] {
            near(t_quantile(0.95, freedom), t, 5e-4);
        }
    }

    #[test]
    fn leaving_out_in_closed_form_is_fitting_without() {
        // Source, exact case: the fit of the other points, made anew.
        let x = [0.3, 1.1, 2.0, 2.2, 3.9, 5.0];
        let y = [1.0, 0.2, 2.9, 2.0, 3.0, 6.1];
        let rows: Vec<Vec<f64>> = x.iter().map(|x| vec![1.0, *x]).collect();
        let all = Fit::of(&rows, &y).unwrap().left_out(&y);
        for i in 0..x.len() {
            let others =
                |v: &[f64]| -> Vec<f64> { (0..6).filter(|k| *k != i).map(|k| v[k]).collect() };
            let rest: Vec<Vec<f64>> = others(&x).iter().map(|x| vec![1.0, *x]).collect();
            let want = Fit::of(&rest, &others(&y)).unwrap().forecast(&rows[i]);
            let got = all[i].unwrap();
            near(got.centre, want.centre, 1e-9);
            near(got.spread, want.spread, 1e-9);
            assert_eq!(got.freedom, want.freedom);
        }
    }

    #[test]
    fn columns_that_follow_from_each_other_make_no_fit() {
        let rows: Vec<Vec<f64>> = (0..5)
            .map(|i| vec![1.0, f64::from(i), f64::from(2 * i + 1)])
            .collect();
        assert_eq!(Fit::of(&rows, &[1.0, 2.0, 3.0, 4.0, 6.0]), None);
        assert_eq!(Fit::of(&rows[..2], &[1.0, 2.0]), None);
        assert_eq!(Fit::of(&[], &[]), None);
    }
}
