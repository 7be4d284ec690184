//! Linear least squares by orthogonal reduction, for systems whose rows come one after the other.
//!
//! # Source
//! Householder QR of the rows with the triangle so far (textbook). Checked against certified sets of the NIST
//! Statistical Reference Datasets.

use nalgebra::{DMatrix, DVector};

/// A linear system with more rows than unknowns, its rows reduced to a triangle a batch at a time.
///
/// Memory grows with the unknowns, not with the rows.
#[derive(Debug)]
pub(crate) struct LeastSquares {
    size: usize,
    batch: Vec<(Vec<f64>, f64)>,
    reduced: Vec<(Vec<f64>, f64)>,
}

impl LeastSquares {
    pub(crate) fn new(size: usize) -> Self {
        Self { size, batch: Vec::new(), reduced: Vec::new() }
    }

    /// One more row: the factors of some unknowns, by their index, and what they should come to.
    pub(crate) fn add(&mut self, factors: &[(usize, f64)], value: f64) {
        let mut row = vec![0.0; self.size];
        factors.iter().for_each(|&(index, factor)| row[index] = factor);
        self.batch.push((row, value));
        if self.batch.len() >= 4 * self.size + 64 {
            self.reduce();
        }
    }

    fn reduce(&mut self) {
        let rows: Vec<(Vec<f64>, f64)> = self.reduced.drain(..).chain(self.batch.drain(..)).collect();
        let all =
            DMatrix::from_fn(rows.len(), self.size + 1, |i, j| if j < self.size { rows[i].0[j] } else { rows[i].1 });
        let r = all.qr().unpack_r();
        let row = |i: usize| ((0..self.size).map(|j| r[(i, j)]).collect(), r[(i, self.size)]);
        self.reduced = (0..r.nrows().min(self.size)).map(row).collect();
    }

    /// The unknowns and their covariance for rows of standard deviation one; `None` where the rows leave one open.
    pub(crate) fn solve(mut self) -> Option<(DVector<f64>, DMatrix<f64>)> {
        self.reduce();
        if self.reduced.len() < self.size {
            return None;
        }
        let r = DMatrix::from_fn(self.size, self.size, |i, j| self.reduced[i].0[j]);
        let right = DVector::from_fn(self.size, |i, _| self.reduced[i].1);
        let inverse = r.solve_upper_triangular(&DMatrix::identity(self.size, self.size))?;
        Some((&inverse * right, &inverse * inverse.transpose()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A set as rows of factors and value, the last column the value.
    fn solved(rows: &[Vec<f64>], design: impl Fn(&[f64]) -> Vec<f64>) -> (Vec<f64>, f64) {
        let parts = |row: &[f64]| {
            let (value, factors) = row.split_last().expect("a row");
            (design(factors), *value)
        };
        let mut system = LeastSquares::new(parts(&rows[0]).0.len());
        for row in rows {
            let (factors, value) = parts(row);
            system.add(&factors.into_iter().enumerate().collect::<Vec<_>>(), value);
        }
        let (found, _) = system.solve().expect("enough rows");
        let off = |row: &Vec<f64>| {
            let (factors, value) = parts(row);
            value - factors.iter().zip(found.iter()).map(|(factor, unknown)| factor * unknown).sum::<f64>()
        };
        let dof = rows.len() - found.len();
        let rss: f64 = rows.iter().map(|row| off(row).powi(2)).sum();
        (found.iter().copied().collect(), (rss / dof as f64).sqrt())
    }

    fn rows(set: &str) -> Vec<Vec<f64>> {
        let numbers = |line: &str| line.split(',').map(|number| number.parse().expect("a number")).collect();
        set.lines().filter(|line| !line.starts_with(|c: char| c.is_alphabetic() || c == '#')).map(numbers).collect()
    }

    fn check(found: f64, certified: f64, relative: f64) {
        assert!((found / certified - 1.0).abs() < relative, "{found} is not {certified}");
    }

    /// NIST StRD, Longley, higher difficulty: coefficients and residual standard deviation as certified.
    #[test]
    fn longley() {
        let set = rows(include_str!("../../../../fixtures/published/longley.csv"));
        let (found, sd) = solved(&set, |x| [&[1.0], x].concat());
        let certified = [
            -3_482_258.634_595_82,
            15.061_872_271_373_3,
            -0.035_819_179_292_591_0,
            -2.020_229_803_816_83,
            -1.033_226_867_173_59,
            -0.051_104_105_653_580_7,
            1_829.151_464_613_55,
        ];
        found.iter().zip(certified).for_each(|(found, certified)| check(*found, certified, 1e-8));
        check(sd, 304.854_073_561_965, 1e-10);
    }

    /// NIST StRD, Wampler 3, a polynomial of the fifth degree over 0 to 20: every coefficient is 1 as certified.
    ///
    /// x counts in twenties here, so that the columns are of one size: the coefficients are then powers of 20.
    #[test]
    fn wampler_3() {
        let set = rows(include_str!("../../../../fixtures/published/wampler3.csv"));
        let (found, sd) = solved(&set, |x| (0..6).map(|power| (x[0] / 20.0).powi(power)).collect());
        found.iter().zip(0..).for_each(|(found, power)| check(*found, 20f64.powi(power), 1e-8));
        check(sd, 2_360.145_023_792_68, 1e-12);
    }

    #[test]
    fn an_unknown_that_no_row_names_is_left_open() {
        let mut system = LeastSquares::new(2);
        (0..5).for_each(|value| system.add(&[(0, 1.0)], f64::from(value)));
        assert_eq!(system.solve(), None);
    }
}
