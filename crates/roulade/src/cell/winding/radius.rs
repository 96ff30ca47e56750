//! From the radius the can leaves to lengths, and from measured lengths to the radius.

use super::lengths::PER_TURN;
use super::roll::{LayUp, Roll};
use crate::quantity::problem::Problem;
use crate::quantity::units::Length;

/// What ends the winding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reach {
    /// The roll fills up to this mean outer radius.
    Radius(Length),
    /// The cathode has this length, and the anode, where it was measured, that one.
    Lengths {
        /// Length of the cathode.
        cathode: Length,
        /// Length of the anode; where absent, it reaches on by the lay-up's tail.
        anode: Option<Length>,
    },
}

impl Roll {
    /// Winds a web until it has its reach. The two kinds of reach are inverse to each other.
    ///
    /// # Errors
    /// Where the radius leaves no room for any cathode, or a length cannot be wound.
    pub fn wind(lay_up: LayUp, reach: Reach) -> Result<Self, Problem> {
        match reach {
            Reach::Radius(outer) => Self::to_radius(lay_up, outer),
            Reach::Lengths { cathode, anode } => Self::to_lengths(lay_up, cathode, anode),
        }
    }

    /// The mean outer radius is linear in every turn count, so the turns of cathode follow directly.
    fn to_radius(lay_up: LayUp, outer: Length) -> Result<Self, Problem> {
        let bare = Self::laid(lay_up, 0.0, lay_up.anode_overhang_end);
        let turns = (outer - bare.outer_radius()) / bare.pitch();
        if turns.value > 0.0 {
            Ok(Self::with_turns(lay_up, turns.value, lay_up.anode_overhang_end))
        } else {
            Err(Problem::new(
                "winding",
                format!(
                    "core, separator turns and anode ends that need {:.2} mm of radius where the can leaves {:.2} mm",
                    bare.outer_radius().value * 1e3,
                    outer.value * 1e3
                ),
                "a thinner core, a wider can or fewer turns without cathode, which leave room for cathode",
            ))
        }
    }

    fn to_lengths(lay_up: LayUp, cathode: Length, anode: Option<Length>) -> Result<Self, Problem> {
        let start = lay_up.core_turns + lay_up.anode_overhang_start;
        // With the anode far past the cathode's end, the cathode's own length does not depend on where it ends.
        let turns = solve(start, cathode, |x| {
            let roll = Self::with_turns(lay_up, x - start, lay_up.anode_overhang_end.max(0.0));
            (
                roll.lengths().cathode,
                roll.radius_under(x) + roll.lay_up.anode + 2.0 * lay_up.separator + 0.5 * lay_up.cathode,
            )
        })
        .ok_or_else(|| unwindable("winding.cathode_length", cathode))?
            - start;
        let Some(anode) = anode else {
            return Ok(Self::with_turns(lay_up, turns, lay_up.anode_overhang_end));
        };
        let end = start + turns;
        let tail = solve(lay_up.core_turns, anode, |x| {
            let roll = Self::laid(lay_up, turns, x - end);
            (roll.anode_over(&roll.anode), roll.radius_under(x) + lay_up.separator + 0.5 * lay_up.anode)
        })
        .ok_or_else(|| unwindable("winding.anode_length", anode))?
            - end;
        Ok(Self::with_turns(lay_up, turns, tail))
    }
}

fn unwindable(place: &str, length: Length) -> Problem {
    Problem::new(
        place,
        format!("{:.4} m", length.value),
        "a length between a few millimetres and 100 m, which can be wound",
    )
}

/// Position at which a length that grows from zero at `start` reaches `target`; `at` gives the length and the
/// mid-line radius there, which is its slope per radian. Newton, kept inside a bracket.
fn solve(start: f64, target: Length, at: impl Fn(f64) -> (Length, Length)) -> Option<f64> {
    if !(target.value > 1e-3 && target.value < 100.0) {
        return None;
    }
    let (mut low, mut high) = (start, start + target.value / (PER_TURN * at(start).1.value));
    let mut x = 0.5 * (low + high);
    for _ in 0..80 {
        let (length, radius) = at(x);
        let miss = length - target;
        if miss.value > 0.0 {
            high = x;
        } else {
            low = x;
        }
        let next = x - (miss / (radius * PER_TURN)).value;
        let next = if next > low && next < high { next } else { 0.5 * (low + high) };
        if (next - x).abs() <= 1e-13 * x.abs() {
            return Some(next);
        }
        x = next;
    }
    Some(x)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    /// `2π·(2x + 0.18x²)` mm over x turns, of radius `2 + 0.36x`: 40 turns are 2.312 m. A few steps find them.
    #[test]
    fn turns_of_a_length_in_few_steps() {
        let metres = Length::new::<uom::si::length::meter>;
        let steps = Cell::new(0);
        let turns = solve(0.0, metres(PER_TURN * 0.368), |x| {
            steps.set(steps.get() + 1);
            (metres(PER_TURN * (0.002 * x + 0.000_18 * x * x)), metres(0.002 + 0.000_36 * x))
        });
        assert!((turns.unwrap() - 40.0).abs() < 1e-10, "{turns:?}");
        assert!(steps.get() < 10, "{} steps", steps.get());
        let circle = |x: f64| (metres(x), metres(1.0 / PER_TURN));
        assert!(solve(0.0, metres(0.001), circle).is_none() && solve(0.0, metres(100.0), circle).is_none());
        assert!(solve(0.0, metres(0.001_1), circle).is_some() && solve(0.0, metres(99.9), circle).is_some());
    }
}
