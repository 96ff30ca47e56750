//! From readings to observations of a fit: what each is worth, and what they share besides the design.
//!
//! A reading is predicted as (h + variant + specimen)·(1 + scale) + zero: h by the design; the variant's difference, where
//! two variants of a cell are kept apart; the specimen's own deviation; the instrument's relative error and its zero. All
//! but h stand beside the design's parameters in the fit, each with what is known of it beforehand, so that an error that
//! many readings share is not averaged away by their number.

use super::parameters::Parameters;
use super::specimens::{Scatter, Seen};
use crate::design::Draft;
use crate::figures::Worked;
use crate::known::{Known, Spread};
use crate::readings::Reading;
use crate::readings::instrument::{self, Instrument};
use crate::readings::quantity::Asked;
use crate::reconcile::fit::{FitError, Observation, Prior, fit};
use crate::reconcile::{Loss, Outcome};
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
    /// Standard uncertainty that is its own, SI.
    pub(super) own: f64,
    /// Standard uncertainty in all, without the scatter between specimens, SI.
    pub(super) u: f64,
    pub(super) worth: Worth,
    /// Which instrument, where it has a calibration or a scale to share.
    pub(super) instrument: Option<usize>,
    pub(super) specimen: String,
    pub(super) variant: Option<String>,
}

/// What a reading is worth: source, own uncertainty, whole uncertainty, and the instrument where it shares an error.
pub(super) fn worth(reading: &Reading, instruments: &[Instrument]) -> (Worth, f64, f64, Option<usize>) {
    if let Some(u) = reading.u {
        return (Worth::Stated, u, u, None);
    }
    let unit = reading.unit();
    let found = reading.instrument.as_deref().and_then(|name| named(name, reading, instruments));
    if let Some((i, found)) = found {
        let u = found.u(reading.value);
        if u > 0.0 {
            let shares = found.calibration > 0.0 || found.relative > 0.0;
            return (Worth::Instrument, found.own().max(LEAST_OWN * u), u, Some(i).filter(|_| shares));
        }
    }
    let u = reading.asked.quantity.typical.u(reading.value, unit);
    // A relative uncertainty of a reading of zero.
    let u = if u > 0.0 { u } else { LEAST_OWN * unit.in_si() };
    (Worth::Typical, u, u, None)
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
}

#[derive(Clone, Copy, Debug, Default)]
struct Ties {
    u: f64,
    zero: Option<(usize, f64)>,
    scale: Option<(usize, f64)>,
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
        };
        model.tie();
        model
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
                let tau = scatter.widened();
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

    /// What the design predicts for each quantity, SI; `None` where it does not hold together, or has no such quantity.
    pub(super) fn designed(&self, own: &[f64]) -> Option<Vec<f64>> {
        let inputs = self.parameters.inputs(own);
        let worked = Worked::at(self.draft, &inputs).ok()?;
        self.asked.iter().map(|asked| asked.predict(self.draft, &inputs, &worked)).collect()
    }

    /// Fits, from the priors' values.
    pub(super) fn fit(&self, loss: Loss) -> Result<Outcome, FitError> {
        let count = self.parameters.count();
        let mut priors = self.parameters.priors();
        priors.extend(self.shared.iter().map(|shared| match shared {
            Shared::Variant(..) => Prior::flat(0.0),
            _ => Prior::new(0.0, 1.0),
        }));
        let observations: Vec<Observation> = self
            .rows
            .iter()
            .zip(&self.ties)
            .map(|(row, ties)| Observation { value: row.value, u: ties.u })
            .collect();
        // Most steps of the derivatives move what is shared alone: the design is worked out once for them.
        let mut last: Option<(Vec<f64>, Vec<f64>)> = None;
        fit(&priors, &observations, loss, |fitted| {
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
            ties.specimen.map(|(_, tau)| tau),
        ];
        parts.into_iter().map(square).sum::<f64>().sqrt()
    }
}

impl Ties {
    fn predict(&self, designed: f64, shared: &[f64]) -> Option<f64> {
        let of = |tie: Option<(usize, f64)>| tie.map_or(Some(0.0), |(at, size)| Some(shared.get(at)? * size));
        let variant = self.variant.map_or(Some(0.0), |at| shared.get(at).copied())?;
        Some((designed + variant + of(self.specimen)?) * (1.0 + of(self.scale)?) + of(self.zero)?)
    }
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
pub(super) fn known(value: f64, u: f64) -> Known {
    if u > 0.0 { Known { value, spread: Spread::Standard(u) } } else { Known::exact(value) }
}
