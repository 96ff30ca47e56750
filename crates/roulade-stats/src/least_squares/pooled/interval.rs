//! How uncertain the mean of a few specimens is.
//!
//! A scatter that is found from few specimens is sometimes found as none, and the mean of these specimens is off as far as ever. So
//! its error is not normal with the scatter that was found, but a mixture over all scatters by what they have for them. A fit takes
//! one number: the scatter with which a normal distribution holds 95 % where the mixture does.
//!
//! What a sheet's other quantities know of a scatter is right on the mean of all quantities, too narrow where specimens scatter more
//! than is usual in their sheet and too wide where they scatter less: capacities of drawn sheets lay within such intervals in
//! 92.7 % of 400. With nothing borrowed, and the density 1/σ of σ = √(u² + τ²) above u, no interval is narrower than Student's, and
//! where specimens are alike they held 99.8 %. Whether a quantity scatters as the others do is not known; each has half the weight
//! beforehand, and the specimens decide.

use super::{Pooled, STEP, mean};
use crate::least_squares::distribution::normal_two_sided;
use crate::maths::exp;

/// A standard normal number is beyond this, either way, in one of twenty.
const NORMAL: f64 = 1.959_963_984_540_054;
/// Steps of the scatter are parted into so many: few specimens do not tell them apart, dozens do.
const PARTS: i32 = 8;
/// Halvings of an interval.
const ROUNDS: u32 = 60;

impl Pooled<'_> {
    /// The scatter with which 95 % intervals of the means of a quantity's specimens hold the truth; `None` without two of one
    /// variant.
    pub fn widened(&self, kind: usize) -> Option<f64> {
        let (of, before) = (self.kinds.get(kind)?, self.before.get(kind)?.as_ref()?);
        let group = of.groups.iter().max_by_key(|group| group.len()).filter(|group| group.len() > 1)?;
        let part = |i: i32| exp(STEP * ((f64::from(i) + 0.5) / f64::from(PARTS) - 0.5));
        let parts: Vec<f64> = (0..PARTS).map(part).collect();
        // The lowest step is no scatter at all.
        let fine = before.taus.iter().zip(&before.even);
        let fine = fine.flat_map(|(tau, weight)| parts.iter().map(move |part| (tau * part, *weight)));
        let (taus, weights): (Vec<f64>, Vec<f64>) = fine.unzip();
        let variance = |tau: f64| 1.0 / mean(group, tau * tau).1;
        let each = of.likelihoods(&taus).into_iter().zip(taus.iter().zip(&weights));
        let mixture: Vec<(f64, f64)> =
            each.map(|(likelihood, (tau, weight))| (variance(*tau), weight * likelihood)).collect();
        let all: f64 = mixture.iter().map(|(_, weight)| weight).sum();
        if !(all > 0.0 && all.is_finite()) {
            return None;
        }
        let beyond = |half: f64| {
            let one = |(variance, weight): &(f64, f64)| weight * normal_two_sided(half / variance.sqrt());
            mixture.iter().map(one).sum::<f64>() / all
        };
        let widest = mixture.iter().map(|(variance, _)| variance.sqrt()).fold(0.0, f64::max);
        let half = halved(0.0, 3.0 * NORMAL * widest, |half| beyond(half) > 0.05);
        let wanted = (half / NORMAL) * (half / NORMAL);
        let most = taus.iter().copied().fold(0.0, f64::max);
        Some(halved(0.0, 3.0 * most, |tau| variance(tau) < wanted))
    }
}

/// Where something that holds at the lower end ceases to.
fn halved(mut low: f64, mut high: f64, holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..ROUNDS {
        let middle = 0.5 * (low + high);
        if holds(middle) { low = middle } else { high = middle }
    }
    low
}

#[cfg(test)]
mod tests {
    use super::super::PooledKind;
    use super::*;
    use crate::least_squares::scatter::Specimen;
    use crate::propagation::deviate::Stream;

    /// Means of a few specimens whose scatter is none, the readings' own uncertainty, or more, by themselves, among others that
    /// scatter about as much, and among others that scatter half as much.
    #[test]
    fn intervals_hold_the_mean() {
        let mut throw = Stream::of(9, 0);
        for (scatter, specimens, others, part) in [
            (0.0, 4, 9, 1.0),
            (1.0, 4, 9, 1.0),
            (2.0, 4, 9, 1.0),
            (2.0, 4, 9, 0.5),
            (2.0, 3, 6, 0.5),
            (5.0, 4, 0, 1.0),
            (2.0, 4, 0, 1.0),
            (2.0, 12, 0, 1.0),
        ] {
            let (mut held, sheets) = (0, 400);
            for _ in 0..sheets {
                let mut of = |scatter: f64| {
                    let one = |_: i32| Specimen {
                        value: 1000.0 + scatter * throw.normal() + throw.normal(),
                        u: 1.0,
                    };
                    PooledKind { groups: vec![(0..specimens).map(one).collect()] }
                };
                let mut kinds = vec![of(scatter)];
                // Within a factor of two, either way.
                kinds.extend((0..others).map(|i| of(part * scatter * exp(f64::from(i % 3 - 1) * 0.7))));
                let tau = Pooled::of(&kinds).widened(0).unwrap();
                let (value, weight) = mean(&kinds[0].groups[0], tau * tau);
                held += i32::from((value - 1000.0).abs() <= NORMAL / weight.sqrt());
            }
            let share = f64::from(held) / f64::from(sheets);
            // 95 % and three standard deviations of a binomial; more where there is hardly a scatter. Others that scatter half as
            // much make intervals that hold 92 % (as 4000 sheets show).
            let least = if part < 1.0 { 0.879 } else { 0.917 };
            assert!((least..=0.99).contains(&share), "{scatter} {specimens} {others}: {share}");
        }
    }

    /// Where the scatter is far above the readings' uncertainty and nothing else is known the interval is about Student's.
    #[test]
    fn it_is_students_interval() {
        let values = [10.0, 11.5, 9.2, 10.4, 9.1];
        let group: Vec<Specimen> = values.iter().map(|value| Specimen { value: *value, u: 0.01 }).collect();
        let kinds = [PooledKind { groups: vec![group] }];
        let tau = Pooled::of(&kinds).widened(0).unwrap();
        let centre = values.iter().sum::<f64>() / 5.0;
        let s = (values.iter().map(|x| (x - centre) * (x - centre)).sum::<f64>() / 4.0).sqrt();
        // 2.776 with four degrees of freedom.
        assert!((tau / s / (2.776 / NORMAL) - 1.0).abs() < 0.06, "{}", tau / s * NORMAL);
    }

    #[test]
    fn one_specimen_has_none() {
        let kinds = [PooledKind { groups: vec![vec![Specimen { value: 1.0, u: 0.1 }]] }];
        assert!(Pooled::of(&kinds).widened(0).is_none());
        assert!(Pooled::of(&kinds).widened(1).is_none());
    }
}
