//! From readings to observations of a fit: what each is worth, and what they share besides the design.
//!
//! A reading is predicted as (h + variant + specimen)·(1 + scale) + zero + step: h by the design; the variant's difference,
//! where two variants of a cell are kept apart; the specimen's own deviation; the instrument's relative error, its zero,
//! and the rounding to a step of its scale. All but h stand beside the design's parameters in the fit, each with what is known of it beforehand, so that an error that
//! many readings share is not averaged away by their number.

use super::parameters::Parameters;
use super::specimens::{Scatter, Seen};
use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::study::readings::Reading;
use crate::study::readings::instrument::{self, Instrument};
use crate::study::readings::quantity::Asked;
use roulade_stats::least_squares::fit::{FitError, fit_from};
use roulade_stats::least_squares::{Loss, Outcome};
use roulade_stats::least_squares::{Observation, Prior};
use roulade_stats::uncertain::{Spread, Uncertain};
use serde::Serialize;

/// Where the uncertainty of a reading comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Worth {
    /// It stands beside the reading.
    Stated,
    /// From the instrument file.
    Instrument,
    /// That of an ordinary instrument: common practice, no source.
    Typical,
}

/// An own uncertainty is at least this part of the whole, so that no reading is exact.
const LEAST_OWN: f64 = 1e-3;

/// A reading that is used.
#[derive(Clone, Debug)]
pub(super) struct Row {
    /// Which reading.
    pub(super) reading: usize,
    /// Which of the quantities.
    pub(super) asked: usize,
    /// The reading, SI.
    pub(super) value: f64,
    /// Standard uncertainty that is its own, SI, the rounding to a step of the scale included.
    pub(super) own: f64,
    /// That of the rounding alone, SI.
    pub(super) rounding: f64,
    /// Standard uncertainty in all, without the scatter between specimens, SI.
    pub(super) u: f64,
    pub(super) worth: Worth,
    /// Which instrument, where its file says what it is worth.
    pub(super) instrument: Option<usize>,
    pub(super) specimen: String,
    pub(super) variant: Option<String>,
}

/// What a reading is worth.
#[derive(Clone, Copy, Debug)]
pub(super) struct Worthy {
    pub(super) worth: Worth,
    pub(super) own: f64,
    pub(super) rounding: f64,
    pub(super) u: f64,
    /// The instrument, where its readings share an error.
    pub(super) instrument: Option<usize>,
}

/// What a reading is worth: by what stands beside it, by its instrument, or by an ordinary one.
pub(super) fn worth(reading: &Reading, instruments: &[Instrument]) -> Worthy {
    let plain = |worth, u| Worthy { worth, own: u, rounding: 0.0, u, instrument: None };
    if let Some(u) = reading.u {
        return plain(Worth::Stated, u);
    }
    let unit = reading.unit();
    let found = reading.instrument.as_deref().and_then(|name| named(name, reading, instruments));
    if let Some((i, found)) = found {
        let u = found.u(reading.value);
        if u > 0.0 {
            return Worthy {
                worth: Worth::Instrument,
                own: found.own().max(LEAST_OWN * u),
                rounding: found.resolution / 12f64.sqrt(),
                u,
                instrument: Some(i),
            };
        }
    }
    let u = reading.asked.quantity.typical.u(reading.value, unit);
    // A relative uncertainty of a reading of zero.
    let u = if u > 0.0 { u } else { LEAST_OWN * unit.in_si() };
    plain(Worth::Typical, u)
}

/// The instrument of a name that reads this kind of quantity.
fn named<'a>(
    name: &str,
    reading: &Reading,
    instruments: &'a [Instrument],
) -> Option<(usize, &'a Instrument)> {
    let wanted = reading.unit().dimension();
    instruments
        .iter()
        .enumerate()
        .find(|(_, i)| instrument::same(&i.name, name) && i.dimension.is_none_or(|own| own == wanted))
}

