//! Two half-cell curves, one inventory of lithium, two ends.

use super::{Balance, Windows};
use crate::material::Curve;
use crate::problem::Problem;
use crate::units::{ArealCharge, ElectricCharge, ElectricPotential, Energy};

/// One of the two electrodes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum Side {
    Cathode,
    Anode,
}

/// What ended the charge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ChargeEnd {
    /// The upper voltage limit.
    Limit,
    /// The curve of one electrode ended first, at this cell voltage.
    Curve {
        /// Whose curve.
        side: Side,
        /// Cell voltage there.
        at: ElectricPotential,
    },
}

/// What ended the discharge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DischargeEnd {
    /// The lower voltage limit.
    Limit,
    /// The curve of one electrode ended first, at this cell voltage.
    Curve {
        /// Whose curve.
        side: Side,
        /// Cell voltage there.
        at: ElectricPotential,
    },
    /// The cathode took back all that its first-cycle efficiency lets it, at this cell voltage.
    Uptake {
        /// Cell voltage there.
        at: ElectricPotential,
    },
}

/// Further from the upper limit than this, the two electrodes do not belong together.
const WRONG_PAIRING: f64 = 0.2;
/// Within so many volts of its target, one more Newton step is taken and not looked at: it leaves some 1e-12 V.
const LAST_STEP: f64 = 1e-6;

/// Cathode and anode as they face each other.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pair<'a> {
    pub(super) cathode: &'a Curve,
    pub(super) anode: &'a Curve,
    pub(super) cathode_host: ElectricCharge,
    pub(super) anode_host: ElectricCharge,
    pub(super) as_assembled: f64,
    pub(super) cathode_efficiency: f64,
    pub(super) anode_efficiency: f64,
}

impl Pair<'_> {
    /// First charge to `upper`, then discharge to `lower`.
    ///
    /// # Formula
    /// Open circuit `U = U_c(y) − U_a(x)`. On the first charge a charge `q` leaves the cathode, `y = y₀ − q/C_c`; the
    /// share `η_a` of it stays in the anode, `x = η_a·q/C_a`, the rest is lost. On discharge `d` flows back,
    /// `y = y₁ + d/C_c`, `x = x₁ − d/C_a`. Energy is `∫U dd`, a difference of four values of the curves'
    /// antiderivatives.
    ///
    /// # Errors
    /// Where the curves end far from `upper`, or never come down to it, or never reach `lower` from above.
    pub(super) fn cycle(
        &self,
        upper: ElectricPotential,
        lower: ElectricPotential,
    ) -> Result<Balance, Problem> {
        let (cc, ca) = (self.cathode_host.value, self.anode_host.value);
        let (y_low, y_high) = self.cathode.window();
        let (x_low, x_high) = self.anode.window();
        let eta = self.anode_efficiency;

        // Charge.
        let by_cathode = (self.as_assembled - y_low) * cc;
        let by_anode = x_high * ca / eta;
        let most = by_cathode.min(by_anode);
        let (charged, at_most) = root(most, upper.value, |q| {
            let (uc, sc) = self.cathode.potential_and_slope(self.as_assembled - q / cc);
            let (ua, sa) = self.anode.potential_and_slope(eta * q / ca);
            (uc - ua, -sc / cc - sa * eta / ca)
        });
        let charge_end = if at_most < upper.value {
            let side = if by_cathode < by_anode { Side::Cathode } else { Side::Anode };
            if at_most < upper.value - WRONG_PAIRING {
                return Err(self.too_short(side, at_most, upper));
            }
            ChargeEnd::Curve { side, at: volts(at_most) }
        } else {
            ChargeEnd::Limit
        };
        let (y1, x1) = (self.as_assembled - charged / cc, eta * charged / ca);

        // Discharge.
        let taken_back = y1 + self.cathode_efficiency * (self.as_assembled - y1);
        let y_end = y_high.min(taken_back);
        let by_cathode = (y_end - y1) * cc;
        let by_anode = (x1 - x_low) * ca;
        let most = by_cathode.min(by_anode);
        let run = Run {
            cathode: self.cathode,
            anode: self.anode,
            cathode_host: cc,
            anode_host: ca,
            charged: (y1, x1),
        };
        let top = run.voltage(0.0);
        if most.is_nan() || most <= 0.0 || top <= lower.value {
            return Err(Problem::new(
                "voltage",
                format!(
                    "a window of {:.2} to {:.2} V for a pair that is at {top:.2} V when charged",
                    lower.value, upper.value
                ),
                "limits between which this pair of electrodes moves",
            ));
        }
        let (drawn, at) = run.until(most, lower);
        let discharge_end = if at <= lower {
            DischargeEnd::Limit
        } else if by_anode < by_cathode {
            DischargeEnd::Curve { side: Side::Anode, at }
        } else if taken_back < y_high {
            DischargeEnd::Uptake { at }
        } else {
            DischargeEnd::Curve { side: Side::Cathode, at }
        };
        let (y2, x2) = (y1 + drawn / cc, x1 - drawn / ca);
        Ok(Balance {
            capacity: coulombs(drawn),
            energy: run.energy(drawn),
            lost: coulombs(charged * (1.0 - eta)),
            cathode_areal: ArealCharge::default(),
            anode_areal: ArealCharge::default(),
            windows: Some(Windows {
                cathode_host: self.cathode_host,
                anode_host: self.anode_host,
                cathode_charged: y1,
                cathode_discharged: y2,
                anode_charged: x1,
                anode_discharged: x2,
                charge_end,
                discharge_end,
            }),
        })
    }

    fn too_short(&self, side: Side, at: f64, upper: ElectricPotential) -> Problem {
        let (_, x_high) = self.anode.window();
        let (y_low, _) = self.cathode.window();
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
                        "an anode with up to {wanted:.2} times the capacity, or less cathode, reaches the upper limit"
                    ),
                )
            }
            Side::Cathode => Problem::new(
                "voltage.upper",
                format!("an upper limit of {upper:.2} V, where the cathode's curve ends at {at:.2} V"),
                format!("a limit of up to {at:.2} V is one that this pair of electrodes reaches"),
            ),
        }
    }
}

