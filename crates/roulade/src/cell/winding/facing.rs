//! Which cathode faces have anode opposite.

use super::Roll;
use crate::quantity::units::Length;

/// Lengths of cathode that have anode opposite, per face.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Facing {
    /// Inner face: anode of the same turn.
    pub inner: Length,
    /// Outer face: anode of the next turn; short of it, the last face lies idle.
    pub outer: Length,
}

impl Facing {
    /// Within a turn the anode lies under the cathode, so the inner face at position `x` meets the anode at `x` and
    /// the outer face the anode at `x + 1`.
    pub(super) fn of(roll: &Roll) -> Self {
        let over = |shift: f64| {
            let stretch = roll.cathode.between(roll.anode.start - shift, roll.anode.end - shift);
            if stretch == roll.cathode { roll.lengths.cathode } else { roll.cathode_over(&stretch) }
        };
        Self { inner: over(0.0), outer: over(1.0) }
    }
}

impl Roll {
    /// Where along the anode the stretch that faces cathode begins and ends. Its outer face meets the cathode of the
    /// same turn, its inner face that of the turn below: half a turn between the two.
    pub fn anode_paired(&self) -> (Length, Length) {
        let up_to = |x: f64| self.anode_over(&self.anode.between(self.anode.start, x));
        (up_to(self.cathode.start + 0.5), up_to(self.cathode.end + 0.5))
    }

    /// Length of cathode that has anode opposite, face by face.
    pub fn facing(&self) -> Facing {
        self.facing
    }
}
