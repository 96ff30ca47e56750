//! What predicts the readings: a design, and the errors that readings share besides it.
//!
//! A reading is predicted as (h + variant)·(1 + scale) + zero + the specimen's own deviation: h by the design; the variant's
//! difference, where two variants of a cell are kept apart; the relative error of an instrument and its zero. Variants and
//! instruments stand beside the design's parameters in the fit, each with what is known of it beforehand, so that an error
//! that many readings share is not averaged away by their number. Specimens are summed over ([`Group`]).

use super::groups::{Group, Stand};
use super::linear::Linear;
use super::parameters::{Parameters, designed};
use super::rows::{Row, Source};
use super::specimens::{self, Scatter, seen};
use super::straight::Straight;
use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::cell::state::Cause;
use crate::study::readings::instrument::Instrument;
use crate::study::readings::quantity::Asked;
use nalgebra::{DMatrix, DVector};
use roulade_stats::least_squares::fit::{FitError, fit_from};
use roulade_stats::least_squares::{Loss, Outcome};
use roulade_stats::least_squares::{Observation, Prior};
use std::collections::BTreeMap;

/// Rounds of weighting rows under a robust loss.
const ROUNDS: usize = 30;
/// Weights that move by less than this have settled.
const SETTLED: f64 = 1e-6;

/// What readings share besides the design.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Shared {
    /// Zero of an instrument, in units of its uncertainty.
    Zero(usize),
    /// Scale of an instrument, in units of its uncertainty.
    Scale(usize),
    /// What an ordinary instrument's readings of one quantity share, in units of its uncertainty: which source.
    Ordinary(usize),
    /// What a variant is more than the first one, in a quantity, SI; nothing is known of it beforehand.
    Variant(usize, String),
    /// What is not known of opened cells, by the number of its cause, in units of its uncertainty.
    State(usize),
    /// How far a quantity's prediction is off its straight line, in units of its standard deviation.
    Kinked(usize),
}

/// How far specimens are taken to scatter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Scattered {
    /// As the specimens themselves show it, and robustly: before it is known which readings are wrong.
    Guarded,
    /// As it is found.
    Found,
    /// As 95 % intervals need it, since it was found from few.
    Widened,
}

/// Rows with what predicts them.
#[derive(Clone, Debug)]
pub(super) struct Model<'a> {
    pub(super) draft: &'a Draft,
    pub(super) parameters: Parameters,
    pub(super) asked: Vec<Asked>,
    pub(super) rows: Vec<Row>,
    pub(super) sources: Vec<Source>,
    pub(super) instruments: &'a [Instrument],
    /// One for each quantity.
    pub(super) scatter: Vec<Scatter>,
    /// The variant that the design is, for each quantity; the others differ from it.
    pub(super) first: Vec<Option<String>>,
    pub(super) shared: Vec<Shared>,
    pub(super) groups: Vec<Group>,
    /// What is not known of the state that each quantity was read in, SI, by cause.
    unsure: Vec<[f64; Cause::ALL.len()]>,
    /// The straight line of each quantity that has kinks.
    kinks: Vec<Option<Straight>>,
    scattered: Scattered,
}

/// A fit, and what it says of every group.
#[derive(Clone, Debug)]
pub(super) struct Fitted {
    pub(super) outcome: Outcome,
    pub(super) stands: Vec<Stand>,
    /// ∂H/∂θ of each group: rows are its sources.
    pub(super) slopes: Vec<DMatrix<f64>>,
    /// Weight of each row under a robust loss.
    pub(super) weights: Vec<f64>,
}

impl<'a> Model<'a> {
    /// Groups the rows; `first` names the variant that the design is, of each quantity.
    pub(super) fn new(
        draft: &'a Draft,
        parameters: Parameters,
        asked: Vec<Asked>,
        (rows, sources): (Vec<Row>, Vec<Source>),
        instruments: &'a [Instrument],
        first: Vec<Option<String>>,
        worked: &Worked,
    ) -> Self {
        let unsure = asked.iter().map(|asked| asked.unsure(draft, worked)).collect();
        let kinks = vec![None; asked.len()];
        let mut model = Self {
            draft,
            parameters,
            asked,
            rows,
            sources,
            instruments,
            scatter: Vec::new(),
            first,
            shared: Vec::new(),
            groups: Vec::new(),
            unsure,
            kinks,
            scattered: Scattered::Found,
        };
        model.regroup();
        model
    }

