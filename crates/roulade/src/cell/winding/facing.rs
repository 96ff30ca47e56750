//! Which cathode faces have anode opposite.

use super::plies::Facing;
use super::roll::Roll;
use crate::quantity::units::Length;

/// Stretches of both electrodes that face each other, each from the start of its own foil.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opposite {
    /// Along the cathode.
    pub cathode: (Length, Length),
    /// Along the anode.
    pub anode: (Length, Length),
}

impl Roll {
    /// Within a turn the anode lies under the cathode, so the inner face at position `x` meets the anode at `x` and
    /// the outer face the anode at `x + 1`.
    pub(super) fn faced(&self) -> Facing {
        let over = |shift: f64| {
            let stretch = self.cathode.between(self.anode.start - shift, self.anode.end - shift);
            if stretch == self.cathode { self.lengths.cathode } else { self.cathode_over(&stretch) }
        };
        Facing { inner: over(0.0), outer: over(1.0) }
    }

    /// What lies opposite the cathode's inner face, and its outer face.
    pub fn opposite(&self) -> [Opposite; 2] {
        [0.0, 1.0].map(|shift| {
            let on_cathode = self.cathode.between(self.anode.start - shift, self.anode.end - shift);
            let on_anode = self.anode.between(self.cathode.start + shift, self.cathode.end + shift);
            let cathode = self.cathode_over(&self.cathode.between(self.cathode.start, on_cathode.start));
            let anode = self.anode_over(&self.anode.between(self.anode.start, on_anode.start));
            Opposite {
                cathode: (cathode, cathode + self.cathode_over(&on_cathode)),
                anode: (anode, anode + self.anode_over(&on_anode)),
            }
        })
    }

    /// Where along the anode the stretch that faces cathode begins and ends. Its outer face meets the cathode of the
    /// same turn, its inner face that of the turn below: half a turn between the two.
    pub(crate) fn anode_paired(&self) -> (Length, Length) {
        let up_to = |x: f64| self.anode_over(&self.anode.between(self.anode.start, x));
        (up_to(self.cathode.start + 0.5), up_to(self.cathode.end + 0.5))
    }

    /// Length of cathode that has anode opposite, face by face.
    pub fn facing(&self) -> Facing {
        self.facing
    }
}
