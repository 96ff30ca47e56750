//! The plies of a roll, and what is measured of them.

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

/// Lengths of cathode that have anode opposite, per face.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Facing {
    /// Inner face: anode of the same turn.
    pub inner: Length,
    /// Outer face: anode of the next turn; short of it, the last face lies idle.
    pub outer: Length,
}
