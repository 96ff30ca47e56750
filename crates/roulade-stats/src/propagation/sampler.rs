//! Inputs drawn at random, each from its own distribution and correlated ones together.
//!
//! What moves together is cut off together: a draw with any of it outside what it may be is thrown again. To bend each by
//! itself back into its bounds would take apart what readings hold together to a hundredth of what each alone may be.

use super::deviate::{Stream, normal_probability, normal_quantile};
use crate::maths::{exp, ln};
use crate::uncertain::{Correlation, Spread, Uncertain};

mod latent;

/// Draws inputs.
#[derive(Clone, Debug)]
pub struct Sampler {
    best: Vec<f64>,
    alone: Vec<(usize, Law)>,
    together: Vec<Together>,
    /// Independent numbers behind those that are drawn together.
    behind: usize,
    groups: Vec<Vec<usize>>,
}

/// So many times numbers that move together are thrown until all are what they may be. Less than a thousandth of them is then
/// possible at all, and each is cut off by itself.
const THROWS: usize = 1000;

/// Standard uncertainties, as shares of the distance from the lower end of what a quantity may be, at which it can be
/// log-normal: below a sixth the end is never met, above a half it is part of what the quantity may well be.
const NEAR: std::ops::Range<f64> = 1.0 / 6.0..0.5;

/// An input that moves together with others.
#[derive(Clone, Debug)]
struct Together {
    input: usize,
    law: Law,
    row: Vec<f64>,
    ends: (f64, f64),
}

/// A distribution.
#[derive(Clone, Copy, Debug)]
enum Law {
    Normal {
        value: f64,
        u: f64,
    },
    /// A normal distribution cut off at what is possible, `ends`: between these two probabilities of the whole one.
    Cut {
        value: f64,
        u: f64,
        from: f64,
        to: f64,
        ends: (f64, f64),
    },
    /// A log-normal distribution above an end.
    LogNormal {
        low: f64,
        median: f64,
        by: f64,
    },
    Even {
        low: f64,
        width: f64,
    },
}

impl Law {
    fn of(uncertain: &Uncertain) -> Option<Self> {
        match uncertain.spread {
            Spread::Standard(u) if u > 0.0 => Some(Self::Normal { value: uncertain.value, u }),
            Spread::Range { low, high } if high > low => Some(Self::Even { low, width: high - low }),
            _ => None,
        }
    }

    /// Cut off outside two ends. A share below 10⁻⁹ past an end is left: no plan draws it.
    fn within(self, (low, high): (f64, f64)) -> Self {
        let Self::Normal { value, u } = self else { return self };
        let from = normal_probability((low - value) / u);
        let to = normal_probability((high - value) / u);
        if from < 1e-9 && to > 1.0 - 1e-9 || to.is_nan() || from.is_nan() || to <= from {
            self
        } else {
            Self::Cut { value, u, from, to, ends: (low, high) }
        }
    }

    /// The log-normal distribution of the same mean and standard deviation, above the lower end of what may be, where that is
    /// neither out of reach nor close by.
    fn log_normal(self, (low, _): (f64, f64)) -> Self {
        let (Self::Normal { value, u } | Self::Cut { value, u, .. }) = self else { return self };
        let off = u / (value - low);
        if !NEAR.contains(&off) {
            return self;
        }
        let by = ln(1.0 + off * off);
        Self::LogNormal { low, median: (value - low) * exp(-0.5 * by), by: by.sqrt() }
    }

    fn drawn(self, stream: &mut Stream) -> f64 {
        match self {
            Self::Normal { value, u } => value + u * stream.normal(),
            Self::LogNormal { .. } => self.ranked(stream.normal()),
            // Where most of the whole is left, what is cut off is thrown again sooner than a quantile is worked out.
            Self::Cut { value, u, from, to, ends: (low, high) } if to - from > 0.5 => loop {
                let drawn = value + u * stream.normal();
                if low <= drawn && drawn <= high {
                    break drawn;
                }
            },
            Self::Cut { value, u, from, to, .. } => {
                value + u * normal_quantile(from + (to - from) * stream.even())
            }
            Self::Even { low, width } => low + width * stream.even(),
        }
    }

