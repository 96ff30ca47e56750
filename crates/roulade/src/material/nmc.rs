//! Layered oxides of nickel, manganese and cobalt.
//!
//! A powder has closed pores, so the true density of each is a range from the low end of pycnometer practice up to the
//! crystal. Capacities hold to 4.3 V against lithium.

use super::Form::{Exp, Polynomial, Sum, Tanh};
use super::figure::{Figure, Status, capacities, densities, range};
use super::half::{Grade, Half, Ion, Shape};
use super::{Material, Role};

const OXIDE_DENSITY: &str = "low end of pycnometer practice, from memory, to the X-ray density of lattice constants \
                             from memory";
const EFFICIENCY: &str = "typical half-cell values to 4.3 V against lithium; more where the discharge is held at its limit: \
                          of 36 mAh/g that NMC111 loses in a first cycle to 4.6 V 22 come back (Kasnatscheew et al. \
                          (2014), abstract)";
const NOH: &str =
    "Noh, Youn, Yoon, Sun, J. Power Sources 233 (2013) 121: 3.0 to 4.3 V against lithium, 0.1 C, 25 °C";
const NOH_DOI: &str = "10.1016/j.jpowsour.2013.01.063";
// The two papers whose full cells check two pairs of curves.
pub(super) const CHEN: &str = "Chen et al., J. Electrochem. Soc. 167 (2020) 080534";
pub(super) const CHEN_DOI: &str = "10.1149/1945-7111/ab9050";
const MOHTAT: &str = "Mohtat, Lee, Sulzer, Siegel, Stefanopoulou, J. Electrochem. Soc. 167 (2020) 110561";
const MOHTAT_DOI: &str = "10.1149/1945-7111/aba5d1";
/// Of the high end of every layered oxide.
pub(super) const KINETIC_END: &str = "at the discharged end a fall within 3 % of the window: what is missing there to the first charge is slow rather than \
     gone (Robert, Novák, Chem. Mater. 30 (2018) 1907, abstract, of NCA down to 3.0 V), its width from memory";

pub(super) const fn layered(low: f64, high: f64) -> Figure {
    Figure::memory(range(low, high), EFFICIENCY)
}

const fn oxide(
    name: &'static str,
    aliases: &'static [&'static str],
    formula: &'static str,
    density: Figure,
    capacity: Figure,
    efficiency: Figure,
    half: Half,
) -> Material {
    Material {
        name,
        aliases,
        role: Role::Cathode,
        formula: Some(formula),
        density,
        capacity: Some(capacity),
        initial_coulombic_efficiency: Some(efficiency),
        half: Some(half),
        conduction: None,
        expansion: None,
    }
}

/// The form goes on to 4.47 V as one expects of the oxide, 21 mAh/g beyond the window.
pub(super) const NMC811_HALF: Half = Half {
    shape: Shape::Form(
        Sum(&[
            Polynomial(&[4.4875, -0.809]),
            Tanh { a: -0.0428, k: 18.5138, m: 0.5542 },
            Tanh { a: -17.7326, k: 15.789, m: 0.3117 },
            Tanh { a: 17.5842, k: 15.9308, m: 0.312 },
        ]),
        (0.2, 0.9084),
    ),
    raised: 0.0,
    window: (0.2661, 0.9084),
    below: &[(0.125, 4.7), (0.155, 4.58)],
    above: &[(0.9135, 3.50), (0.9187, 3.31), (0.9225, 2.96), (0.9264, 2.0)],
    continued: "to 4.47 V the paper's form itself, then from memory; at the discharged end a fall within 3 % of the window, \
                as of a host that is slow there",
    error: 0.02,
    error_source: "no independent curve was found; the shape of the layered oxides agrees within some 20 mV (table of \
                   independent data in the tests)",
    shape_of: None,
    ion: Ion::Lithium,
    plates: false,
    scale: "the paper's own, not the crystal's lithium",
    source: CHEN,
    doi: Some(CHEN_DOI),
    status: Status::Memory,
    check: "with the paper's anode 4.193 V at 0.2661/0.9014 (stated 4.2), 2.498 V at 0.9084/0.0279 (stated 2.5)",
    grade: Grade::A,
};

