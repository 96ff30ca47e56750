//! The independent standard normal numbers behind every draw: where a draw can be steered.

use super::Sampler;

impl Sampler {
    /// How many independent standard normal numbers stand behind a draw.
    pub fn latent(&self) -> usize {
        self.alone.len() + self.behind
    }

    /// The inputs at some of these numbers, each by its rank in its own distribution. What moves together may come to lie
    /// outside what it may be: such a draw is to be thrown again, as [`Self::draw`] does.
    ///
    /// ```
    /// # use roulade_stats::{propagation::sample::Sampler, uncertain::{Correlation, Uncertain}};
    /// let inputs = [Uncertain::standard(1.0, 0.5), Uncertain::range(0.0, 1.0)];
    /// let sampler = Sampler::new(&inputs, &Correlation::none());
    /// let mut values = sampler.best().to_vec();
    /// sampler.at(&[2.0, 0.0], &mut values);
    /// assert_eq!(values, [2.0, 0.5]);
    /// ```
    pub fn at(&self, latent: &[f64], values: &mut [f64]) {
        let (alone, behind) = latent.split_at_checked(self.alone.len()).unwrap_or((latent, &[]));
        for ((i, law), z) in self.alone.iter().zip(alone) {
            if let Some(value) = values.get_mut(*i) {
                *value = law.ranked(*z);
            }
        }
        for one in &self.together {
            let z: f64 = one.row.iter().zip(behind).map(|(r, z)| r * z).sum();
            if let Some(value) = values.get_mut(one.input) {
                *value = one.law.ranked(z);
            }
        }
    }

    /// How an output moves with each of these numbers, from what each input contributes to it.
    pub fn slopes(&self, contribution: impl Fn(usize) -> f64) -> Vec<f64> {
        let mut behind = vec![0.0; self.behind];
        for one in &self.together {
            let own = contribution(one.input);
            behind.iter_mut().zip(&one.row).for_each(|(slope, r)| *slope += own * r);
        }
        self.alone.iter().map(|(i, _)| contribution(*i)).chain(behind).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::propagation::FirstOrder;
    use crate::uncertain::{Correlation, Uncertain};
    use approx::assert_relative_eq;

    /// The slopes' squares add to the variance, whichever inputs move together.
    #[test]
    fn slopes_carry_the_whole_variance() {
        let inputs = [0.3, 0.2, 0.7].map(|u| Uncertain::standard(1.0, u));
        let correlation = Correlation::new(vec![2, 0], &[vec![0.6]]).unwrap();
        let sampler = Sampler::new(&inputs, &correlation);
        let spread = FirstOrder::of(&inputs, &correlation, &[3.0], |x| Some(vec![x[0] + x[1] * 2.0 - x[2]]));
        let slopes = sampler.slopes(|i| spread.contribution(0, i));
        assert_eq!(slopes.len(), sampler.latent());
        let squares: f64 = slopes.iter().map(|slope| slope * slope).sum();
        assert_relative_eq!(squares.sqrt(), spread.u(0), max_relative = 1e-12);
        // And a step along them moves the inputs so that the output rises by that much.
        let (mut values, step) = (sampler.best().to_vec(), 0.1);
        let latent: Vec<f64> = slopes.iter().map(|slope| step * slope).collect();
        sampler.at(&latent, &mut values);
        assert_relative_eq!(
            values[0] + values[1] * 2.0 - values[2] - 2.0,
            step * squares,
            max_relative = 1e-12
        );
    }
}
