//! Slips, before any fit: every reading against what the sheet itself predicts for it, and against the other readings.
//!
//! The design sheet's own predictions and how far its uncertainties let them go are a normal distribution (first order); the
//! readings turn it into another, without a step of a search, so that nothing written on a bench can make it fail. What is
//! expected of a reading is taken from all others. Then the typical slips of a hand are tried ([`quantity::slip`](crate::quantity::slip)) on each
//! reading, on all readings of one specimen, on all readings of one quantity, and two readings are exchanged; and what makes
//! the sheet more likely by most is told, left out, and looked for again.
//!
//! Likelihoods are Student's with four degrees of freedom, since a design sheet is often further off than it says: six
//! standard deviations are no slip yet. What is subtler is left to the tests after the fit.

use super::groups::{Expected, Group, Stand};
use super::linear::Linear;
use super::model::Model;
use super::outliers::{Scope, SuspectReading};
use crate::quantity::slip::{Slip, swapped};
use crate::study::readings::Reading;
use roulade_stats::least_squares::distribution::normal_two_sided;
use roulade_stats::maths::ln;
use roulade_stats::order;
use roulade_stats::uncertain::Uncertain;

/// A model of a cell is no better than this part of what it predicts.
const MODEL: f64 = 0.005;
/// Chance that a reading has a given slip; that two were exchanged.
const SLIPPED: f64 = 1e-4;
const EXCHANGED: f64 = 1e-6;
/// A number without any explanation is somewhere within so many powers of e.
const ANYWHERE: f64 = 14.0;
/// A slip is told where it is so many times more likely than none, in logarithms.
const ENOUGH: f64 = 2.3;
/// So many of the worst readings are tried in exchange for one another.
const EXCHANGES: usize = 8;
/// A sheet with more slips than this is another cell's.
const MOST: usize = 40;

/// Something that may have happened.
struct Guess {
    rows: Vec<usize>,
    scope: Scope,
    slip: Option<Slip>,
    gain: f64,
    read: f64,
    expected: Expected,
}

/// ln of Student's density with four degrees of freedom, without what is the same for all.
fn likely(read: f64, expected: f64, variance: f64) -> f64 {
    let square = (read - expected) * (read - expected) / variance;
    -2.5 * ln(1.0 + 0.25 * square) - 0.5 * ln(variance)
}

/// By how much a slip makes a number likelier: with it, the number and its own error are so many times what was meant.
fn gain(read: f64, own: f64, expected: Expected, slip: Slip) -> f64 {
    let factor = slip.factor.abs();
    let variance = expected.variance - own + own / (factor * factor);
    likely(slip.meant(read), expected.value, variance)
        - ln(factor)
        - likely(read, expected.value, expected.variance)
        + ln(SLIPPED)
}

/// The same of an error without an explanation.
fn unexplained(read: f64, expected: Expected) -> f64 {
    let size = read.abs().max(expected.variance.sqrt());
    // The constant of Student's density is −0.98.
    0.98 - ln(size * ANYWHERE) - likely(read, expected.value, expected.variance) + ln(SLIPPED)
}

/// Leaves out of the model what no honest reading can be, and says why each was.
pub(super) fn screened(model: &mut Model<'_>, readings: &[Reading]) -> Vec<SuspectReading> {
    let mut outliers = Vec::new();
    let Some(before) = Linear::of_sheet(&model.priors(), &model.groups, |x| model.all_predicted(x), MODEL)
    else {
        return outliers;
    };
    for _ in 0..MOST {
        let Some(stands) = before.after(&model.groups) else { break };
        let best = guesses(model, &stands, readings)
            .into_iter()
            .filter(|guess| guess.gain > ENOUGH)
            .reduce(|best, guess| if guess.gain > best.gain { guess } else { best });
        let Some(guess) = best else { break };
        model.set_aside(&guess.rows, true);
        outliers.extend(outlier(model, &guess));
    }
    outliers
}

fn outlier(model: &Model<'_>, guess: &Guess) -> Option<SuspectReading> {
    let reading = |row: &usize| model.rows.get(*row).map(|row| row.reading);
    let mut all = guess.rows.iter().filter_map(reading);
    let z = (guess.read - guess.expected.value) / guess.expected.variance.sqrt();
    let first = model.rows.get(*guess.rows.first()?)?;
    Some(SuspectReading {
        reading: all.next()?,
        also: all.collect(),
        scope: guess.scope,
        z,
        probability: normal_two_sided(z),
        limit: super::outliers::RISK,
        or: Vec::new(),
        meant: guess.slip.map(|slip| (slip, slip.meant(first.value))),
        expected: Uncertain::standard(guess.expected.value, guess.expected.variance.sqrt()),
        left_out: true,
    })
}

