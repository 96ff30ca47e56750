//! Readings that the others contradict, the worst first, each left out before the next is looked for.
//!
//! Two tests, and the smaller probability counts: against the whole fit ([`roulade_stats::least_squares::outlier`]), which holds a reading
//! against the repeats of its own specimen too; and, where a quantity was read off several specimens, a specimen against the
//! others of its variant. A gross error makes the scatter of all of them large enough to hide in; the scatter that the others
//! have does not know of it. What so few cannot tell is borrowed from the sheet's other quantities
//! ([`roulade_stats::least_squares::pooled`]), or from what is ordinary; these two share the risk.
//!
//! What is beyond chance for the worst of so many readings is a verdict. The order in which readings are far off is
//! something else, and the furthest few are told even where chance alone explains them.

use super::model::Model;
use super::specimens::{Member, Scatter};
use crate::study::readings::quantity::Quantity;
use roulade_stats::least_squares::distribution::{normal_critical, normal_two_sided, student_two_sided};
use roulade_stats::least_squares::fit::FitError;
use roulade_stats::least_squares::outlier;
use roulade_stats::least_squares::pooled::{Kind, Pooled};
use roulade_stats::least_squares::scatter::{self, Specimen};
use roulade_stats::least_squares::{Loss, Outcome};
use roulade_stats::maths::pow;

/// Risk of naming any reading of a sheet whose uncertainties are right.
pub const RISK: f64 = 0.05;
/// A sheet with more wild readings than this is beyond telling which.
const MOST: usize = 12;
/// Scatter between specimens in ordinary production, as a part of the value: common practice, no source. Nor is it taken
/// for less than one ordinary reading shows.
const ORDINARY: f64 = 0.002;
/// Share of the risk that goes to the test against an ordinary scatter (Bonferroni's, weighted). It is there for readings
/// that are off by far more than any part is.
const OF_ORDINARY: f64 = 0.1;
/// So many of the furthest readings are told where chance explains them.
const FURTHEST: usize = 3;

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

/// One of the readings that are furthest off, but not beyond chance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Furthest {
    /// Number of the reading.
    pub reading: usize,
    /// How far it is off, in standard deviations of the difference, with the readings to doubt left out.
    pub z: f64,
    /// Probability of so much by chance, of one reading.
    pub probability: f64,
    /// Probability that the worst of so many is as far off by chance: 1 − (1 − p)^m.
    pub chance: f64,
}

/// How far each row is off (`None` for one that nothing else speaks of), the readings to doubt, and the furthest of the rest.
pub(super) struct Doubted {
    pub(super) z: Vec<Option<f64>>,
    pub(super) doubts: Vec<Doubt>,
    pub(super) furthest: Vec<Furthest>,
}

struct Suspect {
    row: usize,
    z: f64,
    probability: f64,
    or: Vec<usize>,
}