    /// The value that stands where `z` stands among standard normal numbers.
    fn ranked(self, z: f64) -> f64 {
        match self {
            Self::Normal { value, u } => value + u * z,
            Self::Cut { value, u, from, to, .. } => {
                value + u * normal_quantile(from + (to - from) * normal_probability(z))
            }
            Self::LogNormal { low, median, by } => low + median * exp(by * z),
            Self::Even { low, width } => low + width * normal_probability(z),
        }
    }
}

impl Sampler {
    /// Draws these inputs; those without an uncertainty stay at their values.
    pub fn new(inputs: &[Uncertain], correlation: &Correlation) -> Self {
        let law = |i: usize| inputs.get(i).and_then(Law::of);
        let together: Vec<_> = correlation
            .inputs()
            .iter()
            .zip(correlation.factor().row_iter())
            .filter_map(|(i, row)| {
                let ends = (f64::NEG_INFINITY, f64::INFINITY);
                Some(Together { input: *i, law: law(*i)?, row: row.iter().copied().collect(), ends })
            })
            .collect();
        let alone = (0..inputs.len()).filter(|i| !correlation.inputs().contains(i));
        let alone: Vec<_> = alone.filter_map(|i| Some((i, law(i)?))).collect();
        let groups = groups(&alone, correlation);
        Self {
            best: inputs.iter().map(|uncertain| uncertain.value).collect(),
            alone,
            together,
            behind: correlation.factor().ncols(),
            groups,
        }
    }

    /// The same, with each normal distribution cut off at the ends of what its input may be: a length below zero is not
    /// less likely, it is none. Ends that are open are infinite. Inputs that move together are drawn given that all of them
    /// are within their ends.
    ///
    /// ```
    /// # use roulade_stats::{propagation::{deviate::Stream, sample::Sampler}, uncertain::{Correlation, Uncertain}};
    /// let sampler = Sampler::new(&[Uncertain::standard(1.0, 2.0)], &Correlation::none());
    /// let sampler = sampler.within(|_| (0.0, f64::INFINITY));
    /// let (mut stream, mut values) = (Stream::of(1, 0), sampler.best().to_vec());
    /// for _ in 0..1000 {
    ///     sampler.draw(&mut stream, &mut values);
    ///     assert!(values[0] > 0.0);
    /// }
    /// ```
    pub fn within(mut self, ends: impl Fn(usize) -> (f64, f64)) -> Self {
        for (i, law) in &mut self.alone {
            *law = law.within(ends(*i));
        }
        for one in &mut self.together {
            one.ends = ends(one.input);
        }
        self
    }

    /// The same, with some inputs log-normal where the lower end of what they may be is two to six standard deviations off; mean
    /// and standard deviation stay. A normal distribution cut off there would make next
    /// to nothing as likely as what is merely rare.
    ///
    /// ```
    /// # use roulade_stats::{propagation::{deviate::Stream, sample::Sampler}, uncertain::{Correlation, Uncertain}};
    /// let sampler = Sampler::new(&[Uncertain::standard(1.0, 0.4)], &Correlation::none());
    /// let sampler = sampler.log_normal(|_| true, |_| (0.0, f64::INFINITY));
    /// let mut values = sampler.best().to_vec();
    /// sampler.at(&[-3.0], &mut values);
    /// // The median is 1/√1.16, and ln 1.16 the variance of the logarithm.
    /// assert!((values[0] - (-3.0 * 1.16f64.ln().sqrt()).exp() / 1.16f64.sqrt()).abs() < 1e-12);
    /// ```
    pub fn log_normal(mut self, which: impl Fn(usize) -> bool, ends: impl Fn(usize) -> (f64, f64)) -> Self {
        for (i, law) in self.alone.iter_mut().filter(|(i, _)| which(*i)) {
            *law = law.log_normal(ends(*i));
        }
        for one in self.together.iter_mut().filter(|one| which(one.input)) {
            one.law = one.law.log_normal(ends(one.input));
        }
        self
    }

