//! The table of materials, and looking one up.

use super::figure::Figure;
use super::half::{Half, Ion};
use super::{Curve, anode, cathode, inactive, nmc, silicon, sodium};
use crate::quantity::units::{MassDensity, SpecificCharge};
use serde::Serialize;
use std::marker::PhantomData;

/// What a material does in a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Role {
    /// Host of the positive electrode.
    Cathode,
    /// Host of the negative electrode.
    Anode,
    /// Holds a coating together.
    Binder,
    /// Carries electrons inside a coating.
    Conductive,
    /// Foil, plate, can.
    Metal,
    /// Separator, insulator.
    Polymer,
    /// Layer on a separator.
    Ceramic,
    /// Salt in solvent.
    Electrolyte,
}

/// A material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Material {
    /// As the trade calls it.
    pub name: &'static str,
    /// Other spellings.
    pub aliases: &'static [&'static str],
    /// What it does.
    pub role: Role,
    /// Chemical formula, where one describes it.
    pub formula: Option<&'static str>,
    /// True density, kg/m³.
    pub density: Figure,
    /// Reversible practical capacity, C/kg: what the curve's window stands for.
    pub capacity: Option<Figure>,
    /// What the first discharge gives back of the first charge.
    pub first_cycle_efficiency: Option<Figure>,
    /// Its half-cell potential.
    pub half: Option<Half>,
    /// How a metal conducts.
    pub conduction: Option<Conduction>,
    /// How a host swells as it takes up lithium.
    pub expansion: Option<Expansion>,
}

/// How a metal conducts: `ρ(T) = ρ₂₀·(1 + α·(T − 20 °C))`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conduction {
    /// Resistivity at 20 °C, Ω·m.
    pub at_20: Figure,
    /// Temperature coefficient α at 20 °C, 1/K.
    pub per_kelvin: Figure,
}

/// How a host swells. A host that takes up less lithium swells by as much less: the volume of lithium in it is the
/// same for every atom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expansion {
    /// Volume gained from free of lithium to full, over the volume free of lithium.
    pub volume: Figure,
    /// Capacity that "full" stands for, C/kg.
    pub at: f64,
}

impl Material {
    /// True density.
    pub fn density(&self) -> MassDensity {
        MassDensity { dimension: PhantomData, units: PhantomData, value: self.density.known.value }
    }

    /// Reversible practical capacity.
    pub fn capacity(&self) -> Option<SpecificCharge> {
        self.capacity.map(|figure| specific_charge(figure.known.value))
    }

    /// Capacity for stoichiometry 0 to 1 on the curve's own scale: practical capacity / (high − low), never a
    /// theoretical capacity of another scale.
    ///
    /// ```
    /// // 353.5 mAh/g over 0.0016 to 0.95 of LiₓC₆: within 0.3 % of the crystal's 371.9 mAh/g.
    /// let graphite = roulade::material::find("graphite").unwrap();
    /// let per_gram = graphite.host_capacity().unwrap().value / 3600.0;
    /// assert!((per_gram / 371.9 - 1.0).abs() < 0.003);
    /// ```
    pub fn host_capacity(&self) -> Option<SpecificCharge> {
        let (low, high) = self.half?.window;
        Some(self.capacity()? / (high - low))
    }

    /// The ion it stores; lithium where it stores none.
    pub fn ion(&self) -> Ion {
        self.half.map(|half| half.ion).unwrap_or_default()
    }

    /// The table of its half-cell potential.
    pub fn curve(&self) -> Option<Curve> {
        self.half.and_then(|half| half.curve())
    }
}

fn specific_charge(value: f64) -> SpecificCharge {
    SpecificCharge { dimension: PhantomData, units: PhantomData, value }
}