/// What readings share besides the design.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Shared {
    /// Zero of an instrument, in units of its uncertainty.
    Zero(usize),
    /// Scale of an instrument, in units of its uncertainty.
    Scale(usize),
    /// Rounding to a step of an instrument's scale, in units of its uncertainty: readings of one quantity that stand at the
    /// same step were rounded by one error, however many they are.
    Step(usize, usize, u64, String),
    /// Deviation of a specimen in a quantity, in units of the scatter.
    Specimen(usize, String, Option<String>),
    /// What a variant is more than the first one, in a quantity, SI; nothing is known of it beforehand.
    Variant(usize, String),
}

/// All observations with what predicts them.
#[derive(Debug)]
pub(super) struct Model<'a> {
    pub(super) draft: &'a Draft,
    pub(super) parameters: Parameters,
    pub(super) asked: Vec<Asked>,
    pub(super) rows: Vec<Row>,
    pub(super) instruments: &'a [Instrument],
    /// One for each quantity.
    pub(super) scatter: Vec<Scatter>,
    /// The variant that the design is, for each quantity; the others differ from it.
    pub(super) first: Vec<Option<String>>,
    pub(super) shared: Vec<Shared>,
    /// Of each row: its uncertainty in the fit, and what moves its prediction.
    ties: Vec<Ties>,
    /// Whether scatter is widened for having been found from few specimens.
    widened: bool,
}

#[derive(Clone, Copy, Debug, Default)]
struct Ties {
    u: f64,
    zero: Option<(usize, f64)>,
    scale: Option<(usize, f64)>,
    step: Option<(usize, f64)>,
    specimen: Option<(usize, f64)>,
    variant: Option<usize>,
}

impl<'a> Model<'a> {
    /// Groups the rows; `first` names the variant that the design is, of each quantity.
    pub(super) fn new(
        draft: &'a Draft,
        parameters: Parameters,
        asked: Vec<Asked>,
        rows: Vec<Row>,
        instruments: &'a [Instrument],
        first: Vec<Option<String>>,
    ) -> Self {
        let scatter = (0..asked.len()).map(|i| Scatter::of(&seen(&rows, i))).collect();
        let mut model = Self {
            draft,
            parameters,
            asked,
            rows,
            instruments,
            scatter,
            first,
            shared: Vec::new(),
            ties: Vec::new(),
            widened: false,
        };
        model.tie();
        model
    }

    /// The same with scatter as wide as 95 % intervals need it. For parameters; a χ² follows its distribution only with the
    /// scatter as it was found.
    pub(super) fn widened(&self) -> Self {
        let mut model = self.without(&[]);
        model.widened = true;
        model.tie();
        model
    }

    /// Whether that changes nothing: there is no scatter.
    pub(super) fn is_as_wide(&self) -> bool {
        self.scatter.iter().all(|scatter| scatter.widened() <= 0.0)
    }

    /// The same without some of the rows.
    pub(super) fn without(&self, rows: &[usize]) -> Self {
        let kept =
            self.rows.iter().enumerate().filter(|(i, _)| !rows.contains(i)).map(|(_, row)| row.clone());
        let (draft, parameters, asked) = (self.draft, self.parameters.clone(), self.asked.clone());
        Self::new(draft, parameters, asked, kept.collect(), self.instruments, self.first.clone())
    }