    /// The best values: what is to be handed to [`Self::draw`].
    pub fn best(&self) -> &[f64] {
        &self.best
    }

    /// Inputs that are drawn independently of all others: each by itself, or those that move together.
    pub fn groups(&self) -> &[Vec<usize>] {
        &self.groups
    }

    /// Draws every uncertain input anew.
    pub fn draw(&self, stream: &mut Stream, values: &mut [f64]) {
        for (i, law) in &self.alone {
            if let Some(value) = values.get_mut(*i) {
                *value = law.drawn(stream);
            }
        }
        if self.together.is_empty() {
            return;
        }
        for throw in 1..=THROWS {
            let behind: Vec<f64> = (0..self.behind).map(|_| stream.normal()).collect();
            let mut within = true;
            for one in &self.together {
                let z: f64 = one.row.iter().zip(&behind).map(|(r, z)| r * z).sum();
                let law = if throw < THROWS { one.law } else { one.law.within(one.ends) };
                let drawn = law.ranked(z);
                // The ends of a range are its own.
                within &= matches!(law, Law::Even { .. }) || (one.ends.0..=one.ends.1).contains(&drawn);
                if let Some(value) = values.get_mut(one.input) {
                    *value = drawn;
                }
            }
            if within {
                break;
            }
        }
    }
}

/// Independent inputs one by one, then the correlated ones by which of them hang together.
fn groups(alone: &[(usize, Law)], correlation: &Correlation) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = alone.iter().map(|(i, _)| vec![*i]).collect();
    let mut left = correlation.inputs().to_vec();
    while let Some(seed) = left.pop() {
        let mut group = vec![seed];
        let mut next = 0;
        while let Some(of) = group.get(next).copied() {
            let (with, without) = left.into_iter().partition(|i| correlation.between(of, *i) != 0.0);
            left = without;
            group.extend::<Vec<usize>>(with);
            next += 1;
        }
        group.sort_unstable();
        groups.push(group);
    }
    groups
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A log-normal quantity keeps its mean and standard deviation, and never meets its end; what is better or worse known stays
    /// as it is.
    #[test]
    fn a_log_normal_input_keeps_its_moments() {
        let inputs =
            [Uncertain::standard(3.0, 0.8), Uncertain::standard(3.0, 0.3), Uncertain::standard(3.0, 2.0)];
        let ends = |_| (1.0, f64::INFINITY);
        let normal = Sampler::new(&inputs, &Correlation::none()).within(ends);
        let skewed = normal.clone().log_normal(|_| true, ends);
        let (mut stream, mut values, count) = (Stream::of(5, 0), skewed.best().to_vec(), 100_000);
        let (mut sum, mut squares) = (0.0, 0.0);
        for _ in 0..count {
            skewed.draw(&mut stream, &mut values);
            assert!(values[0] > 1.0);
            sum += values[0];
            squares += (values[0] - 3.0) * (values[0] - 3.0);
        }
        let n = f64::from(count);
        // Four standard errors; that of a variance is √((κ − 1)/n) of it, with κ = 6.0 where the coefficient of variation is 0.4.
        assert!((sum / n - 3.0).abs() < 4.0 * 0.8 / n.sqrt(), "{}", sum / n);
        assert!((squares / n / 0.64 - 1.0).abs() < 4.0 * (5.0 / n).sqrt(), "{}", squares / n);
        let latent = [1.0, -2.0, 0.5];
        let mut cut = values.clone();
        skewed.at(&latent, &mut values);
        normal.at(&latent, &mut cut);
        assert_eq!(values[1..], cut[1..]);
        assert!((values[0] - cut[0]).abs() > 0.01);
    }
}
