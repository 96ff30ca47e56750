//! Further hosts of the positive electrode: NCA, cobalt oxide, spinel and phosphates.

use super::Form::{ExpOfPower, Polynomial, Sum};
use super::figure::{Figure, Status, capacities, densities, density, range};
use super::half::{Grade, Half, Ion, Shape};
use super::nmc::{KINETIC_END, NMC811_HALF, layered};
use super::{Material, Role};

const EFFICIENCY: &str = "typical half-cell values";

const fn cathode(
    name: &'static str,
    aliases: &'static [&'static str],
    formula: &'static str,
    [density, capacity, efficiency]: [Figure; 3],
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

/// The paper's form stops at 4.2006 V; it is followed to 4.35 V, and the window to 4.30 V stands for the capacity that
/// was read to that voltage.
pub(super) const NCA: Material = cathode(
    "NCA",
    &["LiNi0.80Co0.15Al0.05O2", "NCA 80/15/5"],
    "LiNi0.8Co0.15Al0.05O2",
    [
        Figure::computed(density(4.747), "X-ray density of lattice constants from memory"),
        Figure::read(
            capacities(188.0, 204.0),
            "190.1 mAh/g from 2.8 to 4.3 V at 0.2 C, Liu, Chin. J. Nonferrous Met. (2013) 133, and 204.4 at 0.1 C, 196.3 at \
             0.2 C, Liu, Qin, Gao, Yu, Yue, Mater. Lett. (2019) 153: both abstracts",
        ),
        Figure::computed(
            range(0.83, 0.90),
            "204.4 of 245.6 mAh/g is 0.832, Liu, Qin, Gao, Yu, Yue, Mater. Lett. (2019) 153, abstract; the upper end from \
             memory",
        ),
    ],
    Half {
        shape: Shape::Form(
            Sum(&[
                Polynomial(&[
                    11.8058, -66.3691, 264.427, -554.774, 621.3475, -344.566, 81.246, -23.488, 15.056,
                    -2.222, 1.638,
                ]),
                ExpOfPower { a: -0.61386, k: 5.8201, p: 136.4 },
            ]),
            (0.3, 0.98),
        ),
        raised: 0.0,
        window: (0.317, 0.97),
        below: &[(0.24, 4.55), (0.27, 4.45)],
        above: &[(0.985, 2.81), (0.9885, 1.9)],
        continued: "the paper's window is 0.36 to 0.97; its form is followed to 4.35 V and to 3.2 V, beyond that from memory",
        error: 0.03,
        error_source: "no independent curve was found; a form from memory, followed beyond its window",
        shape_of: None,
        ion: Ion::Lithium,
        plates: false,
        scale: "y of LiyNi0.80Co0.15Al0.05O2 as the paper counts it",
        source: "Kim, Smith, Lee, Santhanagopalan, Pesaran, J. Electrochem. Soc. 158 (2011) A955",
        doi: Some("10.1149/1.3597614"),
        status: Status::Memory,
        check: "4.2006 V at 0.36, 3.658 V at 0.80",
        grade: Grade::B,
    },
);

/// Today's composition of the energy cells. The shape of NMC811, whose bend at 4.2 V such nickel contents share.
pub(super) const NCA88: Material = cathode(
    "NCA88",
    &["NCA 88/9/3", "NCA 90", "high-nickel NCA", "LiNi0.88Co0.09Al0.03O2"],
    "LiNi0.88Co0.09Al0.03O2",
    [
        Figure::computed(
            densities(4.65, 4.78),
            "as the nickel-rich NMCs: pycnometer practice to the crystal, from memory",
        ),
        Figure::memory(capacities(203.0, 220.0), "typical half-cell values to 4.3 V against lithium, 0.1 C"),
        layered(0.86, 0.92),
    ],
    Half {
        raised: -0.01,
        error: 0.026,
        error_source: "that of NMC811 and 90 mV for each whole exchange of metals, over 0.11 of the sites; the shift of 10 mV \
                       is a guess as large as itself",
        shape_of: Some("NMC811"),
        grade: Grade::C,
        ..NMC811_HALF
    },
);

