//! Hosts of the negative electrode. As assembled they hold no lithium: x = 0, below the window's low end.

use super::figure::{Figure, MILLIAMPERE_HOUR_PER_GRAM, Status, capacities, densities, range};
use super::half::{Grade, Half, Ion, Shape};
use super::row::Expansion;
use super::{Material, Role};

pub(super) const EFFICIENCY: &str = "typical half-cell values";

/// Measured: the anode of an opened cell, to 306 mAh/g; on to the practical capacity the plateau is continued.
pub(super) const GRAPHITE: Material = Material {
    name: "graphite",
    aliases: &["artificial graphite", "natural graphite"],
    role: Role::Anode,
    formula: Some("C"),
    density: Figure::memory(densities(2.20, 2.26), "pycnometer practice; the crystal is 2.26 to 2.267 g/cm³"),
    capacity: Some(Figure::memory(
        capacities(345.0, 362.0),
        "textbook values: 0.005 to 1.5 V against lithium, 0.1 C",
    )),
    initial_coulombic_efficiency: Some(Figure::memory(range(0.91, 0.95), EFFICIENCY)),
    half: Some(Half {
        shape: Shape::Points(&[
            (0.001_626_1, 1.3925), (0.005, 0.7433), (0.01, 0.5567), (0.02, 0.4268), (0.035, 0.2995), (0.05, 0.2408),
            (0.075, 0.2148), (0.1, 0.2068), (0.125, 0.1965), (0.15, 0.182), (0.175, 0.1655), (0.2, 0.151), (0.25, 0.1348),
            (0.3, 0.1298), (0.35, 0.1284), (0.4, 0.1274), (0.45, 0.125), (0.5, 0.119), (0.55, 0.1082), (0.6, 0.0974),
            (0.65, 0.0914), (0.7, 0.0891), (0.75, 0.0884), (0.8, 0.0882), (0.82258, 0.0881),
        ]),
        raised: 0.0,
        window: (0.001_626_1, 0.95),
        below: &[(0.0, 3.0)],
        above: &[(0.9, 0.0865), (0.93, 0.084), (0.95, 0.08), (0.98, 0.06), (1.0, 0.002)],
        continued: "past x = 0.82 the plateau of the last stage, then a fall to lithium at 1, from memory; below 0.0016 a wall",
        error: 0.01,
        error_source: "the graphite of an opened pouch cell lies 4 mV above it in the mean from x = 0.05 on, a third from memory \
                       9 mV below; direction stated for none, and hysteresis persists at open circuit (Mercer et al., J. \
                       Mater. Chem. A (2021), doi 10.1039/d0ta10403e, abstract)",
        shape_of: None,
        ion: Ion::Lithium,
        plates: false,
        scale: "of the file's largest concentration, 31400 mol/m³: x of LixC6",
        source: "points of the measured electrode of an opened 2 Ah cell of 18 mm × 65 mm, example file of the open \
                 parameter-exchange JSON standard for battery models (2022)",
        doi: None,
        status: Status::Read,
        check: "with its LFP 3.6486 V at 0.0875/0.82258 (stated 3.65), 2.0000 V at 0.95038/0.0016261 (stated 2.0)",
        grade: Grade::A,
    }),
    conduction: None,
    expansion: Some(Expansion {
        volume: Figure::memory(
            range(0.123, 0.132),
            "lattice constants of graphite and LiC6 give 12.3 to 12.7 %; 13.2 % measured by Schweidler et al., J. \
             Phys. Chem. C (2018)",
        )
        .doi("10.1021/acs.jpcc.8b01873"),
        at: 371.9 * MILLIAMPERE_HOUR_PER_GRAM,
    }),
};
