//! From the last fit to what is told of it.

use super::agreement::Agreement;
use super::found::{Drift, Fate, Moved, Reconciled, SharedError, SharedErrorSource, Used};
use super::groups::{Group, Point};
use super::model::{Fitted, Model, Shared};
use super::offsets;
use super::outliers::{self, Furthest, SuspectReading};
use super::populations::Population;
use super::rewrite;
use super::rows::{Row, Source};
use crate::quantity::problem::Problems;
use crate::quantity::units::Unit;
use crate::sheet::Sheet;
use nalgebra::{DMatrix, RowDVector};
use roulade_stats::least_squares::{Loss, Outcome};
use roulade_stats::uncertain::{Spread, Uncertain};

/// Errors and inputs with a smaller coefficient are as good as independent.
const TOGETHER: f64 = 1e-3;

/// The fit that the tests are made with.
pub(super) struct Tested {
    agreement: Agreement,
    outliers: Vec<SuspectReading>,
    furthest: Vec<Furthest>,
    z: Vec<Option<f64>>,
}

impl Tested {
    pub(super) fn of(
        model: &Model<'_>,
        test: &Fitted,
        loss: Loss,
        outliers: Vec<SuspectReading>,
        furthest: Vec<Furthest>,
    ) -> Self {
        let agreement = Agreement::of(model, &test.outcome, loss);
        Self { agreement, outliers, furthest, z: outliers::all_z(model, test) }
    }
}

/// What was known before the fit.
pub(super) struct Gathered {
    pub(super) fates: Vec<Option<Fate>>,
    pub(super) populations: Vec<Population>,
    pub(super) remarks: Vec<String>,
}

#[allow(clippy::indexing_slicing, reason = "within the shape that was just made")]
pub(super) fn finished(
    sheet: &Sheet,
    model: &Model<'_>,
    fitted: &Fitted,
    tested: Tested,
    gathered: Gathered,
) -> Result<Reconciled, Problems> {
    let Tested { agreement, outliers, furthest, z } = tested;
    let Gathered { mut fates, populations, remarks } = gathered;
    let left = model.left(&fitted.outcome);
    let (averaged, offsets) = offsets::averaged(model, fitted);
    let (fitted, outcome) = (&averaged, &averaged.outcome);
    let count = model.parameters.count();
    let slopes = model.parameters.slopes();
    let mut covariance = &slopes * outcome.covariance.view((0, 0), (count, count)) * slopes.transpose();
    for i in model.parameters.idle() {
        let u = model.parameters.all.get(*i).map_or(0.0, |p| p.before.u());
        covariance[(*i, *i)] = u * u;
    }
    let after = model.parameters.at(outcome.parameters.get(..count).unwrap_or(&[]));
    let moved: Vec<Moved> = model
        .parameters
        .all
        .iter()
        .zip(&after)
        .enumerate()
        .map(|(i, (parameter, value))| Moved {
            input: parameter.input,
            before: parameter.before,
            after: uncertain(*value, covariance[(i, i)].max(0.0).sqrt()),
            freed: parameter.freed,
            stopped: if *value <= parameter.bounds.0 { -1 } else { i8::from(*value >= parameter.bounds.1) },
        })
        .collect();
    let designed = model.designed(&after).unwrap_or_default();
    for (number, used) in all_used(model, fitted, &designed, &z) {
        let reading = model.rows.get(number).map(|row| row.reading);
        if let Some(slot) = reading.and_then(|reading| fates.get_mut(reading)) {
            *slot = Some(Fate::Used(used));
        }
    }
    let drifts = drifts(model, outcome);
    let shared = shared_errors(model, outcome, &slopes);
    let populations = as_fitted(model, outcome, populations);
    let sheet = rewrite::rewritten(sheet, model.draft, &moved, &covariance, &held(model))?;
    Ok(Reconciled {
        fates,
        moved,
        covariance,
        asked: model.asked.clone(),
        scatter: model.scatter.clone(),
        populations,
        outliers,
        furthest,
        drifts,
        offsets,
        shared,
        agreement,
        left,
        outcome: outcome.clone(),
        sheet,
        remarks,
    })
}

/// What was read of the design's own kind, with the uncertainty that the fit gave it: its readings together, and what they share.
fn held(model: &Model<'_>) -> Vec<(&'static str, f64)> {
    let of_design = |group: &&Group| !group.is_empty() && model.is_of_design(group);
    let each = model.groups.iter().filter(of_design).filter_map(|group| {
        let mut variance = group.covariance.clone();
        for (i, source) in group.sources.iter().enumerate() {
            let (zero, scale) = model.error(*source, group.origin);
            *variance.get_mut((i, i))? += zero * zero + scale * scale;
        }
        let weight = variance.try_inverse()?.sum();
        let asked = model.asked.get(group.asked)?;
        rewrite::held(model.draft, asked, weight.recip().sqrt()).filter(|_| weight > 0.0)
    });
    each.collect()
}

