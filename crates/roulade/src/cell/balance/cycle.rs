//! What a balance is: capacities, stoichiometries, and what ended charge and discharge.

use crate::quantity::units::{ArealCharge, ElectricCharge, ElectricPotential, Energy};

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
}

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
pub struct Discharge {
    /// Charge.
    pub capacity: ElectricCharge,
    /// `∫U dQ` of the open-circuit voltage over it.
    pub energy: Energy,
}
