//! How far what a sheet leaves out could carry a figure: its best and its worst plausible choice.
//!
//! A reading is uncertain by chance. What a sheet leaves out was chosen by whoever designed the cell, all of it
//! together and with an aim; drawn one by one at random it comes out ordinary. So a claim is not contradicted by draws
//! alone where a plausible choice of what was left out would meet it: that is open until it is read.

use super::case::Case;
use crate::cell::draft::Input;
use crate::sheet::plausible;
use roulade_stats::uncertain::{Origin, Spread, Uncertain};

/// The choice of everything left out that carries a figure furthest one way.
#[derive(Clone, Debug, PartialEq)]
pub struct Reach {
    /// The figure there, SI.
    pub figure: f64,
    /// Each choice: the place of the input, and the value, SI; the one that carries it furthest first.
    pub choices: Vec<(usize, f64)>,
    /// How many inputs that move the figure were left out.
    pub left_out: usize,
    /// All inputs as they are then known.
    pub(super) known: Vec<Uncertain>,
}

/// Whether an input is a choice of the design that the sheet leaves out, and its range.
fn choice(input: &Input, known: &Uncertain) -> Option<(f64, f64)> {
    let designed = plausible::ends(&input.path).is_some();
    match known.spread {
        Spread::Range { low, high } if designed && input.origin == Origin::Default => Some((low, high)),
        _ => None,
    }
}

/// Times all choices are gone through: what is best for one may depend on the others.
const ROUNDS: usize = 2;

/// The furthest plausible choice, upwards where `sign` is positive; `None` where nothing is left out.
///
/// One choice after the other is taken to the end of its range that carries the figure further, as long as the cell
/// holds together.
pub(super) fn furthest(case: &Case, known: &[Uncertain], best: f64, sign: f64) -> Option<Reach> {
    let mut values: Vec<f64> = known.iter().map(|known| known.value).collect();
    let mut choices: Vec<(usize, (f64, f64))> = Vec::new();
    for (i, known) in known.iter().enumerate() {
        let Some((low, high)) = choice(case.input(i)?.0, known) else { continue };
        let moves = [low, high].into_iter().any(|end| {
            values.get_mut(i).into_iter().for_each(|slot| *slot = end);
            case.figure(&values).is_none_or(|there| (there - best).abs() > 1e-12 * best.abs())
        });
        values.get_mut(i).into_iter().for_each(|slot| *slot = known.value);
        if moves {
            choices.push((i, (low, high)));
        }
    }
    if choices.is_empty() {
        return None;
    }
    let mut figure = best;
    let mut gains = vec![0.0; known.len()];
    for _ in 0..ROUNDS {
        for (i, (low, high)) in &choices {
            for end in [*low, *high] {
                let Some(before) = values.get_mut(*i).map(|slot| std::mem::replace(slot, end)) else {
                    continue;
                };
                match case.figure(&values) {
                    Some(there) if sign * (there - figure) > 0.0 => {
                        gains.get_mut(*i).into_iter().for_each(|gain| *gain += (there - figure).abs());
                        figure = there;
                    }
                    _ => values.get_mut(*i).into_iter().for_each(|slot| *slot = before),
                }
            }
        }
    }
    let mut made: Vec<(usize, f64)> =
        choices.iter().filter_map(|(i, _)| Some((*i, *values.get(*i)?))).collect();
    let gain = |i: usize| gains.get(i).copied().unwrap_or(0.0);
    made.retain(|(i, _)| gain(*i) > 0.0);
    made.sort_by(|a, b| gain(b.0).total_cmp(&gain(a.0)));
    let mut then = known.to_vec();
    for (i, _) in &choices {
        if let (Some(slot), Some(value)) = (then.get_mut(*i), values.get(*i)) {
            *slot = Uncertain::exact(*value);
        }
    }
    Some(Reach { figure, choices: made, left_out: choices.len(), known: then })
}
