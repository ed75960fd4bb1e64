//! Small symmetric systems of equations, as least squares makes them.

/// The inverse of a symmetric, positive definite matrix of N rows, by Cholesky's factors
/// (Golub and Van Loan, *Matrix Computations*, section 4.2; from memory). `None` where the matrix is
/// not positive definite.
pub(super) fn inverse<const N: usize>(a: &[[f64; N]; N]) -> Option<[[f64; N]; N]> {
    let mut l = [[0.0; N]; N];
    for i in 0..N {
        for j in 0..=i {
            let dot: f64 = (0..j).map(|k| l[i][k] * l[j][k]).sum();
            if i == j {
                let square = a[i][i] - dot;
                if !(square > 1e-14 * a[i][i] && square.is_finite()) {
                    return None;
                }
                l[i][i] = square.sqrt();
            } else {
                l[i][j] = (a[i][j] - dot) / l[j][j];
            }
        }
    }
    // Column by column; the inverse is symmetric, so a column is a row as well.
    let mut inverse = [[0.0; N]; N];
    for (column, row) in inverse.iter_mut().enumerate() {
        let mut y = [0.0; N];
        for i in 0..N {
            let dot: f64 = (0..i).map(|k| l[i][k] * y[k]).sum();
            y[i] = (f64::from(u8::from(i == column)) - dot) / l[i][i];
        }
        for i in (0..N).rev() {
            let dot: f64 = (i + 1..N).map(|k| l[k][i] * row[k]).sum();
            row[i] = (y[i] - dot) / l[i][i];
        }
    }
    Some(inverse)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_matrix_times_its_inverse_is_one() {
        // Source, exact case: A·A⁻¹ = 1, here for the Hilbert matrix of three rows, whose inverse is
        // known in whole numbers (9 −36 30; −36 192 −180; 30 −180 180).
        let h = [
            [1.0, 1.0 / 2.0, 1.0 / 3.0],
            [1.0 / 2.0, 1.0 / 3.0, 1.0 / 4.0],
            [1.0 / 3.0, 1.0 / 4.0, 1.0 / 5.0],
        ];
        let want = [
            [9.0, -36.0, 30.0],
            [-36.0, 192.0, -180.0],
            [30.0, -180.0, 180.0],
        ];
        let got = inverse(&h).unwrap();
        for (g, w) in got.iter().flatten().zip(want.iter().flatten()) {
            assert!((g - w).abs() < 1e-9, "{got:?}");
        }
        assert_eq!(inverse(&[[1.0, 2.0], [2.0, 4.0]]), None);
    }
}
