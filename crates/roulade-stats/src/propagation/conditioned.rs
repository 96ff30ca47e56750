//! Draws conditioned on readings of some outputs: weighted by the likelihood of the readings, and where too few draws
//! remain, drawn anew around what the readings say to first order.
//!
//! To first order an output is y = ȳ + g·b, with b the independent standard normal numbers behind a draw
//! ([`Sampler::latent`](super::sample::Sampler::latent)) and g its slopes. Given readings that miss ȳ by m with standard
//! uncertainties σ, b is normal with the mean Gᵀ(GGᵀ + σ²)⁻¹m; draws of that distribution come from draws of the prior by
//! the same gain (conditioning by kriging; Journel and Huijbregts, Mining Geostatistics (1978), from memory). The exact
//! model enters by the weights: prior and steered draws together form one mixture, and each draw is weighted by its
//! likelihood over the mixture's density there (balance heuristic: Veach and Guibas, SIGGRAPH (1995) 419,
//! doi 10.1145/218380.218498, from memory), so that no draw where the straight line is wrong can outweigh the others.

use super::deviate::Stream;
use crate::maths::{exp, ln};
use nalgebra::{DMatrix, DVector};

/// Readings of some outputs as the straight line sees them.
#[derive(Clone, Debug)]
pub struct Steered {
    slopes: DMatrix<f64>,
    gain: DMatrix<f64>,
    miss: DVector<f64>,
    sigma: Vec<f64>,
    /// Logarithm of the readings' density in the prior, without its constant.
    in_prior: f64,
}

impl Steered {
    /// From the slopes of each output that was read, what its reading misses the best value by, and the reading's
    /// standard uncertainty; `None` where nothing was read or a reading has no uncertainty.
    pub fn of(slopes: &[Vec<f64>], miss: &[f64], sigma: &[f64]) -> Option<Self> {
        let (rows, columns) = (slopes.len(), slopes.first()?.len());
        let g = DMatrix::from_fn(rows, columns, |i, j| {
            slopes.get(i).and_then(|row| row.get(j)).copied().unwrap_or(0.0)
        });
        let variances = DVector::from_iterator(rows, sigma.iter().map(|s| s * s));
        let seen = &g * g.transpose() + DMatrix::from_diagonal(&variances);
        if miss.len() != rows || sigma.iter().any(|s| s.is_nan() || *s <= 0.0) {
            return None;
        }
        let factor = seen.cholesky()?;
        let miss = DVector::from_column_slice(miss);
        let solved = factor.solve(&miss);
        let spread: f64 = factor.l_dirty().diagonal().iter().map(|l| ln(*l)).sum();
        Some(Self {
            gain: factor.solve(&g).transpose(),
            in_prior: -0.5 * miss.dot(&solved) - spread,
            slopes: g,
            miss,
            sigma: sigma.to_vec(),
        })
    }

    /// Draws the numbers behind the inputs as the readings leave them to first order.
    pub fn draw(&self, stream: &mut Stream) -> Vec<f64> {
        let free = DVector::from_fn(self.slopes.ncols(), |_, _| stream.normal());
        let mut off = &self.miss - &self.slopes * &free;
        off.iter_mut().zip(&self.sigma).for_each(|(off, sigma)| *off -= sigma * stream.normal());
        (free + &self.gain * off).iter().copied().collect()
    }

    /// How much denser the steered draws lie than the prior's where the straight line gives each output that was read so
    /// much more than its best value.
    pub fn density(&self, along: &[f64]) -> f64 {
        let each = self.miss.iter().zip(along).zip(&self.sigma);
        let here: f64 = each
            .map(|((miss, along), sigma)| {
                let z = (miss - along) / sigma;
                -0.5 * z * z - ln(*sigma)
            })
            .sum();
        exp(here - self.in_prior)
    }

    /// What the readings make of another output to first order, by its slopes: how far its mean moves, and the standard
    /// uncertainty that is left.
    pub fn leaves(&self, slopes: &[f64]) -> (f64, f64) {
        let slopes = DVector::from_column_slice(slopes);
        let with = self.gain.transpose() * &slopes;
        let taken = with.dot(&(&self.slopes * &slopes));
        (with.dot(&self.miss), (slopes.norm_squared() - taken).max(0.0).sqrt())
    }
}

/// Weights of draws, adding to one.
#[derive(Clone, Debug)]
pub struct Weights {
    /// One for each draw.
    pub each: Vec<f64>,
    /// As many independent draws of equal weight would say as much (Kish, Survey Sampling (1965), from memory):
    /// (Σw)²/Σw².
    pub effective: f64,
}

impl Weights {
    /// From weights of any size; where all are nothing, so is the number of effective draws.
    ///
    /// ```
    /// # use roulade_stats::propagation::conditioned::Weights;
    /// let weights = Weights::of(vec![1.0, 1.0, 0.0, 2.0]);
    /// assert_eq!(weights.each, [0.25, 0.25, 0.0, 0.5]);
    /// assert!((weights.effective - 16.0 / 6.0).abs() < 1e-12);
    /// ```
    pub fn of(mut each: Vec<f64>) -> Self {
        let sum: f64 = each.iter().sum();
        if sum.is_nan() || sum <= 0.0 {
            each.fill(0.0);
            return Self { each, effective: 0.0 };
        }
        for weight in &mut each {
            *weight /= sum;
        }
        let squares: f64 = each.iter().map(|weight| weight * weight).sum();
        Self { each, effective: 1.0 / squares }
    }

    /// The mean of a value under them.
    pub fn mean(&self, values: impl IntoIterator<Item = f64>) -> f64 {
        self.each.iter().zip(values).map(|(weight, value)| weight * value).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// One number b, y = 2·b, read as 3 with σ = 1: b has the mean 2·3/(4 + 1) and the variance 1/(4 + 1), by hand.
    #[test]
    fn one_reading_of_one_number() {
        let steered = Steered::of(&[vec![2.0]], &[3.0], &[1.0]).unwrap();
        let (moves, left) = steered.leaves(&[1.0]);
        assert_relative_eq!(moves, 1.2, max_relative = 1e-12);
        assert_relative_eq!(left, 0.2f64.sqrt(), max_relative = 1e-12);
        let (mut stream, count) = (Stream::of(3, 0), 20_000);
        let (mut sum, mut squares) = (0.0, 0.0);
        for _ in 0..count {
            let b = steered.draw(&mut stream)[0];
            sum += b;
            squares += (b - 1.2) * (b - 1.2);
        }
        let n = f64::from(count);
        assert!((sum / n - 1.2).abs() < 4.0 * (0.2 / n).sqrt());
        assert!((squares / n - 0.2).abs() < 4.0 * 0.2 * (2.0 / n).sqrt());
        // The density ratio at b is that of the two normal distributions.
        let b: f64 = 0.7;
        let normal = |x: f64, mean: f64, variance: f64| {
            exp(-(x - mean) * (x - mean) / (2.0 * variance)) / variance.sqrt()
        };
        let ratio = normal(b, 1.2, 0.2) / normal(b, 0.0, 1.0);
        assert_relative_eq!(steered.density(&[2.0 * b]), ratio, max_relative = 1e-12);
    }

    #[test]
    fn what_cannot_steer_is_none() {
        assert!(Steered::of(&[], &[], &[]).is_none());
        assert!(Steered::of(&[vec![1.0]], &[1.0], &[0.0]).is_none());
        assert!(Steered::of(&[vec![1.0]], &[1.0, 2.0], &[1.0]).is_none());
        assert_relative_eq!(Weights::of(vec![0.0, 0.0]).effective, 0.0);
    }
}
