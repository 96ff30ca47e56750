//! What a design sheet leaves open, as parameters of a fit: which they are, and what is known of each beforehand.

use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::sheet::defaults::{Bound, field};
use crate::study::readings::quantity::Asked;
use nalgebra::DMatrix;
use roulade_stats::least_squares::Prior;
use roulade_stats::uncertain::{Origin, Spread, Uncertain};

/// An exact entry that is read after all is known to this part of its value beforehand: broad, so that the reading
/// decides.
const FREED: f64 = 0.1;
/// Where its value is small or zero: to so many times the reading's uncertainty.
const FREED_READINGS: f64 = 10.0;

/// This part of its value is left between an entry and an end that it cannot have.
const OPEN: f64 = 1e-6;

/// One parameter: an input of the sheet that may move.
#[derive(Clone, Copy, Debug)]
pub(super) struct Parameter {
    /// Number of the input.
    pub(super) input: usize,
    /// What is known of it beforehand.
    pub(super) before: Uncertain,
    /// It stands as exact in the sheet, and moves because it was read.
    pub(super) freed: bool,
    /// Bounds it is kept within.
    pub(super) bounds: (f64, f64),
}

/// All parameters of a draft.
///
/// Inputs with an uncertainty are normal with it. A range is normal with the rectangle's standard uncertainty (JCGM
/// 100:2008, 4.3.7), and its ends are bounds where the sheet gives them; the ends of a default are no more than practice,
/// and there only what the quantity can be is a bound. Exact inputs stay, unless they are read directly.
///
/// Correlated inputs are combinations of independent ones, so that the fit has independent priors throughout: a
/// correlated input is value + u·Σ F·z, with z standard normal and F·Fᵀ the coefficients.
#[derive(Clone, Debug)]
pub(super) struct Parameters {
    pub(super) all: Vec<Parameter>,
    values: Vec<f64>,
    /// Places among `all` that stand alone, in the order of the fit's parameters.
    alone: Vec<usize>,
    /// Places among `all` that no prediction depends on.
    idle: Vec<usize>,
    /// Places among `all` that move together, and the factor.
    together: (Vec<usize>, DMatrix<f64>),
}

impl Parameters {
    /// Of a draft; `read` are inputs that are read directly, each with the uncertainty of its best reading.
    pub(super) fn of(draft: &Draft, read: &[(usize, f64)]) -> Self {
        let mut all = Vec::new();
        for (i, input) in draft.inputs().iter().enumerate() {
            // The cell on the balance is a reading, not a part of the design.
            if input.path == "cell_mass" || !input.uncertain.value.is_finite() {
                continue;
            }
            let can_be =
                can_be(field(&input.path).map_or(Bound::Any, |field| field.bound), input.uncertain.value);
            let directly = read.iter().find(|(at, _)| *at == i).map(|(_, u)| *u);
            let (before, freed, bounds) = match (input.uncertain.spread, directly) {
                (Spread::Exact, None) => continue,
                (Spread::Exact, Some(u)) => {
                    let broad = (FREED * input.uncertain.value.abs()).max(FREED_READINGS * u);
                    (Uncertain::standard(input.uncertain.value, broad), true, can_be)
                }
                (Spread::Range { low, high }, _) if input.origin != Origin::Default => {
                    (input.uncertain, false, (low.max(can_be.0), high.min(can_be.1)))
                }
                _ => (input.uncertain, false, can_be),
            };
            all.push(Parameter { input: i, before, freed, bounds });
        }
        let correlation = draft.correlation();
        let place = |input: &usize| all.iter().position(|p: &Parameter| p.input == *input);
        let together: Vec<usize> = correlation.inputs().iter().filter_map(place).collect();
        let alone = (0..all.len()).filter(|i| !together.contains(i)).collect();
        // Every correlated input is uncertain, so that none is missing here.
        let factor = correlation.factor().clone();
        Self { all, values: draft.values(), alone, idle: Vec::new(), together: (together, factor) }
    }

