//! Hosts of the positive electrode.
//!
//! A powder has closed pores, so the true density of the NMCs is a range from the low end of pycnometer practice up to
//! the crystal; of NCA and LCO only the crystal is known here.

use super::Form::{EvenRatio, Exp, ExpOfPower, Polynomial, Sum, Tanh};
use super::figure::{Figure, Status, capacities, capacity, densities, density, range};
use super::{Grade, Half, Material, Role};

const OXIDE_DENSITY: &str = "low end of pycnometer practice, from memory, to the X-ray density of lattice constants \
                             from memory";
const EFFICIENCY: &str = "typical half-cell values to 4.3 V against lithium";
const NOH: &str =
    "Noh, Youn, Yoon, Sun, J. Power Sources 233 (2013) 121: 3.0 to 4.3 V against lithium, 0.1 C, 25 °C";
const NOH_DOI: &str = "10.1016/j.jpowsour.2013.01.063";
// The two papers whose full cells check two pairs of curves.
pub(super) const CHEN: &str = "Chen et al., J. Electrochem. Soc. 167 (2020) 080534";
pub(super) const CHEN_DOI: &str = "10.1149/1945-7111/ab9050";
pub(super) const MOHTAT: &str =
    "Mohtat, Lee, Sulzer, Siegel, Stefanopoulou, J. Electrochem. Soc. 167 (2020) 110561";
pub(super) const MOHTAT_DOI: &str = "10.1149/1945-7111/aba5d1";

const fn layered(low: f64, high: f64) -> Figure {
    Figure::memory(range(low, high), EFFICIENCY)
}

const NMC811_WINDOW: (f64, f64) = (0.2661, 0.9084);

/// The range of capacity holds the 200 mAh/g that was read and the 203 mAh/g of [`NOH`] (from memory). The curve's
/// paper spans 1.285 times the crystal's lithium, so the window stands for the practical capacity and nothing else.
pub(super) const NMC811: Material = Material {
    name: "NMC811",
    aliases: &["NCM811", "NMC 811", "NCM 811", "LiNi0.8Mn0.1Co0.1O2"],
    role: Role::Cathode,
    formula: Some("LiNi0.8Mn0.1Co0.1O2"),
    density: Figure::computed(densities(4.65, 4.778), OXIDE_DENSITY),
    capacity: Some(
        Figure::read(
            capacities(197.0, 206.0),
            "Laine et al., Dalton Trans. (2023): 200 mAh/g down to 3.0 V; the range about it is assumed",
        )
        .doi("10.1039/d2dt02246j"),
    ),
    first_cycle_efficiency: Some(layered(0.86, 0.90)),
    half: Some(Half {
        form: Sum(&[
            Polynomial(&[4.4875, -0.809]),
            Tanh { a: -0.0428, k: 18.5138, m: 0.5542 },
            Tanh { a: -17.7326, k: 15.789, m: 0.3117 },
            Tanh { a: 17.5842, k: 15.9308, m: 0.312 },
        ]),
        window: NMC811_WINDOW,
        as_assembled: Half::before_first_charge(NMC811_WINDOW, 0.88),
        scale: "the paper's own, not the crystal's lithium",
        source: CHEN,
        doi: Some(CHEN_DOI),
        status: Status::Memory,
        check: "with the paper's anode 4.193 V at 0.2661/0.9014 (stated 4.2), 2.498 V at 0.9084/0.0279 (stated 2.5)",
        grade: Grade::A,
    }),
    stand_in: None,
    conduction: None,
    expansion: None,
};

/// No curve of its own.
pub(super) const NMC622: Material = Material {
    name: "NMC622",
    aliases: &["NCM622", "NMC 622", "NCM 622", "LiNi0.6Mn0.2Co0.2O2"],
    role: Role::Cathode,
    formula: Some("LiNi0.6Mn0.2Co0.2O2"),
    density: Figure::computed(densities(4.65, 4.763), OXIDE_DENSITY),
    capacity: Some(Figure::memory(capacity(187.0), NOH).doi(NOH_DOI)),
    first_cycle_efficiency: Some(layered(0.87, 0.90)),
    half: None,
    stand_in: None,
    conduction: None,
    expansion: None,
};

