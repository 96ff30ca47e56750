//! What each input alone would have to be for a claim to just hold, or just fail.

use super::case::Case;
use crate::cell::draft::Input;
use crate::cell::figures::{Definition, Worked, definition};
use crate::cell::population::plausible;
use crate::quantity::units::Unit;
use crate::sheet::defaults::{Bound, field};
use roulade_stats::order;
use roulade_stats::uncertain::{Spread, Uncertain};
use serde::Serialize;

/// Where a value lies beside what is known and what is plausible.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Where {
    /// Within what is known of it: its range, or two standard uncertainties.
    Uncertain,
    /// Within what is plausible for a cell.
    Plausible,
    /// Within what is possible, but not plausible.
    Beyond,
    /// No value of this input alone does it.
    Never,
}

/// What one input alone would have to be.
#[derive(Clone, Debug)]
pub struct Required {
    /// Its path in the sheet.
    pub path: String,
    /// Heading it stands under.
    pub section: &'static str,
    /// What it is called.
    pub label: String,
    /// Its cell, where there are two and they do not share it.
    pub cell: Option<String>,
    /// Unit of the trade.
    pub unit: Unit,
    /// As it is known.
    pub uncertain: Uncertain,
    /// Its plausible range, SI, and where that comes from.
    pub plausible: Option<((f64, f64), &'static str)>,
    /// The value at which the claim just holds, or just fails, SI.
    pub needed: Option<f64>,
    /// Where that lies.
    pub place: Where,
    /// A figure that this value would carry out of what is plausible for it, and its value there, SI.
    pub implies: Option<(&'static Definition, f64)>,
}

/// Figures that follow from several inputs, and the quantity of the sheet whose plausible range is theirs.
const FOLLOWING: [(&str, &str); 3] = [
    ("cathode.porosity", "cathode.porosity"),
    ("anode.porosity", "anode.porosity"),
    ("balance.n_to_p", "anode.n_to_p"),
];

/// Steps in which a stretch is searched for a change of sign, and trials within the step where it is found.
const STEPS: u32 = 8;
const TRIALS: u32 = 40;
/// Halvings of a step in which the cell ceases to hold together.
const HALVINGS: u32 = 16;

/// Every input that moves the figure, those whose value is nearest first.
pub(super) fn each(case: &Case, uncertain: &[Uncertain], best: f64, holds: (f64, f64)) -> Vec<Required> {
    let values: Vec<f64> = uncertain.iter().map(|uncertain| uncertain.value).collect();
    // The nearer edge of the interval: the one it misses, or the one it would miss first.
    let edge = [holds.0, holds.1]
        .into_iter()
        .filter(|edge| edge.is_finite())
        .min_by(|a, b| (a - best).abs().total_cmp(&(b - best).abs()))
        .unwrap_or(best);
    let mut all: Vec<Required> =
        (0..uncertain.len()).filter_map(|i| one(case, &values, i, *uncertain.get(i)?, edge)).collect();
    let far = |alone: &Required| {
        let reach = reach(&alone.uncertain, alone.plausible);
        alone.needed.map_or(f64::INFINITY, |needed| {
            (needed - alone.uncertain.value).abs()
                / (reach.1 - reach.0).max(1e-12 * alone.uncertain.value.abs())
        })
    };
    order::by(&mut all, |a, b| a.place.cmp(&b.place).then(far(a).total_cmp(&far(b))));
    all
}

fn one(case: &Case, values: &[f64], i: usize, uncertain: Uncertain, edge: f64) -> Option<Required> {
    let (input, cell) = case.input(i)?;
    let plausible = plausible(&input.path, case.diameter(i));
    let values_at = |x: f64| {
        let mut values = values.to_vec();
        values.get_mut(i).into_iter().for_each(|slot| *slot = x);
        values
    };
    let mut miss = |x: f64| case.figure(&values_at(x)).map(|value| value - edge);
    let at_best = miss(uncertain.value)?;
    let own = of_spread(&uncertain);
    let near = reach(&uncertain, plausible);
    let possible = possible(input, near);
    let mut moved = false;
    let mut needed: Option<f64> = None;
    for ends in [[own.1, near.1, possible.1], [own.0, near.0, possible.0]] {
        let (found, moves) = crossing(&mut miss, (uncertain.value, at_best), &ends);
        moved |= moves;
        let Some(found) = found else { continue };
        let outside = |x: f64| (!within(x, own), !within(x, near), (x - uncertain.value).abs());
        if needed.is_none_or(|before| outside(found) < outside(before)) {
            needed = Some(found);
        }
    }
    if !moved {
        return None;
    }
    let implies = needed.filter(|needed| !within(*needed, own)).and_then(|needed| {
        let best = case.worked(&values_at(uncertain.value)).ok()?;
        let there = case.worked(&values_at(needed)).ok()?;
        carried_out(&best.0, &there.0).or_else(|| carried_out(best.1.as_ref()?, there.1.as_ref()?))
    });
    let place = match needed {
        None => Where::Never,
        Some(_) if implies.is_some() => Where::Beyond,
        Some(x) if within(x, own) => Where::Uncertain,
        Some(x) if plausible.is_some_and(|(range, _)| within(x, range)) => Where::Plausible,
        Some(_) => Where::Beyond,
    };
    Some(Required {
        path: input.path.to_string(),
        section: input.section,
        label: input.label.to_string(),
        cell: cell.map(str::to_owned),
        unit: input.unit,
        uncertain,
        plausible,
        needed,
        place,
        implies,
    })
}

/// The figure that leaves its plausible range between two cells, and its value in the second.
fn carried_out(best: &Worked, there: &Worked) -> Option<(&'static Definition, f64)> {
    FOLLOWING.iter().find_map(|(figure, path)| {
        let figure = definition(figure)?;
        let (low, high) = plausible(path, best.design.blueprint().can.diameter.value)?.0;
        let (from, to) = ((figure.of)(best)?, (figure.of)(there)?);
        // One that lies outside already counts where it is carried further out.
        let out = to < low.min(from) || to > high.max(from);
        (out && (to - from).abs() > 1e-9).then_some((figure, to))
    })
}

fn within(x: f64, (low, high): (f64, f64)) -> bool {
    low <= x && x <= high
}

/// A range, or two standard uncertainties either way.
fn of_spread(uncertain: &Uncertain) -> (f64, f64) {
    match uncertain.spread {
        Spread::Exact => (uncertain.value, uncertain.value),
        Spread::Standard(u) => (uncertain.value - 2.0 * u, uncertain.value + 2.0 * u),
        Spread::Range { low, high } => (low, high),
    }
}

/// What is known or plausible, taken together.
fn reach(uncertain: &Uncertain, plausible: Option<((f64, f64), &str)>) -> (f64, f64) {
    let own = of_spread(uncertain);
    plausible.map_or(own, |(range, _)| (own.0.min(range.0), own.1.max(range.1)))
}

/// As far as an input is followed: a third to three times of what is plausible, within what it may be at all.
fn possible(input: &Input, (low, high): (f64, f64)) -> (f64, f64) {
    let wide = (low / 3.0, 3.0 * high);
    match field(&input.path).map(|field| field.bound) {
        Some(Bound::Share | Bound::Efficiency) => (wide.0, wide.1.min(1.0)),
        Some(Bound::Porosity) => (0.0, wide.1.min(0.95)),
        Some(Bound::NotNegative) => (0.0, wide.1),
        Some(Bound::Part) => (0.0, 1.0),
        Some(Bound::Exponent) => (0.0, wide.1.min(10.0)),
        // Degrees go below zero: no third of them is meant.
        Some(Bound::Temperature) => (low, high),
        // Nor of an error around nothing.
        Some(Bound::Deviation) => ((3.0 * low).max(-1.0), 3.0 * high),
        Some(Bound::Any) => (3.0 * low, 3.0 * high),
        Some(Bound::Positive) | None => wide,
    }
}

/// Where `miss` changes its sign on the way from a place, whose value is known, past several others; and whether it
/// changes at all.
fn crossing(
    miss: &mut impl FnMut(f64) -> Option<f64>,
    start: (f64, f64),
    past: &[f64],
) -> (Option<f64>, bool) {
    let (mut last, mut moves) = (start, false);
    let mut from = start.0;
    for to in past {
        if !(to - from).is_finite() || (to - from).abs() <= 1e-12 * from.abs().max(to.abs()) {
            continue;
        }
        for step in 1..=STEPS {
            let x = from + (to - from) * (f64::from(step) / f64::from(STEPS));
            // Where the cell does not hold together there is no further to go than to where it just does.
            let found = miss(x);
            let ends = found.is_none();
            let (x, value) = found.map_or_else(|| brink(miss, last, x), |value| (x, value));
            moves |= (value - start.1).abs() > 1e-9 * start.1.abs().max(1e-300);
            if (value < 0.0) != (start.1 < 0.0) {
                return (Some(between(miss, last, (x, value))), true);
            }
            if ends {
                return (None, moves);
            }
            last = (x, value);
        }
        from = *to;
    }
    (None, moves)
}

/// The furthest place, and the value there, from one that has an answer towards one that has none.
fn brink(miss: &mut impl FnMut(f64) -> Option<f64>, from: (f64, f64), to: f64) -> (f64, f64) {
    let (mut inside, mut outside) = (from, to);
    for _ in 0..HALVINGS {
        let middle = 0.5 * (inside.0 + outside);
        match miss(middle) {
            Some(value) => inside = (middle, value),
            None => outside = middle,
        }
    }
    inside
}

/// The change of sign between two values of different sign: false position, with the end that stays weighed down (the
/// Illinois variant: Dowell and Jarratt, BIT 11 (1971) 168, from memory).
fn between(miss: &mut impl FnMut(f64) -> Option<f64>, a: (f64, f64), b: (f64, f64)) -> f64 {
    let ((mut a, mut fa), (mut b, mut fb)) = (a, b);
    for _ in 0..TRIALS {
        if (b - a).abs() <= 1e-10 * a.abs().max(b.abs()) {
            break;
        }
        let x = b - fb * (b - a) / (fb - fa);
        let Some(fx) = miss(x) else { break };
        if (fx < 0.0) == (fb < 0.0) {
            fa *= 0.5;
        } else {
            (a, fa) = (b, fb);
        }
        (b, fb) = (x, fx);
        if fx == 0.0 {
            break;
        }
    }
    b
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_crossing_is_found_or_said_not_to_be() {
        let mut square = |x: f64| Some(x * x - 2.0);
        let (found, moves) = crossing(&mut square, (0.0, -2.0), &[1.0, 3.0]);
        assert_relative_eq!(found.unwrap(), 2f64.sqrt(), max_relative = 1e-9);
        assert!(moves);
        assert_eq!(crossing(&mut |x: f64| Some(x * x + 1.0), (0.0, 1.0), &[3.0]), (None, true));
        assert_eq!(crossing(&mut |_| Some(1.0), (0.0, 1.0), &[3.0]), (None, false));
        // Nothing beyond one: no crossing is made up there, and one just before it is found.
        assert_eq!(crossing(&mut |x: f64| (x <= 1.0).then_some(x - 2.0), (0.0, -2.0), &[3.0]), (None, true));
        let (found, _) = crossing(&mut |x: f64| (x <= 1.0).then_some(x - 0.97), (0.0, -0.97), &[3.0]);
        assert_relative_eq!(found.unwrap(), 0.97, max_relative = 1e-9);
        assert_eq!(crossing(&mut |_| Some(1.0), (2.0, 1.0), &[2.0]), (None, false));
    }
}
