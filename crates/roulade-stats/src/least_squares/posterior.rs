//! What is known of the parameters after the fit, and how much each reading had to do with it.

use super::distribution::chi_square_tail;
use super::given::{Observation, Prior};
use super::linear::Linear;
use super::loss::Loss;
use super::step::reduce;
use super::svd::{Svd, columns_without, singular_values};
use nalgebra::DMatrix;

/// Readings determine a parameter if they take more than this part off its prior uncertainty: what is less does not show
/// in an uncertainty of two digits.
const SHOWS: f64 = 0.01;

/// Why the search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ending {
    /// The cost cannot fall further, by the linear model around the point.
    Lowest,
    /// No shorter step lowers the cost although the linear model says one should: predictions jump, or have a corner.
    Stuck,
    /// The same, and shorter steps were refused because nothing is predicted there: the cost falls only towards where
    /// predictions end.
    Edge,
    /// The cost was still falling after this many steps.
    Iterations(usize),
}

/// A fit: parameters, what is known of them, and how each reading agrees.
///
/// With readings y ± u, predictions h(θ), J = ∂h/∂θ, a prior of variances P, and U, W the diagonals of the readings'
/// variances and weights, C = (Jᵀ W U⁻¹ J + P⁻¹)⁻¹.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The most probable value of each parameter, θ.
    pub parameters: Vec<f64>,
    /// C, the variances and covariances after the fit, in products of the parameters' units. Zero for parameters that are
    /// known exactly. Bounds do not enter: at a bound the true distribution is cut off and narrower, so that C is an upper
    /// limit. Where nothing determines a parameter, C holds for the combinations that something does, and [`Self::u`] of
    /// the parameter itself is infinite.
    pub covariance: DMatrix<f64>,
    /// C over the roots of its diagonal; zero beside a variance of zero.
    pub correlation: DMatrix<f64>,
    /// h(θ), in the readings' units.
    pub predicted: Vec<f64>,
    /// J: rows are readings, columns parameters; zero for those that are known exactly.
    pub jacobian: DMatrix<f64>,
    /// (y − h)/u of each reading.
    pub residuals: Vec<f64>,
    /// How much each reading counted by its residual: 1 for a normal error, less for one far off under a robust loss.
    pub weights: Vec<f64>,
    /// √W U^(−½) J C Jᵀ U^(−½) √W, readings × readings, with the parameters at a bound held there: how far each prediction
    /// follows each reading, in their uncertainties.
    pub hat: DMatrix<f64>,
    /// The hat's diagonal: how far each prediction follows its own reading, 0 (it had no say) to 1 (nothing else had). Their
    /// sum is the number of parameters that the readings determined; the priors did the rest.
    pub leverage: Vec<f64>,
    /// Σ((y − h)/u)² and the same of the priors, Σ((θ − value)/u)², at the fit.
    pub chi_square: f64,
    /// Readings and priors less the parameters that were free to follow them (those held by a bound were not).
    pub degrees: usize,
    /// χ² per degree of freedom; `None` if there are none.
    pub reduced: Option<f64>,
    /// Probability of a χ² at least this large if all uncertainties are right; `None` without degrees of freedom, and under
    /// a robust loss, where χ² does not follow its distribution.
    pub probability: Option<f64>,
    /// Parameters that the readings do not determine: without a prior, those in a direction that no reading sees; with one,
    /// those whose u the readings did not reduce by one part in a hundred. Those known exactly are not among them.
    pub undetermined: Vec<usize>,
    /// Parameters that a bound stopped.
    pub at_bound: Vec<usize>,
    /// Steps taken.
    pub iterations: usize,
    /// Whether the parameters are the best there are nearby.
    pub converged: bool,
    /// Why the search ended.
    pub ending: Ending,
    pub(super) blind: Vec<usize>,
    /// U^(−½) J with each column in units of its prior.
    scaled: DMatrix<f64>,
}

impl Outcome {
    /// Singular values of U^(−½) J, each column in units of the parameter's prior uncertainty (without one, of the column's
    /// length), the largest first. Above 1 the readings say more than the prior in some direction, below 1 less, at 0
    /// nothing.
    pub fn singular(&self) -> Vec<f64> {
        singular_values(&self.scaled)
    }

    /// Standard uncertainty of a parameter after the fit, in its unit; infinite if neither readings nor a prior say
    /// anything.
    pub fn u(&self, parameter: usize) -> f64 {
        if self.blind.contains(&parameter) {
            return f64::INFINITY;
        }
        self.covariance.get((parameter, parameter)).map_or(f64::NAN, |v| v.sqrt())
    }
}

