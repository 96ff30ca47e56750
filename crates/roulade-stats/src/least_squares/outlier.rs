//! Readings that are suspect: which of them the others contradict.
//!
//! The measurement test of R. S. H. Mah and A. C. Tamhane, `AIChE` J. 28 (1982) 828, doi:10.1002/aic.690280519: each residual
//! over its own standard deviation after the fit, which is smaller than the reading's u by what the fit drew towards it. Of
//! many such numbers the largest is far out by chance; so the limit is that of the largest of m (Z. Šidák, J. Am. Stat.
//! Assoc. 62 (1967) 626, doi:10.1080/01621459.1967.10482935). One gross error smears over its neighbours, so only the worst
//! is named, left out, and the rest tested again.

use super::distribution::normal_critical;
use super::posterior::Outcome;
use nalgebra::{DMatrix, DVector};

/// A residual with less than this part of its reading's variance is that reading's own doing: nothing else speaks of it.
const ALONE: f64 = 1e-8;
/// |z| closer than this part are equal: derivatives are numeric.
const EQUAL: f64 = 1e-6;

/// A reading that the others contradict.
#[derive(Clone, Debug, PartialEq)]
pub struct Outlier {
    /// Its index.
    pub reading: usize,
    /// Residual over its standard deviation, when this reading was the worst of those left.
    pub z: f64,
    /// What |z| was allowed to be.
    pub critical: f64,
    /// Reading less what all others that are left predict for it, in units of its u: the error that it would have.
    pub error: f64,
    /// Readings that could be wrong in its place: either explains the other's residual, and nothing read can say which.
    pub or: Vec<usize>,
}

/// All tests of one fit.
#[derive(Clone, Debug)]
pub struct Outliers {
    /// |z| of each reading with all others in the fit, signed as reading less prediction; `None` for a reading that nothing
    /// else speaks of, which cannot be tested.
    pub z: Vec<Option<f64>>,
    /// What |z| may be for the largest of so many tests.
    pub critical: f64,
    /// Readings that are suspect, in the order in which they were left out; the last fit has none.
    pub outliers: Vec<Outlier>,
}

/// What |z| may be for the largest of `tests` independent normal numbers, exceeded with the probability `risk`:
/// Φ⁻¹(1 − ½(1 − (1 − α)^(1/m))).
///
/// ```
/// // Six tests at 5 %.
/// assert!((roulade_stats::least_squares::outlier::sidak(6, 0.05) - 2.631_038_284_536_779).abs() < 1e-12);
/// ```
pub fn sidak(tests: usize, risk: f64) -> f64 {
    use crate::maths::pow;
    normal_critical(1.0 - pow(1.0 - risk, 1.0 / tests.max(1) as f64))
}

/// Residuals in units of u, and their covariance.
#[derive(Clone, Debug)]
struct Left {
    residuals: DVector<f64>,
    variance: DMatrix<f64>,
    present: Vec<bool>,
}

#[allow(clippy::indexing_slicing, reason = "one length on all sides, and indices are below it")]
impl Left {
    fn z(&self, i: usize) -> Option<f64> {
        let variance = self.variance[(i, i)];
        (self.present.get(i) == Some(&true) && variance > ALONE).then(|| self.residuals[i] / variance.sqrt())
    }

    fn all(&self) -> Vec<Option<f64>> {
        (0..self.residuals.len()).map(|i| self.z(i)).collect()
    }

    fn critical(&self, risk: f64) -> f64 {
        sidak(self.all().iter().flatten().count(), risk)
    }

    /// z of one reading if another were left out.
    fn z_without(&self, i: usize, k: usize) -> f64 {
        let (v_ik, v_kk) = (self.variance[(i, k)], self.variance[(k, k)]);
        let variance = self.variance[(i, i)] - v_ik * v_ik / v_kk;
        if variance > ALONE {
            (self.residuals[i] - v_ik / v_kk * self.residuals[k]) / variance.sqrt()
        } else {
            0.0
        }
    }

