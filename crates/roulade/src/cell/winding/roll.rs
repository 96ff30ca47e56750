//! A wound roll: its plies in their places, and the radius under them.

use super::plies::{Facing, Lengths, Ply};
use crate::quantity::units::{Area, Length};
use roulade_stats::order;
use std::f64::consts::PI;

/// How the web is laid up, before its length is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LayUp {
    /// Radius of the mandrel, and of the hole it leaves.
    pub core_radius: Length,
    /// One separator, ceramic layer included. Each turn carries two.
    pub separator: Length,
    /// Anode foil with both coatings.
    pub anode: Length,
    /// Cathode foil with both coatings.
    pub cathode: Length,
    /// Slack between turns.
    pub slack: Length,
    /// Tape around the finished roll.
    pub tape: Length,
    /// Separator-only turns at the core.
    pub core_turns: f64,
    /// Turns of anode before the cathode begins.
    pub anode_overhang_start: f64,
    /// Turns of anode after the cathode ends; below one, the cathode's last outer face stays idle.
    pub anode_overhang_end: f64,
    /// Separator-only turns outside.
    pub outer_turns: f64,
    /// Turns of tape.
    pub tape_turns: f64,
}

/// A wound roll.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Roll {
    pub(super) lay_up: LayUp,
    pub(super) separators: Ply,
    pub(super) anode: Ply,
    pub(super) cathode: Ply,
    pub(super) tape: Ply,
    pub(super) lengths: Lengths,
    pub(super) facing: Facing,
}

impl Roll {
    /// The roll whose cathode ends `cathode_turns` after it began, and whose anode reaches `anode_overhang_end` turns further.
    pub fn with_turns(lay_up: LayUp, cathode_turns: f64, anode_overhang_end: f64) -> Self {
        Self::laid(lay_up, cathode_turns, anode_overhang_end).measured()
    }

    /// The plies in their places, not yet measured.
    pub(super) fn laid(lay_up: LayUp, cathode_turns: f64, anode_overhang_end: f64) -> Self {
        let anode_start = lay_up.core_turns;
        let cathode_start = anode_start + lay_up.anode_overhang_start;
        let cathode_end = cathode_start + cathode_turns;
        let anode_end = cathode_end + anode_overhang_end;
        let web_end = anode_end.max(cathode_end) + lay_up.outer_turns;
        let pair = 2.0 * lay_up.separator + lay_up.slack;
        Self {
            lay_up,
            separators: Ply { start: 0.0, end: web_end, thickness: pair },
            anode: Ply { start: anode_start, end: anode_end, thickness: lay_up.anode },
            cathode: Ply { start: cathode_start, end: cathode_end, thickness: lay_up.cathode },
            tape: Ply { start: web_end, end: web_end + lay_up.tape_turns, thickness: lay_up.tape },
            lengths: Lengths::default(),
            facing: Facing::default(),
        }
    }

    /// How the web was laid up.
    pub fn lay_up(&self) -> &LayUp {
        &self.lay_up
    }

    /// What adds to the radius, each turn: both separators with the slack, anode, cathode, tape.
    pub(super) fn builds(&self) -> [&Ply; 4] {
        [&self.separators, &self.anode, &self.cathode, &self.tape]
    }

    /// Turns of cathode.
    pub fn cathode_turns(&self) -> f64 {
        self.cathode.turns()
    }

    /// Turns of anode after the cathode ends.
    pub fn anode_overhang_end(&self) -> f64 {
        self.anode.end - self.cathode.end
    }

    /// Turns of the whole web, separators included, tape not.
    pub(crate) fn web_turns(&self) -> f64 {
        self.separators.end
    }

    /// Turns from the start of the web to the end of the tape.
    pub(crate) fn all_turns(&self) -> f64 {
        self.tape.end
    }

    /// Thickness of one full turn: both electrodes, two separators and the slack.
    pub fn pitch(&self) -> Length {
        self.lay_up.anode + self.lay_up.cathode + 2.0 * self.lay_up.separator + self.lay_up.slack
    }

    /// Radius under the web at position `x`.
    pub(crate) fn radius_under(&self, x: f64) -> Length {
        self.builds().iter().fold(self.lay_up.core_radius, |r, ply| r + ply.thickness * ply.passes_below(x))
    }