pub(super) fn doubted(model: &Model<'_>, outcome: &Outcome) -> Result<Doubted, FitError> {
    let z = outlier::doubts(outcome, RISK).z;
    let (mut doubts, mut furthest): (Vec<Doubt>, Vec<Furthest>) = (Vec::new(), Vec::new());
    let mut left: Option<(Model<'_>, Outcome)> = None;
    for _ in 0..MOST {
        let (model, outcome) = left.as_ref().map_or((model, outcome), |(model, outcome)| (model, outcome));
        let (suspects, tests) = suspects(model, outcome);
        let Some(worst) = suspects.first() else { break };
        let limit = 1.0 - pow(1.0 - RISK, 1.0 / tests as f64);
        let reading = |row: &usize| model.rows.get(*row).map(|row| row.reading);
        if worst.probability >= limit {
            let far = suspects.iter().filter_map(|suspect| {
                Some(Furthest {
                    reading: reading(&suspect.row)?,
                    z: suspect.z,
                    probability: suspect.probability,
                    chance: 1.0 - pow(1.0 - suspect.probability, tests as f64),
                })
            });
            furthest = far.take(FURTHEST).collect();
            break;
        }
        let or = worst.or.iter().filter_map(reading).collect();
        let Some(named) = reading(&worst.row) else { break };
        doubts.push(Doubt { reading: named, z: worst.z, probability: worst.probability, limit, or });
        let rest = model.without(&[worst.row]);
        if rest.rows.is_empty() {
            break;
        }
        let again = rest.fit(Loss::Normal, Some(outcome))?;
        left = Some((rest, again));
    }
    Ok(Doubted { z, doubts, furthest })
}

/// Rows by how improbable they are, each once, the least probable first; and how many could be tested.
fn suspects(model: &Model<'_>, outcome: &Outcome) -> (Vec<Suspect>, usize) {
    let tested = outlier::doubts(outcome, RISK);
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
    suspects.extend(among_specimens(model));
    suspects.sort_by(|a, b| {
        // Beyond all numbers both probabilities are zero, and the distance tells.
        a.probability.total_cmp(&b.probability).then(b.z.abs().total_cmp(&a.z.abs()))
    });
    let mut seen = vec![false; model.rows.len()];
    suspects.retain(|suspect| seen.get_mut(suspect.row).is_some_and(|seen| !std::mem::replace(seen, true)));
    (suspects, tests)
}

/// Each specimen against the others of its variant, with the scatter that they and the sheet's other quantities have, and
/// with an ordinary one.
fn among_specimens(model: &Model<'_>) -> Vec<Suspect> {
    let quantities = model.asked.iter().map(|asked| asked.quantity);
    let several: Vec<(&Quantity, Vec<Vec<&Member>>)> = quantities
        .zip(model.scatter.iter().map(by_variant))
        .filter(|(_, variants)| !variants.is_empty())
        .collect();
    let specimen = |member: &&Member| Specimen { value: member.value, u: member.u };
    let kind = |(_, variants): &(&Quantity, Vec<Vec<&Member>>)| Kind {
        groups: variants.iter().map(|own| own.iter().map(specimen).collect()).collect(),
    };
    let kinds: Vec<Kind> = several.iter().map(kind).collect();
    let borrowed = Pooled::of(&kinds);
    let mut suspects = Vec::new();
    for (k, (quantity, variants)) in several.iter().enumerate() {
        // Of two, either may be wrong.
        for (g, members) in variants.iter().enumerate().filter(|(_, members)| members.len() > 2) {
            for (m, member) in members.iter().enumerate() {
                let Some(apart) = borrowed.apart(k, g, m) else { continue };
                let others = members.iter().enumerate().filter(|(i, _)| *i != m);
                let others: Vec<Specimen> = others.map(|(_, other)| specimen(other)).collect();
                let ordinary = ordinary(quantity, specimen(member), &others);
                let probability =
                    (apart.probability / (1.0 - OF_ORDINARY)).min(ordinary / OF_ORDINARY).min(1.0);
                let off =
                    |row: &usize| model.rows.get(*row).map_or(0.0, |row| (row.value - apart.mean).abs());
                let Some(row) = member.rows.iter().copied().max_by(|a, b| off(a).total_cmp(&off(b))) else {
                    continue;
                };
                let or = member.rows.iter().copied().filter(|other| *other != row).collect();
                let z = match normal_critical(probability) {
                    z if z.is_finite() => z.copysign(apart.z),
                    _ => apart.z,
                };
                suspects.push(Suspect { row, z, probability, or });
            }
        }
    }
    suspects
}

/// Probability that a specimen is as far from the others, with the scatter that they have, or an ordinary one where that is
/// more: Student's for what comes from their scatter (Welch and Satterthwaite), normal for what is stated.
fn ordinary(quantity: &Quantity, own: Specimen, others: &[Specimen]) -> f64 {
    let Some(mean) = scatter::mean(others, 0.0) else { return 1.0 };
    let between = mean.between.unwrap_or(0.0);
    let spread = (own.u * own.u + between * between).sqrt();
    let least = quantity.typical.u(mean.value, quantity.unit).max(ORDINARY * mean.value.abs());
    let z = (own.value - mean.value) / (spread.max(least) * (1.0 + 1.0 / others.len() as f64).sqrt());
    if spread > least {
        let scattered = between * between / (spread * spread);
        student_two_sided(z, (others.len() - 1) as f64 / (scattered * scattered))
    } else {
        normal_two_sided(z)
    }
}

/// Specimens by variant, of variants that have several.
fn by_variant(scatter: &Scatter) -> Vec<Vec<&Member>> {
    let mut variants: Vec<Vec<&Member>> = Vec::new();
    for member in &scatter.members {
        match variants.iter_mut().find(|own| own.first().is_some_and(|first| first.variant == member.variant))
        {
            Some(own) => own.push(member),
            None => variants.push(vec![member]),
        }
    }
    variants.retain(|own| own.len() > 1);
    variants
}