/// The range of capacity holds the 200 mAh/g that was read and the 203 mAh/g of [`NOH`] (from memory). The curve's
/// paper spans 1.285 times the crystal's lithium, so the window stands for the practical capacity and nothing else.
pub(super) const NMC811: Material = oxide(
    "NMC811",
    &["NCM811", "NMC 811", "NCM 811", "LiNi0.8Mn0.1Co0.1O2"],
    "LiNi0.8Mn0.1Co0.1O2",
    Figure::computed(densities(4.65, 4.778), OXIDE_DENSITY),
    Figure::read(
        capacities(197.0, 206.0),
        "Laine et al., Dalton Trans. (2023): 200 mAh/g down to 3.0 V; the range about it is assumed",
    )
    .doi("10.1039/d2dt02246j"),
    layered(0.86, 0.90),
    NMC811_HALF,
);

const RYU: &str = "Ryu, Park, Yoon, Sun, Chem. Mater. 30 (2018) 1155: some 227 mAh/g at 90 % and 235 mAh/g at 95 % nickel, 2.7 \
                   to 4.3 V, 0.1 C; the low end as cells for sale use it";
const RYU_DOI: &str = "10.1021/acs.chemmater.7b05269";

/// The shape of NMC811 at its own capacity; the mean falls a little as nickel displaces the others.
pub(super) const NMC90: Material = oxide(
    "NMC90",
    &["NCM90", "Ni90", "NMC 90/5/5", "NCM 90/5/5", "NMC955", "LiNi0.9Mn0.05Co0.05O2"],
    "LiNi0.9Mn0.05Co0.05O2",
    Figure::computed(densities(4.65, 4.79), OXIDE_DENSITY),
    Figure::memory(capacities(210.0, 228.0), RYU).doi(RYU_DOI),
    Figure::memory(range(0.87, 0.93), EFFICIENCY),
    Half {
        raised: -0.01,
        error: 0.025,
        error_source: "that of NMC811 and 90 mV for each whole exchange of metals, over 0.1 of the sites; the shift of 10 mV \
                       is a guess as large as itself",
        shape_of: Some("NMC811"),
        grade: Grade::B,
        ..NMC811_HALF
    },
);

/// The same, further.
pub(super) const NMC95: Material = oxide(
    "NMC95",
    &["NCM95", "Ni95", "LiNi0.95Mn0.025Co0.025O2"],
    "LiNi0.95Mn0.025Co0.025O2",
    Figure::computed(densities(4.65, 4.79), OXIDE_DENSITY),
    Figure::memory(capacities(218.0, 237.0), RYU).doi(RYU_DOI),
    Figure::memory(range(0.87, 0.93), EFFICIENCY),
    Half {
        raised: -0.02,
        error: 0.032,
        error_source: "that of NMC811 and 90 mV for each whole exchange of metals, over 0.15 of the sites; the shift of 20 mV \
                       is a guess as large as itself",
        shape_of: Some("NMC811"),
        grade: Grade::C,
        ..NMC811_HALF
    },
);

/// The form goes on to 4.53 V as one expects of the oxide; at the other end it stops where the paper's anode was empty.
const NMC532_HALF: Half = Half {
    shape: Shape::Form(
        Sum(&[
            Polynomial(&[4.3452, -1.6518, 1.6225, -2.0843, 3.5146, -2.2166]),
            Exp { a: -5.623e-5, k: 109.451, s: -100.006 },
        ]),
        (-0.1, 0.8907),
    ),
    raised: 0.0,
    window: (0.0335, 0.8907),
    below: &[(-0.17, 4.7), (-0.14, 4.62)],
    above: &[(0.8976, 3.60), (0.9044, 3.41), (0.9096, 3.06), (0.9147, 2.1)],
    continued: "to 4.53 V the paper's form itself, then from memory; at the discharged end a fall within 3 % of the window, \
                as of a host that is slow there",
    error: 0.025,
    error_source: "NMC111 and NMC of a grade not said lie 9 to 47 mV below it, measured and digitised (independent data in \
                   the tests)",
    shape_of: None,
    ion: Ion::Lithium,
    plates: false,
    scale: "the paper's own, about 200 mAh/g per unit of y, not the crystal's lithium",
    source: MOHTAT,
    doi: Some(MOHTAT_DOI),
    status: Status::Memory,
    check: "with the paper's own graphite 4.2000 V at 0.0335/0.8333, 3.047 V at 0.8907/0.0017 (stated 3.0)",
    grade: Grade::A,
};

