//! Lengths of the plies: the electrode length is [`Roll::lengths`].

use super::plies::{Lengths, Ply};
use super::roll::Roll;
use crate::quantity::units::Length;
use std::f64::consts::TAU;

/// Turns to the arc length of a circle of radius one.
pub(super) const PER_TURN: f64 = TAU;

impl Roll {
    /// Measures every ply, once.
    pub(super) fn measured(mut self) -> Self {
        self.lengths = self.all_lengths();
        self.facing = self.faced();
        self
    }

    /// All of them, worked out once.
    fn all_lengths(&self) -> Lengths {
        let l = &self.lay_up;
        let web = &self.separators;
        let turns = web.turns();
        // The web begins at zero, where the sum is zero.
        let web_sum = self.radius_sum(web.end);
        let anode_in_web = l.anode * self.anode.shared(web);
        let cathode_in_web = l.cathode * self.cathode.shared(web);
        let along_web = |under: Length| (web_sum + under) * PER_TURN;
        Lengths {
            cathode: self.cathode_over(&self.cathode),
            anode: self.anode_over(&self.anode),
            inner_separator: along_web(0.5 * l.separator * turns),
            outer_separator: along_web(1.5 * l.separator * turns + anode_in_web),
            // The tape begins where the web ends.
            tape: (self.radius_sum(self.tape.end) - web_sum + 0.5 * l.tape * self.tape.turns()) * PER_TURN,
            slack: along_web((2.0 * l.separator + 0.5 * l.slack) * turns + anode_in_web + cathode_in_web),
        }
    }

    /// The electrode length: that of a ply's mid-line over a stretch of its own turns, `L = 2π·(∫r dx + Σu)` with `r` the
    /// radius under the web, `x` the position in turns, and `u` what lies under the mid-line within the turn, summed over
    /// the stretch. A roll is a stack of circular arcs: see the module [`winding`](super).
    fn length_over(&self, stretch: &Ply, under: Length) -> Length {
        (self.radius_sum(stretch.end) - self.radius_sum(stretch.start) + under) * PER_TURN
    }

    /// Length of a stretch of cathode along its mid-line.
    pub(super) fn cathode_over(&self, stretch: &Ply) -> Length {
        let l = &self.lay_up;
        let under =
            (2.0 * l.separator + 0.5 * l.cathode) * stretch.turns() + l.anode * stretch.shared(&self.anode);
        self.length_over(stretch, under)
    }

    /// Length of a stretch of anode along its mid-line.
    pub(super) fn anode_over(&self, stretch: &Ply) -> Length {
        self.length_over(stretch, (self.lay_up.separator + 0.5 * self.lay_up.anode) * stretch.turns())
    }

    /// Mid-line lengths of the plies.
    pub fn lengths(&self) -> &Lengths {
        &self.lengths
    }
}
