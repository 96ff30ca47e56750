//! Readings that the others contradict, the worst first, each left out before the next is looked for.
//!
//! Two tests, and the smaller probability counts. A reading against all others, the repeats of its own specimen included: its
//! difference over the standard deviation of that (R. S. H. Mah, A. C. Tamhane, `AIChE` J. 28 (1982) 828,
//! doi:10.1002/aic.690280519). And, where a quantity was read off several specimens, a specimen against the others of its
//! variant. A gross error makes the scatter of all of them large enough to hide in; the scatter that the others have does not
//! know of it. What so few cannot tell is borrowed from the sheet's other quantities
//! ([`roulade_stats::least_squares::pooled`]), or from what is ordinary; these two share the risk. Of so many numbers the
//! largest is far out by chance; so the limit is that of the smallest of all probabilities ([`Suspect::limit`]).
//!
//! What is beyond chance for the worst of so many readings is a verdict. The order in which readings are far off is
//! something else, and the furthest few are told even where chance alone explains them.

use super::apart::{OF_ORDINARY, among_specimens, cells};
use super::groups::{Group, Stand};
use super::model::{Fitted, Model};
use super::populations;
use super::specimens::{MANY, ORDINARY};
pub(crate) use super::suspect::RISK;
pub use super::suspect::Scope;
use super::suspect::{Suspect, shares};
use crate::quantity::slip::{Slip, swapped};
use crate::study::readings::Reading;
use roulade_stats::least_squares::Loss;
use roulade_stats::least_squares::distribution::normal_two_sided;
use roulade_stats::least_squares::fit::FitError;
use roulade_stats::order;
use roulade_stats::uncertain::Uncertain;
use std::collections::BTreeSet;

/// A sheet with more wild readings than this is beyond telling which.
const MOST: usize = 12;
/// So many of the furthest readings are told where chance explains them.
const FURTHEST: usize = 3;
/// Readings that could be wrong in the place of another are looked for among so many of the furthest.
const RIVALS: usize = 3;
/// Where all others leave a variance of so many times a reading's own, nothing else speaks of it.
const ALONE: f64 = 1e8;
/// A slip explains a reading where it brings it within so many standard deviations of what is expected.
const EXPLAINS: f64 = 2.5;

/// A suspect reading.
#[derive(Clone, Debug, PartialEq)]
pub struct SuspectReading {
    /// Number of the reading.
    pub reading: usize,
    /// Others that are suspect with it.
    pub also: Vec<usize>,
    /// How much is suspect.
    pub scope: Scope,
    /// How far it is off, in standard deviations of the difference, when it was the worst of those left.
    pub z: f64,
    /// Probability of so much by chance, of one reading.
    pub probability: f64,
    /// What the probability of the worst of so many may be: 1 − (1 − 0.05)^(w/m), w its share of the risk of 5 %.
    pub limit: f64,
    /// Readings that could be wrong in its place.
    pub or: Vec<usize>,
    /// A typical slip that explains it, and the value that the reading would have without it, SI.
    pub meant: Option<(Slip, f64)>,
    /// What all others expect of it, with the reading's own uncertainty, SI.
    pub expected: Uncertain,
    /// It was left out of the fit; otherwise nobody can tell which of several is wrong, or it was checked.
    pub left_out: bool,
}

/// One of the readings that are furthest off, but not beyond chance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Furthest {
    /// Number of the reading.
    pub reading: usize,
    /// How far it is off, in standard deviations of the difference, with the suspect readings left out.
    pub z: f64,
    /// Probability of so much by chance, of one reading.
    pub probability: f64,
    /// Probability that the worst of so many is as far off by chance: 1 − (1 − p)^m.
    pub chance: f64,
}

/// The suspect readings, and the furthest of the rest.
pub(super) struct Judged {
    pub(super) outliers: Vec<SuspectReading>,
    pub(super) furthest: Vec<Furthest>,
}

