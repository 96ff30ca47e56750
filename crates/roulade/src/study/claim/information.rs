//! The reading that would settle a claim soonest: how much of the figure's variance it would take away.
//!
//! A reading of an input with standard uncertainty `u_r` leaves it with `u² u_r² / (u² + u_r²)` of its variance `u²`, and takes
//! the share `r² · u² / (u² + u_r²)` off the figure's, where `r` is the input's correlation with the figure (JCGM 100:2008,
//! 5.1; the combination of two readings by their weights). Only what a bench sheet has a line for is told: a lever that nobody
//! reads settles nothing.

use super::case::Case;
use crate::quantity::units::Unit;
use crate::study::readings::quantity;
use roulade_stats::order;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::propagation::deviate::normal_probability as below;
use roulade_stats::uncertain::Uncertain;

/// A reading that could be taken.
#[derive(Clone, Debug)]
pub struct PossibleReading {
    /// Path of the input in the sheet.
    pub path: String,
    /// Its name in a bench sheet.
    pub key: String,
    /// Heading it stands under.
    pub section: &'static str,
    /// What it is called.
    pub label: String,
    /// Its cell, where there are two and they do not share it.
    pub cell: Option<String>,
    /// Unit of the trade.
    pub unit: Unit,
    /// How it would be read.
    pub how: &'static str,
    /// Whether the cell must be opened for it.
    pub opens: bool,
    /// Standard uncertainty now, SI.
    pub now: f64,
    /// That of the reading, SI.
    pub of_reading: f64,
    /// Share of the figure's variance that it takes away.
    pub takes: f64,
    /// Standard uncertainty of the figure after it, SI.
    pub leaves: f64,
    /// Chance that the claim is supported or contradicted after it.
    pub settles: f64,
    /// The same after this reading and all that stand before it.
    pub together: f64,
}

/// One-sided 95 % and two-sided 95 % points of the normal distribution.
const ONE_SIDED: f64 = 1.644_853_626_951_472_2;
const TWO_SIDED: f64 = 1.959_963_984_540_054;

/// Inputs that are read off a cell that stays closed.
const OUTSIDE: [&str; 2] = ["can.diameter", "can.height"];

/// All readings that take something away, the one that takes most first.
pub(super) fn rank(
    case: &Case,
    uncertain: &[Uncertain],
    spread: &FirstOrder,
    output: usize,
    (best, u): (f64, f64),
    holds: (f64, f64),
) -> Vec<PossibleReading> {
    let shares = spread.shares(output);
    let mut readings: Vec<(f64, PossibleReading)> = spread
        .direction(output)
        .into_iter()
        .filter_map(|(i, with)| {
            let (input, cell) = case.input(i)?;
            let quantity = quantity::of_input(input)?;
            let of_reading = quantity.typical.u(input.uncertain.value, quantity.unit);
            let now = uncertain.get(i)?.u();
            let left = now * now / (now * now + of_reading * of_reading);
            let takes = with * with * left;
            let own = shares.iter().find(|(of, _)| *of == i).map_or(0.0, |(_, share)| *share);
            let reading = PossibleReading {
                path: input.path.to_string(),
                // What is a part's, or a material's, is called by its path there too.
                key: if quantity.key.contains("[]") {
                    input.key.to_string()
                } else {
                    quantity.key.to_owned()
                },
                section: input.section,
                label: input.label.to_string(),
                cell: cell.map(str::to_owned),
                unit: input.unit,
                how: quantity.typical.instrument,
                opens: !OUTSIDE.contains(&&*input.path),
                now,
                of_reading,
                takes,
                leaves: u * (1.0 - takes).max(0.0).sqrt(),
                settles: settled(best, u, takes, holds),
                together: 0.0,
            };
            // What inputs have together is counted with one of them: their shares add to the whole.
            Some((own.max(0.0) * left, reading))
        })
        .filter(|(_, reading)| reading.takes > 1e-3)
        .collect();
    order::by(&mut readings, |a, b| b.1.takes.total_cmp(&a.1.takes));
    let mut taken = 0.0_f64;
    for (own, reading) in &mut readings {
        taken = (taken + *own).max(reading.takes);
        reading.together = settled(best, u, taken, holds);
    }
    readings.into_iter().map(|(_, reading)| reading).collect()
}

/// Chance that a claim is decided once a share of the variance is taken away, for a normal quantity.
///
/// The mean after the reading is itself spread by what the reading takes, √takes·u about the mean now; the claim is
/// decided where that mean lies far enough from the edge for what is left, √(1 − takes)·u. For an interval both ends
/// must be that far, which asks a little too much.
fn settled(best: f64, u: f64, takes: f64, (low, high): (f64, f64)) -> f64 {
    let takes = takes.clamp(0.0, 1.0);
    let (moves, left) = (u * takes.sqrt(), u * (1.0 - takes).sqrt());
    let within = |from: f64, to: f64| {
        if to <= from {
            0.0
        } else if moves > 0.0 {
            below((to - best) / moves) - below((from - best) / moves)
        } else {
            f64::from(u8::from(from <= best && best <= to))
        }
    };
    let z = if low.is_finite() && high.is_finite() { TWO_SIDED } else { ONE_SIDED };
    within(f64::NEG_INFINITY, low - z * left)
        + within(low + z * left, high - z * left)
        + within(high + z * left, f64::INFINITY)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_reading_that_takes_everything_settles_everything() {
        assert_relative_eq!(settled(1.0, 0.5, 1.0, (1.2, f64::INFINITY)), 1.0, max_relative = 1e-12);
        // One that takes nothing decides only what is decided already.
        assert_relative_eq!(settled(1.0, 0.5, 0.0, (1.2, f64::INFINITY)), 0.0);
        assert_relative_eq!(settled(1.0, 0.1, 0.0, (1.2, f64::INFINITY)), 1.0);
    }

    /// Half the variance taken, at the edge itself: the mean moves by u/√2 and must lie 1.645·u/√2 away; by a table of
    /// the normal distribution 10 % of means do.
    #[test]
    fn a_reading_that_takes_half() {
        assert_relative_eq!(settled(1.0, 0.3, 0.5, (1.0, f64::INFINITY)), 0.1, max_relative = 1e-6);
        assert!(settled(1.0, 0.3, 0.5, (0.9, 1.1)) < settled(1.0, 0.3, 0.9, (0.9, 1.1)));
    }
}
