//! Silicon, its oxide, and graphite that holds some of it.

use super::Form::{Exp, Polynomial, Sum, Tanh};
use super::anode::EFFICIENCY;
use super::figure::{Figure, MILLIAMPERE_HOUR_PER_GRAM, Status, capacities, densities, density, range};
use super::formula::FARADAY;
use super::half::{Grade, Half, Ion, Shape};
use super::nmc::{CHEN, CHEN_DOI};
use super::row::Expansion;
use super::{Material, Role};

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
    initial_coulombic_efficiency: Some(Figure::assumed(range(0.88, 0.92), "assumed between its partners")),
    half: Some(Half {
        shape: Shape::Form(
            Sum(&[
                Polynomial(&[0.2482]),
                Exp { a: 1.9793, k: -39.3631, s: 0.0 },
                Tanh { a: -0.0909, k: 29.8538, m: 0.1234 },
                Tanh { a: -0.044_78, k: 14.9159, m: 0.2769 },
                Tanh { a: -0.0205, k: 30.4444, m: 0.6103 },
            ]),
            (0.0, 0.9014),
        ),
        raised: 0.0,
        window: GRAPHITE_SILICON_OXIDE_WINDOW,
        below: &[],
        above: &[(0.906, 0.085), (0.911, 0.06), (0.915, 0.002)],
        continued: "emptied, the paper's form down to x = 0; full, a fall to lithium within 2 % of the window, from memory",
        error: 0.02,
        error_source: "no independent curve was found; graphites measured elsewhere lie within 20 mV of forms like it",
        shape_of: None,
        ion: Ion::Lithium,
        plates: false,
        scale: "the paper's own",
        source: CHEN,
        doi: Some(CHEN_DOI),
        status: Status::Memory,
        check: "with the paper's NMC811 4.193 V at 0.2661/0.9014 (stated 4.2), 2.498 V at 0.9084/0.0279 (stated 2.5); \
                flat above 0.9, no final drop",
        grade: Grade::A,
    }),
    conduction: None,
    expansion: Some(Expansion {
        volume: Figure::assumed(range(0.15, 0.28), "graphite with some 2 to 10 % of silicon oxide"),
        at: MOST_LITHIUM * FARADAY / 2230.0,
    }),
};

const SILICON_HALF: Half = Half {
    shape: Shape::Points(&[
        (0.025, 1.374),
        (0.05, 1.181),
        (0.075, 1.036),
        (0.1, 0.93),
        (0.15, 0.781),
        (0.2, 0.689),
        (0.25, 0.619),
        (0.3, 0.566),
        (0.35, 0.525),
        (0.4, 0.494),
        (0.45, 0.467),
        (0.5, 0.437),
        (0.55, 0.411),
        (0.6, 0.374),
        (0.65, 0.341),
        (0.7, 0.314),
        (0.75, 0.291),
        (0.8, 0.267),
        (0.85, 0.239),
        (0.9, 0.203),
        (0.95, 0.142),
    ]),
    raised: 0.0,
    window: (0.0, 1.0),
    below: &[(0.0, 1.55)],
    above: &[(0.98, 0.085), (1.0, 0.03)],
    continued: "the figure runs from 1.5 to 0.03 V; its ends from memory",
    error: 0.03,
    error_source: "lithiation lies some 240 mV lower: the branch of the discharge is taken; seventh-degree fits of uncertain \
                   attribution agree within 20 mV from x = 0.4 to 0.8",
    shape_of: None,
    ion: Ion::Lithium,
    plates: false,
    scale: "share of what a test used, not of Li15Si4",
    source: "delithiation, digitised from a figure of She, Uceda, Pope, ChemSusChem 14 (2021) 2952",
    doi: Some("10.1002/cssc.202100687"),
    status: Status::Read,
    check: "a digitised figure at second hand; 0.437 V at 0.5",
    grade: Grade::B,
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
    initial_coulombic_efficiency: Some(Figure::memory(range(0.80, 0.92), EFFICIENCY)),
    half: Some(SILICON_HALF),
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

/// Not prelithiated. The shape of silicon.
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
    initial_coulombic_efficiency: Some(Figure::memory(range(0.70, 0.78), EFFICIENCY)),
    half: Some(Half {
        error: 0.05,
        error_source: "that of silicon, and another host's shape: a guess",
        shape_of: Some("silicon"),
        grade: Grade::C,
        ..SILICON_HALF
    }),
    conduction: None,
    expansion: Some(Expansion {
        volume: Figure::memory(
            range(1.2, 1.6),
            "textbook values; 4 SiO + 15.25 Li -> 3 Li3.75Si + Li4SiO4 would gain 127 %",
        ),
        at: 1710.0 * MILLIAMPERE_HOUR_PER_GRAM,
    }),
};
