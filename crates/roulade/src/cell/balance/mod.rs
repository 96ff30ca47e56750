//! How much lithium moves, between which voltages, and what energy that is.

mod cycle;
mod half_cell;
mod lithium;

pub use cycle::{Balance, ChargeEnd, Continued, Discharge, DischargeEnd, Side, Windows};
pub use half_cell::disc;

use crate::cell::design::Design;
use crate::quantity::problem::Problem;
use crate::quantity::units::{ElectricCharge, ElectricPotential, Ratio};

/// How far the surface of the particles is ahead of their inside during a discharge, in stoichiometry, and how much of the
/// cathode is at work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Lag {
    /// Fuller than its mean.
    pub cathode: f64,
    /// Emptier than its mean.
    pub anode: f64,
    /// Share of the cathode that the current reaches.
    pub reached: f64,
}

impl Lag {
    /// A current so small that it does not show.
    pub(crate) const NONE: Self = Self { cathode: 0.0, anode: 0.0, reached: 1.0 };
}

impl Balance {
    /// Balances a design's lithium.
    ///
    /// # Errors
    /// Where the pair of curves does not reach the voltage window, or one electrode is far too small for the other.
    pub fn of(design: &Design) -> Result<Self, Problem> {
        let b = design.blueprint();
        let (inner, outer) = design.active_area();
        // What the model as a whole is off by shows as so much more of the facing area at work.
        let area = (inner + outer) * (1.0 + b.discrepancy);
        let (cathode_mass, anode_mass) = (area * b.cathode.loading, area * b.anode.loading);
        let cathode_areal = b.cathode.loading * b.cathode.reversible;
        let anode_areal = b.anode.loading * b.anode.reversible;
        let beforehand = b.prelithiation.map_or(ElectricCharge::default(), |p| p.areal * area);
        match (b.window.nominal, &b.cathode.potential, &b.anode.potential) {
            (None, Some(cathode), Some(anode)) => {
                let pair = lithium::Pair {
                    cathode: &cathode.curve,
                    anode: &anode.curve,
                    cathode_host: cathode_mass * b.cathode.host,
                    anode_host: anode_mass * b.anode.host,
                    as_assembled: cathode.as_assembled,
                    anode_assembled: anode.as_assembled,
                    anode_efficiency: b.anode.initial_coulombic_efficiency.value,
                    beforehand,
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
                        "a nominal voltage here, or a half-cell curve in the sheet's materials",
                    ));
                };
                let capacity_of = |mass, reversible| -> ElectricCharge { mass * reversible };
                let cathode = capacity_of(cathode_mass, b.cathode.reversible);
                let anode = capacity_of(anode_mass, b.anode.reversible);
                let first = cathode / b.cathode.initial_coulombic_efficiency + beforehand;
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

    /// Open-circuit voltage after a charge is drawn from the full cell: `U_c(y₁ + q/C_c) − U_a(x₁ − q/C_a)`. Past the ends of a
    /// curve it goes on as the curve ends; nothing where a nominal voltage stands in for the curves.
    pub fn voltage_after(&self, design: &Design, drawn: ElectricCharge) -> Option<ElectricPotential> {
        let b = design.blueprint();
        let (windows, cathode, anode) =
            (self.windows.as_ref()?, b.cathode.potential.as_ref()?, b.anode.potential.as_ref()?);
        let y = windows.cathode_charged + (drawn / windows.cathode_host).value;
        let x = windows.anode_charged - (drawn / windows.anode_host).value;
        Some(ElectricPotential::new::<uom::si::electric_potential::volt>(cathode.at(y) - anode.at(x)))
    }

    /// What is drawn from a full cell whose voltage a load lowers by `drop` until the lower limit is reached; nothing
    /// where a full cell is below it already.
    pub(crate) fn down_to(&self, design: &Design, drop: ElectricPotential) -> Option<Discharge> {
        self.drawn(design, drop, &Lag::NONE)
    }

    /// The same where the lithium at the surface of the particles is ahead of that inside, and the current reaches a part of
    /// the cathode.
    ///
    /// # Formula
    /// The voltage is that of the surfaces, `U_c(y₁ + q/(δ·C_c) + l_c) − U_a(x₁ − q/C_a − l_a)` after a charge q, for lags l and
    /// the share δ: so the discharge ends while there is lithium left inside, and what the current does not reach gives nothing.
    pub(crate) fn drawn(&self, design: &Design, drop: ElectricPotential, lag: &Lag) -> Option<Discharge> {
        let b = design.blueprint();
        let end = b.window.lower + drop;
        let (Some(windows), Some(cathode), Some(anode)) =
            (&self.windows, &b.cathode.potential, &b.anode.potential)
        else {
            return (self.mean_voltage() > end && lag.reached > 0.0).then_some(Discharge {
                capacity: self.capacity * lag.reached,
                energy: self.energy * lag.reached,
            });
        };
        let run = lithium::Run {
            cathode: &cathode.curve,
            anode: &anode.curve,
            cathode_host: windows.cathode_host.value * lag.reached,
            anode_host: windows.anode_host.value,
            from: (windows.cathode_charged + lag.cathode, windows.anode_charged - lag.anode),
            share: 1.0,
            offset: (cathode.shift - anode.shift).value,
        };
        let furthest = if *lag == Lag::NONE { windows.anode_discharged } else { run.furthest() };
        let full = anode.curve.place(run.from.1);
        if lag.reached <= 0.0 || run.from.1 <= furthest || run.voltage(&full) <= end.value {
            return None;
        }
        let (empty, _) = run.until(furthest, end);
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
