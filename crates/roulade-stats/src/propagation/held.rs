//! Draws that keep to what was fitted.
//!
//! After a fit, inputs that were known badly move together so that what was read stays what it was: a mass and a share, each known
//! to 3 %, with a product known to 0.3 %. Their covariance says so to first order only. Drawn from it, the product of two that
//! move against one another is low by 0.1 % in the mean, and too wide.
//!
//! So each draw is corrected for it. A posterior is drawn from by perturbing what was known beforehand and what was read, and
//! fitting anew (randomise, then optimise: J. M. Bardsley, A. Solonen, H. Haario, M. Laine, SIAM J. Sci. Comput. 36 (2014)
//! A1895, doi:10.1137/140964023, from memory). Where predictions are linear that is the draw itself; with curved ones
//! h(x) in the place of linear ones l(x), the fit starts at the draw x₀, and Gauss's and Newton's steps towards its end are
//! x = x₀ + C Jᵀ U⁻¹ (l(x) − h(x)): C the covariance of the inputs, J the slopes of h, U the variances of what was read.
//! Neither the readings nor what was known beforehand is needed for it. Where slopes there are others than at the best values,
//! such steps go too far or not far enough: each is set right by how the last one turned out (D. G. Anderson, J. ACM 12 (1965)
//! 547, doi:10.1145/321296.321305, with one step kept, from memory).

use crate::uncertain::{Correlation, Uncertain};
use nalgebra::{DMatrix, DVector};

/// A part of an input's uncertainty for slopes.
const STEP: f64 = 0.1;
/// Steps at most; two or three are enough as a rule.
const STEPS: usize = 12;
/// A step of less than this part of the inputs' uncertainties, all squares added, is none.
const SETTLED: f64 = 1e-3;

/// Predictions that were read, and how inputs follow them.
#[derive(Clone, Debug)]
pub struct Held {
    best: Vec<f64>,
    /// Inputs that are uncertain, and by how much.
    moving: Vec<(usize, f64)>,
    /// What is predicted at the best values, over the uncertainties.
    at_best: DVector<f64>,
    u: Vec<f64>,
    /// Slopes of the predictions, both in standard uncertainties.
    slopes: DMatrix<f64>,
    gain: DMatrix<f64>,
}

impl Held {
    /// Of inputs as a fit left them, and of predictions by the uncertainty `u` with which each was read; `None` where nothing is
    /// predicted at the best values, or nothing moves.
    pub fn of(
        inputs: &[Uncertain],
        correlation: &Correlation,
        u: &[f64],
        mut predict: impl FnMut(&[f64]) -> Option<Vec<f64>>,
    ) -> Option<Self> {
        let best: Vec<f64> = inputs.iter().map(|uncertain| uncertain.value).collect();
        let mut predict = |x: &[f64]| scaled(&predict(x)?, u);
        let at_best = predict(&best)?;
        let moving: Vec<(usize, f64)> =
            inputs.iter().map(Uncertain::u).enumerate().filter(|(_, u)| *u > 0.0).collect();
        if u.is_empty() || moving.is_empty() {
            return None;
        }
        let mut slopes = DMatrix::zeros(u.len(), moving.len());
        let mut x = best.clone();
        for (mut column, (i, u)) in slopes.column_iter_mut().zip(&moving) {
            let here = x.get(*i).copied()?;
            let mut moved = |by: f64| {
                *x.get_mut(*i)? = here + by * u;
                let found = predict(&x);
                *x.get_mut(*i)? = here;
                found
            };
            match (moved(STEP), moved(-STEP)) {
                (Some(up), Some(down)) => column.copy_from(&((up - down) / (2.0 * STEP))),
                (Some(up), None) => column.copy_from(&((up - &at_best) / STEP)),
                (None, Some(down)) => column.copy_from(&((&at_best - down) / STEP)),
                (None, None) => {}
            }
        }
        let together = DMatrix::from_fn(moving.len(), moving.len(), |a, b| {
            let (a, b) = (moving.get(a).map_or(0, |m| m.0), moving.get(b).map_or(0, |m| m.0));
            if a == b { 1.0 } else { correlation.between(a, b) }
        });
        let across = &together * slopes.transpose();
        // After a fit no prediction is known worse than it was read. Where an edit since then says otherwise, it is followed no
        // further than it was read.
        let parts = (&slopes * &across).symmetric_eigen();
        let most = parts.eigenvalues.map(|value| if value > 1.0 { value.recip() } else { 1.0 });
        let gain =
            across * &parts.eigenvectors * DMatrix::from_diagonal(&most) * parts.eigenvectors.transpose();
        let sound = gain.iter().all(|x| x.is_finite());
        sound.then(|| Self { best, moving, at_best, u: u.to_vec(), slopes, gain })
    }

    /// A draw, corrected; as it is where nothing is predicted there.
    pub fn hold(&self, drawn: &[f64], mut predict: impl FnMut(&[f64]) -> Option<Vec<f64>>) -> Vec<f64> {
        let mut values = drawn.to_vec();
        let from = DVector::from_iterator(
            self.moving.len(),
            self.moving.iter().map(|(i, u)| {
                (drawn.get(*i).copied().unwrap_or(0.0) - self.best.get(*i).copied().unwrap_or(0.0)) / u
            }),
        );
        let mut z = from.clone();
        let (mut nearest, mut held) = (f64::INFINITY, values.clone());
        let mut before: Option<(DVector<f64>, DVector<f64>)> = None;
        for _ in 0..STEPS {
            let Some(found) = predict(&values).and_then(|found| scaled(&found, &self.u)) else {
                // A step that leads to where nothing is predicted is taken half as far.
                let Some((from, _)) = &before else { return values };
                z = (&z + from) * 0.5;
                self.put(&z, &mut values);
                continue;
            };
            let step = &from + &self.gain * (&self.at_best + &self.slopes * &z - found) - &z;
            let length = step.norm_squared();
            if length.is_nan() {
                break;
            }
            if length < nearest {
                (nearest, held) = (length, values.clone());
            }
            let mut next = &z + &step;
            if let Some((from, way)) = &before {
                let turned = &step - way;
                let share = turned.dot(&step) / turned.norm_squared();
                if share.is_finite() {
                    next -= (&z - from + turned) * share;
                }
            }
            before = Some((std::mem::replace(&mut z, next), step));
            self.put(&z, &mut values);
            // What is left after this step is much less than it.
            if length < SETTLED * SETTLED {
                return values;
            }
        }
        held
    }