    /// `∫₀ˣ r dx`, the radius under the web summed over its turns up to `x`.
    pub(super) fn radius_sum(&self, x: f64) -> Length {
        self.builds()
            .iter()
            .fold(self.lay_up.core_radius * x, |sum, ply| sum + ply.thickness * ply.passes_sum(x))
    }

    /// Outer radius, the mean over the angle: `r₀ + Σ thickness × turns`, exactly.
    ///
    /// The edge itself steps by up to one full turn's thickness where plies begin and end; see [`Roll::widest`].
    pub fn outer_radius(&self) -> Length {
        self.builds().iter().fold(self.lay_up.core_radius, |r, ply| r + ply.thickness * ply.turns())
    }

    /// Area that the roll's outer edge encloses, core hole included.
    ///
    /// # Formula
    /// `π·∫r²dφ` over a turn, of `r = r₀ + Σ t·n(φ)`: at every angle a ply of T turns and thickness t lies ⌊T⌋ times, and once
    /// more over the part f of a turn that is left. So the mean of r² is that of the mean radius and, for every pair of plies,
    /// `t·t'·(o − f·f')` with o the part of the turn where both lie once more.
    pub fn enclosed(&self) -> Area {
        let mean = self.outer_radius();
        let plies = self.builds().map(|ply| (fraction(ply.start), fraction(ply.turns()), ply.thickness));
        let mut square = mean * mean;
        for (i, (start, part, thickness)) in plies.iter().enumerate() {
            square += *thickness * *thickness * (part * (1.0 - part));
            for (other_start, other_part, other) in plies.iter().take(i) {
                let both = overlap(*part, fraction(other_start - start + 1.0), *other_part);
                square += 2.0 * *thickness * *other * (both - part * other_part);
            }
        }
        square * PI
    }

    /// Largest radius of the outer edge.
    pub fn widest(&self) -> Length {
        self.edge().map(|(_, _, r)| r).fold(Length::default(), Length::max)
    }

    /// Least width across of the roll with these turns, wherever its plies begin and end: on one side a ply that is not
    /// a whole number of turns long lies once more, on the other, at best, none does.
    pub(crate) fn least_across(&self) -> Length {
        let whole = self
            .builds()
            .iter()
            .fold(self.lay_up.core_radius, |r, ply| r + ply.thickness * (ply.turns() + 1e-9).floor());
        let broken = self.builds().into_iter().filter(|ply| fraction(ply.turns() + 1e-9) > 2e-9);
        2.0 * whole + broken.map(|ply| ply.thickness).fold(Length::default(), Length::max)
    }

    /// The outer edge: sectors (from, to, radius), angles in turns from 0 to 1.
    fn edge(&self) -> impl Iterator<Item = (f64, f64, Length)> {
        let mut cuts = [0.0; 10];
        for (pair, ply) in cuts.chunks_exact_mut(2).zip(self.builds()) {
            if let [start, end] = pair {
                *start = fraction(ply.start);
                *end = fraction(ply.end);
            }
        }
        if let Some(last) = cuts.last_mut() {
            *last = 1.0;
        }
        order::ascending(&mut cuts);
        let roll = *self;
        (0..9).filter_map(move |i| {
            let (from, to) = (*cuts.get(i)?, *cuts.get(i + 1)?);
            let middle = 0.5 * (from + to);
            // Any position past the end of the web counts every pass at this angle.
            let beyond = (roll.tape.end + 2.0).floor() + middle;
            (to > from).then(|| (from, to, roll.radius_under(beyond)))
        })
    }
}

/// Where an arc from 0 to `end` and one from `from`, so `long`, both lie, in turns: each is shorter than one.
fn overlap(end: f64, from: f64, long: f64) -> f64 {
    let to = from + long;
    (end.min(to) - from).max(0.0) + end.min(to - 1.0).max(0.0)
}

/// Part of a position that is less than a turn.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "where the cast is no floor, the part that it leaves is none of a turn"
)]
fn fraction(x: f64) -> f64 {
    // `floor` is a call on processors that have no instruction for it, a cast is not.
    let part = x - f64::from(x as u32);
    if (0.0..1.0).contains(&part) { part } else { x - x.floor() }
}