/// Tests all rows of a fit; those found wrong, and no other in their place, are left out of the model.
pub(super) fn suspect(
    model: &mut Model<'_>,
    fitted: &Fitted,
    readings: &[Reading],
) -> Result<Judged, FitError> {
    let (mut outliers, mut furthest): (Vec<SuspectReading>, Vec<Furthest>) = (Vec::new(), Vec::new());
    let (mut rest, mut now) = (model.clone(), fitted.clone());
    for _ in 0..MOST {
        let (mut suspects, tests) = suspects(&rest, &now);
        if suspects.is_empty() {
            break;
        }
        let reading = |row: &usize| rest.rows.get(*row).map(|row| row.reading);
        let worst = suspects.remove(0);
        if !worst.is_beyond(tests) {
            let far = std::iter::once(&worst).chain(&suspects).filter_map(|suspect| {
                Some(Furthest {
                    reading: reading(&suspect.row)?,
                    z: suspect.z,
                    probability: suspect.probability,
                    chance: suspect.chance(tests),
                })
            });
            furthest = far.take(FURTHEST).collect();
            break;
        }
        let named: Vec<usize> = std::iter::once(worst.row).chain(worst.also.iter().copied()).collect();
        let (without, again) = refitted(&rest, &named, &now)?;
        let mut accused = (worst, without, again, tests);
        let rivals = match accused.0.scope {
            Scope::Cell => Vec::new(),
            _ => rivals(&rest, &now, &accused, &suspects)?,
        };
        // Of those that may be wrong, one that a typical slip explains is the likelier.
        let explained = |suspect: &Suspect| meant(&rest, suspect, readings);
        if explained(&accused.0).is_none()
            && let Some(other) = rivals.iter().position(|rival| explained(rival).is_some())
        {
            let rival =
                suspects.iter().position(|s| s.row == rivals.get(other).map_or(usize::MAX, |r| r.row));
            if let Some(rival) = rival {
                let rival = suspects.remove(rival);
                let named: Vec<usize> =
                    std::iter::once(rival.row).chain(rival.also.iter().copied()).collect();
                let (without, again) = refitted(&rest, &named, &now)?;
                accused = (rival, without, again, tests);
            }
        }
        let (worst, without, again, _) = accused;
        let limit = worst.limit(tests);
        let meant = meant(&rest, &worst, readings);
        let or: Vec<usize> = if meant.is_some() {
            Vec::new()
        } else {
            let others = rivals.iter().map(|rival| rival.row).filter(|row| *row != worst.row);
            others.chain(worst.or.iter().copied()).filter_map(|row| reading(&row)).collect()
        };
        let checked = |row: &usize| rest.rows.get(*row).is_some_and(|row| row.checked);
        let rows: Vec<usize> = std::iter::once(worst.row).chain(worst.also.iter().copied()).collect();
        // One of the repeats of a specimen that is far off as a whole is no rival of it.
        let rivalled = rivals.iter().any(|rival| rival.row != worst.row) && meant.is_none();
        let left_out = !rivalled && !rows.iter().any(checked);
        let Some(named) = reading(&worst.row) else { break };
        outliers.push(SuspectReading {
            reading: named,
            also: worst.also.iter().filter_map(reading).collect(),
            scope: worst.scope,
            z: worst.z,
            probability: worst.probability,
            limit,
            or,
            meant,
            expected: Uncertain::standard(worst.expected.value, worst.expected.variance.sqrt()),
            left_out,
        });
        if left_out {
            model.set_aside(&rows, true);
        }
        if without.rows.iter().all(|row| row.aside) {
            break;
        }
        (rest, now) = (without, again);
    }
    Ok(Judged { outliers, furthest })
}

fn refitted<'a>(model: &Model<'a>, rows: &[usize], near: &Fitted) -> Result<(Model<'a>, Fitted), FitError> {
    let mut rest = model.clone();
    rest.set_aside(rows, true);
    let again = rest.fit(Loss::Normal, Some(near))?;
    Ok((rest, again))
}