    /// Leaves out of the fit what moves none of the predictions, an uncertainty to either side: it stays as it is known
    /// beforehand. What moves together with others stays with them.
    pub(super) fn without_idle(mut self, mut predict: impl FnMut(&[f64]) -> Option<Vec<f64>>) -> Self {
        let best: Vec<f64> = self.all.iter().map(|p| p.before.value).collect();
        let here = predict(&best);
        let mut moved = |i: usize, by: f64| {
            let mut values = best.clone();
            if let (Some(slot), Some(p)) = (values.get_mut(i), self.all.get(i)) {
                *slot = (*slot + by * p.before.u()).clamp(p.bounds.0, p.bounds.1);
            }
            predict(&values)
        };
        let idle = |i: &usize| here.is_some() && moved(*i, 1.0) == here && moved(*i, -1.0) == here;
        let (idle, alone) = self.alone.iter().copied().partition::<Vec<usize>, _>({
            let mut idle = idle;
            move |i| idle(i)
        });
        (self.idle, self.alone) = (idle, alone);
        self
    }

    /// Numbers of those that were left out.
    pub(super) fn idle(&self) -> &[usize] {
        &self.idle
    }

    /// Priors of the fit's own parameters.
    pub(super) fn priors(&self) -> Vec<Prior> {
        let own = self.alone.iter().filter_map(|i| self.all.get(*i));
        let own = own.map(|p| Prior::new(p.before.value, p.before.u()).within(p.bounds.0, p.bounds.1));
        own.chain((0..self.together.1.ncols()).map(|_| Prior::new(0.0, 1.0))).collect()
    }

    /// How many parameters the fit has for the design.
    pub(super) fn count(&self) -> usize {
        self.alone.len() + self.together.1.ncols()
    }

    /// ∂(these parameters)/∂(the fit's).
    #[allow(clippy::indexing_slicing, reason = "within the shape that was just made")]
    pub(super) fn slopes(&self) -> DMatrix<f64> {
        let mut slopes = DMatrix::zeros(self.all.len(), self.count());
        for (column, i) in self.alone.iter().enumerate() {
            slopes[(*i, column)] = 1.0;
        }
        let (together, factor) = &self.together;
        for (k, i) in together.iter().enumerate() {
            let u = self.all.get(*i).map_or(0.0, |p| p.before.u());
            for z in 0..factor.ncols() {
                slopes[(*i, self.alone.len() + z)] = u * factor[(k, z)];
            }
        }
        slopes
    }

    /// Values of these parameters at the fit's.
    pub(super) fn at(&self, fitted: &[f64]) -> Vec<f64> {
        let mut values: Vec<f64> = self.all.iter().map(|p| p.before.value).collect();
        let (own, z) = fitted.split_at_checked(self.alone.len()).unwrap_or((fitted, &[]));
        for (i, value) in self.alone.iter().zip(own) {
            if let Some(slot) = values.get_mut(*i) {
                *slot = *value;
            }
        }
        let (together, factor) = &self.together;
        for (k, i) in together.iter().enumerate() {
            let moved: f64 = z.iter().take(factor.ncols()).enumerate().map(|(j, z)| factor[(k, j)] * z).sum();
            if let (Some(slot), Some(p)) = (values.get_mut(*i), self.all.get(*i)) {
                *slot = (*slot + p.before.u() * moved).clamp(p.bounds.0, p.bounds.1);
            }
        }
        values
    }

    /// Values of all inputs of the draft, these parameters at the given values.
    pub(super) fn inputs(&self, own: &[f64]) -> Vec<f64> {
        let mut values = self.values.clone();
        for (p, value) in self.all.iter().zip(own) {
            if let Some(slot) = values.get_mut(p.input) {
                *slot = *value;
            }
        }
        values
    }
}