/// Every material of the table.
pub static MATERIALS: &[Material] = &[
    nmc::NMC95,
    nmc::NMC90,
    nmc::NMC811,
    nmc::NMC622,
    nmc::NMC532,
    nmc::NMC111,
    cathode::NCA88,
    cathode::NCA,
    cathode::LCO,
    cathode::LCO_HIGH_VOLTAGE,
    cathode::LMO,
    cathode::LFP,
    cathode::LMFP,
    sodium::NFM111,
    anode::GRAPHITE,
    silicon::GRAPHITE_SILICON_OXIDE,
    silicon::SILICON,
    silicon::SILICON_OXIDE,
    sodium::HARD_CARBON,
    inactive::PVDF,
    inactive::PTFE,
    inactive::CMC,
    inactive::SBR,
    inactive::PAA,
    inactive::CARBON_BLACK,
    inactive::CARBON_NANOTUBES,
    inactive::COPPER,
    inactive::ALUMINIUM,
    inactive::NICKEL,
    inactive::STEEL,
    inactive::ALUMINIUM_3003,
    inactive::POLYETHYLENE,
    inactive::POLYPROPYLENE,
    inactive::ALUMINA,
    inactive::BOEHMITE,
    inactive::ELECTROLYTE,
];

/// The material of that name or other spelling, whatever the case.
pub fn find(name: &str) -> Option<&'static Material> {
    let wanted = name.trim();
    MATERIALS
        .iter()
        .find(|material| material.spellings().any(|spelling| spelling.eq_ignore_ascii_case(wanted)))
}

/// The spelling in the table that differs least from `name`, for a message.
pub fn nearest(name: &str) -> Option<&'static str> {
    crate::quantity::problem::nearest(name, MATERIALS.iter().flat_map(Material::spellings))
}

impl Material {
    fn spellings(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.name).chain(self.aliases.iter().copied())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::{assert_abs_diff_eq, assert_relative_eq};
    use roulade_stats::uncertain::Spread;

    fn curve(name: &str) -> Curve {
        find(name).unwrap().curve().unwrap()
    }

    /// Charged and discharged stoichiometries and cell voltages of Chen et al., J. Electrochem. Soc. 167 (2020)
    /// 080534, and Mohtat et al., J. Electrochem. Soc. 167 (2020) 110561, from memory; the papers state 4.2 and 2.5 V,
    /// 4.2 and 3.0 V.
    #[test]
    fn pairs_give_their_papers_voltage_limits() {
        for (cathode, y, anode, x, volts) in [
            ("NMC811", 0.2661, "graphite-SiOx", 0.9014, 4.193),
            ("NMC811", 0.9084, "graphite-SiOx", 0.0279, 2.498),
            ("NMC532", 0.0335, "graphite", 0.8333, 4.2),
            ("NMC532", 0.8907, "graphite", 0.0017, 3.047),
        ] {
            let cell = curve(cathode).potential(y) - curve(anode).potential(x);
            assert_abs_diff_eq!(cell, volts, epsilon = 5e-4);
        }
    }

    /// Potentials computed apart from this crate on the printed coefficients, which are those of the sources that
    /// stand beside each material.
    #[test]
    fn half_cell_potentials() {
        for (name, x, volts) in [
            ("NMC811", 0.2661, 4.2849),
            ("NMC811", 0.9084, 3.5614),
            ("graphite-SiOx", 0.0279, 1.0637),
            ("graphite-SiOx", 0.9014, 0.0920),
            ("NMC532", 0.0335, 4.2916),
            ("NMC532", 0.8907, 3.6578),
            ("graphite", 0.0017, 0.6109),
            ("graphite", 0.95, 0.0834),
            ("LFP", 0.005, 3.6438),
            ("LFP", 0.98, 2.8939),
            ("NCA", 0.36, 4.2006),
            ("NCA", 0.97, 3.4277),
            ("LCO", 0.465, 4.3578),
            ("LCO", 0.98, 3.6299),
            ("silicon", 0.0001, 0.9933),
            ("silicon", 1.0, 0.0917),
        ] {
            assert_abs_diff_eq!(curve(name).potential(x), volts, epsilon = 6e-5);
        }
        // Read off with three decimals.
        for (name, x, volts) in
            [("NCA", 0.80, 3.658), ("LCO", 0.50, 4.235), ("LCO", 0.80, 3.914), ("LFP", 0.5, 3.398)]
        {
            assert_abs_diff_eq!(curve(name).potential(x), volts, epsilon = 6e-4);
        }
        // The antiderivative over the whole window is the mean: 0.453 V.
        assert_abs_diff_eq!(curve("silicon").antiderivative(1.0), 0.453, epsilon = 6e-4);
    }