    /// The same with another scatter. A χ² follows its distribution only with the scatter as it was found.
    pub(super) fn scattered(&self, scattered: Scattered) -> Self {
        let mut model = Self { scattered, ..self.clone() };
        model.group();
        model
    }

    /// Groups anew, once rows are of other variants than before.
    pub(super) fn regroup(&mut self) {
        self.share();
        self.group();
    }

    /// Takes predictions along straight lines.
    pub(super) fn kinked(&mut self, kinks: Vec<Option<Straight>>) {
        self.kinks = kinks;
        self.share();
    }

    /// Leaves rows out of the fit, or takes them back.
    pub(super) fn set_aside(&mut self, rows: &[usize], aside: bool) {
        for row in rows {
            if let Some(row) = self.rows.get_mut(*row) {
                row.aside = aside;
            }
        }
        self.group();
    }

    fn share(&mut self) {
        let mut shared = Vec::new();
        let mut place = |what: Shared| {
            if !shared.contains(&what) {
                shared.push(what);
            }
        };
        for (i, source) in self.sources.iter().enumerate() {
            match source {
                Source::File(k) => {
                    let instrument = self.instruments.get(*k);
                    if instrument.is_some_and(|instrument| instrument.calibration > 0.0) {
                        place(Shared::Zero(*k));
                    }
                    if instrument.is_some_and(|instrument| instrument.relative > 0.0) {
                        place(Shared::Scale(*k));
                    }
                }
                Source::Ordinary { .. } => place(Shared::Ordinary(i)),
                Source::Independent => {}
            }
        }
        for row in &self.rows {
            if let Some(variant) = &row.variant
                && self.first.get(row.asked).is_some_and(|first| first.as_ref() != Some(variant))
            {
                place(Shared::Variant(row.asked, variant.clone()));
            }
        }
        for cause in 0..Cause::ALL.len() {
            let moves = |row: &Row| {
                self.unsure.get(row.asked).is_some_and(|u| u.get(cause).is_some_and(|u| *u != 0.0))
            };
            if self.rows.iter().any(moves) {
                place(Shared::State(cause));
            }
        }
        for asked in (0..self.kinks.len()).filter(|asked| self.off_line(*asked) > 0.0) {
            place(Shared::Kinked(asked));
        }
        self.shared = shared;
    }

    fn group(&mut self) {
        let mut numbers: BTreeMap<(usize, Option<String>), Vec<usize>> = BTreeMap::new();
        for (i, row) in self.rows.iter().enumerate() {
            numbers.entry((row.asked, row.variant.clone())).or_default().push(i);
        }
        self.scatter = (0..self.asked.len())
            .map(|asked| {
                let own = numbers.iter().filter(|((of, _), _)| *of == asked).flat_map(|(_, own)| own);
                Scatter::of(&seen(
                    &self.rows,
                    own.copied().filter(|i| self.rows.get(*i).is_some_and(|r| !r.aside)),
                ))
            })
            .collect();
        let widened = match self.scattered {
            Scattered::Widened => specimens::widened(&self.scatter),
            _ => Vec::new(),
        };
        self.groups = numbers
            .into_iter()
            .filter_map(|((asked, _), own)| {
                let scatter = self.scatter.get(asked)?;
                let tau = match self.scattered {
                    Scattered::Found => scatter.between.unwrap_or(0.0),
                    Scattered::Widened => *widened.get(asked)?,
                    Scattered::Guarded => scatter.guarded(),
                };
                Group::of(&self.rows, &own, tau * tau)
            })
            .collect();
    }

    /// Number of the fit's parameter for something shared.
    pub(super) fn place(&self, what: &Shared) -> Option<usize> {
        Some(self.parameters.count() + self.shared.iter().position(|s| s == what)?)
    }

    /// What one standard uncertainty of a source's error is, at a value: of its zero and of its scale.
    pub(super) fn error(&self, source: usize, value: f64) -> (f64, f64) {
        match self.sources.get(source) {
            Some(Source::File(k)) => {
                let instrument = self.instruments.get(*k);
                instrument.map_or((0.0, 0.0), |i| (i.calibration, i.relative * value))
            }
            Some(Source::Ordinary { asked, .. }) => {
                let quantity = self.asked.get(*asked).map(|asked| asked.quantity);
                (quantity.map_or(0.0, |q| q.typical.shared(value, q.unit)), 0.0)
            }
            _ => (0.0, 0.0),
        }
    }

    /// What the design predicts for each quantity, SI.
    pub(super) fn designed(&self, own: &[f64]) -> Option<Vec<f64>> {
        designed(self.draft, &self.parameters, &self.asked, own)
    }