/// Ends of what an entry can be, as a sheet takes them: an end that it does not take itself is left by a part of its value.
fn can_be(bound: Bound, value: f64) -> (f64, f64) {
    let (low, high) = bound.ends();
    let room = OPEN * if value == 0.0 { 1.0 } else { value.abs() };
    (
        if low.is_infinite() || bound.holds(low) { low } else { low + room },
        if high.is_infinite() || bound.holds(high) { high } else { high - room },
    )
}

/// What the design predicts for each quantity, SI; `None` where it does not hold together, or has no such quantity.
pub(super) fn designed(
    draft: &Draft,
    parameters: &Parameters,
    asked: &[Asked],
    own: &[f64],
) -> Option<Vec<f64>> {
    let inputs = parameters.inputs(own);
    let worked = Worked::at(draft, &inputs).ok()?;
    asked.iter().map(|asked| asked.predict(draft, &inputs, &worked)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::draft;
    use approx::assert_relative_eq;
    use serde_json::json;

    #[test]
    fn what_moves_and_within_what() {
        let draft = draft(&[
            ("cathode/loading", json!("20 ± 0.1 mg/cm2")),
            ("cathode/thickness", json!("49 .. 51 µm")),
            ("separator/porosity", json!(null)),
            ("cell_mass", json!("400 ± 1 g")),
        ]);
        let wall = draft.inputs().iter().position(|i| i.path == "can.wall").unwrap();
        let parameters = Parameters::of(&draft, &[(wall, 1e-5)]);
        let of = |path: &str| parameters.all.iter().find(|p| draft.inputs()[p.input].path == path);
        let (low, high) = of("cathode.loading").unwrap().bounds;
        assert!(low > 0.0 && low < 1e-5 && high.is_infinite());
        let thickness = of("cathode.thickness").unwrap();
        assert_relative_eq!(thickness.bounds.0, 49e-6);
        assert_relative_eq!(thickness.before.u(), 1e-6 / 3f64.sqrt(), max_relative = 1e-12);
        // A default's range is no bound.
        let (low, high) = of("separator.porosity").unwrap().bounds;
        assert!(low.abs() < 1e-12 && high < 1.0 && high > 0.999);
        let wall = of("can.wall").unwrap();
        assert!(wall.freed);
        // A tenth of 0.5 mm is less than ten readings of 0.01 mm.
        assert_relative_eq!(wall.before.u(), 1e-4, max_relative = 1e-12);
        assert!(of("cell_mass").is_none() && of("can.bottom").is_none());
    }

    #[test]
    fn correlated_inputs_have_their_covariance() {
        let draft = draft(&[
            ("cathode/loading", json!("20 ± 0.1 mg/cm2")),
            ("anode/loading", json!("10 ± 0.2 mg/cm2")),
            ("can/wall", json!("0.5 ± 0.01 mm")),
            ("correlated", json!({ "paths": ["cathode.loading", "anode.loading"], "coefficients": [[0.6]] })),
        ]);
        let parameters = Parameters::of(&draft, &[]);
        let slopes = parameters.slopes();
        let variances = DMatrix::from_diagonal(&nalgebra::DVector::from_iterator(
            parameters.count(),
            parameters.priors().iter().map(|prior| prior.u * prior.u),
        ));
        let covariance = &slopes * variances * slopes.transpose();
        let place =
            |path: &str| parameters.all.iter().position(|p| draft.inputs()[p.input].path == path).unwrap();
        let (c, a, w) = (place("cathode.loading"), place("anode.loading"), place("can.wall"));
        assert_relative_eq!(covariance[(c, a)], 0.6 * 1e-3 * 2e-3, max_relative = 1e-9);
        assert_relative_eq!(covariance[(a, a)], 4e-6, max_relative = 1e-9);
        assert_relative_eq!(covariance[(w, c)], 0.0);
        let start: Vec<f64> = parameters.priors().iter().map(|prior| prior.value).collect();
        assert_eq!(parameters.inputs(&parameters.at(&start)), draft.values());
    }
}
