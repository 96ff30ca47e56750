//! The table of materials, as it is shown.

use roulade::material::{self, Figure, Grade, Role};
use roulade::quantity::notation;
use roulade::quantity::units::Unit;
use roulade_stats::uncertain::Uncertain;
use serde::Serialize;

/// A figure of a material with its source.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Sourced {
    /// With its spread and unit.
    pub text: String,
    /// Where it comes from, and how well.
    pub source: String,
}

/// A half-cell curve.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct HalfRow {
    /// Stoichiometry it is valid for.
    pub window: (f64, f64),
    /// Volts against lithium at both ends.
    pub ends: (f64, f64),
    /// Whose scale the stoichiometry is on.
    pub scale: &'static str,
    /// How well it is attested: A measured, or with its partner it gives its paper's voltage limits; B plausible; C uncertain.
    pub grade: Grade,
    /// Where it comes from.
    pub source: String,
    /// What it was checked against.
    pub check: &'static str,
    /// Standard uncertainty of its potential, and what stands behind it.
    pub error: Sourced,
    /// The metal that its potentials are against.
    pub against: &'static str,
    /// Material whose shape it has, where it is a neighbour's.
    pub shape_of: Option<&'static str>,
    /// What is added to that shape, V.
    pub raised: f64,
    /// Where it goes on past its window.
    pub continued: &'static str,
}

/// A material.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MaterialRow {
    /// As the trade calls it.
    pub name: &'static str,
    /// Other spellings.
    pub aliases: &'static [&'static str],
    /// What it does in a cell.
    pub role: Role,
    /// Chemical formula, where one describes it, and what it stands for where that is a mixture.
    pub formula: Option<Sourced>,
    /// True density.
    pub density: Sourced,
    /// Practical reversible capacity.
    pub capacity: Option<Sourced>,
    /// Initial coulombic efficiency.
    pub initial_coulombic_efficiency: Option<Sourced>,
    /// Resistivity of a metal at 20 °C.
    pub resistivity: Option<Sourced>,
    /// Its temperature coefficient at 20 °C, per kelvin.
    pub per_kelvin: Option<Sourced>,
    /// Volume that a host of the anode gains, from free of lithium to full.
    pub expansion: Option<Sourced>,
    /// Half-cell curve.
    pub half: Option<HalfRow>,
}

/// Every material of the table.
pub fn materials() -> Vec<MaterialRow> {
    let sourced = |figure: &Figure, unit| Sourced {
        text: notation::print_brief(&figure.uncertain, unit),
        source: figure.cited(),
    };
    material::MATERIALS
        .iter()
        .map(|m| MaterialRow {
            name: m.name,
            aliases: m.aliases,
            role: m.role,
            formula: m.formula.map(|formula| Sourced {
                text: formula.to_owned(),
                source: material::mixture(m.name).unwrap_or_default().to_owned(),
            }),
            density: sourced(&m.density, Unit::GramPerCubicCentimetre),
            capacity: m.capacity.map(|f| sourced(&f, Unit::MilliampereHourPerGram)),
            initial_coulombic_efficiency: m.initial_coulombic_efficiency.map(|f| sourced(&f, Unit::Percent)),
            resistivity: m.conduction.map(|c| sourced(&c.at_20, Unit::NanoohmMetre)),
            per_kelvin: m.conduction.map(|c| Sourced {
                text: format!("{} /K", notation::print_brief(&c.per_kelvin.uncertain, Unit::One)),
                source: c.per_kelvin.cited(),
            }),
            expansion: m.expansion.map(|e| sourced(&e.volume, Unit::Percent)),
            half: m.half.map(|half| HalfRow {
                window: half.window,
                ends: m.curve().map_or((f64::NAN, f64::NAN), |curve| {
                    (curve.potential(half.window.0), curve.potential(half.window.1))
                }),
                error: Sourced {
                    text: notation::print_brief(&Uncertain::standard(0.0, half.error), Unit::Millivolt),
                    source: half.error_source.to_owned(),
                },
                against: half.ion.name(),
                shape_of: half.shape_of,
                raised: half.raised,
                continued: half.continued,
                scale: half.scale,
                grade: half.grade,
                source: material::cited(half.source, half.doi, half.status),
                check: half.check,
            }),
        })
        .collect()
}
