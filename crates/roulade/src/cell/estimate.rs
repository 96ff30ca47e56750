//! What a design must give.

use crate::cell::balance::Balance;
use crate::cell::design::Design;
use crate::cell::ledger;
use crate::quantity::problem::Problem;
use crate::quantity::units::{AvailableEnergy, EnergyDensity, Mass};

/// What a design must give: a pure function of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// Lithium, voltages, capacity and energy.
    pub balance: Balance,
    /// Mass of the cell, from the ledger.
    pub mass: Mass,
}

impl Estimate {
    /// Estimates one design. Allocates nothing.
    ///
    /// # Errors
    /// Where the electrodes do not reach the voltage window: see [`Balance::of`].
    pub fn of(design: &Design) -> Result<Self, Problem> {
        Ok(Self { balance: Balance::of(design)?, mass: ledger::mass(design) })
    }

    /// Volumetric energy density: open-circuit energy over the envelope of the bare can.
    pub fn volumetric(&self, design: &Design) -> EnergyDensity {
        self.balance.energy / design.blueprint().envelope()
    }

    /// Gravimetric energy density: open-circuit energy over the mass of the cell.
    pub fn gravimetric(&self) -> AvailableEnergy {
        self.balance.energy / self.mass
    }
}