const NMC532_WINDOW: (f64, f64) = (0.0335, 0.8907);

/// The paper's scale is 200 mAh/g per unit of y, so its window is 171.4 mAh/g; the range goes on to the 175 mAh/g of
/// [`NOH`].
pub(super) const NMC532: Material = Material {
    name: "NMC532",
    aliases: &["NCM523", "NMC523", "NCM532", "NMC 532", "LiNi0.5Mn0.3Co0.2O2"],
    role: Role::Cathode,
    formula: Some("LiNi0.5Mn0.3Co0.2O2"),
    density: Figure::computed(densities(4.65, 4.732), OXIDE_DENSITY),
    capacity: Some(
        Figure::computed(
            capacities(168.0, 175.0),
            "Mohtat et al., J. Electrochem. Soc. 167 (2020) 110561: 200 mAh/g per unit of y over the window is 171.4; \
             upper end 175 mAh/g, Noh et al., J. Power Sources 233 (2013) 121; both from memory",
        )
        .doi(MOHTAT_DOI),
    ),
    first_cycle_efficiency: Some(layered(0.87, 0.90)),
    half: Some(Half {
        form: Sum(&[
            Polynomial(&[4.3452, -1.6518, 1.6225, -2.0843, 3.5146, -2.2166]),
            Exp { a: -5.623e-5, k: 109.451, s: -100.006 },
        ]),
        window: NMC532_WINDOW,
        as_assembled: Half::before_first_charge(NMC532_WINDOW, 0.885),
        scale: "the paper's own, about 200 mAh/g per unit of y, not the crystal's lithium",
        source: MOHTAT,
        doi: Some(MOHTAT_DOI),
        status: Status::Memory,
        check: "with the paper's graphite 4.2000 V at 0.0335/0.8333, 3.047 V at 0.8907/0.0017 (stated 3.0)",
        grade: Grade::A,
    }),
    stand_in: None,
    conduction: None,
    expansion: None,
};

/// No curve of its own, and no efficiency known.
pub(super) const NMC111: Material = Material {
    name: "NMC111",
    aliases: &["NCM111", "NMC333", "NMC 111", "LiNi1/3Mn1/3Co1/3O2"],
    role: Role::Cathode,
    formula: Some("LiNi0.3333Mn0.3333Co0.3333O2"),
    density: Figure::computed(
        densities(4.65, 4.753),
        "low end of pycnometer practice, from memory, to the X-ray density of the lattice constants in Electrochim. \
         Acta 48 (2002) 145 (abstract, read)",
    ),
    capacity: Some(Figure::memory(capacity(163.0), NOH).doi(NOH_DOI)),
    first_cycle_efficiency: None,
    half: None,
    stand_in: None,
    conduction: None,
    expansion: None,
};

/// The curve is on the crystal's scale, so its window times the crystal's capacity is the capacity to 4.20 V; 190 to
/// 200 mAh/g are met to 4.3 V (textbook values, from memory).
pub(super) const NCA: Material = Material {
    name: "NCA",
    aliases: &["LiNi0.80Co0.15Al0.05O2", "NCA 80/15/5"],
    role: Role::Cathode,
    formula: Some("LiNi0.8Co0.15Al0.05O2"),
    density: Figure::computed(density(4.747), "X-ray density of lattice constants from memory"),
    capacity: Some(Figure::computed(
        capacity(0.61 * 278.94),
        "window 0.36 to 0.97 of the crystal's 278.94 mAh/g (F/3.6M from standard atomic weights)",
    )),
    first_cycle_efficiency: Some(layered(0.86, 0.90)),
    half: Some(Half {
        form: Sum(&[
            Polynomial(&[
                11.8058, -66.3691, 264.427, -554.774, 621.3475, -344.566, 81.246, -23.488, 15.056, -2.222,
                1.638,
            ]),
            ExpOfPower { a: -0.61386, k: 5.8201, p: 136.4 },
        ]),
        window: (0.36, 0.97),
        as_assembled: 1.0,
        scale: "the crystal's lithium, y of LiyNi0.80Co0.15Al0.05O2",
        source: "Kim, Smith, Lee, Santhanagopalan, Pesaran, J. Electrochem. Soc. 158 (2011) A955",
        doi: Some("10.1149/1.3597614"),
        status: Status::Memory,
        check: "4.2006 V at 0.36, 3.658 V at 0.80",
        grade: Grade::B,
    }),
    stand_in: None,
    conduction: None,
    expansion: None,
};