/// Every row with what the design makes of it.
fn all_used(model: &Model<'_>, fitted: &Fitted, designed: &[f64], z: &[Option<f64>]) -> Vec<(usize, Used)> {
    let count = model.parameters.count();
    let outcome = &fitted.outcome;
    let mut all = Vec::with_capacity(model.rows.len());
    for (group, slopes) in model.groups.iter().zip(&fitted.slopes) {
        // What the design alone makes of the quantity, and how uncertain that is.
        let mut alone = slopes.row(0).into_owned();
        alone.columns_range_mut(count..).fill(0.0);
        let through = &alone * &outcome.covariance;
        let beside = &through * slopes.transpose();
        let designed = designed.get(group.asked).copied().unwrap_or(f64::NAN);
        let other_variant = !model.is_of_design(group);
        let variant = match &group.variant {
            Some(variant) if other_variant => {
                let at = model.place(&Shared::Variant(group.asked, variant.clone()));
                at.and_then(|at| outcome.parameters.get(at)).copied().unwrap_or(0.0)
            }
            _ => 0.0,
        };
        let used = |number: usize, row: &Row, counted: f64| Used {
            u: row.u,
            uncertainty_from: row.uncertainty_from,
            predicted: designed + variant,
            predicted_u: through.dot(&alone).max(0.0).sqrt(),
            residual: (row.value - designed - variant) / model.about(row, group.tau2),
            z: z.get(number).copied().flatten(),
            weight: fitted.weights.get(number).copied().unwrap_or(1.0),
            counted: counted.clamp(0.0, 1.0),
            other_variant,
            left_out: row.aside,
        };
        for point in &group.points {
            let counted = counted(group, point, &beside);
            let rows = point.rows.iter().filter_map(|number| Some((*number, model.rows.get(*number)?)));
            all.extend(rows.map(|(number, row)| (number, used(number, row, counted))));
        }
        let own = |row: &Row| row.aside && row.asked == group.asked && row.variant == group.variant;
        let aside = model.rows.iter().enumerate().filter(|(_, row)| own(row));
        all.extend(aside.map(|(number, row)| (number, used(number, row, 0.0))));
    }
    all
}

/// How far the design follows each row of a point.
fn counted(group: &Group, point: &Point, beside: &RowDVector<f64>) -> f64 {
    let follows = group.follows(point);
    beside.iter().zip(follows.iter()).map(|(b, f)| b * f).sum::<f64>() / point.rows.len().max(1) as f64
}

/// Errors of instruments as the fit found them.
fn drifts(model: &Model<'_>, outcome: &Outcome) -> Vec<Drift> {
    let mut all: Vec<Drift> = Vec::new();
    let found = |what: Shared, size: f64| {
        let at = model.place(&what)?;
        Some(uncertain(outcome.parameters.get(at)? * size, outcome.u(at) * size))
    };
    for (i, instrument) in model.instruments.iter().enumerate() {
        let mut own = model.rows.iter().filter(|row| model.sources.get(row.source) == Some(&Source::File(i)));
        let Some(first) = own.next() else { continue };
        all.push(Drift {
            name: instrument.name.clone(),
            supposed: None,
            unit: model.asked.get(first.asked).map_or(Unit::One, |asked| asked.quantity.unit),
            zero: found(Shared::Zero(i), instrument.calibration),
            scale: found(Shared::Scale(i), instrument.relative),
            readings: 1 + own.count(),
        });
    }
    for (i, source) in model.sources.iter().enumerate() {
        let Source::Ordinary { asked, name } = source else { continue };
        let (Some(of), own) = (model.asked.get(*asked), model.rows.iter().filter(|row| row.source == i))
        else {
            continue;
        };
        let readings = own.clone().filter(|row| !row.aside).count();
        let size = own.clone().next().map_or(0.0, |row| model.error(i, row.value).0);
        let instrument = name.clone().unwrap_or_else(|| of.quantity.typical.instrument.to_owned());
        all.push(Drift {
            name: format!("{instrument} ({})", of.label()),
            supposed: Some(size),
            unit: of.quantity.unit,
            zero: found(Shared::Ordinary(i), size),
            scale: None,
            readings,
        });
    }
    // One reading shares its error with no other.
    all.retain(|drift| (drift.zero.is_some() || drift.scale.is_some()) && drift.readings > 1);
    all
}

/// What the fit leaves unknown of errors that readings share, and how it hangs together with the design's inputs.
fn shared_errors(model: &Model<'_>, outcome: &Outcome, slopes: &DMatrix<f64>) -> Vec<SharedError> {
    let count = model.parameters.count();
    let each = model.shared.iter().filter_map(|shared| {
        let of = match shared {
            Shared::Zero(i) => SharedErrorSource::Zero(*i),
            Shared::Scale(i) => SharedErrorSource::Scale(*i),
            Shared::Ordinary(source) => match model.sources.get(*source)? {
                Source::Ordinary { asked, .. } => {
                    SharedErrorSource::Ordinary(model.asked.get(*asked)?.clone())
                }
                _ => return None,
            },
            _ => return None,
        };
        let place = model.place(shared)?;
        let u = outcome.u(place);
        let covariances = slopes * outcome.covariance.view((0, place), (count, 1));
        let variances = slopes * outcome.covariance.view((0, 0), (count, count)) * slopes.transpose();
        let with = model.parameters.all.iter().enumerate().filter_map(|(i, parameter)| {
            let own = variances.get((i, i)).filter(|own| **own > 0.0)?.sqrt();
            let coefficient = covariances.get(i)? / (own * u);
            let key = model.draft.inputs().get(parameter.input)?.key.to_string();
            (coefficient.abs() > TOGETHER).then_some((key, coefficient))
        });
        Some(SharedError { of, u, with: with.collect() })
    });
    each.collect()
}

/// Variants kept apart with their difference as the fit found it.
fn as_fitted(model: &Model<'_>, outcome: &Outcome, populations: Vec<Population>) -> Vec<Population> {
    let mut populations = populations;
    for population in &mut populations {
        let what = Shared::Variant(population.asked, population.groups[1].0.clone());
        if let Some(at) = model.place(&what)
            && let Some(difference) = outcome.parameters.get(at)
        {
            (population.difference, population.u) = (*difference, outcome.u(at));
        }
    }
    populations
}

/// A value with its uncertainty as a number.
fn uncertain(value: f64, u: f64) -> Uncertain {
    if u > 0.0 { Uncertain { value, spread: Spread::Standard(u) } } else { Uncertain::exact(value) }
}