/// The paper's scale is 200 mAh/g per unit of y, so its window is 171.4 mAh/g; the range goes on to the 175 mAh/g of
/// [`NOH`].
pub(super) const NMC532: Material = oxide(
    "NMC532",
    &["NCM523", "NMC523", "NCM532", "NMC 532", "LiNi0.5Mn0.3Co0.2O2"],
    "LiNi0.5Mn0.3Co0.2O2",
    Figure::computed(densities(4.65, 4.732), OXIDE_DENSITY),
    Figure::computed(
        capacities(168.0, 175.0),
        "Mohtat et al., J. Electrochem. Soc. 167 (2020) 110561: 200 mAh/g per unit of y over the window is 171.4; \
         upper end 175 mAh/g, Noh et al., J. Power Sources 233 (2013) 121; both from memory",
    )
    .doi(MOHTAT_DOI),
    layered(0.87, 0.90),
    NMC532_HALF,
);

/// The shape of NMC532 at its own capacity.
pub(super) const NMC622: Material = oxide(
    "NMC622",
    &["NCM622", "NMC 622", "NCM 622", "LiNi0.6Mn0.2Co0.2O2"],
    "LiNi0.6Mn0.2Co0.2O2",
    Figure::computed(densities(4.65, 4.763), OXIDE_DENSITY),
    Figure::memory(capacities(180.0, 188.0), NOH).doi(NOH_DOI),
    layered(0.87, 0.90),
    Half {
        error: 0.027,
        error_source: "that of NMC532 and 90 mV for each whole exchange of metals, over 0.1 of the sites",
        shape_of: Some("NMC532"),
        grade: Grade::B,
        ..NMC532_HALF
    },
);

/// Measured: the cathode of an opened pouch cell, with its graphite within 2 mV of both limits of that cell.
pub(super) const NMC111: Material = oxide(
    "NMC111",
    &["NCM111", "NMC333", "NMC 111", "LiNi1/3Mn1/3Co1/3O2"],
    "LiNi0.3333Mn0.3333Co0.3333O2",
    Figure::computed(
        densities(4.65, 4.78),
        "low end of pycnometer practice, from memory, to the X-ray density of the lattice constants of Li, Zhang, Guo, \
         Yang, Solid State Ionics 177 (2006) 1509 (crystal file, read)",
    ),
    Figure::computed(
        capacities(141.0, 163.0),
        "140 to 143 mAh/g used to 4.29 V in the opened cell of the curve (46200 mol/m³ over the window, derived); 163 mAh/g \
         to 4.3 V, Noh et al., J. Power Sources 233 (2013) 121, from memory",
    ),
    layered(0.86, 0.90),
    Half {
        shape: Shape::Points(&[
            (0.42424, 4.2907),
            (0.45, 4.2254),
            (0.475, 4.1646),
            (0.5, 4.1068),
            (0.525, 4.0522),
            (0.55, 4.0015),
            (0.575, 3.9549),
            (0.6, 3.913),
            (0.625, 3.8759),
            (0.65, 3.8439),
            (0.675, 3.817),
            (0.7, 3.7949),
            (0.725, 3.7771),
            (0.75, 3.7628),
            (0.775, 3.7511),
            (0.8, 3.7408),
            (0.825, 3.7305),
            (0.85, 3.7189),
            (0.875, 3.7048),
            (0.9, 3.6872),
            (0.92, 3.67),
            (0.94, 3.6491),
            (0.95, 3.6361),
            (0.9621, 3.6133),
        ]),
        raised: 0.0,
        window: (0.42424, 0.9621),
        below: &[(0.345, 4.5), (0.385, 4.395)],
        above: &[(0.9664, 3.55), (0.9707, 3.36), (0.974, 3.0), (0.9772, 2.0)],
        continued: "charged, 160 and 174.6 mAh/g to 4.4 and 4.5 V say some 4 % and 14 % more than to 4.29 V; points between \
                    that and the slope at the window's end, from memory; at the other end a fall within 3 % of the window",
        error: 0.012,
        error_source: "6 mV below the measured C/20 discharge of its own cell, where open circuit lies above; a digitised \
                       NMC of a grade not said 6 mV below it in the mean",
        shape_of: None,
        ion: Ion::Lithium,
        plates: false,
        scale: "of the file's largest concentration, 46200 mol/m³",
        source: "points of the measured electrode of an opened 12.5 Ah pouch cell, example file of the open \
                 parameter-exchange JSON standard for battery models (2022)",
        doi: None,
        status: Status::Read,
        check: "with its graphite 4.2018 V at 0.42424/0.75668 (stated 4.2), 2.7000 V at 0.9621/0.005504 (stated 2.7)",
        grade: Grade::A,
    },
);