    /// The same at parameters of the fit, along straight lines where there are kinks.
    fn along(&self, own: &[f64]) -> Option<Vec<f64>> {
        let mut all = self.designed(&self.parameters.at(own))?;
        for (slot, line) in all.iter_mut().zip(&self.kinks) {
            *slot = line.as_ref().map_or(*slot, |line| line.predicted(own));
        }
        Some(all)
    }

    /// Standard deviation of a quantity's prediction about its straight line, SI.
    fn off_line(&self, asked: usize) -> f64 {
        self.kinks.get(asked).and_then(Option::as_ref).map_or(0.0, |line| line.u)
    }

    /// Priors of all parameters of the fit.
    pub(super) fn priors(&self) -> Vec<Prior> {
        let shared = self.shared.iter().map(|shared| match shared {
            Shared::Variant(..) => Prior::flat(0.0),
            _ => Prior::new(0.0, 1.0),
        });
        self.parameters.priors().into_iter().chain(shared).collect()
    }

    /// H of a group less its origin, at what the design predicts for its quantity.
    pub(super) fn predicted(&self, group: &Group, designed: f64, shared: &[f64]) -> DVector<f64> {
        let of = |what: &Shared| {
            let at = self.shared.iter().position(|s| s == what);
            at.and_then(|at| shared.get(at)).copied().unwrap_or(0.0)
        };
        let variant =
            group.variant.as_ref().map_or(0.0, |variant| of(&Shared::Variant(group.asked, variant.clone())));
        let unsure = self.unsure.get(group.asked).copied().unwrap_or_default();
        let causes = unsure.iter().enumerate().filter(|(_, u)| **u != 0.0);
        let state: f64 = causes.map(|(cause, u)| u * of(&Shared::State(cause))).sum();
        let kink = self.off_line(group.asked);
        let kink = if kink > 0.0 { kink * of(&Shared::Kinked(group.asked)) } else { 0.0 };
        let plain = designed + variant + state + kink;
        DVector::from_iterator(
            group.sources.len(),
            group.sources.iter().map(|source| {
                let (zero, _) = self.error(*source, group.origin);
                let error = match self.sources.get(*source) {
                    Some(Source::File(k)) => {
                        let relative = self.instruments.get(*k).map_or(0.0, |i| i.relative);
                        plain * relative * of(&Shared::Scale(*k)) + zero * of(&Shared::Zero(*k))
                    }
                    Some(Source::Ordinary { .. }) => zero * of(&Shared::Ordinary(*source)),
                    _ => 0.0,
                };
                plain - group.origin + error
            }),
        )
    }

    /// All H at parameters of the fit.
    pub(super) fn all_predicted(&self, fitted: &[f64]) -> Option<Vec<DVector<f64>>> {
        let (own, shared) = fitted.split_at_checked(self.parameters.count())?;
        let designed = self.along(own)?;
        self.groups
            .iter()
            .map(|group| Some(self.predicted(group, *designed.get(group.asked)?, shared)))
            .collect()
    }

    /// By how much the sum of squares could still fall, by its slopes: gᵀ C g, g half its gradient. Where predictions are
    /// not quite smooth a search ends before that is nothing; no parameter is then further off than the root of it, in
    /// standard uncertainties.
    #[allow(clippy::indexing_slicing, reason = "within the shape that was just made")]
    pub(super) fn left(&self, outcome: &Outcome) -> f64 {
        let mut gradient = DVector::zeros(outcome.parameters.len());
        for (i, residual) in outcome.residuals.iter().enumerate() {
            gradient += *residual * outcome.jacobian.row(i).transpose();
        }
        for (j, (prior, at)) in self.priors().iter().zip(&outcome.parameters).enumerate() {
            if prior.u.is_finite() && prior.u > 0.0 {
                gradient[j] += (prior.value - at) / (prior.u * prior.u);
            }
        }
        for j in &outcome.at_bound {
            gradient[*j] = 0.0;
        }
        gradient.dot(&(&outcome.covariance * &gradient))
    }

    /// Fits, from the priors' values, or from the parameters of a fit much like this one.
    ///
    /// Under a robust loss each row counts by how far it is off, and the fit is made again until the weights settle.
    pub(super) fn fit(&self, loss: Loss, near: Option<&Fitted>) -> Result<Fitted, FitError> {
        let mut fitted = self.fit_once(near)?;
        if loss == Loss::Normal {
            return Ok(fitted);
        }
        let mut model = self.clone();
        for _ in 0..ROUNDS {
            let weights = model.weights(loss, &fitted);
            let moved = model.rows.iter().zip(&weights).map(|(row, w)| (row.weight - w).abs());
            let most = moved.fold(0.0, f64::max);
            for (row, weight) in model.rows.iter_mut().zip(&weights) {
                row.weight = *weight;
            }
            model.group_as(self);
            fitted = model.fit_once(Some(&fitted))?;
            fitted.weights = weights;
            if most < SETTLED {
                break;
            }
        }
        Ok(fitted)
    }

