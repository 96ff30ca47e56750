//! The table as it is listed.

use super::rows::QUANTITIES;
use super::{Quantity, Typical};
use serde::Serialize;

/// A quantity as it is listed.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Listed {
    /// Its name.
    pub key: &'static str,
    /// Heading.
    pub group: &'static str,
    /// Unit of the trade.
    pub unit: &'static str,
    /// Path of the input it reads directly; empty for none.
    pub input: &'static str,
    /// Standard uncertainty of an ordinary instrument, as one would write it: common practice, no source.
    pub typical: String,
    /// That instrument.
    pub instrument: &'static str,
    /// What is meant by it.
    pub note: &'static str,
}

/// Every quantity as it is listed.
pub fn listed() -> Vec<Listed> {
    let typical = |quantity: &Quantity| {
        let Typical { absolute, relative, .. } = quantity.typical;
        let parts = [(absolute, quantity.unit.symbol()), (100.0 * relative, "% of the value")];
        let written = parts.iter().filter(|(u, _)| *u > 0.0).map(|(u, unit)| format!("{u} {unit}"));
        written.collect::<Vec<_>>().join(" and ")
    };
    QUANTITIES
        .iter()
        .map(|quantity| Listed {
            key: quantity.key,
            group: quantity.group,
            unit: quantity.unit.symbol(),
            input: quantity.input,
            typical: typical(quantity),
            instrument: quantity.typical.instrument,
            note: quantity.note,
        })
        .collect()
}