/// The simple form: the one with powers (Safari, Delacourt, 2011) has two terms near 2000 V that cancel, and lies
/// 30 mV higher on the plateau.
pub(super) const LFP: Material = Material {
    name: "LFP",
    aliases: &["LiFePO4", "lithium iron phosphate"],
    role: Role::Cathode,
    formula: Some("LiFePO4"),
    density: Figure::memory(densities(3.45, 3.60), "pycnometer practice; the crystal is 3.596 g/cm³"),
    capacity: Some(
        Figure::read(
            capacities(155.0, 162.0),
            "introduction of an article in Batteries 8 (2022) 67: 160 mAh/g; the range from memory, 2.5 to 3.7 V \
             against lithium, 0.1 C",
        )
        .doi("10.3390/batteries8070067"),
    ),
    first_cycle_efficiency: Some(Figure::memory(range(0.96, 0.99), "typical half-cell values")),
    half: Some(Half {
        form: Sum(&[
            Polynomial(&[3.4077, -0.020_269]),
            Exp { a: 0.5, k: -150.0, s: 0.0 },
            Exp { a: -0.9, k: 30.0, s: -30.0 },
        ]),
        window: (0.005, 0.98),
        as_assembled: 1.0,
        scale: "the crystal's lithium, y of LiyFePO4",
        source: "Afshar, Morris, Khajepour, arXiv:1709.03970",
        doi: None,
        status: Status::Memory,
        check: "3.6438 V at 0.005, 2.8939 V at 0.98; plateau 3.40 V",
        grade: Grade::B,
    }),
    stand_in: None,
    conduction: None,
    expansion: None,
};

/// The curve is on the crystal's scale, so its window times the crystal's capacity is the capacity.
pub(super) const LCO: Material = Material {
    name: "LCO",
    aliases: &["LiCoO2", "lithium cobalt oxide"],
    role: Role::Cathode,
    formula: Some("LiCoO2"),
    density: Figure::computed(density(5.053), "X-ray density of lattice constants from memory"),
    capacity: Some(Figure::computed(
        capacity(0.515 * 273.84),
        "window 0.465 to 0.98 of the crystal's 273.84 mAh/g (F/3.6M from standard atomic weights)",
    )),
    first_cycle_efficiency: Some(layered(0.94, 0.97)),
    half: Some(Half {
        form: EvenRatio {
            above: &[-4.656, 88.669, -401.119, 342.909, -462.471, 433.434],
            below: &[-1.0, 18.933, -79.532, 37.311, -73.083, 95.96],
        },
        window: (0.465, 0.98),
        as_assembled: 1.0,
        scale: "the crystal's lithium, y of LiyCoO2",
        source: "Ramadass, Haran, Gomadam, White, Popov, J. Electrochem. Soc. 151 (2004) A196",
        doi: Some("10.1149/1.1634273"),
        status: Status::Memory,
        check: "4.358 V at 0.465, 4.235 V at 0.50, 3.914 V at 0.80",
        grade: Grade::B,
    }),
    stand_in: None,
    conduction: None,
    expansion: None,
};