/// A discharge from the charged end on.
#[derive(Clone, Copy, Debug)]
pub(super) struct Run<'a> {
    pub(super) cathode: &'a Curve,
    pub(super) anode: &'a Curve,
    pub(super) cathode_host: f64,
    pub(super) anode_host: f64,
    /// Stoichiometries of cathode and anode where it begins.
    pub(super) charged: (f64, f64),
}

impl Run<'_> {
    /// Stoichiometries after a charge `d`.
    fn after(&self, d: f64) -> (f64, f64) {
        (self.charged.0 + d / self.cathode_host, self.charged.1 - d / self.anode_host)
    }

    /// Open-circuit voltage after a charge `d`.
    pub(super) fn voltage(&self, d: f64) -> f64 {
        let (y, x) = self.after(d);
        self.cathode.potential(y) - self.anode.potential(x)
    }

    /// Charge up to `most` at which the voltage has fallen to `end`, and the voltage after `most`.
    pub(super) fn until(&self, most: f64, end: ElectricPotential) -> (f64, ElectricPotential) {
        let (drawn, at_most) = root(most, -end.value, |d| {
            let (y, x) = self.after(d);
            let (uc, sc) = self.cathode.potential_and_slope(y);
            let (ua, sa) = self.anode.potential_and_slope(x);
            (ua - uc, -sc / self.cathode_host - sa / self.anode_host)
        });
        (drawn, volts(-at_most))
    }

    /// Open-circuit energy of a charge `d`.
    pub(super) fn energy(&self, d: f64) -> Energy {
        let ((y1, x1), (y2, x2)) = (self.charged, self.after(d));
        let joules = self.cathode_host * (self.cathode.antiderivative(y2) - self.cathode.antiderivative(y1))
            - self.anode_host * (self.anode.antiderivative(x1) - self.anode.antiderivative(x2));
        Energy::new::<uom::si::energy::joule>(joules)
    }
}

fn volts(v: f64) -> ElectricPotential {
    ElectricPotential::new::<uom::si::electric_potential::volt>(v)
}

pub(super) fn coulombs(q: f64) -> ElectricCharge {
    ElectricCharge::new::<uom::si::electric_charge::coulomb>(q)
}

/// Charge in `[0, most]` at which a rising voltage reaches `target`, and the voltage at `most`; `most` itself where
/// the target lies beyond it. Newton from the far end, where both curves are steepest, kept inside a bracket.
fn root(most: f64, target: f64, at: impl Fn(f64) -> (f64, f64)) -> (f64, f64) {
    let (end, slope) = at(most);
    if end.is_nan() || end <= target {
        return (most, end);
    }
    let (mut low, mut high) = (0.0, most);
    let mut q = most;
    let (mut miss, mut slope) = (end - target, slope);
    for _ in 0..60 {
        let next = q - miss / slope;
        q = if next > low && next < high { next } else { 0.5 * (low + high) };
        let (voltage, s) = at(q);
        (miss, slope) = (voltage - target, s);
        if miss.abs() < LAST_STEP {
            q -= miss / slope;
            break;
        }
        if miss > 0.0 {
            high = q;
        } else {
            low = q;
        }
        if high - low <= f64::EPSILON * most {
            break;
        }
    }
    (q, end)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `±√|q − 1|`: Newton's step from q goes to 2 − q, so without its bracket it would go to and fro for ever.
    #[test]
    fn a_root_that_newton_alone_does_not_find() {
        let at = |q: f64| {
            let root = (q - 1.0).abs().sqrt().max(1e-9);
            (root.copysign(q - 1.0), 0.5 / root)
        };
        for most in [1.5, 3.0, 7.0] {
            let (q, end) = root(most, 0.0, at);
            assert!((q - 1.0).abs() < 1e-9, "{q} of {most}");
            assert!((end - (most - 1.0).sqrt()).abs() < 1e-12);
        }
        // Out of reach: all there is.
        assert_eq!(root(3.0, 2.0, at), (3.0, 2.0_f64.sqrt()));
    }
}