/// Readings that are beyond chance too, are not once the worst is left out, and without which the worst is not: any of them
/// may be the wrong one.
fn rivals(
    model: &Model<'_>,
    fitted: &Fitted,
    (worst, without, again, tests): &(Suspect, Model<'_>, Fitted, usize),
    suspects: &[Suspect],
) -> Result<Vec<Suspect>, FitError> {
    let mut rivals = Vec::new();
    let beyond = suspects.iter().filter(|s| s.is_beyond(*tests) && !worst.also.contains(&s.row));
    for suspect in beyond.take(RIVALS) {
        let still = |model: &Model<'_>, fitted: &Fitted, of: &Suspect| {
            let all = if of.scope == Scope::Quantity { wholes(model, fitted) } else { points(model, fitted) };
            all.iter().any(|s| s.row == of.row && s.probability < of.limit(*tests))
        };
        if still(without, again, suspect) {
            continue;
        }
        let rows: Vec<usize> = std::iter::once(suspect.row).chain(suspect.also.iter().copied()).collect();
        let (other, fit) = refitted(model, &rows, fitted)?;
        if !still(&other, &fit, worst) {
            rivals.push(Suspect { or: Vec::new(), ..suspect.clone() });
        }
    }
    Ok(rivals)
}

/// The typical slip that brings a reading nearest to what is expected of it.
fn meant(model: &Model<'_>, suspect: &Suspect, readings: &[Reading]) -> Option<(Slip, f64)> {
    let row = model.rows.get(suspect.row).filter(|_| suspect.scope != Scope::Cell)?;
    let reading = readings.get(row.reading)?;
    let mut slips: Vec<Slip> = reading.asked.slips().slips().collect();
    if suspect.scope == Scope::Reading {
        slips.extend(swapped(&reading.text));
    }
    let u = suspect.expected.variance.sqrt();
    let off = |slip: &Slip| (slip.meant(row.value) - suspect.expected.value).abs() / u;
    let best = slips.into_iter().reduce(|best, slip| if off(&slip) < off(&best) { slip } else { best })?;
    (off(&best) < EXPLAINS).then(|| (best, best.meant(row.value)))
}

/// Each point against all others.
fn points(model: &Model<'_>, fitted: &Fitted) -> Vec<Suspect> {
    model.groups.iter().zip(&fitted.stands).flat_map(|(group, stand)| each(group, stand)).collect()
}

fn each(group: &Group, stand: &Stand) -> impl Iterator<Item = Suspect> {
    group.points.iter().zip(group.of_points(stand)).filter_map(|(point, expected)| {
        let (expected, row) = (expected?, *point.rows.first()?);
        // What varies that much beside the reading's own error is nothing that speaks of it.
        if expected.variance > ALONE * point.variance {
            return None;
        }
        let z = (group.origin + point.value - expected.value) / expected.variance.sqrt();
        let also = point.rows.iter().skip(1).copied().collect();
        let probability = normal_two_sided(z);
        let scope = Scope::Reading;
        Some(Suspect { row, also, scope, z, probability, weight: 1.0, expected, or: Vec::new() })
    })
}

/// z of every row against all others; `None` where nothing else speaks of it.
pub(super) fn all_z(model: &Model<'_>, fitted: &Fitted) -> Vec<Option<f64>> {
    let mut all = vec![None; model.rows.len()];
    for suspect in points(model, fitted) {
        for row in std::iter::once(suspect.row).chain(suspect.also) {
            if let Some(slot) = all.get_mut(row) {
                *slot = Some(suspect.z);
            }
        }
    }
    for (group, stand) in model.groups.iter().zip(&fitted.stands) {
        for (i, row) in model.rows.iter().enumerate().filter(|(_, row)| row.aside) {
            if row.asked != group.asked || row.variant != group.variant {
                continue;
            }
            let Some(at) = group.sources.iter().position(|source| *source == row.source) else { continue };
            let variance =
                stand.covariance.get((at, at)).copied().unwrap_or(0.0) + row.own * row.own + group.tau2;
            if let Some(slot) = all.get_mut(i) {
                *slot = stand.h.get(at).map(|h| (row.value - group.origin - h) / variance.sqrt());
            }
        }
    }
    all
}

/// All readings of a quantity together against all that is not of it.
fn wholes(model: &Model<'_>, fitted: &Fitted) -> Vec<Suspect> {
    let several = model.groups.iter().zip(&fitted.stands).filter(|(group, _)| group.points.len() > 1);
    let whole = |(group, stand): (&Group, &Stand)| {
        let (mean, expected) = group.of_all(stand)?;
        let z = (mean - expected.value) / expected.variance.sqrt();
        let mut rows = group.points.iter().flat_map(|point| point.rows.iter().copied());
        let row = rows.next()?;
        let probability = normal_two_sided(z);
        Some(Suspect {
            row,
            also: rows.collect(),
            scope: Scope::Quantity,
            z,
            probability,
            weight: 1.0,
            expected,
            or: Vec::new(),
        })
    };
    several.filter_map(whole).collect()
}

