//! Everything in a cell that stores no charge.

use super::figure::{Figure, densities, density, density_within, exact, range, resistivities};
use super::row::Conduction;
use super::{Material, Role};

const ELEMENTS: &str = "element table shipped with two general-purpose periodic-table packages";
/// What stands behind the formulas of mixtures.
const MIXTURES: [(&str, &str); 5] = [
    ("CMC", "sodium salt, 0.7 carboxymethyl groups per unit: common practice, no source"),
    ("SBR", "half styrene, half butadiene by mass: common practice, no source"),
    ("steel", "0.4 % Mn and 0.1 % C by mass, middle of AISI 1008 and 1010, from memory; no plating"),
    ("aluminium 3003", "1.25 % Mn, 0.5 % Fe, 0.3 % Si, 0.12 % Cu by mass, within EN 573-3, from memory"),
    (
        "electrolyte",
        "the solvent alone, ethylene carbonate and ethyl methyl carbonate 3:7 by mass: common practice, no source",
    ),
];

/// What stands behind the formula of a material that is a mixture.
pub fn mixture(name: &str) -> Option<&'static str> {
    MIXTURES.iter().find(|(mixture, _)| *mixture == name).map(|(_, words)| *words)
}

const HANDBOOK: &str = "handbook value";

const fn inactive(
    name: &'static str,
    aliases: &'static [&'static str],
    role: Role,
    formula: Option<&'static str>,
    density: Figure,
) -> Material {
    Material {
        name,
        aliases,
        role,
        formula,
        density,
        capacity: None,
        initial_coulombic_efficiency: None,
        half: None,
        conduction: None,
        expansion: None,
    }
}

const TWO_TABLES: &str = "encyclopaedia table of resistivities and engineering table of resistivities";
const ELEMENTS_AND_TABLE: &str = "element table and encyclopaedia table of resistivities";

impl Material {
    /// With how it conducts.
    const fn conducting(self, at_20: Figure, per_kelvin: Figure) -> Self {
        Self { conduction: Some(Conduction { at_20, per_kelvin }), ..self }
    }
}

pub(super) const PVDF: Material = inactive(
    "PVDF",
    &["polyvinylidene fluoride"],
    Role::Binder,
    Some("C2H2F2"),
    Figure::read(density(1.78), "encyclopaedia mirror"),
);

pub(super) const PTFE: Material = inactive(
    "PTFE",
    &["polytetrafluoroethylene"],
    Role::Binder,
    Some("C2F4"),
    Figure::read(densities(2.1, 2.2), "property table, ASTM D792, virgin; 2.2 g/cm³ usual for fine powder"),
);

pub(super) const CMC: Material = inactive(
    "CMC",
    &["Na-CMC", "carboxymethyl cellulose", "sodium carboxymethyl cellulose"],
    Role::Binder,
    Some("C7.4H10.7O6.4Na0.7"),
    Figure::read(density(1.6), "chemical property listing, sodium salt, 25 °C"),
);

pub(super) const SBR: Material = inactive(
    "SBR",
    &["styrene-butadiene rubber"],
    Role::Binder,
    Some("C15.72H19.58"),
    Figure::memory(densities(0.94, 1.0), "handbook value, dried latex"),
);

pub(super) const PAA: Material = inactive(
    "PAA",
    &["polyacrylic acid"],
    Role::Binder,
    Some("C3H4O2"),
    Figure::memory(density(1.4), HANDBOOK),
);

pub(super) const CARBON_BLACK: Material = inactive(
    "carbon black",
    &["conductive carbon", "CB"],
    Role::Conductive,
    Some("C"),
    Figure::read(
        densities(1.8, 2.1),
        "chemical safety overview page (calls it bulk density, but it is the true density)",
    ),
);

pub(super) const CARBON_NANOTUBES: Material = inactive(
    "carbon nanotubes",
    &["CNT", "CNTs"],
    Role::Conductive,
    Some("C"),
    Figure::memory(densities(1.7, 2.1), HANDBOOK),
);

