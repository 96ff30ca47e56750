//! What the cell gives under load.

use super::Path;
use crate::cell::balance::{Balance, Drawn};
use crate::cell::design::Design;
use crate::quantity::units::{ElectricCharge, ElectricCurrent, ElectricPotential, Energy, Power};

/// Discharge at a constant current.
///
/// # Formula
/// `I` = rate × capacity at open circuit. The cell starts full, at rest, and its voltage is `U − I·R` throughout; it
/// ends where that falls to the lower limit, which is where the open-circuit curve falls to `U = V_min + I·R`, or where
/// a curve ends before. Energy is `∫U dQ − I·R·Q` up to there. R is the same from full to empty and has no time in it:
/// neither the polarisation that builds up nor the warmth of the cell. With a nominal voltage in the place of the
/// curves nothing says where the discharge would end, and all of the capacity is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// The current.
    pub current: ElectricCurrent,
    /// By how much it lowers the voltage.
    pub drop: ElectricPotential,
    /// What is drawn before the discharge ends; nothing where the load is too heavy for a full cell.
    pub drawn: Option<Drawn>,
}

impl Load {
    /// A design at the rate that it states.
    pub fn of(design: &Design, balance: &Balance, path: &Path) -> Self {
        let current = balance.capacity * design.blueprint().path.rate;
        let drop = current * path.total();
        Self { current, drop, drawn: balance.down_to(design, drop) }
    }

    /// Capacity under load.
    pub fn capacity(&self) -> ElectricCharge {
        self.drawn.map_or_else(ElectricCharge::default, |drawn| drawn.capacity)
    }

    /// Energy that reaches the terminals.
    pub fn energy(&self) -> Energy {
        self.drawn.map_or_else(Energy::default, |drawn| drawn.energy - self.drop * drawn.capacity)
    }

    /// Heat in a resistance that carries the current: `I²·R`.
    pub fn heat(&self, resistance: crate::quantity::units::ElectricalResistance) -> Power {
        self.current * self.current * resistance
    }
}
