//! The reading that would settle a claim soonest: how much of the figure's variance it would take away.
//!
//! Inputs are independent, so a reading of one with standard uncertainty `u_r` leaves it with
//! `u² u_r² / (u² + u_r²)` of its variance `u²`, and takes `c² · u² / (u² + u_r²)` off the figure's, where `c` is the
//! input's contribution (JCGM 100:2008, 5.1; the combination of two readings by their weights).

use super::case::Case;
use crate::cell::draft::Input;
use crate::quantity::units::Unit;
use crate::study::readings::quantity;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::propagation::deviate::normal_probability as below;
use roulade_stats::uncertain::Uncertain;

/// A reading that could be taken.
#[derive(Clone, Debug)]
pub struct Reading {
    /// Path of the input in the sheet.
    pub path: String,
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
const OUTSIDE: [&str; 3] = ["can.diameter", "can.height", "cell_mass"];

/// How an input would be read, and with which standard uncertainty, SI: as a bench reads it where it does, and for what
/// is asked of materials by common practice, no source.
fn instrument(input: &Input) -> Option<(&'static str, f64)> {
    if let Some(quantity) = quantity::of_input(input) {
        return Some((quantity.typical.instrument, quantity.typical.u(input.known.value, quantity.unit)));
    }
    let (how, u) = match (&*input.path, input.unit) {
        ("cell_mass", _) => ("balance", 0.02),
        ("winding.slack", _) => return None,
        (_, Unit::Micrometre) => ("micrometer", 1.0),
        (_, Unit::Millimetre) => ("caliper", 0.1),
        (_, Unit::Turn) => ("counted", 0.25),
        (_, Unit::Volt) => ("the protocol of the test", 0.002),
        ("anode.n_to_p", _) => ("coin cells of both coatings", 0.02),
        ("electrolyte.excess", _) => ("balance, before and after drying", 2.0),
        (_, Unit::MilliampereHourPerGram) => ("coin cells against lithium", 2.0),
        (_, Unit::GramPerCubicCentimetre) => ("gas pycnometer", 0.03),
        (path, Unit::Percent) if path.ends_with("initial_coulombic_efficiency") => {
            ("coin cells against lithium", 0.5)
        }
        (path, Unit::Percent) if path.ends_with("share") => ("element analysis", 0.5),
        (path, Unit::Percent) if path.ends_with("porosity") => ("intrusion or sections", 2.0),
        _ => return None,
    };
    Some((how, u * input.unit.in_si()))
}

/// All readings that take something away, the one that takes most first.
pub(super) fn rank(
    case: &Case,
    known: &[Uncertain],
    spread: &FirstOrder,
    output: usize,
    (best, u): (f64, f64),
    holds: (f64, f64),
) -> Vec<Reading> {
    let mut readings: Vec<Reading> = spread
        .shares(output)
        .into_iter()
        .filter_map(|(i, share)| {
            let (input, cell) = case.input(i)?;
            let (how, of_reading) = instrument(input)?;
            let now = known.get(i)?.u();
            let takes = share * now * now / (now * now + of_reading * of_reading);
            Some(Reading {
                path: input.path.to_string(),
                section: input.section,
                label: input.label.to_string(),
                cell: cell.map(str::to_owned),
                unit: input.unit,
                how,
                opens: !(OUTSIDE.contains(&&*input.path) || input.unit == Unit::Volt),
                now,
                of_reading,
                takes,
                leaves: u * (1.0 - takes).max(0.0).sqrt(),
                settles: settled(best, u, takes, holds),
                together: 0.0,
            })
        })
        .filter(|reading| reading.takes > 1e-3)
        .collect();
    readings.sort_by(|a, b| b.takes.total_cmp(&a.takes));
    let mut taken = 0.0;
    for reading in &mut readings {
        taken += reading.takes;
        reading.together = settled(best, u, taken, holds);
    }
    readings
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
