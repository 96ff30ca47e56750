//! Hosts of sodium: a layered oxide and hard carbon. Potentials are against sodium.

use super::figure::{Figure, MILLIAMPERE_HOUR_PER_GRAM, Status, capacities, densities, range};
use super::half::{Grade, Half, Ion, Shape};
use super::row::Expansion;
use super::{Material, Role};

const EFFICIENCY: &str = "typical half-cell values";
const MEMORY: &str = "points from memory of curves in many articles; no data were at hand";

/// O3-type oxide of nickel, iron and manganese in equal parts.
pub(super) const NFM111: Material = Material {
    name: "NFM111",
    aliases: &["NaNi1/3Fe1/3Mn1/3O2", "NFM", "sodium layered oxide"],
    role: Role::Cathode,
    formula: Some("NaNi0.3333Fe0.3333Mn0.3333O2"),
    density: Figure::memory(densities(4.2, 4.45), "pycnometer practice to the crystal"),
    capacity: Some(Figure::memory(
        capacities(125.0, 142.0),
        "2.0 to 4.0 V against sodium, 0.1 C: typical half-cell values",
    )),
    initial_coulombic_efficiency: Some(Figure::memory(range(0.88, 0.95), EFFICIENCY)),
    half: Some(Half {
        shape: Shape::Points(&[
            (0.42, 4.1),
            (0.44, 4.02),
            (0.46, 3.95),
            (0.5, 3.79),
            (0.55, 3.58),
            (0.6, 3.41),
            (0.65, 3.27),
            (0.7, 3.16),
            (0.75, 3.07),
            (0.8, 2.99),
            (0.85, 2.92),
            (0.9, 2.84),
            (0.94, 2.74),
            (0.97, 2.55),
        ]),
        raised: 0.0,
        window: (0.445, 0.985),
        below: &[(0.38, 4.25)],
        above: &[(0.985, 2.2), (0.995, 1.5)],
        continued: "from memory",
        error: 0.06,
        error_source: MEMORY,
        shape_of: None,
        ion: Ion::Sodium,
        plates: false,
        scale: "y of NayNi1/3Fe1/3Mn1/3O2",
        source: "slope from 4.0 to 2.7 V against sodium as articles on this oxide show it",
        doi: None,
        status: Status::Memory,
        check: "mean 3.2 V",
        grade: Grade::C,
    }),
    conduction: None,
    expansion: None,
};

/// Hard carbon against sodium: a slope and a plateau.
pub(super) const HARD_CARBON: Material = Material {
    name: "hard carbon",
    aliases: &["non-graphitising carbon", "HC"],
    role: Role::Anode,
    formula: Some("C"),
    density: Figure::memory(densities(1.5, 2.0), "with closed pores to helium pycnometry"),
    capacity: Some(Figure::memory(
        capacities(270.0, 330.0),
        "0.005 to 2 V against sodium, 0.1 C: typical half-cell values",
    )),
    initial_coulombic_efficiency: Some(Figure::memory(range(0.82, 0.92), EFFICIENCY)),
    half: Some(Half {
        shape: Shape::Points(&[
            (0.01, 1.6),
            (0.025, 1.25),
            (0.05, 1.02),
            (0.1, 0.78),
            (0.15, 0.62),
            (0.2, 0.5),
            (0.25, 0.4),
            (0.3, 0.31),
            (0.35, 0.235),
            (0.4, 0.17),
            (0.45, 0.125),
            (0.5, 0.103),
            (0.6, 0.085),
            (0.7, 0.07),
            (0.8, 0.055),
            (0.9, 0.036),
            (0.96, 0.02),
        ]),
        raised: 0.0,
        window: (0.0, 0.99),
        below: &[(0.0, 2.5)],
        above: &[(0.99, 0.008), (1.0, 0.001)],
        continued: "from memory",
        error: 0.04,
        error_source: MEMORY,
        shape_of: None,
        ion: Ion::Sodium,
        plates: false,
        scale: "share of the practical capacity",
        source: "slope below 1 V and plateau at 0.1 to 0.05 V against sodium as articles on hard carbon show them",
        doi: None,
        status: Status::Memory,
        check: "mean 0.27 V",
        grade: Grade::C,
    }),
    conduction: None,
    expansion: Some(Expansion {
        volume: Figure::assumed(range(0.0, 0.04), "next to none: sodium goes into pores; a guess"),
        at: 300.0 * MILLIAMPERE_HOUR_PER_GRAM,
    }),
};
