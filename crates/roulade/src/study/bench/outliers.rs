//! Readings that the others contradict, the worst first, each left out before the next is looked for.
//!
//! Two tests, and the smaller probability counts. A reading against all others, the repeats of its own specimen included: its
//! difference over the standard deviation of that (R. S. H. Mah, A. C. Tamhane, `AIChE` J. 28 (1982) 828,
//! doi:10.1002/aic.690280519). And, where a quantity was read off several specimens, a specimen against the others of its
//! variant. A gross error makes the scatter of all of them large enough to hide in; the scatter that the others have does not
//! know of it. What so few cannot tell is borrowed from the sheet's other quantities
//! ([`roulade_stats::least_squares::pooled`]), or from what is ordinary; these two share the risk. Of so many numbers the
//! largest is far out by chance; so the limit is that of the smallest of all probabilities (Z. Šidák, J. Am. Stat. Assoc. 62
//! (1967) 626, doi:10.1080/01621459.1967.10482935).
//!
//! What is beyond chance for the worst of so many readings is a verdict. The order in which readings are far off is
//! something else, and the furthest few are told even where chance alone explains them.

use super::groups::{Expected, Group, Stand};
use super::model::{Fitted, Model};
use super::specimens::{Member, ORDINARY, Scatter};
use crate::quantity::slip::{Slip, swapped};
use crate::study::readings::Reading;
use crate::study::readings::quantity::Quantity;
use roulade_stats::least_squares::Loss;
use roulade_stats::least_squares::distribution::{normal_critical, normal_two_sided, student_two_sided};
use roulade_stats::least_squares::fit::FitError;
use roulade_stats::least_squares::pooled::{Kind, Pooled};
use roulade_stats::least_squares::scatter::{self, Specimen};
use roulade_stats::maths::pow;
use roulade_stats::uncertain::Uncertain;

/// Risk of naming any reading of a sheet whose uncertainties are right.
pub const RISK: f64 = 0.05;
/// A sheet with more wild readings than this is beyond telling which.
const MOST: usize = 12;
/// Share of the risk that goes to the test against an ordinary scatter (Bonferroni's, weighted). It is there for readings
/// that are off by far more than any part is.
const OF_ORDINARY: f64 = 0.1;
/// So many of the furthest readings are told where chance explains them.
const FURTHEST: usize = 3;
/// Readings that could be wrong in the place of another are looked for among so many of the furthest.
const RIVALS: usize = 3;
/// Where all others leave a variance of so many times a reading's own, nothing else speaks of it.
const ALONE: f64 = 1e8;
/// A slip explains a reading where it brings it within so many standard deviations of what is expected.
const EXPLAINS: f64 = 2.5;

/// How much is suspect at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Scope {
    /// One reading.
    Reading,
    /// All readings of one quantity off one specimen.
    Specimen,
    /// All readings of one quantity.
    Quantity,
    /// Two readings that stand in one another's place.
    Exchange,
}

/// A suspect reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
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
    /// What the probability of the worst of so many may be: 1 − (1 − 0.05)^(1/m).
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
pub(super) struct Doubted {
    pub(super) doubts: Vec<Doubt>,
    pub(super) furthest: Vec<Furthest>,
}

#[derive(Clone)]
struct Suspect {
    row: usize,
    also: Vec<usize>,
    scope: Scope,
    z: f64,
    probability: f64,
    expected: Expected,
    or: Vec<usize>,
}

/// Tests all rows of a fit; those found wrong, and no other in their place, are left out of the model.
pub(super) fn doubted(
    model: &mut Model<'_>,
    fitted: &Fitted,
    readings: &[Reading],
) -> Result<Doubted, FitError> {
    let (mut doubts, mut furthest): (Vec<Doubt>, Vec<Furthest>) = (Vec::new(), Vec::new());
    let (mut rest, mut now) = (model.clone(), fitted.clone());
    for _ in 0..MOST {
        let (mut suspects, tests) = suspects(&rest, &now);
        if suspects.is_empty() {
            break;
        }
        let limit = 1.0 - pow(1.0 - RISK, 1.0 / tests as f64);
        let reading = |row: &usize| rest.rows.get(*row).map(|row| row.reading);
        let worst = suspects.remove(0);
        if worst.probability >= limit {
            let far = std::iter::once(&worst).chain(&suspects).filter_map(|suspect| {
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
        let named: Vec<usize> = std::iter::once(worst.row).chain(worst.also.iter().copied()).collect();
        let (without, again) = refitted(&rest, &named, &now)?;
        let mut accused = (worst, without, again, limit);
        let rivals = rivals(&rest, &now, &accused, &suspects)?;
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
                accused = (rival, without, again, limit);
            }
        }
        let (worst, without, again, limit) = accused;
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
        doubts.push(Doubt {
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
    Ok(Doubted { doubts, furthest })
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
    (worst, without, again, limit): &(Suspect, Model<'_>, Fitted, f64),
    suspects: &[Suspect],
) -> Result<Vec<Suspect>, FitError> {
    let mut rivals = Vec::new();
    let beyond = suspects.iter().filter(|s| s.probability < *limit && !worst.also.contains(&s.row));
    for suspect in beyond.take(RIVALS) {
        let still = |model: &Model<'_>, fitted: &Fitted, row: usize| {
            points(model, fitted).iter().any(|s| s.row == row && s.probability < *limit)
        };
        if still(without, again, suspect.row) {
            continue;
        }
        let rows: Vec<usize> = std::iter::once(suspect.row).chain(suspect.also.iter().copied()).collect();
        let (other, fit) = refitted(model, &rows, fitted)?;
        if !still(&other, &fit, worst.row) {
            rivals.push(Suspect { or: Vec::new(), ..suspect.clone() });
        }
    }
    Ok(rivals)
}

/// The typical slip that brings a reading nearest to what is expected of it.
fn meant(model: &Model<'_>, suspect: &Suspect, readings: &[Reading]) -> Option<(Slip, f64)> {
    let row = model.rows.get(suspect.row)?;
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
        Some(Suspect { row, also, scope: Scope::Reading, z, probability, expected, or: Vec::new() })
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

/// Rows by how improbable they are, each once, the least probable first; and how many tests there were.
fn suspects(model: &Model<'_>, fitted: &Fitted) -> (Vec<Suspect>, usize) {
    let mut suspects = points(model, fitted);
    suspects.extend(among_specimens(model));
    suspects.extend(wholes(model, fitted));
    let tests = suspects.len().max(1);
    suspects.extend(of_two(model, fitted));
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
        // Of two, either may be wrong; of very many, each is tested against the whole fit.
        for (g, members) in variants.iter().enumerate().filter(|(_, m)| (3..=MANY).contains(&m.len())) {
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
                let spread = if z == 0.0 { member.u } else { (member.value - apart.mean) / z };
                let expected =
                    Expected { value: apart.mean, variance: (spread * spread).max(member.u * member.u) };
                suspects.push(Suspect {
                    row,
                    also: Vec::new(),
                    scope: Scope::Reading,
                    z,
                    probability,
                    expected,
                    or,
                });
            }
        }
    }
    suspects
}

/// Specimens beyond this number know their own scatter; none is held against all others one by one.
const MANY: usize = 50;

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
