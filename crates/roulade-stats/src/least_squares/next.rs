//! What to read next: by how much each reading that could be taken would shrink the variance of a figure.
//!
//! A reading with sensitivities h and uncertainty u turns the covariance C of the parameters into
//! C − (C h)(C h)ᵀ/(hᵀ C h + u²), whatever value it gives; so the variance gᵀ C g of a figure with the gradient g falls by
//! (gᵀ C h)²/(hᵀ C h + u²). (Bayes's theorem for normal distributions; R. E. Kalman, J. Basic Eng. 82 (1960) 35,
//! doi:10.1115/1.3662552.) It holds where every parameter has a finite uncertainty.

use crate::order;
use nalgebra::{DMatrix, DVector};

/// A reading that could be taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// How far its prediction moves with each parameter, ∂h/∂θ.
    pub row: Vec<f64>,
    /// Its standard uncertainty.
    pub u: f64,
}

/// What one reading would do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gain {
    /// Index of the candidate.
    pub candidate: usize,
    /// By how much the figure's variance falls.
    pub removed: f64,
    /// The figure's standard uncertainty afterwards.
    pub u: f64,
}

/// By how much the variance of a figure with this gradient falls with one more reading.
///
/// ```
/// use nalgebra::DMatrix;
/// use roulade_stats::least_squares::next::{Candidate, removed};
/// // A length known to ± 3, read once more to ± 3: half of its variance goes.
/// let again = Candidate { row: vec![1.0], u: 3.0 };
/// assert_eq!(removed(&DMatrix::from_element(1, 1, 9.0), &[1.0], &again), 4.5);
/// ```
pub fn removed(covariance: &DMatrix<f64>, gradient: &[f64], candidate: &Candidate) -> f64 {
    let Some((moves, total)) = moves(covariance, candidate) else { return 0.0 };
    let shared: f64 = gradient.iter().zip(moves.iter()).map(|(g, m)| g * m).sum();
    shared * shared / total
}

/// C h, and hᵀ C h + u²; `None` if the row is of another length or nothing is uncertain.
fn moves(covariance: &DMatrix<f64>, candidate: &Candidate) -> Option<(DVector<f64>, f64)> {
    if candidate.row.len() != covariance.nrows() {
        return None;
    }
    let row = DVector::from_column_slice(&candidate.row);
    // Most readings move with few parameters of many.
    let mut moves = DVector::zeros(covariance.nrows());
    for (column, by) in covariance.column_iter().zip(&candidate.row).filter(|(_, by)| **by != 0.0) {
        moves.axpy(*by, &column, 1.0);
    }
    let total = row.dot(&moves) + candidate.u * candidate.u;
    (total > 0.0).then_some((moves, total))
}

/// The covariance with one more reading taken.
pub fn after(covariance: &DMatrix<f64>, candidate: &Candidate) -> DMatrix<f64> {
    match moves(covariance, candidate) {
        Some((moves, total)) => covariance - &moves * moves.transpose() / total,
        None => covariance.clone(),
    }
}

/// Candidates by what each alone would do for a figure with this gradient, the best first; of equals the first given.
pub fn ranked(covariance: &DMatrix<f64>, gradient: &[f64], candidates: &[Candidate]) -> Vec<Gain> {
    let before = variance(covariance, gradient);
    let mut gains: Vec<Gain> = candidates
        .iter()
        .enumerate()
        .map(|(candidate, reading)| {
            let removed = removed(covariance, gradient, reading);
            Gain { candidate, removed, u: (before - removed).max(0.0).sqrt() }
        })
        .collect();
    order::by(&mut gains, |a, b| b.removed.total_cmp(&a.removed));
    gains
}

/// The best `count` readings to take one after another: each is the best once those before it are taken. A candidate may
/// come again: the same reading twice, with independent errors.
pub fn in_turn(
    covariance: &DMatrix<f64>,
    gradient: &[f64],
    candidates: &[Candidate],
    count: usize,
) -> Vec<Gain> {
    let mut covariance = covariance.clone();
    let mut turns = Vec::new();
    for _ in 0..count {
        let best =
            ranked(&covariance, gradient, candidates).into_iter().next().filter(|best| best.removed > 0.0);
        let Some(best) = best else { break };
        if let Some(candidate) = candidates.get(best.candidate) {
            covariance = after(&covariance, candidate);
        }
        turns.push(best);
    }
    turns
}

/// gᵀ C g.
pub fn variance(covariance: &DMatrix<f64>, gradient: &[f64]) -> f64 {
    if gradient.len() != covariance.nrows() {
        return f64::NAN;
    }
    let gradient = DVector::from_column_slice(gradient);
    gradient.dot(&(covariance * &gradient))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::least_squares::loss::Loss;
    use crate::least_squares::{Observation, Prior, fit};
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    #[test]
    fn the_second_reading_is_chosen_knowing_the_first() {
        // A figure x + y of ± 3 and ± 2: first x is read, then y, then x again.
        let c = DMatrix::from_row_slice(2, 2, &[9.0, 0.0, 0.0, 4.0]);
        let of = |row: &[f64]| Candidate { row: row.to_vec(), u: 1.0 };
        let candidates = [of(&[0.0, 1.0]), of(&[1.0, 0.0]), of(&[1.0, 0.0, 0.0])];
        let turns = in_turn(&c, &[1.0, 1.0], &candidates, 3);
        assert_eq!(turns.iter().map(|t| t.candidate).collect::<Vec<_>>(), [1, 0, 1]);
        assert_relative_eq!(turns[1].u, (0.9_f64 + 0.8).sqrt(), max_relative = 1e-12);
        assert!(ranked(&c, &[1.0, 1.0], &candidates)[2].removed.abs() < 1e-300);
        assert!(in_turn(&c, &[0.0, 0.0], &candidates, 3).is_empty());
        assert!(variance(&c, &[1.0]).is_nan());
        assert_eq!(after(&c, &candidates[2]), c);
    }

    proptest! {
        #[test]
        fn the_closed_form_is_fitting_with_one_more(
            rows in prop::collection::vec(-2.0..2.0_f64, 4 * 3),
            h in prop::collection::vec(-2.0..2.0_f64, 3),
            g in prop::collection::vec(-2.0..2.0_f64, 3),
            u in 0.05..3.0_f64,
        ) {
            let priors = [Prior::new(0.3, 2.0), Prior::new(1.0, 0.5), Prior::new(-1.0, 1.0)];
            let all = [rows, h.clone()].concat();
            let predict = |count: usize| {
                let all = all.clone();
                move |x: &[f64]| Some(all.chunks(3).take(count).map(|r| r.iter().zip(x).map(|(a, b)| a * b).sum()).collect())
            };
            let mut readings = vec![Observation { value: 0.7, u: 0.4 }; 4];
            let before = fit(&priors, &readings, Loss::Normal, predict(4)).unwrap();
            readings.push(Observation { value: 2.0, u });
            let refitted = fit(&priors, &readings, Loss::Normal, predict(5)).unwrap();
            let candidate = Candidate { row: h, u };
            let (old, new) = (variance(&before.covariance, &g), variance(&refitted.covariance, &g));
            let gain = ranked(&before.covariance, &g, std::slice::from_ref(&candidate))[0];
            prop_assert!((gain.removed - (old - new)).abs() <= 1e-7 * old, "{} {}", gain.removed, old - new);
            prop_assert!((gain.u * gain.u - new).abs() <= 1e-7 * old);
            let difference = after(&before.covariance, &candidate) - refitted.covariance;
            prop_assert!(difference.amax() < 1e-7, "{}", difference);
        }
    }
}