/// Two specimens make their own scatter of whatever is between them. So each is held against the other and against all else
/// with an ordinary scatter too.
fn of_two(model: &Model<'_>, fitted: &Fitted) -> Vec<Suspect> {
    let mut suspects = Vec::new();
    for (group, stand) in model.groups.iter().zip(&fitted.stands).filter(|(group, _)| group.blocks.len() == 2)
    {
        let Some(quantity) = model.asked.get(group.asked).map(|asked| asked.quantity) else { continue };
        let least = quantity.typical.u(group.origin, quantity.unit).max(ORDINARY * group.origin.abs());
        let numbers: Vec<usize> = group.points.iter().flat_map(|point| point.rows.iter().copied()).collect();
        let Some(again) = Group::of(&model.rows, &numbers, least * least) else { continue };
        if again.tau2 >= group.tau2 || again.sources != group.sources {
            continue;
        }
        suspects.extend(
            each(&again, stand).map(|suspect| Suspect {
                probability: (suspect.probability / OF_ORDINARY).min(1.0),
                ..suspect
            }),
        );
    }
    suspects
}

/// Whether each specimen of a group was read once, and each is held against the others besides. A reading then hides in the scatter
/// that it makes itself, and a test of it against all others can tell nothing.
fn is_read_once(group: &Group) -> bool {
    group.points.len() == group.blocks.len() && (3..=MANY).contains(&group.blocks.len())
}

/// Rows by how improbable they are, each once, the least probable first; and how many tests there were.
fn suspects(model: &Model<'_>, fitted: &Fitted) -> (Vec<Suspect>, usize) {
    let several_times = |(group, _): &(&Group, &Stand)| !is_read_once(group);
    let several = model.groups.iter().zip(&fitted.stands).filter(several_times);
    let mut suspects: Vec<Suspect> = several.flat_map(|(group, stand)| each(group, stand)).collect();
    let specimens = among_specimens(model);
    let mut cells = cells(model, &specimens);
    suspects.extend(specimens);
    let mut twice = of_two(model, fitted);
    // Two specimens are tested twice, and share one test's risk.
    let again: BTreeSet<usize> = twice.iter().map(|suspect| suspect.row).collect();
    for suspect in suspects.iter_mut().filter(|suspect| again.contains(&suspect.row)) {
        suspect.probability = (suspect.probability / (1.0 - OF_ORDINARY)).min(1.0);
    }
    let mut wholes = wholes(model, fitted);
    let counts = [suspects.len(), wholes.len(), cells.len()];
    let tests = counts.iter().sum::<usize>().max(1);
    suspects.append(&mut twice);
    let kinds = model.scatter.iter().any(populations::is_asked);
    let shares = shares(counts, kinds);
    let shared = [&mut suspects, &mut wholes, &mut cells].into_iter().zip(shares).zip(counts);
    for ((own, share), count) in shared {
        for suspect in own {
            suspect.weight = share * tests as f64 / count.max(1) as f64;
        }
    }
    suspects.extend(wholes);
    order::by(&mut suspects, |a, b| {
        // Beyond all numbers both probabilities are zero, and the distance tells.
        let own = |s: &Suspect| s.probability / s.weight;
        own(a).total_cmp(&own(b)).then(b.z.abs().total_cmp(&a.z.abs()))
    });
    let mut seen = vec![false; model.rows.len()];
    suspects.retain(|suspect| seen.get_mut(suspect.row).is_some_and(|seen| !std::mem::replace(seen, true)));
    // Another cell explains whatever is wrong with its readings.
    let cell = cells.into_iter().filter(|cell| cell.is_beyond(tests));
    let cell = cell.min_by(|a, b| a.probability.total_cmp(&b.probability));
    (cell.into_iter().chain(suspects).collect(), tests)
}
