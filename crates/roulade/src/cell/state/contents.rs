//! Where the lithium of a cell is.

use super::Charge;
use crate::cell::balance::Balance;
use crate::cell::design::Design;
use crate::quantity::units::ElectricPotential;

/// Where the lithium of a whole cell is after its formation, as charge, C; sodium likewise.
///
/// # Formula
/// On the discharge from full, d coulombs have flowed back: the anode's host holds `(x₁ − x₀)·C − d`, with x₁ charged, x₀ as
/// built and C its capacity from 0 to 1; the film holds what the first charge lost; the cathode is short of both together
/// less what was put in beforehand, since lithium is conserved. At a voltage V, d is where the open-circuit curve falls
/// to V. With a nominal voltage in the place of curves, a discharged anode is empty, and no voltage says how full a cell is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contents {
    /// In the anode's host, beside what was there as built.
    pub anode: f64,
    /// In the film that the first charge left on the anode.
    pub film: f64,
    /// What the cathode has given and not taken back.
    pub cathode: f64,
    /// How far the anode's host is filled, 0 to 1, beyond what it held as built.
    pub filled: f64,
    /// Facing area, m².
    pub area: f64,
}

impl Contents {
    /// Of a cell that is so full; nothing where its design cannot tell how full that is.
    pub fn of(design: &Design, balance: &Balance, charge: Charge) -> Option<Self> {
        let b = design.blueprint();
        let capacity = balance.capacity.value;
        let drawn = match charge {
            Charge::Charged => 0.0,
            Charge::Discharged => capacity,
            Charge::Share(share) => (1.0 - share) * capacity,
            Charge::Voltage(volts) => {
                balance.windows?;
                let down = ElectricPotential::new::<uom::si::electric_potential::volt>(volts);
                // Above the charge cut-off it is full; below the discharge cut-off, as empty as the sheet knows it.
                balance
                    .down_to(design, down - b.window.lower)
                    .map_or(0.0, |drawn| drawn.capacity.value.min(capacity))
            }
        };
        let (inner, outer) = design.active_area();
        let area = ((inner + outer) * (1.0 + b.discrepancy)).value;
        let (full, host) = match &balance.windows {
            Some(windows) => {
                let built = b.anode.potential.as_ref().map_or(0.0, |potential| potential.as_assembled);
                let host = windows.anode_host.value;
                ((windows.anode_charged - built) * host, host)
            }
            None => (capacity, balance.anode_areal.value * area),
        };
        let beforehand = b.prelithiation.map_or(0.0, |p| p.areal.value * area);
        let (anode, film) = (full - drawn, balance.lost.value);
        Some(Self { anode, film, cathode: anode + film - beforehand, filled: anode / host, area })
    }
}
