//! Lengths of the plies, and their arcs one by one.

use super::{PER_TURN, Roll};
use crate::quantity::units::Length;

/// A ply on the web: where it begins and ends, in turns from the start of the web.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ply {
    /// Position of its beginning, turns.
    pub start: f64,
    /// Position of its end, turns.
    pub end: f64,
    /// What it adds to the radius with each pass.
    pub thickness: Length,
}

impl Ply {
    /// Turns it makes.
    pub fn turns(&self) -> f64 {
        self.end - self.start
    }

    /// How many of its passes lie below position `x`.
    pub(super) fn passes_below(&self, x: f64) -> f64 {
        whole(x - self.start) - whole(x - self.end)
    }

    /// Its passes below, summed over all positions up to `x`.
    pub(super) fn passes_sum(&self, x: f64) -> f64 {
        // Nothing of the ply lies below its start, and all of it is counted once x has passed its end.
        if x <= self.start {
            0.0
        } else if x <= self.end {
            summed(x - self.start)
        } else {
            summed(x - self.start) - summed(x - self.end)
        }
    }

    /// Turns it shares with `other`.
    pub(super) fn shared(&self, other: &Ply) -> f64 {
        (self.end.min(other.end) - self.start.max(other.start)).max(0.0)
    }

    /// The part of it between two positions; empty where they do not meet.
    pub(super) fn between(&self, from: f64, to: f64) -> Ply {
        let start = self.start.max(from);
        Ply { start, end: self.end.min(to).max(start), ..*self }
    }
}

/// Whole turns in `s`; none below zero.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a saturating cast is the floor wanted here"
)]
fn whole(s: f64) -> f64 {
    f64::from(s as u32)
}

/// `Σ_{m ≥ 1} max(0, s − m)` = n·s − n(n+1)/2 with n the whole turns in s.
fn summed(s: f64) -> f64 {
    let n = whole(s);
    n * (s - 0.5 * (n + 1.0))
}

/// The plies of a roll by name, inside out within a turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum PlyName {
    InnerSeparator,
    Anode,
    OuterSeparator,
    Cathode,
    Tape,
}

impl PlyName {
    /// All, inside out.
    pub const ALL: [PlyName; 5] =
        [PlyName::InnerSeparator, PlyName::Anode, PlyName::OuterSeparator, PlyName::Cathode, PlyName::Tape];
}

/// One pass of one ply at one radius.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Which ply.
    pub ply: PlyName,
    /// Radius of its mid-line.
    pub radius: Length,
    /// Where the arc begins, turns.
    pub from: f64,
    /// Where it ends, turns.
    pub to: f64,
}

/// Mid-line lengths of the plies of a roll.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Lengths {
    /// The cathode.
    pub cathode: Length,
    /// The anode.
    pub anode: Length,
    /// The separator under the anode.
    pub inner_separator: Length,
    /// The separator between anode and cathode.
    pub outer_separator: Length,
    /// The tape.
    pub tape: Length,
    /// The slack on top of each turn.
    pub slack: Length,
}

impl Lengths {
    pub(super) fn of(roll: &Roll) -> Self {
        let l = &roll.lay_up;
        let web = &roll.separators;
        let turns = web.turns();
        // The web begins at zero, where the sum is zero.
        let web_sum = roll.radius_sum(web.end);
        let anode_in_web = l.anode * roll.anode.shared(web);
        let cathode_in_web = l.cathode * roll.cathode.shared(web);
        let along_web = |under: Length| (web_sum + under) * PER_TURN;
        Self {
            cathode: roll.cathode_over(&roll.cathode),
            anode: roll.anode_over(&roll.anode),
            inner_separator: along_web(0.5 * l.separator * turns),
            outer_separator: along_web(1.5 * l.separator * turns + anode_in_web),
            // The tape begins where the web ends.
            tape: (roll.radius_sum(roll.tape.end) - web_sum + 0.5 * l.tape * roll.tape.turns()) * PER_TURN,
            slack: along_web((2.0 * l.separator + 0.5 * l.slack) * turns + anode_in_web + cathode_in_web),
        }
    }
}

impl Roll {
    /// Mid-line length of a ply over a stretch of its own turns, given what lies under its mid-line within the turn
    /// summed over that stretch.
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

    /// Every pass of every ply, in the order of the web: what a drawing needs.
    pub fn arcs(&self) -> Vec<Arc> {
        let mut cuts: Vec<f64> = Vec::new();
        for ply in self.builds() {
            // The radius under the web steps a whole number of turns after a ply begins or ends.
            for mark in [ply.start, ply.end] {
                let mut cut = mark;
                while cut <= self.tape.end {
                    cuts.push(cut);
                    cut += 1.0;
                }
            }
        }
        cuts.sort_by(f64::total_cmp);
        cuts.dedup_by(|b, a| *b - *a < 1e-9);
        let mut arcs = Vec::new();
        for pair in cuts.windows(2) {
            let [from, to] = *pair else { continue };
            let middle = 0.5 * (from + to);
            let mut r = self.radius_under(middle);
            for ply in PlyName::ALL {
                let (thickness, on) = self.layer(ply, middle);
                if on {
                    arcs.push(Arc { ply, radius: r + 0.5 * thickness, from, to });
                    r += thickness;
                }
            }
        }
        arcs
    }

    /// Thickness of one ply, and whether it is there at position `x`.
    pub fn layer(&self, ply: PlyName, x: f64) -> (Length, bool) {
        let (thickness, extent) = match ply {
            PlyName::InnerSeparator | PlyName::OuterSeparator => (self.lay_up.separator, &self.separators),
            PlyName::Anode => (self.lay_up.anode, &self.anode),
            PlyName::Cathode => (self.lay_up.cathode, &self.cathode),
            PlyName::Tape => (self.lay_up.tape, &self.tape),
        };
        (thickness, extent.start <= x && x < extent.end)
    }
}
