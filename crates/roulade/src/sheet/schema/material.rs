//! Materials of the sheet's own.

use crate::material::Role;
use crate::sheet::Entry;
use crate::sheet::section::sheet_section as section;

section! {
    /// Mole fractions of the metals of a layered oxide, Li(Ni, Co, Mn, Al)O2; one left out is none.
    Metals {
        /// Nickel.
        nickel: Entry,
        /// Cobalt.
        cobalt: Entry,
        /// Manganese.
        manganese: Entry,
        /// Aluminium.
        aluminium: Entry,
        /// Lithium for one of all these metals together.
        lithium: Entry,
    }
}

section! {
    /// A material of the user's own, or other figures for one of the table.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["name"])))]
    Material {
        /// Its name; that of a material of the table changes that one in this sheet.
        name: String,
        /// What it does in a cell.
        role: Role,
        /// Measured composition of a cathode active material. What the entries below leave out then comes from the
        /// table's nearest.
        metals: Metals,
        /// Chemical formula, for the ledger of elements: "LiMn0.6Fe0.4PO4".
        formula: String,
        /// True density.
        density: Entry,
        /// Practical reversible capacity, over the window of its curve.
        capacity: Entry,
        /// Initial coulombic efficiency.
        initial_coulombic_efficiency: Entry,
        /// Resistivity of a metal at 20 °C.
        resistivity: Entry,
        /// Volume that a host gains from free of lithium to full.
        expansion: Entry,
        /// Half-cell potential: pairs of stoichiometry and volts against lithium (against sodium for its hosts).
        curve: Vec<(f64, f64)>,
        /// Stoichiometries that the practical capacity stands for, [low, high]; points of the curve beyond them continue it.
        /// The whole curve where left out.
        window: Vec<f64>,
        /// Error of its half-cell potential: a shift with its uncertainty, "0 ± 15 mV"; "0 mV" takes the curve as exact.
        potential: Entry,
        /// How long the curve's continuation past its window is, over what the table states: "1 ± 0.3".
        extension: Entry,
        /// Anything worth keeping.
        remark: String,
    }
}
