//! A number of the table with its source, and short ways to write one in the trade's units.

use roulade_stats::uncertain::{Spread, Uncertain};
use serde::Serialize;

/// How a figure came here.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Status {
    /// Read in the source named.
    Read,
    /// From memory: to be read again before it is relied on.
    Memory,
    /// Arithmetic on the inputs named.
    Computed,
    /// Supposed, for want of a source.
    Assumed,
}

/// A number of the table with its source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// The number, SI base units.
    pub uncertain: Uncertain,
    /// Where it comes from, in words.
    pub source: &'static str,
    /// The article's digital object identifier.
    pub doi: Option<&'static str>,
    /// How it came here.
    pub status: Status,
}

impl Figure {
    const fn new(uncertain: Uncertain, status: Status, source: &'static str) -> Self {
        Self { uncertain, source, doi: None, status }
    }

    /// Read in `source`.
    pub(super) const fn read(uncertain: Uncertain, source: &'static str) -> Self {
        Self::new(uncertain, Status::Read, source)
    }

    /// From memory.
    pub(super) const fn memory(uncertain: Uncertain, source: &'static str) -> Self {
        Self::new(uncertain, Status::Memory, source)
    }

    /// Computed.
    pub(super) const fn computed(uncertain: Uncertain, source: &'static str) -> Self {
        Self::new(uncertain, Status::Computed, source)
    }

    /// Supposed.
    pub(super) const fn assumed(uncertain: Uncertain, source: &'static str) -> Self {
        Self::new(uncertain, Status::Assumed, source)
    }

    /// Its source, identifier and status in one line.
    pub fn cited(&self) -> String {
        cited(self.source, self.doi, self.status)
    }

    /// With the article's identifier.
    pub(super) const fn doi(self, doi: &'static str) -> Self {
        Self { doi: Some(doi), ..self }
    }
}

/// A source, identifier and status in one line.
pub fn cited(source: &str, doi: Option<&str>, status: Status) -> String {
    let status = match status {
        Status::Read => "read",
        Status::Memory => "from memory",
        Status::Computed => "computed",
        Status::Assumed => "assumed",
    };
    match doi {
        Some(doi) => format!("{source}, doi {doi}; {status}"),
        None => format!("{source}; {status}"),
    }
}

/// g/cm³ in kg/m³.
const GRAM_PER_CUBIC_CENTIMETRE: f64 = 1000.0;
/// mAh/g in C/kg.
pub(super) const MILLIAMPERE_HOUR_PER_GRAM: f64 = 3600.0;

/// A density in g/cm³, taken as it stands.
pub(super) const fn density(value: f64) -> Uncertain {
    exact(value * GRAM_PER_CUBIC_CENTIMETRE)
}

/// A density somewhere between two bounds in g/cm³.
pub(super) const fn densities(low: f64, high: f64) -> Uncertain {
    range(low * GRAM_PER_CUBIC_CENTIMETRE, high * GRAM_PER_CUBIC_CENTIMETRE)
}

/// A density in g/cm³ with its standard uncertainty.
pub(super) const fn density_within(value: f64, u: f64) -> Uncertain {
    Uncertain {
        value: value * GRAM_PER_CUBIC_CENTIMETRE,
        spread: Spread::Standard(u * GRAM_PER_CUBIC_CENTIMETRE),
    }
}

/// A capacity somewhere between two bounds in mAh/g.
pub(super) const fn capacities(low: f64, high: f64) -> Uncertain {
    range(low * MILLIAMPERE_HOUR_PER_GRAM, high * MILLIAMPERE_HOUR_PER_GRAM)
}

/// A resistivity somewhere between two bounds in nΩ·m.
pub(super) const fn resistivities(low: f64, high: f64) -> Uncertain {
    range(low * 1e-9, high * 1e-9)
}

/// A number taken as it stands.
pub(super) const fn exact(value: f64) -> Uncertain {
    Uncertain { value, spread: Spread::Exact }
}

/// Anywhere between two bounds; the value is their middle.
pub(super) const fn range(low: f64, high: f64) -> Uncertain {
    Uncertain { value: 0.5 * (low + high), spread: Spread::Range { low, high } }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::units::Unit;

    #[test]
    fn a_figure_cites_its_source() {
        let read = Figure::read(density(1.0), "an article");
        assert_eq!(read.cited(), "an article; read");
        assert_eq!(read.doi("10.1/x").cited(), "an article, doi 10.1/x; read");
        assert_eq!(Figure::memory(density(1.0), "a book").cited(), "a book; from memory");
        assert_eq!(Figure::computed(density(1.0), "a lattice").cited(), "a lattice; computed");
        assert_eq!(Figure::assumed(density(1.0), "nothing").cited(), "nothing; assumed");
    }

    #[test]
    fn units_are_those_of_the_crate() {
        assert_eq!(density(1.0), Uncertain::exact(Unit::GramPerCubicCentimetre.in_si()));
        assert_eq!(capacities(1.0, 1.0).value.to_bits(), Unit::MilliampereHourPerGram.in_si().to_bits());
        assert_eq!(range(1.0, 2.0), Uncertain::range(1.0, 2.0));
    }
}