    #[test]
    fn capacities_are_on_the_curves_own_scales() {
        let per_gram = |name: &str| find(name).unwrap().host_capacity().unwrap().value / 3600.0;
        // Crystal scales: F/(3.6·M) of standard atomic weights.
        assert_relative_eq!(per_gram("NCA"), 278.94, max_relative = 1e-12);
        assert_relative_eq!(per_gram("LCO"), 273.84, max_relative = 1e-12);
        // Mohtat et al. 2020: about 200 mAh/g per unit of y.
        assert_relative_eq!(per_gram("NMC532"), 200.0, max_relative = 2e-3);
        // Graphite's window stands for a practical capacity; LiC6 is 371.9 mAh/g.
        assert_relative_eq!(per_gram("graphite"), 371.9, max_relative = 3e-3);
    }

    #[test]
    fn cathodes_start_full_and_anodes_empty() {
        for material in MATERIALS {
            let Some(half) = material.half else { continue };
            match material.role {
                Role::Anode => assert_abs_diff_eq!(half.as_assembled, 0.0),
                Role::Cathode => assert!((half.window.1..=1.0).contains(&half.as_assembled)),
                _ => panic!("{} has a curve", material.name),
            }
            assert!(material.capacity.is_some() && material.first_cycle_efficiency.is_some());
        }
        // 0.2661 + 0.6423/0.88.
        assert_abs_diff_eq!(find("NMC811").unwrap().half.unwrap().as_assembled, 0.995_99, epsilon = 1e-5);
    }

    /// The first-cycle efficiency behind `as_assembled` is the middle of the material's own range.
    #[test]
    fn as_assembled_follows_from_the_efficiency() {
        for name in ["NMC811", "NMC532"] {
            let material = find(name).unwrap();
            let (half, efficiency) = (material.half.unwrap(), material.first_cycle_efficiency.unwrap());
            assert_relative_eq!(
                half.as_assembled,
                Half::before_first_charge(half.window, efficiency.known.value)
            );
        }
    }

    #[test]
    fn every_figure_is_plausible_and_has_a_source() {
        for material in MATERIALS {
            let figures = [Some(material.density), material.capacity, material.first_cycle_efficiency];
            for figure in figures.into_iter().flatten() {
                assert!(!figure.source.is_empty());
                if let Spread::Range { low, high } = figure.known.spread {
                    assert!(low < high, "{}", material.name);
                    assert_relative_eq!(figure.known.value, 0.5 * (low + high));
                }
            }
            assert!((800.0..10_000.0).contains(&material.density().value), "{}", material.name);
        }
    }

    #[test]
    fn spellings_are_unique() {
        let mut spellings: Vec<String> =
            MATERIALS.iter().flat_map(Material::spellings).map(str::to_lowercase).collect();
        let all = spellings.len();
        spellings.sort();
        spellings.dedup();
        assert_eq!(spellings.len(), all);
    }

    #[test]
    fn found_by_any_spelling() {
        assert_eq!(find(" ncm811").unwrap().name, "NMC811");
        assert_eq!(find("Aluminum").unwrap().name, "aluminium");
        assert!(find("unobtainium").is_none());
    }

    #[test]
    fn a_slip_has_a_nearest_spelling() {
        assert_eq!(nearest("grafite"), Some("graphite"));
        assert_eq!(nearest("NMC812"), Some("NMC811"));
        assert_eq!(nearest("coper"), Some("copper"));
        assert_eq!(nearest("unobtainium"), None);
        // The textbook pair for this distance.
    }
}
