//! Lithium metal: a foil, or what is plated on bare copper.

use super::figure::{Figure, MILLIAMPERE_HOUR_PER_GRAM, Status, capacities, density, range};
use super::half::{Grade, Half, Ion, Shape};
use super::row::Expansion;
use super::row::{Material, Role};

/// One stoichiometry stands for the metal that the foil brings; plating goes far beyond it.
pub(super) const LITHIUM: Material = Material {
    name: "lithium metal",
    aliases: &["lithium", "lithium foil", "Li"],
    role: Role::Anode,
    formula: Some("Li"),
    density: Figure::memory(density(0.534), "handbook value"),
    capacity: Some(Figure::computed(
        capacities(3850.0, 3861.8),
        "F/3.6M is 3861.9 mAh/g; a little of a foil is its own oxide and nitride, by assumption",
    )),
    initial_coulombic_efficiency: Some(Figure::memory(
        range(0.95, 0.995),
        "share of what was plated that is stripped again, first cycle; articles reach from 95 to above 99 %",
    )),
    half: Some(Half {
        shape: Shape::Points(&[(0.0, 2.0), (0.001, 0.01), (0.01, 0.002), (1.0, 0.0015), (10.0, 0.0014)]),
        raised: 0.0,
        window: (0.0, 1.0),
        below: &[],
        above: &[(1e3, 0.0012), (1e6, 0.001)],
        continued: "plated metal has the potential of the foil, however much there is of it",
        error: 0.005,
        error_source: "zero by definition against itself; plating and stripping take some millivolts: a guess",
        shape_of: None,
        ion: Ion::Lithium,
        plates: true,
        scale: "the metal there at assembly",
        source: "the electrode that all potentials here are against; at both ends walls that keep it falling",
        doi: None,
        status: Status::Assumed,
        check: "1.5 mV where none is due",
        grade: Grade::B,
    }),
    conduction: None,
    expansion: Some(Expansion {
        volume: Figure::assumed(range(1.0, 1.3), "from dense to a quarter pores; mossy deposits take more"),
        at: 3855.9 * MILLIAMPERE_HOUR_PER_GRAM,
    }),
};
