//! What the cell gives under load.

use super::{Path, reached};
use crate::cell::balance::{Balance, Discharge};
use crate::cell::design::{Design, Electrochemical};
use crate::quantity::units::{ElectricCharge, ElectricCurrent, ElectricPotential, Energy, Power};

/// Discharge at a constant current.
///
/// # Formula
/// `I` = rate × capacity at open circuit. The cell starts full, at rest, and its voltage is `U − I·R` throughout; it
/// ends where that falls to the lower limit, which is where the open-circuit curve falls to `U = V_min + I·R`, or where
/// a curve ends before. Energy is `∫U dQ − I·R·Q` up to there. R is the same from full to empty and has no time in it:
/// neither the polarisation that builds up nor the warmth of the cell. With a nominal voltage in the place of the
/// curves nothing says where the discharge would end, and all of the capacity is drawn.
///
/// Where the resistance is worked out from the coatings, no more is drawn than the part of them that the current reaches:
/// see [`reached`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// The current.
    pub current: ElectricCurrent,
    /// By how much it lowers the voltage.
    pub drop: ElectricPotential,
    /// Share of the coatings that the current reaches.
    pub reached: f64,
    /// What is drawn before the discharge ends; nothing where the load is too heavy for a full cell.
    pub drawn: Option<Discharge>,
}

impl Load {
    /// A design at the rate that it states.
    pub fn of(design: &Design, balance: &Balance, path: &Path) -> Self {
        let b = design.blueprint();
        let current = balance.capacity * b.path.rate;
        let drop = current * path.total();
        let (inner, outer) = design.active_area();
        // A stated resistance says nothing of depth.
        let reached = match b.path.electrochemical {
            Electrochemical::Computed(_) => {
                reached(design, (current / (inner + outer)).value, b.path.temperature)
            }
            _ => 1.0,
        };
        let most = balance.capacity * reached;
        let drawn = balance.down_to(design, drop).map(|drawn| {
            if reached < 1.0 && drawn.capacity > most { shorter(design, balance, drop, most) } else { drawn }
        });
        Self { current, drop, reached, drawn }
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

/// What is drawn when the discharge ends at a capacity, not at a voltage: the cut-off is raised until that is so.
fn shorter(design: &Design, balance: &Balance, drop: ElectricPotential, most: ElectricCharge) -> Discharge {
    if balance.windows.is_none() {
        return Discharge { capacity: most, energy: balance.mean_voltage() * most };
    }
    let none = Discharge { capacity: ElectricCharge::default(), energy: Energy::default() };
    let window = design.blueprint().window;
    let (mut low, mut high) = (drop, window.upper - window.lower);
    let mut best = none;
    // Capacity falls as the end rises; forty halvings leave less than rounding of a volt.
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        match balance.down_to(design, middle) {
            Some(drawn) if drawn.capacity > most => low = middle,
            found => {
                high = middle;
                best = found.unwrap_or(none);
            }
        }
    }
    best
}
