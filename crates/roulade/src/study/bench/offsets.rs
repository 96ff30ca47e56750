//! Readings of one quantity may all be off by more than an ordinary error of their instrument, and nothing need tell: where
//! no other reading speaks of the quantity, its own agree with one another all the same.
//!
//! So the error that a quantity's readings share is not normal with the ordinary standard deviation s, but in one sheet of
//! twenty one quantity's is some times as large, and nobody knows which. Each of these sheets is a fit of its own, weighed by
//! how likely it makes the readings, and what is told is the mean of all (J. A. Hoeting, D. Madigan, A. E. Raftery, C. T.
//! Volinsky, Stat. Sci. 14 (1999) 382, doi:10.1214/ss/1009212519). None of them is fitted again: with another prior of one
//! parameter a normal distribution moves along its own column. In units of s, with the mean m and the variance c after the
//! fit, the readings speak of it with the precision λ = 1/c − 1 and the value m/(cλ); a prior of variance κ² in place of 1
//! leaves (λ + 1/κ²)⁻¹ for c, and makes them likelier by √((1 + λ)/(1 + λκ²))·exp(½ (m/c)²·((λ + 1/κ²)⁻¹ − (λ + 1)⁻¹)).
//!
//! An offset that neither a quantity's own readings nor others show is in no interval: a sheet with it is like one without, and
//! intervals that held it would hold nearly all of the sheets without. `tests/bench/systematic.rs` prints, beside the share of
//! figures that lie within theirs, the share that somebody reaches who knows every uncertainty.

use super::model::{Fitted, Model, Shared};
use nalgebra::DVector;
use roulade_stats::maths::exp;
use roulade_stats::propagation::deviate::normal_probability;
use roulade_stats::uncertain::Uncertain;

/// Chance that all readings of one quantity of a sheet are off: a guess, as how often a bench finds such a thing.
const OFF: f64 = 0.05;
/// How many ordinary errors they are off by then, in standard deviations.
const LARGE: f64 = 6.0;

/// A standard normal number is beyond this, either way, in one of twenty.
const NORMAL: f64 = 1.959_963_984_540_054;

/// All readings of one quantity with one ordinary instrument may be off together.
#[derive(Clone, Debug, PartialEq)]
pub struct Offset {
    /// Which of the quantities.
    pub asked: usize,
    /// Chance that they are off by more than is ordinary, after the readings.
    pub chance: f64,
    /// By how much, if they are, SI.
    pub size: Uncertain,
}

/// The same fit with what it does not know of errors that readings share; and each of these that may be large.
pub(super) fn averaged(model: &Model<'_>, fitted: &Fitted) -> (Fitted, Vec<Offset>) {
    let outcome = &fitted.outcome;
    let used = |source: usize| model.rows.iter().any(|row| row.source == source && !row.aside);
    let shared: Vec<(usize, usize)> = model
        .shared
        .iter()
        .filter_map(|shared| match shared {
            Shared::Ordinary(source) if used(*source) => Some((*source, model.place(shared)?)),
            _ => None,
        })
        .collect();
    let each = OFF / shared.len().max(1) as f64;
    let cases: Vec<Case> = shared.iter().filter_map(|(_, place)| Case::of(fitted, *place, each)).collect();
    if cases.len() < shared.len() {
        return (fitted.clone(), Vec::new());
    }
    let all = 1.0 - OFF + cases.iter().map(|case| case.weight).sum::<f64>();
    let count = outcome.parameters.len();
    let (mut shift, mut covariance) = (DVector::zeros(count), outcome.covariance.clone());
    for (case, (_, place)) in cases.iter().zip(&shared) {
        let along = outcome.covariance.column(*place) / case.before;
        let weight = case.weight / all;
        shift += weight * case.by * &along;
        covariance += case.wider(weight) * &along * along.transpose();
    }
    let mut averaged = fitted.clone();
    let priors = model.priors();
    for ((at, by), prior) in averaged.outcome.parameters.iter_mut().zip(shift.iter()).zip(&priors) {
        *at = (*at + by).clamp(prior.low, prior.high);
    }
    // The mean of cells that hold together may be none; the fit itself is one.
    if model.all_predicted(&averaged.outcome.parameters).is_none() {
        averaged.outcome.parameters.clone_from(&outcome.parameters);
    }
    averaged.outcome.covariance = covariance;
    let offsets = cases.iter().zip(&shared).filter_map(|(case, (source, place))| {
        let row = model.rows.iter().find(|row| row.source == *source)?;
        let (size, _) = model.error(*source, row.value);
        let value = outcome.parameters.get(*place)? + case.by;
        let size = Uncertain::standard(size * value, size * case.after.sqrt());
        Some(Offset { asked: row.asked, chance: case.weight / all, size })
    });
    let offsets = offsets.collect();
    (averaged, offsets)
}

/// One error is large.
struct Case {
    /// Its weight beside that of an ordinary one.
    weight: f64,
    /// Its variance after the readings, where it is ordinary and where it is large.
    before: f64,
    after: f64,
    /// How much further it is.
    by: f64,
}

impl Case {
    fn of(fitted: &Fitted, place: usize, chance: f64) -> Option<Self> {
        let mean = *fitted.outcome.parameters.get(place)?;
        let before = *fitted.outcome.covariance.get((place, place))?;
        if !(before > 0.0 && mean.is_finite()) {
            return None;
        }
        let precision = (1.0 / before - 1.0).max(0.0);
        let pull = mean / before;
        let after = 1.0 / (precision + 1.0 / (LARGE * LARGE));
        let likelier = ((1.0 + precision) / (1.0 + precision * LARGE * LARGE)).sqrt()
            * exp((0.5 * pull * pull * (after - before)).min(600.0));
        Some(Self { weight: chance * likelier, before, after, by: pull * after - mean })
    }

    /// What its variance is to be more, so that a normal distribution holds 95 % where both together do, about their mean; by
    /// the variance of both a rare large error would make every interval too wide.
    fn wider(&self, weight: f64) -> f64 {
        let beyond = |half: f64| {
            let of = |at: f64, variance: f64| {
                let u = variance.sqrt();
                normal_probability((at - half) / u) + normal_probability((-half - at) / u)
            };
            let mean = weight * self.by;
            (1.0 - weight) * of(-mean, self.before) + weight * of(self.by - mean, self.after)
        };
        let (mut low, mut high) = (0.0, 10.0 * (self.after.sqrt() + self.before.sqrt()) + self.by.abs());
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if beyond(middle) > 0.05 { low = middle } else { high = middle }
        }
        let u = high / NORMAL;
        (u * u - self.before).max(0.0)
    }
}