fn guesses(model: &Model<'_>, stands: &[Stand], readings: &[Reading]) -> Vec<Guess> {
    let mut all = Vec::new();
    // The worst points: likelihood, rows, value, expected, variance of its own, kind of number.
    let mut worst: Vec<(f64, &Group, usize, Expected)> = Vec::new();
    for (group, stand) in model.groups.iter().zip(stands).filter(|(group, _)| !group.is_empty()) {
        let Some(asked) = model.asked.get(group.asked) else { continue };
        let slips: Vec<Slip> = asked.slips().slips().collect();
        let free =
            |rows: &[usize]| rows.iter().all(|row| model.rows.get(*row).is_some_and(|row| !row.checked));
        let outside = group.of_all(stand).map(|(_, outside)| outside).filter(|_| group.points.len() > 1);
        let mut tried = |rows: Vec<usize>, scope, read: f64, own: f64, expected: Expected, more: &[Slip]| {
            if !free(&rows) {
                return;
            }
            // Where the rest of the quantity is what all else contradicts, one of the rest is the wrong one.
            let apart = outside.map_or(0.0, |outside: Expected| {
                let of = |value: f64| likely(value, outside.value, outside.variance);
                of(outside.value) - of(expected.value)
            });
            // A wider guess must be better than a narrower one that says the same.
            let less = match scope {
                Scope::Quantity => 0.02,
                Scope::Specimen => 0.01 + apart,
                _ => apart,
            };
            let of = |slip: &Slip| (Some(*slip), gain(read, own, expected, *slip));
            let best = slips.iter().chain(more).map(of).chain([(None, unexplained(read, expected))]);
            let best = best.reduce(|best, one| if one.1 > best.1 { one } else { best });
            if let Some((slip, gain)) = best {
                all.push(Guess { rows, scope, slip, gain: gain - less, read, expected });
            }
        };
        for (i, (point, expected)) in group.points.iter().zip(group.of_points(stand)).enumerate() {
            let Some(expected) = expected else { continue };
            let read = group.origin + point.value;
            worst.push((likely(read, expected.value, expected.variance), group, i, expected));
            let text = point.rows.first().and_then(|row| readings.get(model.rows.get(*row)?.reading));
            let digits = text.map(|reading| swapped(&reading.text)).unwrap_or_default();
            tried(point.rows.clone(), Scope::Reading, read, point.variance, expected, &digits);
        }
        if group.blocks.len() > 1 && group.points.len() > group.blocks.len() {
            for (i, (block, expected)) in group.blocks.iter().zip(group.of_blocks(stand)).enumerate() {
                let Some(expected) = expected else { continue };
                let own = group.points.iter().filter(|point| point.block == i);
                let rows: Vec<usize> = own.flat_map(|point| point.rows.iter().copied()).collect();
                tried(rows, Scope::Specimen, group.origin + block.mean(), group.tau2, expected, &[]);
            }
        }
        if group.points.len() > 1
            && let Some((mean, expected)) = group.of_all(stand)
        {
            let rows: Vec<usize> = group.points.iter().flat_map(|point| point.rows.iter().copied()).collect();
            tried(rows, Scope::Quantity, mean, 0.0, expected, &[]);
        }
    }
    order::by(&mut worst, |a, b| (a.0 + 0.5 * ln(a.3.variance)).total_cmp(&(b.0 + 0.5 * ln(b.3.variance))));
    worst.truncate(EXCHANGES);
    all.extend(exchanges(model, &worst));
    all
}

/// Two readings of quantities of one kind in one another's place.
fn exchanges(model: &Model<'_>, worst: &[(f64, &Group, usize, Expected)]) -> Vec<Guess> {
    let mut all = Vec::new();
    let unit = |group: &Group| model.asked.get(group.asked).map(|asked| asked.quantity.unit.dimension());
    for (i, (a_likely, a, a_point, a_expected)) in worst.iter().enumerate() {
        for (b_likely, b, b_point, b_expected) in worst.iter().skip(i + 1) {
            if a.asked == b.asked || unit(a) != unit(b) {
                continue;
            }
            let (Some(one), Some(other)) = (a.points.get(*a_point), b.points.get(*b_point)) else { continue };
            if one.rows.len() > 1 || other.rows.len() > 1 {
                continue;
            }
            let rows: Vec<usize> = one.rows.iter().chain(&other.rows).copied().collect();
            if rows.iter().any(|row| model.rows.get(*row).is_none_or(|row| row.checked)) {
                continue;
            }
            let (x, y) = (a.origin + one.value, b.origin + other.value);
            let swapped = likely(y, a_expected.value, a_expected.variance)
                + likely(x, b_expected.value, b_expected.variance);
            all.push(Guess {
                rows,
                scope: Scope::Exchange,
                slip: Some(Slip { words: "the two stand in one another's place", factor: 1.0, shift: x - y }),
                gain: swapped - a_likely - b_likely + ln(EXCHANGED),
                read: x,
                expected: *a_expected,
            });
        }
    }
    all
}
