//! Hosts of the negative electrode. As assembled they hold no lithium: x = 0, below the window's low end.

use super::Form::{Exp, Polynomial, Sum, Tanh};
use super::cathode::{CHEN, CHEN_DOI, MOHTAT, MOHTAT_DOI};
use super::figure::{Figure, MILLIAMPERE_HOUR_PER_GRAM, Status, capacities, densities, density, range};
use super::formula::FARADAY;
use super::table::Expansion;
use super::{Form, Grade, Half, Material, Role};

const EFFICIENCY: &str = "typical half-cell values";
const GRAPHITE_DENSITY: Figure =
    Figure::memory(densities(2.20, 2.26), "pycnometer practice; the crystal is 2.267 g/cm³");

pub(super) const GRAPHITE: Material = Material {
    name: "graphite",
    aliases: &["artificial graphite", "natural graphite"],
    role: Role::Anode,
    formula: Some("C"),
    density: GRAPHITE_DENSITY,
    capacity: Some(Figure::memory(
        capacities(345.0, 362.0),
        "textbook values: 0.005 to 1.5 V against lithium, 0.1 C",
    )),
    first_cycle_efficiency: Some(Figure::memory(range(0.91, 0.95), EFFICIENCY)),
    half: Some(Half {
        form: Sum(&[
            Polynomial(&[0.063]),
            Exp { a: 0.8, k: -75.0, s: -75.0 * 0.007 },
            Form::step(-0.012, 0.127, 0.016),
            Form::step(-0.0118, 0.155, 0.016),
            Form::step(-0.0035, 0.22, 0.02),
            Form::step(-0.0095, 0.19, 0.013),
            Form::step(-0.0145, 0.49, 0.02),
            Form::step(-0.08, 1.03, 0.055),
        ]),
        window: (0.0017, 0.95),
        as_assembled: 0.0,
        scale: "x of LixC6",
        source: MOHTAT,
        doi: Some(MOHTAT_DOI),
        status: Status::Memory,
        check: "with the paper's NMC532 4.2000 V at 0.0335/0.8333, 3.047 V at 0.8907/0.0017 (stated 3.0)",
        grade: Grade::A,
    }),
    stand_in: None,
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

const GRAPHITE_SILICON_OXIDE_WINDOW: (f64, f64) = (0.0279, 0.9014);
/// Largest concentration of lithium in the host, mol/m³ ([`CHEN`], from memory).
const MOST_LITHIUM: f64 = 33_133.0;
/// What the window holds per volume of host, C/m³.
const WINDOW_CHARGE: f64 =
    MOST_LITHIUM * FARADAY * (GRAPHITE_SILICON_OXIDE_WINDOW.1 - GRAPHITE_SILICON_OXIDE_WINDOW.0);

/// Graphite with some silicon oxide, as one host. Its capacity is the paper's largest concentration times F times the
/// window over the density, taken as graphite's since the oxide's share is small: 343 to 353 mAh/g, at the high and
/// the low end of the density.
pub(super) const GRAPHITE_SILICON_OXIDE: Material = Material {
    name: "graphite with silicon oxide",
    aliases: &["graphite-SiOx", "graphite/SiOx", "graphite + SiOx", "graphite-silicon oxide"],
    role: Role::Anode,
    formula: None,
    density: Figure::assumed(densities(2.20, 2.26), "as graphite: pycnometer practice, from memory"),
    capacity: Some(
        Figure::computed(
            range(WINDOW_CHARGE / 2260.0, WINDOW_CHARGE / 2200.0),
            "33133 mol/m³ · F · window / density of 2.20 to 2.26 g/cm³; concentration from Chen et al., J. \
             Electrochem. Soc. 167 (2020) 080534, from memory",
        )
        .doi(CHEN_DOI),
    ),
    first_cycle_efficiency: Some(Figure::assumed(range(0.88, 0.92), "assumed between its partners")),
    half: Some(Half {
        form: Sum(&[
            Polynomial(&[0.2482]),
            Exp { a: 1.9793, k: -39.3631, s: 0.0 },
            Tanh { a: -0.0909, k: 29.8538, m: 0.1234 },
            Tanh { a: -0.044_78, k: 14.9159, m: 0.2769 },
            Tanh { a: -0.0205, k: 30.4444, m: 0.6103 },
        ]),
        window: GRAPHITE_SILICON_OXIDE_WINDOW,
        as_assembled: 0.0,
        scale: "the paper's own",
        source: CHEN,
        doi: Some(CHEN_DOI),
        status: Status::Memory,
        check: "with the paper's NMC811 4.193 V at 0.2661/0.9014 (stated 4.2), 2.498 V at 0.9084/0.0279 (stated 2.5); \
                flat above 0.9, no final drop",
        grade: Grade::A,
    }),
    stand_in: None,
    conduction: None,
    expansion: Some(Expansion {
        volume: Figure::assumed(range(0.15, 0.28), "graphite with some 2 to 10 % of silicon oxide"),
        at: MOST_LITHIUM * FARADAY / 2230.0,
    }),
};

/// The delithiation curve. Its window stands for whatever part of the capacity the design uses, hence the wide range:
/// state your own.
pub(super) const SILICON: Material = Material {
    name: "silicon",
    aliases: &["Si"],
    role: Role::Anode,
    formula: Some("Si"),
    density: Figure::read(
        density(2.33),
        "element table shipped with two general-purpose periodic-table packages",
    ),
    capacity: Some(Figure::memory(
        capacities(1000.0, 3200.0),
        "practical partial use, design dependent; Li15Si4 would be 3579 mAh/g",
    )),
    first_cycle_efficiency: Some(Figure::memory(range(0.80, 0.92), EFFICIENCY)),
    half: Some(Half {
        form: Polynomial(&[0.9937, -3.792, 16.87, -58.76, 140.2, -205.7, 161.3, -51.02]),
        window: (0.0, 1.0),
        as_assembled: 0.0,
        scale: "x/3.75 of LixSi",
        source: "seventh-degree fits attributed to Verbrugge, Baker, Xiao, J. Electrochem. Soc. 163 (2016) A262; \
                 attribution uncertain",
        doi: None,
        status: Status::Memory,
        check: "delithiation; mean 0.453 V, so the hysteresis against the same source's lithiation is about 0.24 V",
        grade: Grade::C,
    }),
    stand_in: None,
    conduction: None,
    expansion: Some(Expansion {
        volume: Figure::computed(
            range(2.77, 2.81),
            "3.75 Li at 8.9 mL per mole, a rule of Obrovac and Chevrier, Chem. Rev. 114 (2014) 11444, from memory; and \
             cubic cells of 5.43102 and 10.6852 Å of silicon and Li15Si4, from memory",
        )
        .doi("10.1021/cr500207g"),
        at: 3578.6 * MILLIAMPERE_HOUR_PER_GRAM,
    }),
};

/// Not prelithiated; no curve of its own.
pub(super) const SILICON_OXIDE: Material = Material {
    name: "silicon oxide",
    aliases: &["SiOx", "SiO", "silicon monoxide"],
    role: Role::Anode,
    formula: Some("SiO"),
    density: Figure::memory(density(2.13), "handbook value"),
    capacity: Some(Figure::memory(
        capacities(1300.0, 1700.0),
        "textbook values; 4 SiO + 15.25 Li -> 3 Li3.75Si + Li4SiO4 would give back 1710 mAh/g",
    )),
    first_cycle_efficiency: Some(Figure::memory(range(0.70, 0.78), EFFICIENCY)),
    half: None,
    stand_in: Some("silicon"),
    conduction: None,
    expansion: Some(Expansion {
        volume: Figure::memory(
            range(1.2, 1.6),
            "textbook values; 4 SiO + 15.25 Li -> 3 Li3.75Si + Li4SiO4 would gain 127 %",
        ),
        at: 1710.0 * MILLIAMPERE_HOUR_PER_GRAM,
    }),
};