/// From the pure element to the annealed standard.
pub(super) const COPPER: Material =
    inactive("copper", &["Cu"], Role::Metal, Some("Cu"), Figure::read(density(8.96), ELEMENTS)).conducting(
        Figure::read(resistivities(16.8, 17.24), TWO_TABLES),
        Figure::read(range(0.0039, 0.004_29), TWO_TABLES),
    );

/// From the pure element to foil of a common grade.
pub(super) const ALUMINIUM: Material = inactive(
    "aluminium",
    &["aluminum", "Al"],
    Role::Metal,
    Some("Al"),
    Figure::read(density(2.699), ELEMENTS),
)
.conducting(
    Figure::read(resistivities(26.5, 28.2), TWO_TABLES),
    Figure::read(range(0.0038, 0.0039), TWO_TABLES),
);

pub(super) const NICKEL: Material =
    inactive("nickel", &["Ni"], Role::Metal, Some("Ni"), Figure::read(density(8.902), ELEMENTS)).conducting(
        Figure::read(resistivities(69.3, 69.9), ELEMENTS_AND_TABLE),
        Figure::read(range(0.006, 0.0062), "encyclopaedia table of resistivities and a web table"),
    );

/// Also for nickel-plated steel: 1 to 3 µm of nickel on each side of 0.2 to 0.4 mm add at most 0.4 % to the density.
pub(super) const STEEL: Material = inactive(
    "steel",
    &["low-carbon steel", "nickel-plated steel", "mild steel"],
    Role::Metal,
    Some("FeMn0.0041C0.0047"),
    Figure::read(density(7.872), "materials data sheets of AISI 1008 and 1010 (three copies agree)"),
)
.conducting(
    Figure::read(exact(143e-9), "encyclopaedia table and materials data sheets of AISI 1008 and 1010"),
    Figure::memory(exact(0.005), "as iron, 0.005 to 0.0064 in two tables"),
);

pub(super) const ALUMINIUM_3003: Material = inactive(
    "aluminium 3003",
    &["aluminum 3003", "3003", "AA3003"],
    Role::Metal,
    Some("AlMn0.0063Fe0.0025Si0.0029Cu0.0005"),
    Figure::read(density(2.73), "supplier data sheets to EN 573-3 (six copies agree)"),
)
.conducting(
    Figure::read(resistivities(34.0, 40.0), "data sheets and a materials table, soft to hard"),
    Figure::assumed(exact(0.0038), "as aluminium"),
);

pub(super) const POLYETHYLENE: Material = inactive(
    "polyethylene",
    &["PE", "HDPE"],
    Role::Polymer,
    Some("C2H4"),
    Figure::read(
        densities(0.941, 0.965),
        "plastics and chemistry glossaries (four agree closely), high density",
    ),
);

pub(super) const POLYPROPYLENE: Material = inactive(
    "polypropylene",
    &["PP"],
    Role::Polymer,
    Some("C3H6"),
    Figure::read(densities(0.895, 0.92), "plastics comparison pages"),
);

/// The film of sleeves.
pub(super) const PET: Material = inactive(
    "PET",
    &["polyethylene terephthalate"],
    Role::Polymer,
    Some("C10H8O4"),
    Figure::memory(densities(1.33, 1.40), "handbook value, film"),
);

pub(super) const ALUMINA: Material = inactive(
    "alumina",
    &["Al2O3", "aluminium oxide", "aluminum oxide"],
    Role::Ceramic,
    Some("Al2O3"),
    Figure::computed(density(3.987), "X-ray density of corundum, lattice constants from memory"),
);

pub(super) const BOEHMITE: Material =
    inactive("boehmite", &["AlOOH"], Role::Ceramic, Some("AlO2H"), Figure::memory(density(3.0), HANDBOOK));

/// One mole of [`SALT`](super::SALT) per litre in carbonates.
/// The formula is that of the solvent; how much [`SALT`](super::SALT) is dissolved in it the sheet says.
pub(super) const ELECTROLYTE: Material = inactive(
    "electrolyte",
    &["LiPF6 electrolyte", "1 M LiPF6"],
    Role::Electrolyte,
    Some("C3.712H6.742O3.039"),
    Figure::memory(
        density_within(1.20, 0.03),
        "typical measured values, 25 °C; not confirmed, ideal mixing gives 1.13 to 1.16 g/cm³",
    ),
);
