//! What is expected of every group by all that is known, where predictions are linear: before any reading, and around a fit.
//!
//! With parameters of variances P about the priors' values and S = ∂H/∂θ, all H have the covariance K = S P Sᵀ; with the
//! readings' means μ and their own covariance Λ⁻¹, T = K + Λ⁻¹ is that of μ about what is predicted, H₀. Then H is
//! H₀ + K T⁻¹ (μ − H₀), and what is expected of one group's μ by all others is μ − (T⁻¹)ᵍᵍ⁻¹ (T⁻¹(μ − H₀))ᵍ, with the covariance
//! (T⁻¹)ᵍᵍ⁻¹ (conditionals of a normal distribution).

use super::groups::{Group, Stand};
use nalgebra::{Cholesky, DMatrix, DVector};
use roulade_stats::least_squares::Prior;

/// How far a parameter is moved for a derivative, in its standard uncertainties.
const STEP: f64 = 0.1;

/// What is predicted for every group, and how that hangs together.
#[derive(Clone, Debug)]
pub(super) struct Linear {
    h: Vec<DVector<f64>>,
    /// Of all H, in their order.
    covariance: DMatrix<f64>,
}

fn flat(h: &[DVector<f64>]) -> Vec<f64> {
    h.iter().flat_map(|h| h.iter().copied()).collect()
}

impl Linear {
    /// Of the sheet alone, by what it predicts for all groups at the fit's parameters; a model of a cell is good to a part
    /// `share` of that.
    #[allow(clippy::indexing_slicing, reason = "within the shape that was just made")]
    pub(super) fn of_sheet(
        priors: &[Prior],
        groups: &[Group],
        predict: impl Fn(&[f64]) -> Option<Vec<DVector<f64>>>,
        share: f64,
    ) -> Option<Self> {
        let start: Vec<f64> = priors.iter().map(|prior| prior.value).collect();
        let h = predict(&start)?;
        let here = flat(&h);
        let mut slopes = DMatrix::zeros(here.len(), priors.len());
        let mut x = start;
        for (j, u) in sizes(priors, groups, &here).into_iter().enumerate() {
            let (prior, best) = (priors[j], x[j]);
            let mut at = |by: f64| {
                x[j] = (best + by * u).clamp(prior.low, prior.high);
                let moved = x[j] - best;
                let found = predict(&x).map(|h| (flat(&h), moved));
                x[j] = best;
                found.filter(|(_, moved)| *moved != 0.0)
            };
            let none = || (here.clone(), 0.0);
            let (high, low) = (at(STEP), at(-STEP));
            if high.is_none() && low.is_none() {
                continue;
            }
            let (high, low) = (high.unwrap_or_else(none), low.unwrap_or_else(none));
            for (i, (a, b)) in high.0.iter().zip(&low.0).enumerate() {
                slopes[(i, j)] = (a - b) / (high.1 - low.1) * u;
            }
        }
        let mut covariance = &slopes * slopes.transpose();
        let mut at = 0;
        for (group, h) in groups.iter().zip(&h) {
            for i in 0..h.len() {
                let size = share * (h[i] + group.origin);
                // An error of the model is one for all sources.
                for j in 0..h.len() {
                    covariance[(at + i, at + j)] += size * size;
                }
            }
            at += h.len();
        }
        Some(Self { h, covariance })
    }

    /// Around a fit: `slopes` of each group at `parameters`, where it is predicted `h`.
    pub(super) fn around(
        priors: &[Prior],
        groups: &[Group],
        parameters: &[f64],
        h: &[DVector<f64>],
        slopes: &[DMatrix<f64>],
    ) -> Self {
        let back = priors.iter().zip(parameters).map(|(prior, at)| {
            // Of a variant nothing is known beforehand, its own value as little as any other.
            if prior.u.is_finite() { prior.value - at } else { 0.0 }
        });
        let back = DVector::from_iterator(priors.len(), back);
        let before = h.iter().zip(slopes).map(|(h, slopes)| h + slopes * &back).collect();
        let rows: usize = slopes.iter().map(DMatrix::nrows).sum();
        let mut all = DMatrix::zeros(rows, priors.len());
        let mut at = 0;
        for slopes in slopes {
            all.rows_mut(at, slopes.nrows()).copy_from(slopes);
            at += slopes.nrows();
        }
        for (mut column, u) in all.column_iter_mut().zip(sizes(priors, groups, &flat(h))) {
            column *= u;
        }
        Self { h: before, covariance: &all * all.transpose() }
    }

    /// What the readings make of it.
    pub(super) fn after(&self, groups: &[Group]) -> Option<Vec<Stand>> {
        let mut total = self.covariance.clone();
        let mut off = DVector::zeros(total.nrows());
        let mut at = 0;
        for (group, h) in groups.iter().zip(&self.h) {
            let many = h.len();
            let mut place = total.view_mut((at, at), (many, many));
            place += &group.covariance;
            off.rows_mut(at, many).copy_from(&(&group.mean - h));
            at += many;
        }
        // Rows of very different sizes: to ones on the diagonal.
        let size = total.diagonal().map(|variance| variance.sqrt().recip());
        let scaled = DMatrix::from_fn(total.nrows(), total.ncols(), |i, j| {
            total.get((i, j)).copied().unwrap_or(0.0)
                * size.get(i).copied().unwrap_or(0.0)
                * size.get(j).copied().unwrap_or(0.0)
        });
        let mut inverse = Cholesky::new(scaled)?.inverse();
        for (mut column, by) in inverse.column_iter_mut().zip(size.iter()) {
            column *= *by;
            column.component_mul_assign(&size);
        }
        let pull = &inverse * &off;
        let mut at = 0;
        let stands = self.h.iter().zip(groups).map(|(h, group)| {
            let many = h.len();
            let across = self.covariance.rows(at, many).into_owned();
            let own = self.covariance.view((at, at), (many, many)).into_owned();
            let about = inverse.view((at, at), (many, many)).into_owned();
            let about = Cholesky::new(about).map(|root| root.inverse());
            let pulled = pull.rows(at, many).into_owned();
            at += many;
            let inner = &across * &inverse * across.transpose();
            Stand {
                h: h + &across * &pull,
                covariance: own - inner,
                others: about.map(|about| (&group.mean - &about * pulled, about - &group.covariance)),
            }
        });
        Some(stands.collect())
    }
}

/// How far each parameter may be beforehand.
fn sizes(priors: &[Prior], groups: &[Group], predicted: &[f64]) -> Vec<f64> {
    let origins = groups.iter().map(|group| group.origin.abs()).fold(0.0, f64::max);
    let largest = predicted.iter().fold(origins, |a: f64, b| a.max(b.abs()));
    // Of a variant nothing is known: as much as anything is large.
    priors.iter().map(|prior| if prior.u.is_finite() { prior.u } else { largest }).collect()
}
