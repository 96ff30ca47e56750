//! Two half-cell curves, one inventory of lithium, two ends.

use super::cycle::{Balance, ChargeEnd, Continued, Discharge, DischargeEnd, Side, Windows};
use crate::material::{Blend, Place};
use crate::quantity::problem::Problem;
use crate::quantity::units::{ArealCharge, ElectricCharge, ElectricPotential, Energy};

/// Further from the upper limit than this, the two electrodes do not belong together.
const WRONG_PAIRING: f64 = 0.2;

/// Cathode and anode as they face each other.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair<'a> {
    pub(super) cathode: &'a Blend,
    pub(super) anode: &'a Blend,
    pub(super) cathode_host: ElectricCharge,
    pub(super) anode_host: ElectricCharge,
    pub(super) as_assembled: f64,
    /// Stoichiometry of the anode as assembled: none but for a metal.
    pub(super) anode_assembled: f64,
    pub(super) anode_efficiency: f64,
    /// Lithium put in beside the cathode's.
    pub(super) beforehand: ElectricCharge,
    /// Added to the cell's voltage: the shift of the cathode's potential less that of the anode's.
    pub(super) offset: f64,
}

impl Pair<'_> {
    /// First charge to `upper`, then discharge to `lower`.
    ///
    /// # Formula
    /// Open circuit `U = U_c(y) − U_a(x)`. On the first charge a charge `q` leaves the cathode, `y = y₀ − q/C_c`; the
    /// share `η_a` of it stays in the anode, `x = η_a·(q + p)/C_a`, the rest is lost; p is what was put in beforehand. On discharge `d` flows back,
    /// `y = y₁ + d/C_c`, `x = x₁ − d/C_a`. Energy is `∫U dd`, a difference of four values of the curves'
    /// antiderivatives.
    ///
    /// The losses of both electrodes compete for the same lithium: y₀ lies above the cathode's window by what its
    /// initial coulombic efficiency says it cannot take back, `y₀ = y_low + (y_high − y_low)/η_c`. What the anode loses comes
    /// out of that first; where it loses less, the cathode is full before the anode is empty.
    ///
    /// # Errors
    /// Where the curves end far from `upper`, or never come down to it, or never reach `lower` from above.
    pub(super) fn cycle(
        &self,
        upper: ElectricPotential,
        lower: ElectricPotential,
    ) -> Result<Balance, Problem> {
        let (y_low, y_high) = self.cathode.reach();
        let (x_low, x_high) = self.anode.reach();
        let eta = self.anode_efficiency;

        // Charge.
        let x0 = self.anode_assembled + (eta * self.beforehand / self.anode_host).value;
        let charge = self.run((self.as_assembled, x0), eta);
        let by_cathode = charge.x_at(y_low);
        let (x1, limit) = charge.until(by_cathode.min(x_high), upper);
        let charge_end = if limit {
            ChargeEnd::Limit
        } else {
            let at = charge.voltage(&x1);
            let side = if by_cathode < x_high { Side::Cathode } else { Side::Anode };
            if at < upper.value - WRONG_PAIRING {
                return Err(self.too_short(side, at, upper));
            }
            ChargeEnd::Curve { side, at: volts(at) }
        };
        let y1 = charge.y_at(x1.x);

        // Discharge.
        let discharge = self.run((y1, x1.x), 1.0);
        let by_cathode = discharge.x_at(y_high);
        let furthest = by_cathode.max(x_low);
        let top = discharge.voltage(&x1);
        let room = x1.x - furthest;
        if room.is_nan() || room <= 0.0 || top <= lower.value {
            return Err(Problem::new(
                "voltage",
                format!(
                    "a window of {:.2} to {:.2} V for a pair that is at {top:.2} V when charged",
                    lower.value, upper.value
                ),
                "voltage limits between which this pair of electrodes can be cycled",
            ));
        }
        let (x2, limit) = discharge.until(furthest, lower);
        let at = || volts(discharge.voltage(&x2));
        let discharge_end = if limit {
            DischargeEnd::Limit
        } else if by_cathode < x_low {
            DischargeEnd::Curve { side: Side::Anode, at: at() }
        } else {
            DischargeEnd::Curve { side: Side::Cathode, at: at() }
        };
        let drawn = discharge.drawn(&x1, &x2);
        let y2 = discharge.y_at(x2.x);
        let past = |ends: [f64; 4], host: ElectricCharge| {
            let [charged, limit, other, end] = ends;
            let share = |over: f64| over.max(0.0) * host.value / drawn.capacity.value;
            (share(charged - limit), share(end - other))
        };
        let (c, a) = (self.cathode.window(), self.anode.window());
        let (cathode_charged, cathode_discharged) = past([c.0, y1, c.1, y2], self.cathode_host);
        let (anode_discharged, anode_charged) = past([a.0, x2.x, a.1, x1.x], self.anode_host);
        let continued = Continued { cathode_charged, cathode_discharged, anode_charged, anode_discharged };
        Ok(Balance {
            capacity: drawn.capacity,
            energy: drawn.energy,
            lost: coulombs((x1.x - self.anode_assembled) * self.anode_host.value * (1.0 - eta) / eta),
            cathode_areal: ArealCharge::default(),
            anode_areal: ArealCharge::default(),
            windows: Some(Windows {
                cathode_host: self.cathode_host,
                anode_host: self.anode_host,
                cathode_charged: y1,
                cathode_discharged: y2,
                anode_charged: x1.x,
                anode_discharged: x2.x,
                charge_end,
                discharge_end,
                continued,
            }),
        })
    }

    fn run(&self, from: (f64, f64), share: f64) -> Run<'_> {
        Run {
            cathode: self.cathode,
            anode: self.anode,
            cathode_host: self.cathode_host.value,
            anode_host: self.anode_host.value,
            from,
            share,
            offset: self.offset,
        }
    }

    fn too_short(&self, side: Side, at: f64, upper: ElectricPotential) -> Problem {
        let (_, x_high) = self.anode.reach();
        let (y_low, _) = self.cathode.reach();
        let upper = upper.value;
        match side {
            Side::Anode => {
                // What the anode would have to hold for the cathode to reach its own end.
                let wanted = (self.as_assembled - y_low) * self.cathode_host.value * self.anode_efficiency
                    / (x_high * self.anode_host.value);
                Problem::new(
                    "anode.loading",
                    format!("an anode too small for the cathode: it is full at {at:.2} V of {upper:.2} V"),
                    format!(
                        "an anode with up to {wanted:.2} times the capacity, or less cathode, so that the cell reaches the charge cut-off voltage"
                    ),
                )
            }
            Side::Cathode => Problem::new(
                "voltage.charge_cut_off",
                format!(
                    "a charge cut-off voltage of {upper:.2} V, where the cathode's curve ends at {at:.2} V"
                ),
                format!("a limit of up to {at:.2} V, which this pair of electrodes reaches"),
            ),
        }
    }
}