    fn tie(&mut self) {
        let mut shared = Vec::new();
        let mut place = |what: Shared| {
            let at = shared.iter().position(|s| *s == what);
            at.unwrap_or_else(|| {
                shared.push(what);
                shared.len() - 1
            })
        };
        let ties = self.rows.iter().map(|row| {
            let mut ties = Ties { u: row.own, ..Ties::default() };
            // Specimens that differ by more than a step are rounded by errors of their own.
            let apart =
                self.scatter.get(row.asked).and_then(|s| s.between).is_some_and(|between| between > 0.0);
            let specimen = if apart { row.specimen.as_str() } else { "" };
            let same_step = |other: &&Row| {
                (other.asked, other.instrument, other.value.to_bits())
                    == (row.asked, row.instrument, row.value.to_bits())
                    && (!apart || other.specimen == specimen)
            };
            if row.rounding > 0.0
                && let Some(i) = row.instrument
                && self.rows.iter().filter(same_step).count() > 1
            {
                ties.step = Some((
                    place(Shared::Step(row.asked, i, row.value.to_bits(), specimen.to_owned())),
                    row.rounding,
                ));
                let rest = row.own * row.own - row.rounding * row.rounding;
                ties.u = rest.max(0.0).sqrt().max(LEAST_OWN * row.u);
            }
            if let Some((i, instrument)) = row.instrument.and_then(|i| Some((i, self.instruments.get(i)?))) {
                // An error that no other reading shares is one's own.
                if self.rows.iter().filter(|other| other.instrument == Some(i)).count() == 1 {
                    ties.u = row.u;
                } else {
                    ties.zero = (instrument.calibration > 0.0)
                        .then(|| (place(Shared::Zero(i)), instrument.calibration));
                    ties.scale =
                        (instrument.relative > 0.0).then(|| (place(Shared::Scale(i)), instrument.relative));
                }
            }
            if let Some(scatter) = self.scatter.get(row.asked) {
                let own = scatter.members.iter().find(|m| m.name == row.specimen && m.variant == row.variant);
                let tau = if self.widened { scatter.widened() } else { scatter.between.unwrap_or(0.0) };
                if tau > 0.0 && own.is_some_and(|own| own.rows.len() > 1) {
                    let what = Shared::Specimen(row.asked, row.specimen.clone(), row.variant.clone());
                    ties.specimen = Some((place(what), tau));
                } else {
                    ties.u = (ties.u * ties.u + tau * tau).sqrt();
                }
            }
            if let Some(variant) = &row.variant
                && self.first.get(row.asked).is_some_and(|first| first.as_ref() != Some(variant))
            {
                ties.variant = Some(place(Shared::Variant(row.asked, variant.clone())));
            }
            ties
        });
        self.ties = ties.collect();
        self.shared = shared;
    }

    /// Number of the fit's parameter for something shared.
    pub(super) fn place(&self, what: &Shared) -> Option<usize> {
        Some(self.parameters.count() + self.shared.iter().position(|s| s == what)?)
    }

    /// What the design predicts for each quantity, SI.
    pub(super) fn designed(&self, own: &[f64]) -> Option<Vec<f64>> {
        designed(self.draft, &self.parameters, &self.asked, own)
    }

    fn priors(&self) -> Vec<Prior> {
        let shared = self.shared.iter().map(|shared| match shared {
            Shared::Variant(..) => Prior::flat(0.0),
            _ => Prior::new(0.0, 1.0),
        });
        self.parameters.priors().into_iter().chain(shared).collect()
    }