    /// Values so many uncertainties from the best ones.
    fn put(&self, z: &DVector<f64>, values: &mut [f64]) {
        for ((i, u), z) in self.moving.iter().zip(z.iter()) {
            if let (Some(slot), Some(best)) = (values.get_mut(*i), self.best.get(*i)) {
                *slot = best + u * z;
            }
        }
    }
}

fn scaled(found: &[f64], u: &[f64]) -> Option<DVector<f64>> {
    let all = found.len() == u.len() && found.iter().all(|x| x.is_finite());
    all.then(|| DVector::from_iterator(u.len(), found.iter().zip(u).map(|(x, u)| x / u)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::propagation::deviate::Stream;
    use crate::propagation::sample::Sampler;

    /// x = 1 ± 0.1 and y = 2 ± 0.2 beforehand, x·y read to be 2 ± 0.02. The posterior by weights: draws from what was known
    /// beforehand, weighted by the reading's likelihood.
    #[test]
    #[allow(clippy::disallowed_methods, reason = "the other side of a comparison")]
    fn a_product_that_was_read_stays_what_it_was() {
        let product = |x: &[f64]| Some(vec![x[0] * x[1]]);
        // Slopes 2 and 1, each 0.2 of a standard uncertainty: C = I − a aᵀ/(0.08 + 0.0004), a = (0.2, 0.2).
        let (own, across) = (1.0 - 0.04 / 0.0804, -0.04 / 0.0804);
        let u = f64::sqrt(own);
        let inputs = [Uncertain::standard(1.0, 0.1 * u), Uncertain::standard(2.0, 0.2 * u)];
        let correlation = Correlation::new(vec![0, 1], &[vec![across / own]]).unwrap();
        let held = Held::of(&inputs, &correlation, &[0.02], product).unwrap();
        let sampler = Sampler::new(&inputs, &correlation);
        let (mut stream, mut values, count) = (Stream::of(1, 0), sampler.best().to_vec(), 20_000);
        let (mut plain, mut kept, mut first) = ([0.0; 2], [0.0; 2], [0.0; 2]);
        for _ in 0..count {
            sampler.draw(&mut stream, &mut values);
            let corrected = held.hold(&values, product);
            for (sums, x) in [
                (&mut plain, values[0] * values[1] - 2.0),
                (&mut kept, corrected[0] * corrected[1] - 2.0),
                (&mut first, corrected[0] - 1.0),
            ] {
                sums[0] += x / f64::from(count);
                sums[1] += x * x / f64::from(count);
            }
        }
        let (mut weights, mut wanted, mut of_first) = (0.0, [0.0; 2], [0.0; 2]);
        for _ in 0..200_000 {
            let (x, y) = (1.0 + 0.1 * stream.normal(), 2.0 + 0.2 * stream.normal());
            let weight = (-0.5 * ((x * y - 2.0) / 0.02).powi(2)).exp();
            weights += weight;
            for (sums, x) in [(&mut wanted, x * y - 2.0), (&mut of_first, x - 1.0)] {
                sums[0] += weight * x;
                sums[1] += weight * x * x;
            }
        }
        let moments = |sums: [f64; 2], all: f64| (sums[0] / all, (sums[1] / all).sqrt());
        let ((bias, wide), (mean, u)) = (moments(plain, 1.0), moments(wanted, weights));
        assert!(bias < -0.4 * u && wide > 1.1 * u, "{bias} {wide} {u}");
        let (bias, wide) = moments(kept, 1.0);
        assert!((bias - mean).abs() < 0.05 * u && (wide / u - 1.0).abs() < 0.05, "{bias} {mean} {wide} {u}");
        let ((bias, wide), (mean, u)) = (moments(first, 1.0), moments(of_first, weights));
        assert!((bias - mean).abs() < 0.1 * u && (wide / u - 1.0).abs() < 0.05, "{bias} {mean} {wide} {u}");
    }

    #[test]
    fn what_is_linear_stays_as_it_was_drawn() {
        let inputs = [Uncertain::standard(1.0, 0.1), Uncertain::exact(3.0), Uncertain::standard(2.0, 0.2)];
        let sum = |x: &[f64]| Some(vec![x[0] + x[1] + x[2]]);
        let held = Held::of(&inputs, &Correlation::none(), &[0.5], sum).unwrap();
        let kept = held.hold(&[1.2, 3.0, 1.7], sum);
        assert!((kept[0] - 1.2).abs() < 1e-12 && (kept[2] - 1.7).abs() < 1e-12, "{kept:?}");
        assert_eq!(held.hold(&[1.2, 3.0, 1.7], |_| None), [1.2, 3.0, 1.7]);
        assert!(Held::of(&inputs, &Correlation::none(), &[0.5], |_| None).is_none());
        assert!(
            Held::of(&[Uncertain::exact(1.0)], &Correlation::none(), &[0.5], |x| Some(x.to_vec())).is_none()
        );
    }
}
