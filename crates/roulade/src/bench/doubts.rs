//! Readings that the others contradict, the worst first, each left out before the next is looked for.
//!
//! Two tests, and the smaller probability counts: against the whole fit ([`crate::reconcile::doubt`]); and, where a
//! quantity was read off several specimens, against the other specimens with the scatter that *they* have. A gross error
//! makes the scatter large enough to hide in; the second test takes it out of there. Two or three specimens can agree by
//! chance far better than their kind does, so that no scatter is taken for less than an ordinary one.

use super::model::Model;
use super::specimens::Scatter;
use crate::readings::quantity::Quantity;
use crate::reconcile::distribution::{normal_two_sided, student_two_sided};
use crate::reconcile::doubt;
use crate::reconcile::fit::FitError;
use crate::reconcile::scatter::{self, Specimen};
use crate::reconcile::{Loss, Outcome};

/// Risk of naming any reading of a sheet whose uncertainties are right.
pub const RISK: f64 = 0.05;
/// Scatter between specimens in ordinary production, as a part of the value: common practice, no source. Nor is it taken
/// for less than one ordinary reading shows.
const ORDINARY: f64 = 0.002;
/// A sheet with more wild readings than this is beyond telling which.
const MOST: usize = 12;

/// A reading to doubt.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
    /// Number of the reading.
    pub reading: usize,
    /// How far it is off, in standard deviations of the difference, when it was the worst of those left.
    pub z: f64,
    /// Probability of so much by chance, of one reading.
    pub probability: f64,
    /// What the probability of the worst of so many may be: 1 − (1 − 0.05)^(1/m).
    pub limit: f64,
    /// Readings that could be wrong in its place.
    pub or: Vec<usize>,
}

/// How far each row is off (`None` for one that nothing else speaks of), and the readings to doubt.
pub(super) struct Doubted {
    pub(super) z: Vec<Option<f64>>,
    pub(super) doubts: Vec<Doubt>,
}

struct Suspect {
    row: usize,
    z: f64,
    probability: f64,
    or: Vec<usize>,
}

pub(super) fn doubted(model: &Model<'_>, outcome: &Outcome) -> Result<Doubted, FitError> {
    let z = doubt::doubts(outcome, RISK).z;
    let mut doubts: Vec<Doubt> = Vec::new();
    let mut left: Option<(Model<'_>, Outcome)> = None;
    for _ in 0..MOST {
        let (model, outcome) = left.as_ref().map_or((model, outcome), |(model, outcome)| (model, outcome));
        let Some((worst, tests)) = worst(model, outcome) else { break };
        let limit = 1.0 - crate::maths::pow(1.0 - RISK, 1.0 / tests as f64);
        if worst.probability >= limit {
            break;
        }
        let reading = |row: &usize| model.rows.get(*row).map(|row| row.reading);
        let or = worst.or.iter().filter_map(reading).collect();
        let Some(named) = reading(&worst.row) else { break };
        doubts.push(Doubt { reading: named, z: worst.z, probability: worst.probability, limit, or });
        let rest = model.without(&[worst.row]);
        if rest.rows.is_empty() {
            break;
        }
        let again = rest.fit(Loss::Normal)?;
        left = Some((rest, again));
    }
    Ok(Doubted { z, doubts })
}

/// The worst row, and how many could be tested.
fn worst(model: &Model<'_>, outcome: &Outcome) -> Option<(Suspect, usize)> {
    let tested = doubt::doubts(outcome, RISK);
    let tests = tested.z.iter().flatten().count().max(1);
    let first = tested.doubts.first();
    let mut suspects: Vec<Suspect> = tested
        .z
        .iter()
        .enumerate()
        .filter_map(|(row, z)| {
            let z = (*z)?;
            let or =
                first.filter(|doubt| doubt.reading == row).map(|doubt| doubt.or.clone()).unwrap_or_default();
            Some(Suspect { row, z, probability: normal_two_sided(z), or })
        })
        .collect();
    let several = model.asked.iter().zip(&model.scatter);
    suspects.extend(several.flat_map(|(asked, scatter)| among_specimens(model, asked.quantity, scatter)));
    let least = suspects.into_iter().min_by(|a, b| {
        // Beyond all numbers both probabilities are zero, and the distance tells.
        a.probability.total_cmp(&b.probability).then(b.z.abs().total_cmp(&a.z.abs()))
    });
    least.map(|least| (least, tests))
}

/// Each specimen against the others of its variant, with their scatter.
fn among_specimens(model: &Model<'_>, quantity: &Quantity, scatter: &Scatter) -> Vec<Suspect> {
    let mut suspects = Vec::new();
    if scatter.between.is_none_or(|between| between <= 0.0) {
        return suspects;
    }
    for (i, member) in scatter.members.iter().enumerate() {
        let others: Vec<Specimen> = scatter
            .members
            .iter()
            .enumerate()
            .filter(|(j, other)| *j != i && other.variant == member.variant)
            .map(|(_, other)| Specimen { value: other.value, u: other.u })
            .collect();
        // Of two, either may be wrong, and their own scatter is not known.
        if others.len() < 2 {
            continue;
        }
        let (Some(mean), degrees) = (scatter::mean(&others, 0.0), scatter.without(i).degrees as f64) else {
            continue;
        };
        let between = mean.between.unwrap_or(0.0);
        let spread = (member.u * member.u + between * between).sqrt();
        let least = quantity.typical.u(mean.value, quantity.unit).max(ORDINARY * mean.value.abs());
        let all = 1.0 + 1.0 / others.len() as f64;
        let z = (member.value - mean.value) / (spread.max(least) * all.sqrt());
        // Welch and Satterthwaite: what comes from the scatter has its degrees of freedom, what is stated has all.
        let scattered = between * between / (spread * spread);
        let probability = if spread > least {
            student_two_sided(z, degrees / (scattered * scattered))
        } else {
            normal_two_sided(z)
        };
        let value = |row: &usize| model.rows.get(*row).map_or(0.0, |row| (row.value - mean.value).abs());
        let Some(row) = member.rows.iter().copied().max_by(|a, b| value(a).total_cmp(&value(b))) else {
            continue;
        };
        let or = member.rows.iter().copied().filter(|other| *other != row).collect();
        suspects.push(Suspect { row, z, probability, or });
    }
    suspects
}
