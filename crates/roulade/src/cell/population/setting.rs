//! What is known of a cell before anything in it is.

use super::collection::Collected;
use super::purpose::Purpose;

/// What the cathode is of, as far as the population tells cells apart by it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Chemistry {
    /// A layered oxide, or anything that is not known better.
    Layered,
    /// An olivine: lower voltage, lower density, coatings that are pressed less.
    Olivine,
}

impl Chemistry {
    /// Of a cathode whose active material has this name in the table.
    pub(crate) fn of(material: &str) -> Self {
        let olivine = ["LFP", "LMFP"].iter().any(|name| material.starts_with(name));
        if olivine { Self::Olivine } else { Self::Layered }
    }
}

/// What is known of a cell before anything in it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Setting {
    /// Outer diameter, mm.
    pub(crate) diameter: f64,
    /// Outer height, mm.
    pub(crate) height: f64,
    /// Of the cathode.
    pub(crate) chemistry: Chemistry,
    /// What the cell is made for.
    pub(crate) purpose: Purpose,
    /// How its current is collected.
    pub(crate) collected: Collected,
}

impl Setting {
    /// Diameter beyond that of the size with most published figures, mm.
    pub(super) fn wider(&self) -> f64 {
        self.diameter - 18.0
    }
}

/// The setting against which the table is shown where there is no cell.
pub(crate) const REFERENCE: Setting = Setting {
    diameter: 21.0,
    height: 70.0,
    chemistry: Chemistry::Layered,
    purpose: Purpose { middle: 0.2, deviation: 0.92 },
    collected: Collected { edges: false, chance: 0.0 },
};