    /// Sums anew, with the scatter of another.
    fn group_as(&mut self, other: &Self) {
        let numbers: Vec<(Vec<usize>, f64)> = other
            .groups
            .iter()
            .map(|group| {
                let own = |row: &Row| row.asked == group.asked && row.variant == group.variant;
                ((0..self.rows.len()).filter(|i| self.rows.get(*i).is_some_and(own)).collect(), group.tau2)
            })
            .collect();
        self.groups = numbers.iter().filter_map(|(own, tau2)| Group::of(&self.rows, own, *tau2)).collect();
    }

    fn weights(&self, loss: Loss, fitted: &Fitted) -> Vec<f64> {
        let mut weights = vec![1.0; self.rows.len()];
        for (group, stand) in self.groups.iter().zip(&fitted.stands) {
            for point in &group.points {
                for number in &point.rows {
                    let (Some(row), Some(slot)) = (self.rows.get(*number), weights.get_mut(*number)) else {
                        continue;
                    };
                    let h = stand.h.get(point.source).copied().unwrap_or(0.0);
                    let spread = (row.own * row.own + group.tau2).sqrt();
                    *slot = loss.weight((row.value - group.origin - h) / spread).min(1.0);
                }
            }
        }
        weights
    }

    fn fit_once(&self, near: Option<&Fitted>) -> Result<Fitted, FitError> {
        let start = near.map_or_else(Vec::new, |near| near.outcome.parameters.clone());
        let observations: Vec<Observation> = self
            .groups
            .iter()
            .flat_map(|group| group.observed().iter().copied().collect::<Vec<f64>>())
            .map(|value| Observation { value, u: 1.0 })
            .collect();
        let count = self.parameters.count();
        // Most steps of the derivatives move what is shared alone: the design is worked out once for them.
        let mut last: Option<(Vec<f64>, Vec<f64>)> = None;
        let outcome = fit_from(&start, &self.priors(), &observations, Loss::Normal, |fitted| {
            let (own, shared) = fitted.split_at_checked(count)?;
            if last.as_ref().is_none_or(|(at, _)| at != own) {
                last = Some((own.to_vec(), self.along(own)?));
            }
            let (_, designed) = last.as_ref()?;
            let mut all = Vec::with_capacity(observations.len());
            for group in &self.groups {
                let h = self.predicted(group, *designed.get(group.asked)?, shared);
                all.extend(group.compared(&h).iter());
            }
            Some(all)
        })?;
        let predicted = self.all_predicted(&outcome.parameters).unwrap_or_default();
        let (mut at, mut slopes) = (0, Vec::new());
        for group in &self.groups {
            let many = group.sources.len();
            slopes.push(group.uncompared(&outcome.jacobian.rows(at, many).into_owned()));
            at += many;
        }
        let linear = Linear::around(&self.priors(), &self.groups, &outcome.parameters, &predicted, &slopes);
        let stands = linear.after(&self.groups).unwrap_or_else(|| {
            let stand = |(h, slopes): (&DVector<f64>, &DMatrix<f64>)| Stand {
                h: h.clone(),
                covariance: slopes * &outcome.covariance * slopes.transpose(),
                others: None,
            };
            predicted.iter().zip(&slopes).map(stand).collect()
        });
        Ok(Fitted { outcome, stands, slopes, weights: vec![1.0; self.rows.len()] })
    }

    /// Whether a group is of the variant that the design is.
    pub(super) fn is_of_design(&self, group: &Group) -> bool {
        group.variant.is_none() || self.first.get(group.asked) == Some(&group.variant)
    }

    /// Standard deviation of a row about the design: its own uncertainty, what it shares, and the specimens' scatter.
    pub(super) fn about(&self, row: &Row, tau2: f64) -> f64 {
        let (zero, scale) = self.error(row.source, row.value);
        let state: f64 = self.unsure.get(row.asked).into_iter().flatten().map(|u| u * u).sum();
        let kink = self.off_line(row.asked);
        (row.own * row.own + tau2 + zero * zero + scale * scale + state + kink * kink).sqrt()
    }
}