    /// The same without one reading: the conditional of a normal distribution, exact where predictions are linear.
    fn leave_out(&mut self, k: usize) {
        let column = self.variance.column(k).clone_owned();
        let (v_kk, r_k) = (self.variance[(k, k)], self.residuals[k]);
        self.residuals -= &column * (r_k / v_kk);
        self.variance -= &column * column.transpose() / v_kk;
        if let Some(present) = self.present.get_mut(k) {
            *present = false;
        }
    }
}

/// Readings that are suspect at a risk (0.05, say) of naming any where all uncertainties are right.
///
/// For fits with [`Loss::Normal`](super::Loss::Normal): a robust loss has already set aside what is far off, and says so in
/// its weights. Leaving out a reading is worked out in the linear model at the fit; where predictions are curved and the
/// reading pulled hard, fit again without it.
#[allow(clippy::indexing_slicing, reason = "one length on all sides, and indices are below it")]
pub fn outliers(outcome: &Outcome, risk: f64) -> Outliers {
    let readings = outcome.residuals.len();
    let mut left = Left {
        residuals: DVector::from_column_slice(&outcome.residuals),
        variance: DMatrix::identity(readings, readings) - &outcome.hat,
        present: vec![true; readings],
    };
    let (z, critical) = (left.all(), left.critical(risk));
    let mut outliers = Vec::new();
    loop {
        let critical = left.critical(risk);
        let now = left.all();
        let largest = now.iter().flatten().fold(0.0_f64, |largest, z| largest.max(z.abs()));
        // Of equals to rounding the first: which of them is named shall not hang on the last bit.
        let worst = now
            .iter()
            .enumerate()
            .find_map(|(i, z)| z.filter(|z| z.abs() >= largest * (1.0 - EQUAL)).map(|z| (i, z)));
        let Some((reading, z)) = worst.filter(|(_, z)| z.abs() > critical) else { break };
        let or = now
            .iter()
            .enumerate()
            .filter(|(j, other)| *j != reading && other.is_some_and(|other| other.abs() > critical))
            .map(|(j, _)| j)
            .filter(|j| {
                left.z_without(*j, reading).abs() <= critical && left.z_without(reading, *j).abs() <= critical
            })
            .collect();
        let error = left.residuals[reading] / left.variance[(reading, reading)];
        left.leave_out(reading);
        outliers.push(Outlier { reading, z, critical, error, or });
    }
    Outliers { z, critical, outliers }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::least_squares::loss::Loss;
    use crate::least_squares::{Observation, Prior, fit};
    use crate::propagation::deviate::Stream;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn repeated(values: &[f64]) -> Outcome {
        let readings: Vec<Observation> =
            values.iter().map(|value| Observation { value: *value, u: 1.0 }).collect();
        fit(&[Prior::flat(1.0)], &readings, Loss::Normal, |x| Some(vec![x[0]; values.len()])).unwrap()
    }

    #[test]
    fn two_gross_errors_are_named_largest_first() {
        let found = outliers(&repeated(&[10.0, 10.4, 19.0, 9.8, 10.1, 3.0, 9.9, 10.2]), 0.05);
        assert_eq!(found.outliers.iter().map(|d| d.reading).collect::<Vec<_>>(), [2, 5]);
        assert!(found.outliers.iter().all(|d| d.or.is_empty() && d.z.abs() > d.critical));
        // The seven others have the mean 63.4/7: the error is the distance to it.
        assert_relative_eq!(found.outliers[0].error, 19.0 - 63.4 / 7.0, max_relative = 1e-8);
        assert_relative_eq!(found.critical, sidak(8, 0.05));
    }

    #[test]
    fn of_two_readings_either_may_be_wrong() {
        let found = outliers(&repeated(&[10.0, 20.0]), 0.05);
        assert_eq!((found.outliers[0].reading, found.outliers[0].or.as_slice()), (0, [1].as_slice()));
        assert_eq!(found.outliers.len(), 1);
        assert!(outliers(&repeated(&[10.0, 11.0]), 0.05).outliers.is_empty());
    }

    #[test]
    fn a_reading_that_stands_alone_cannot_be_tested() {
        let readings = [Observation { value: 3.0, u: 0.1 }, Observation { value: 50.0, u: 1.0 }];
        let outcome =
            fit(&[Prior::flat(1.0), Prior::new(40.0, 1.0)], &readings, Loss::Normal, |x| Some(x.to_vec()))
                .unwrap();
        let found = outliers(&outcome, 0.05);
        assert_eq!(found.z[0], None);
        // 10 over √(1 + 1): the prior speaks against the second.
        assert_relative_eq!(found.z[1].unwrap(), 10.0 / 2f64.sqrt(), max_relative = 1e-8);
        assert_eq!(found.outliers[0].reading, 1);
    }

    /// Four readings each of three parameters and two of their sum: how often any is named where all uncertainties are
    /// right, how often a reading five u off is, and how often χ² is beyond its 5 % limit.
    #[test]
    fn the_risk_is_what_it_says() {
        let predict = |x: &[f64]| {
            let each = (0..12).map(|i| x[i % 3]);
            each.chain([x[0] + x[1] + x[2]; 2]).collect::<Vec<f64>>()
        };
        let mut stream = Stream::of(1, 0);
        let (draws, mut named, mut found, mut beyond) = (2000, 0, 0, 0);
        for _ in 0..draws {
            let mut readings: Vec<Observation> = predict(&[1.0, 2.0, 3.0])
                .iter()
                .map(|h| Observation { value: h + 0.1 * stream.normal(), u: 0.1 })
                .collect();
            let fitted = |readings: &[Observation]| {
                fit(&[Prior::flat(1.0); 3], readings, Loss::Normal, |x| Some(predict(x))).unwrap()
            };
            let outcome = fitted(&readings);
            named += i32::from(!outliers(&outcome, 0.05).outliers.is_empty());
            beyond += i32::from(outcome.probability.unwrap() < 0.05);
            readings[4].value += 0.5;
            found += i32::from(
                outliers(&fitted(&readings), 0.05).outliers.first().is_some_and(|d| d.reading == 4),
            );
        }
        let share = |count: i32| f64::from(count) / f64::from(draws);
        // Three standard deviations of a share of 2000 draws are 0.015. Residuals hang together, so that fewer than 5 % are
        // named; five u are seen through 13 other readings as 5·√(1 − 0.24) = 4.4 of their deviation, against 2.9.
        assert!((0.02..0.065).contains(&share(named)), "{}", share(named));
        assert!((0.035..0.065).contains(&share(beyond)), "{}", share(beyond));
        assert!(share(found) > 0.85, "{}", share(found));
    }

    proptest! {
        #[test]
        fn leaving_out_is_fitting_again(
            design in prop::collection::vec(-1.0..1.0_f64, 8 * 3),
            values in prop::collection::vec(-5.0..5.0_f64, 8),
        ) {
            let row = |i: usize, x: &[f64]| (0..3).map(|j| design[3 * i + j] * x[j]).sum::<f64>();
            let priors = [Prior::new(0.0, 2.0), Prior::new(1.0, 3.0), Prior::flat(0.5)];
            let readings: Vec<Observation> =
                values.iter().map(|value| Observation { value: *value, u: 0.7 }).collect();
            let whole = fit(&priors, &readings, Loss::Normal, |x| Some((0..8).map(|i| row(i, x)).collect())).unwrap();
            let fewer =
                fit(&priors, &readings[1..], Loss::Normal, |x| Some((1..8).map(|i| row(i, x)).collect())).unwrap();
            let mut left = Left {
                residuals: DVector::from_column_slice(&whole.residuals),
                variance: DMatrix::identity(8, 8) - &whole.hat,
                present: vec![true; 8],
            };
            prop_assume!(left.variance[(0, 0)] > 1e-3);
            left.leave_out(0);
            let again = outliers(&fewer, 0.05);
            for i in 1..8 {
                prop_assert!((left.residuals[i] - fewer.residuals[i - 1]).abs() < 1e-5);
                if let (Some(a), Some(b)) = (left.z(i), again.z[i - 1]) {
                    prop_assert!((a - b).abs() < 1e-4 * (1.0 + a.abs()), "{} {}", a, b);
                }
            }
            // The error is the distance to what the others predict.
            let error = whole.residuals[0] / (1.0 - whole.hat[(0, 0)]);
            prop_assert!((error - (values[0] - row(0, &fewer.parameters)) / 0.7).abs() < 1e-5 * (1.0 + error.abs()));
        }
    }
}
