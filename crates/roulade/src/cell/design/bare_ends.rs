//! Where an electrode carries no coating at its ends.

use crate::quantity::units::Length;

/// Stretches without coating at the ends of an electrode, along its length.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BareEnds {
    /// Without coating on either side, from the start of winding.
    pub start: Length,
    /// Without coating on either side, up to the end of winding.
    pub end: Length,
    /// Coated on the outer side alone, next to the bare start.
    pub one_sided_start: Length,
    /// Coated on the inner side alone, next to the bare end.
    pub one_sided_end: Length,
}

impl BareEnds {
    pub(super) fn none(&self) -> bool {
        *self == Self::default()
    }

    /// Up to where a side is bare from the start, and how far before its end.
    pub(super) fn of(&self, side: Side) -> (Length, Length) {
        match side {
            Side::Inner => (self.start + self.one_sided_start, self.end),
            Side::Outer => (self.start, self.end + self.one_sided_end),
        }
    }
}

/// A side of a foil as it is wound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// Towards the core.
    Inner,
    /// Towards the can.
    Outer,
}