    /// By how much the sum of squares could still fall, by its slopes: gᵀ C g, g half its gradient. Where predictions are
    /// not quite smooth a search ends before that is nothing; no parameter is then further off than the root of it, in
    /// standard uncertainties.
    #[allow(clippy::indexing_slicing, reason = "within the shape that was just made")]
    pub(super) fn left(&self, outcome: &Outcome) -> f64 {
        let count = outcome.parameters.len();
        let mut gradient = nalgebra::DVector::zeros(count);
        for (i, (residual, weight)) in outcome.residuals.iter().zip(&outcome.weights).enumerate() {
            let pull = weight * residual / self.fitted_u(i);
            gradient += pull * outcome.jacobian.row(i).transpose();
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

    /// Fits, from the priors' values, or from the design of a fit much like this one.
    pub(super) fn fit(&self, loss: Loss, near: Option<&Outcome>) -> Result<Outcome, FitError> {
        let count = self.parameters.count();
        let priors = self.priors();
        let start: Vec<f64> =
            near.map_or_else(Vec::new, |near| near.parameters.iter().take(count).copied().collect());
        let observation = |(row, ties): (&Row, &Ties)| Observation { value: row.value, u: ties.u };
        let observations: Vec<Observation> = self.rows.iter().zip(&self.ties).map(observation).collect();
        // Most steps of the derivatives move what is shared alone: the design is worked out once for them.
        let mut last: Option<(Vec<f64>, Vec<f64>)> = None;
        fit_from(&start, &priors, &observations, loss, |fitted| {
            let (own, shared) = fitted.split_at_checked(count)?;
            if last.as_ref().is_none_or(|(at, _)| at != own) {
                last = Some((own.to_vec(), self.designed(&self.parameters.at(own))?));
            }
            let (_, designed) = last.as_ref()?;
            self.rows
                .iter()
                .zip(&self.ties)
                .map(|(row, ties)| ties.predict(*designed.get(row.asked)?, shared))
                .collect()
        })
    }

    /// How many readings can say nothing of the agreement: at the same step as another, by an instrument that always repeats
    /// itself.
    pub(super) fn silent(&self) -> usize {
        let steps = self.shared.iter().enumerate().filter(|(_, shared)| matches!(shared, Shared::Step(..)));
        let at = |step: usize| {
            let own = self
                .rows
                .iter()
                .zip(&self.ties)
                .filter(move |(_, ties)| ties.step.is_some_and(|(at, _)| at == step));
            own.filter(|(row, _)| row.own <= row.rounding * (1.0 + LEAST_OWN)).count()
        };
        steps.map(|(step, _)| at(step).saturating_sub(1)).sum()
    }

    /// Uncertainty of a row in the fit: its own, with the scatter where no other reading of the specimen shares it.
    pub(super) fn fitted_u(&self, row: usize) -> f64 {
        self.ties.get(row).map_or(f64::NAN, |ties| ties.u)
    }

    /// Standard deviation of a row about the design: its own uncertainty, what it shares, and the specimens' scatter.
    pub(super) fn about(&self, row: usize) -> f64 {
        let (Some(row), Some(ties)) = (self.rows.get(row), self.ties.get(row)) else { return f64::NAN };
        let square = |part: Option<f64>| part.map_or(0.0, |x| x * x);
        let parts = [
            Some(ties.u),
            ties.zero.map(|(_, u)| u),
            ties.scale.map(|(_, u)| u * row.value),
            ties.step.map(|(_, u)| u),
            ties.specimen.map(|(_, tau)| tau),
        ];
        parts.into_iter().map(square).sum::<f64>().sqrt()
    }
}

impl Ties {
    fn predict(&self, designed: f64, shared: &[f64]) -> Option<f64> {
        let of = |tie: Option<(usize, f64)>| tie.map_or(Some(0.0), |(at, size)| Some(shared.get(at)? * size));
        let variant = self.variant.map_or(Some(0.0), |at| shared.get(at).copied())?;
        Some(
            (designed + variant + of(self.specimen)?) * (1.0 + of(self.scale)?)
                + of(self.zero)?
                + of(self.step)?,
        )
    }
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

/// The rows of one quantity.
pub(super) fn seen(rows: &[Row], asked: usize) -> Vec<Seen> {
    let own = rows.iter().enumerate().filter(|(_, row)| row.asked == asked);
    own.map(|(i, row)| Seen {
        row: i,
        specimen: row.specimen.clone(),
        variant: row.variant.clone(),
        value: row.value,
        u: row.own,
    })
    .collect()
}

/// A value with its uncertainty as a number.
pub(super) fn known(value: f64, u: f64) -> Uncertain {
    if u > 0.0 { Uncertain { value, spread: Spread::Standard(u) } } else { Uncertain::exact(value) }
}
