//! Which cathode faces have anode opposite.

use super::Roll;
use crate::units::Length;

/// Lengths of cathode that have anode opposite, per face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Facing {
    /// Inner face: anode of the same turn.
    pub inner: Length,
    /// Outer face: anode of the next turn; short of it, the last face lies idle.
    pub outer: Length,
}

impl Roll {
    /// Length of cathode that has anode opposite, face by face.
    ///
    /// Within a turn the anode lies under the cathode, so the inner face at position `x` meets the anode at `x` and
    /// the outer face the anode at `x + 1`.
    pub fn facing(&self) -> Facing {
        let over = |shift: f64| {
            self.cathode_over(&self.cathode.between(self.anode.start - shift, self.anode.end - shift))
        };
        Facing { inner: over(0.0), outer: over(1.0) }
    }
}
