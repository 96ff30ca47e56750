//! How much lithium moves, between which voltages, and what energy that is.

mod lithium;

pub use lithium::{ChargeEnd, DischargeEnd, Side};

use crate::cell::design::Design;
use crate::quantity::problem::Problem;
use crate::quantity::units::{ArealCharge, ElectricCharge, ElectricPotential, Energy, Ratio};

/// The lithium balance of a cell and what follows from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balance {
    /// Capacity between the ends of charge and discharge.
    pub capacity: ElectricCharge,
    /// Open-circuit energy over that capacity.
    pub energy: Energy,
    /// Lithium that the first cycle consumed.
    pub lost: ElectricCharge,
    /// Reversible areal capacity of one cathode face.
    pub cathode_areal: ArealCharge,
    /// Reversible areal capacity of one anode face.
    pub anode_areal: ArealCharge,
    /// Stoichiometries and host capacities; absent where a nominal voltage stood in for the curves.
    pub windows: Option<Windows>,
}

/// Stoichiometry windows, each on the scale of its own curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Windows {
    /// Capacity of the paired cathode for stoichiometry 0 → 1.
    pub cathode_host: ElectricCharge,
    /// Capacity of the paired anode for stoichiometry 0 → 1.
    pub anode_host: ElectricCharge,
    /// Cathode at the end of charge.
    pub cathode_charged: f64,
    /// Cathode at the end of discharge.
    pub cathode_discharged: f64,
    /// Anode at the end of charge.
    pub anode_charged: f64,
    /// Anode at the end of discharge.
    pub anode_discharged: f64,
    /// What ended the charge.
    pub charge_end: ChargeEnd,
    /// What ended the discharge.
    pub discharge_end: DischargeEnd,
    /// How much of it lies where the curves are continuations.
    pub continued: Continued,
}

/// Shares of the capacity that lie past the windows of the curves, where each is a continuation.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Continued {
    /// Of the cathode, at the end of charge.
    pub cathode_charged: f64,
    /// Of the cathode, at the end of discharge.
    pub cathode_discharged: f64,
    /// Of the anode, at the end of charge.
    pub anode_charged: f64,
    /// Of the anode, at the end of discharge.
    pub anode_discharged: f64,
}

/// What a discharge gives, its open-circuit energy included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn {
    /// Charge.
    pub capacity: ElectricCharge,
    /// `∫U dQ` of the open-circuit voltage over it.
    pub energy: Energy,
}

impl Balance {
    /// Balances a design's lithium.
    ///
    /// # Errors
    /// Where the pair of curves does not reach the voltage window, or one electrode is far too small for the other.
    pub fn of(design: &Design) -> Result<Self, Problem> {
        let b = design.blueprint();
        let (inner, outer) = design.active_area();
        let area = inner + outer;
        let (cathode_mass, anode_mass) = (area * b.cathode.loading, area * b.anode.loading);
        let cathode_areal = b.cathode.loading * b.cathode.reversible;
        let anode_areal = b.anode.loading * b.anode.reversible;
        match (b.window.nominal, &b.cathode.potential, &b.anode.potential) {
            (None, Some(cathode), Some(anode)) => {
                let pair = lithium::Pair {
                    cathode: &cathode.curve,
                    anode: &anode.curve,
                    cathode_host: cathode_mass * b.cathode.host,
                    anode_host: anode_mass * b.anode.host,
                    as_assembled: cathode.as_assembled,
                    anode_efficiency: b.anode.initial_coulombic_efficiency.value,
                    offset: (cathode.shift - anode.shift).value,
                };
                let cycle = pair.cycle(b.window.upper, b.window.lower)?;
                Ok(Self { cathode_areal, anode_areal, ..cycle })
            }
            (nominal, ..) => {
                let Some(voltage) = nominal else {
                    return Err(Problem::new(
                        "voltage.nominal",
                        "a material without a half-cell curve",
                        "a nominal voltage here, or a curve in the sheet's materials, stands in for it",
                    ));
                };
                let capacity_of = |mass, reversible| -> ElectricCharge { mass * reversible };
                let cathode = capacity_of(cathode_mass, b.cathode.reversible);
                let anode = capacity_of(anode_mass, b.anode.reversible);
                let first = cathode / b.cathode.initial_coulombic_efficiency;
                let lost =
                    first * (Ratio::new::<uom::si::ratio::ratio>(1.0) - b.anode.initial_coulombic_efficiency);
                let capacity = cathode.min(first - lost).min(anode);
                Ok(Self {
                    capacity,
                    energy: capacity * voltage,
                    lost,
                    cathode_areal,
                    anode_areal,
                    windows: None,
                })
            }
        }
    }

    /// What is drawn from a full cell whose voltage a load lowers by `drop` until the lower limit is reached; nothing
    /// where a full cell is below it already.
    pub fn down_to(&self, design: &Design, drop: ElectricPotential) -> Option<Drawn> {
        let b = design.blueprint();
        let end = b.window.lower + drop;
        let (Some(windows), Some(cathode), Some(anode)) =
            (&self.windows, &b.cathode.potential, &b.anode.potential)
        else {
            return (self.mean_voltage() > end)
                .then_some(Drawn { capacity: self.capacity, energy: self.energy });
        };
        let run = lithium::Run {
            cathode: &cathode.curve,
            anode: &anode.curve,
            cathode_host: windows.cathode_host.value,
            anode_host: windows.anode_host.value,
            from: (windows.cathode_charged, windows.anode_charged),
            share: 1.0,
            offset: (cathode.shift - anode.shift).value,
        };
        let full = anode.curve.place(windows.anode_charged);
        if run.voltage(&full) <= end.value {
            return None;
        }
        let (empty, _) = run.until(windows.anode_discharged, end);
        Some(run.drawn(&full, &empty))
    }

    /// Mean voltage: energy over capacity.
    pub fn mean_voltage(&self) -> ElectricPotential {
        self.energy / self.capacity
    }

    /// N/P: reversible areal capacity of the anode over that of the cathode, where they face each other.
    pub fn n_to_p(&self) -> Ratio {
        self.anode_areal / self.cathode_areal
    }
}

#[cfg(test)]
mod tests;