/// Charge that flows between cathode and anode, one way or the other.
#[derive(Clone, Copy, Debug)]
pub(super) struct Run<'a> {
    pub(super) cathode: &'a Blend,
    pub(super) anode: &'a Blend,
    pub(super) cathode_host: f64,
    pub(super) anode_host: f64,
    /// Stoichiometries of cathode and anode where it begins.
    pub(super) from: (f64, f64),
    /// Share of what one of them gives that arrives in the other.
    pub(super) share: f64,
    /// Added to the cell's voltage.
    pub(super) offset: f64,
}

impl Run<'_> {
    /// By how much the cathode empties while the anode fills from 0 to 1.
    fn per_x(&self) -> f64 {
        self.anode_host / (self.share * self.cathode_host)
    }

    fn y_at(&self, x: f64) -> f64 {
        self.from.0 - (x - self.from.1) * self.per_x()
    }

    fn x_at(&self, y: f64) -> f64 {
        self.from.1 - (y - self.from.0) / self.per_x()
    }

    /// Where the anode is when a discharge has emptied it or filled the cathode.
    pub(super) fn furthest(&self) -> f64 {
        self.x_at(self.cathode.reach().1).max(self.anode.reach().0)
    }

    /// Open-circuit voltage with the anode at a place of its curve.
    pub(super) fn voltage(&self, anode: &Place) -> f64 {
        self.cathode.potential(self.y_at(anode.x)) - anode.u + self.offset
    }

    /// Where the anode is when the voltage has come to `end`, or at the end of the way to `furthest`; and whether it has.
    pub(super) fn until(&self, furthest: f64, end: ElectricPotential) -> (Place, bool) {
        let per_x = self.per_x();
        self.anode.until((self.from.1, furthest), end.value - self.offset, |x| {
            let (u, slope) = self.cathode.potential_and_slope(self.y_at(x));
            (u, -slope * per_x)
        })
    }

    /// Charge and open-circuit energy from one place of the anode to another.
    pub(super) fn drawn(&self, from: &Place, to: &Place) -> Discharge {
        let cathode = |x| self.cathode.antiderivative(self.y_at(x));
        let charge = (from.x - to.x) * self.anode_host;
        let joules = self.cathode_host * (cathode(to.x) - cathode(from.x))
            - self.anode_host * (from.area - to.area)
            + self.offset * charge;
        Discharge { capacity: coulombs(charge), energy: Energy::new::<uom::si::energy::joule>(joules) }
    }
}

fn volts(v: f64) -> ElectricPotential {
    ElectricPotential::new::<uom::si::electric_potential::volt>(v)
}

fn coulombs(q: f64) -> ElectricCharge {
    ElectricCharge::new::<uom::si::electric_charge::coulomb>(q)
}
