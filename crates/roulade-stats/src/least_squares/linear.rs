//! The linear model that stands in for the predictions around a point.

use nalgebra::{DMatrix, DVector};

/// The linear model around a point: A δ ≈ b in standard uncertainties, readings first, then finite priors.
#[derive(Clone, Debug)]
pub(super) struct Linear {
    pub(super) a: DMatrix<f64>,
    pub(super) b: DVector<f64>,
}
