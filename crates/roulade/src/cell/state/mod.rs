//! What a reading finds of a cell that was charged, opened, washed or dried, where a design is the cell as it was built.
//!
//! A [`State`] is what was done to the cell before the reading; a [`StateChange`] is what that does to one quantity, with what is
//! not known of it, cause by cause: all readings that a cause moves are off together.

mod cause;
mod change;
mod coating;
mod contents;
mod film;
mod pores;
mod words;

pub use cause::{Cause, StateChange};
pub use change::Changes;
pub use contents::Contents;
pub use film::per_mole;

/// How full of lithium a cell was that went through its formation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Charge {
    /// Down to the design's discharge cut-off voltage; so is a cell that is opened, where nothing else is said.
    Discharged,
    /// Up to its charge cut-off voltage.
    Charged,
    /// At an open-circuit voltage on the way down, V.
    Voltage(f64),
    /// At a state of charge, a share of the capacity.
    Share(f64),
}

/// What was in the pores.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pores {
    /// Nothing: electrolyte and salt were washed out.
    Washed,
    /// What the electrolyte leaves behind as it dries.
    Dried,
    /// The electrolyte.
    Wet,
}

/// What was done to a cell before it was read. As built where nothing was.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct State {
    /// After its formation, and how full; not formed where absent.
    pub formed: Option<Charge>,
    /// What was in the pores; what the quantity's own name says where absent.
    pub pores: Option<Pores>,
    /// Open for some time, so that solvent evaporated.
    pub opened: bool,
}

impl State {
    /// Whether it is the cell as built.
    pub(crate) fn as_built(&self) -> bool {
        *self == Self::default()
    }
}

#[cfg(test)]
mod tests;