/// Everything about the last point.
pub(super) struct Last<'a> {
    pub(super) priors: &'a [Prior],
    pub(super) observations: &'a [Observation],
    pub(super) loss: Loss,
    /// Parameters not known exactly: the columns of the linear model.
    pub(super) free: &'a [usize],
    /// Columns that a bound holds.
    pub(super) held: &'a [usize],
    pub(super) parameters: Vec<f64>,
    pub(super) predicted: Vec<f64>,
    pub(super) jacobian: DMatrix<f64>,
    pub(super) linear: &'a Linear,
    pub(super) iterations: usize,
    pub(super) ending: Ending,
}

#[allow(clippy::indexing_slicing, reason = "square matrices of the parameters; free are some of them")]
pub(super) fn outcome(last: Last<'_>) -> Outcome {
    let Last {
        priors,
        observations,
        loss,
        free,
        held,
        parameters,
        predicted,
        jacobian,
        linear,
        iterations,
        ending,
    } = last;
    let (readings, count) = (observations.len(), parameters.len());
    let parts = apart(linear, readings);
    let among_free = &parts.right * parts.right.transpose();
    let mut covariance = DMatrix::zeros(count, count);
    for (a, i) in free.iter().enumerate() {
        for (b, j) in free.iter().enumerate() {
            covariance[(*i, *j)] = among_free[(a, b)];
        }
    }
    let deviations: Vec<f64> = covariance.diagonal().iter().map(|v| v.sqrt()).collect();
    let correlation = DMatrix::from_fn(count, count, |i, j| match (deviations.get(i), deviations.get(j)) {
        _ if i == j => 1.0,
        (Some(a), Some(b)) if *a > 0.0 && *b > 0.0 => (covariance[(i, j)] / a / b).clamp(-1.0, 1.0),
        _ => 0.0,
    });

    let without = || Linear { a: columns_without(&linear.a, held), b: linear.b.clone() };
    let following = (!held.is_empty()).then(|| apart(&without(), readings));
    let following = following.as_ref().unwrap_or(&parts);
    let of_readings = following.left.rows(0, readings);
    let hat = of_readings * of_readings.transpose();
    let leverage: Vec<f64> = hat.diagonal().iter().map(|l| l.clamp(0.0, 1.0)).collect();

    let residuals: Vec<f64> = observations.iter().zip(&predicted).map(|(o, h)| (o.value - h) / o.u).collect();
    let weights = residuals.iter().map(|z| loss.weight(*z)).collect();
    let pulls: f64 = free
        .iter()
        .filter_map(|i| priors.get(*i).zip(parameters.get(*i)))
        .filter(|(prior, _)| prior.u.is_finite())
        .map(|(prior, x)| ((x - prior.value) / prior.u) * ((x - prior.value) / prior.u))
        .sum();
    let chi_square = residuals.iter().map(|z| z * z).sum::<f64>() + pulls;
    let degrees = linear.a.nrows().saturating_sub(following.rank());
    let some = (degrees > 0).then_some(degrees as f64);

    let blind: Vec<usize> = parts.blind.iter().filter_map(|j| free.get(*j).copied()).collect();
    let undetermined = free
        .iter()
        .filter(|i| {
            let (u, before) =
                (deviations.get(**i).copied().unwrap_or(0.0), priors.get(**i).map_or(0.0, |p| p.u));
            blind.contains(i) || (before.is_finite() && u > (1.0 - SHOWS) * before)
        })
        .copied()
        .collect();
    Outcome {
        scaled: scaled(&jacobian, priors, observations, free),
        covariance,
        correlation,
        predicted,
        jacobian,
        residuals,
        weights,
        hat,
        leverage,
        chi_square,
        degrees,
        reduced: some.map(|n| chi_square / n),
        probability: some.filter(|_| loss == Loss::Normal).map(|n| chi_square_tail(chi_square, n)),
        undetermined,
        at_bound: held.iter().filter_map(|j| free.get(*j).copied()).collect(),
        iterations,
        converged: ending == Ending::Lowest,
        ending,
        blind,
        parameters,
    }
}

/// The linear model taken apart: by its triangle where that tells all columns apart, direction by direction otherwise.
fn apart(linear: &Linear, readings: usize) -> Svd {
    let of_readings = linear.a.rows(0, readings).into_owned();
    Svd::of_triangle(&reduce(linear, readings).a, &of_readings).unwrap_or_else(|| Svd::of(&linear.a))
}

fn scaled(
    jacobian: &DMatrix<f64>,
    priors: &[Prior],
    observations: &[Observation],
    free: &[usize],
) -> DMatrix<f64> {
    let mut scaled = jacobian.select_columns(free);
    for (mut row, observation) in scaled.row_iter_mut().zip(observations) {
        row /= observation.u;
    }
    for (mut column, i) in scaled.column_iter_mut().zip(free) {
        let length = column.norm();
        match priors.get(*i) {
            Some(prior) if prior.u.is_finite() => column *= prior.u,
            _ if length > 0.0 => column /= length,
            _ => {}
        }
    }
    scaled
}