/// The plateau is measured; the knee is undecided between three sources.
pub(super) const LFP: Material = cathode(
    "LFP",
    &["LiFePO4", "lithium iron phosphate"],
    "LiFePO4",
    [
        Figure::memory(densities(3.45, 3.60), "pycnometer practice; the crystal is 3.596 g/cm³"),
        Figure::read(
            capacities(155.0, 162.0),
            "introduction of an article in Batteries 8 (2022) 67: 160 mAh/g; the range from memory, 2.5 to 3.7 V \
             against lithium, 0.1 C",
        )
        .doi("10.3390/batteries8070067"),
        Figure::memory(range(0.96, 0.99), EFFICIENCY),
    ],
    Half {
        shape: Shape::Points(&[
            (0.0875, 3.7367), (0.1, 3.4137), (0.15, 3.4106), (0.2, 3.4099), (0.25, 3.4091), (0.3, 3.4084),
            (0.35, 3.4076), (0.4, 3.4069), (0.45, 3.4061), (0.5, 3.4054), (0.55, 3.4046), (0.6, 3.4039),
            (0.65, 3.4031), (0.7, 3.4024), (0.75, 3.4016), (0.8, 3.4009), (0.85, 3.4001), (0.9, 3.3994),
            (0.92, 3.3989), (0.94, 3.3968), (0.95038, 3.3924),
        ]),
        raised: 0.0,
        window: (0.0875, 0.99),
        below: &[(0.083, 4.6), (0.085, 4.15)],
        above: &[(0.96, 3.3806), (0.97, 3.3447), (0.98, 3.2368), (0.985, 3.1182), (0.99, 2.9126), (0.995, 2.5561), (1.0, 1.9379)],
        continued: "from y = 0.95 on what the file's closed form gives; below 0.0875 a wall, from memory",
        error: 0.008,
        error_source: "a digitised lithiation curve (Rowden, Garcia-Araez, Energy Reports 7 (2021) 97, doi \
                       10.1016/j.egyr.2021.02.048) lies 7 to 15 mV below the plateau to y = 0.6, more at its knee",
        shape_of: None,
        ion: Ion::Lithium,
        plates: false,
        scale: "of the file's largest concentration, 21200 mol/m³, of which the opened cell used 86 %",
        source: "points of the measured electrode of an opened 2 Ah cell of 18 mm × 65 mm, example file of the open \
                 parameter-exchange JSON standard for battery models (2022)",
        doi: None,
        status: Status::Read,
        check: "with its graphite 3.6486 V at 0.0875/0.82258 (stated 3.65), 2.0000 V at 0.95038/0.0016261 (stated 2.0)",
        grade: Grade::A,
    },
);

/// Mixed phosphate, 60 % manganese: two plateaus.
pub(super) const LMFP: Material = cathode(
    "LMFP",
    &["LiMn0.6Fe0.4PO4", "lithium manganese iron phosphate"],
    "LiMn0.6Fe0.4PO4",
    [
        Figure::memory(densities(3.35, 3.52), "pycnometer practice; between LiFePO4 and LiMnPO4, 3.43 g/cm³"),
        Figure::read(
            capacities(145.0, 160.0),
            "LiMn0.6Fe0.4PO4: 166 mAh/g at 0.1 C, J. Mater. Chem. A (2014), and 156.5 mAh/g at 0.1 C, 2.0 to 4.3 V, in a \
             second abstract: laboratory powders, so the range lies lower, by assumption",
        )
        .doi("10.1039/c4ta03994g"),
        Figure::memory(range(0.93, 0.97), EFFICIENCY),
    ],
    Half {
        shape: Shape::Points(&[
            (0.02, 4.30), (0.05, 4.15), (0.1, 4.115), (0.2, 4.10), (0.3, 4.09), (0.4, 4.08), (0.5, 4.06), (0.55, 4.03),
            (0.58, 3.97), (0.6, 3.87), (0.62, 3.72), (0.64, 3.62), (0.67, 3.57), (0.7, 3.55), (0.75, 3.535),
            (0.8, 3.52), (0.85, 3.505), (0.9, 3.485), (0.94, 3.44), (0.97, 3.33),
        ]),
        raised: 0.0,
        window: (0.02, 0.985),
        below: &[(0.015, 4.7)],
        above: &[(0.985, 3.0), (0.995, 2.0)],
        continued: "walls, from memory",
        error: 0.04,
        error_source: "points from memory: plateaus of 4.1 V (manganese) and 3.5 V (iron) in the ratio of the metals",
        shape_of: None,
        ion: Ion::Lithium,
        plates: false,
        scale: "the crystal's lithium, y of LiyMn0.6Fe0.4PO4",
        source: "plateaus as textbooks have them",
        doi: None,
        status: Status::Memory,
        check: "mean 3.85 V",
        grade: Grade::C,
    },
);

/// Manganese spinel.
pub(super) const LMO: Material = cathode(
    "LMO",
    &["LiMn2O4", "lithium manganese oxide", "spinel"],
    "LiMn2O4",
    [
        Figure::memory(densities(4.10, 4.29), "pycnometer practice to the crystal, a = 8.24 Å"),
        Figure::read(
            capacities(105.0, 120.0),
            "introduction of an article in Batteries 8 (2022) 67: 120 mAh/g; the range below it from memory",
        )
        .doi("10.3390/batteries8070067"),
        Figure::memory(range(0.93, 0.97), EFFICIENCY),
    ],
    Half {
        shape: Shape::Points(&[
            (0.18, 4.2477),
            (0.2, 4.1769),
            (0.25, 4.1261),
            (0.3, 4.1183),
            (0.35, 4.1161),
            (0.4, 4.1142),
            (0.45, 4.1113),
            (0.5, 4.1040),
            (0.525, 4.0961),
            (0.55, 4.0833),
            (0.575, 4.0649),
            (0.6, 4.0434),
            (0.65, 4.0084),
            (0.7, 3.9920),
            (0.75, 3.9841),
            (0.8, 3.9774),
            (0.85, 3.9686),
            (0.9, 3.9539),
            (0.93, 3.9379),
            (0.95, 3.9195),
            (0.97, 3.8837),
            (0.98, 3.8463),
            (0.985, 3.8133),
            (0.99, 3.7543),
            (0.993, 3.6845),
            (0.995, 3.5934),
        ]),
        raised: 0.0,
        window: (0.18, 0.995),
        below: &[(0.15, 4.5453), (0.17, 4.3109)],
        above: &[(0.997, 3.35), (0.9985, 2.3)],
        continued: "charged, the paper's form; discharged, a wall from memory: the plateau at 2.9 V lies beyond",
        error: 0.025,
        error_source: "sampled from a form from memory; no independent curve was found",
        shape_of: None,
        ion: Ion::Lithium,
        plates: false,
        scale: "y of LiyMn2O4",
        source: "points of the closed form of Doyle, Newman, Gozdz, Schmutz, Tarascon, J. Electrochem. Soc. 143 (1996) 1890",
        doi: Some("10.1149/1.1836921"),
        status: Status::Memory,
        check: "plateaus at 4.12 and 3.98 V; mean 4.04 V",
        grade: Grade::B,
    },
);

/// The middle of a charge and a discharge that lie 100 mV apart, to y = 0.65; beyond, where the discharge falls behind,
/// the charge less 50 mV.
const LCO_HALF: Half = Half {
    shape: Shape::Points(&[
        (0.22, 4.544),
        (0.25, 4.451),
        (0.275, 4.4125),
        (0.3, 4.3735),
        (0.325, 4.333),
        (0.35, 4.2925),
        (0.375, 4.254),
        (0.4, 4.216),
        (0.425, 4.1815),
        (0.45, 4.147),
        (0.465, 4.1265),
        (0.5, 4.07),
        (0.55, 4.023),
        (0.6, 3.9795),
        (0.65, 3.9455),
        (0.7, 3.931),
        (0.75, 3.919),
        (0.8, 3.913),
        (0.85, 3.911),
        (0.9, 3.908),
        (0.925, 3.904),
        (0.95, 3.895),
        (0.975, 3.884),
    ]),
    raised: 0.0,
    window: (0.4, 0.98),
    below: &[(0.18, 4.64)],
    above: &[(0.98, 3.84), (0.985, 3.55), (0.99, 3.0), (0.994, 2.0)],
    continued: KINETIC_END,
    error: 0.035,
    error_source: "charge and discharge stand 100 to 200 mV apart: open circuit is known to 50 to 100 mV either way, taken as \
                   the ends of a range",
    shape_of: None,
    ion: Ion::Lithium,
    plates: false,
    scale: "y of LiyCoO2, set to 0.98 at the discharged end",
    source: "third cycle to 4.6 V of Qian et al., Nat. Commun. 9 (2018) 4918, the journal's source data: middle of charge and \
             discharge to y = 0.65, then the charge less 50 mV",
    doi: Some("10.1038/s41467-018-07296-6"),
    status: Status::Read,
    check: "at a working rate, not stated; 4.216 V at 0.40, 3.913 V at 0.80",
    grade: Grade::B,
};

pub(super) const LCO: Material = cathode(
    "LCO",
    &["LiCoO2", "lithium cobalt oxide"],
    "LiCoO2",
    [
        Figure::computed(
            densities(5.05, 5.08),
            "X-ray densities of lattice constants, from memory and of a crystal file",
        ),
        Figure::read(
            capacities(138.0, 150.0),
            "to 4.2 V against lithium: 140 mAh/g, introduction of an article in Batteries 8 (2022) 67; 143 mAh/g on the charge \
             of the curve's source, 159 between its branches (derived); the range is assumed",
        )
        .doi("10.3390/batteries8070067"),
        Figure::memory(
            range(0.93, 0.97),
            "typical half-cell values; 0.923 read to 4.6 V, Qian et al., Nat. Commun. 9 (2018) 4918",
        ),
    ],
    LCO_HALF,
);

/// Doped and coated, for cells charged to 4.4 V and beyond.
pub(super) const LCO_HIGH_VOLTAGE: Material = cathode(
    "high-voltage LCO",
    &["HV-LCO", "LCO 4.45 V"],
    "LiCoO2",
    [
        Figure::computed(
            densities(5.05, 5.08),
            "X-ray densities of lattice constants, from memory and of a crystal file",
        ),
        Figure::memory(capacities(172.0, 186.0), "to 4.45 V against lithium: 175 mAh/g, textbook value"),
        Figure::memory(range(0.92, 0.97), EFFICIENCY),
    ],
    Half { window: (0.25, 0.98), shape_of: Some("LCO"), error: 0.04, ..LCO_HALF },
);
