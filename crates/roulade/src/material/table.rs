//! The table of materials, and looking one up.

use super::row::Material;
use super::{anode, cathode, inactive, metal, nmc, silicon, sodium};

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
    metal::LITHIUM,
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
    inactive::PET,
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::{Curve, Ion, Role};
    use approx::{assert_abs_diff_eq, assert_relative_eq};
    use roulade_stats::uncertain::Spread;

    fn curve(name: &str) -> Curve {
        find(name).unwrap().curve().unwrap()
    }

    /// Charged and discharged stoichiometries and cell voltages of Chen et al., J. Electrochem. Soc. 167 (2020)
    /// 080534, from memory (the paper states 4.2 and 2.5 V).
    #[test]
    fn a_pair_gives_its_papers_voltage_limits() {
        for (cathode, y, anode, x, volts) in [
            ("NMC811", 0.2661, "graphite-SiOx", 0.9014, 4.193),
            ("NMC811", 0.9084, "graphite-SiOx", 0.0279, 2.498),
        ] {
            let cell = curve(cathode).potential(y) - curve(anode).potential(x);
            assert_abs_diff_eq!(cell, volts, epsilon = 5e-4);
        }
    }

    /// Potentials computed apart from this crate on the printed coefficients or read off the points, which are those of
    /// the sources that stand beside each material.
    #[test]
    fn half_cell_potentials() {
        for (name, x, volts) in [
            ("NMC811", 0.2661, 4.2849),
            ("NMC811", 0.9084, 3.5614),
            ("graphite-SiOx", 0.0279, 1.0637),
            ("graphite-SiOx", 0.9014, 0.0920),
            ("NMC532", 0.0335, 4.2916),
            ("NMC532", 0.8907, 3.6578),
            ("NCA", 0.36, 4.2006),
            ("NCA", 0.97, 3.4277),
            ("graphite", 0.5, 0.119),
            ("graphite", 0.82258, 0.0881),
            ("LFP", 0.5, 3.4054),
            ("LCO", 0.5, 4.07),
            ("NMC111", 0.6, 3.913),
            ("silicon", 0.5, 0.437),
            // Of a neighbour's shape, raised or not.
            ("NMC90", 0.2661, 4.2749),
            ("NMC622", 0.0335, 4.2916),
        ] {
            assert_abs_diff_eq!(curve(name).potential(x), volts, epsilon = 6e-5);
        }
    }

    #[test]
    fn capacities_are_on_the_curves_own_scales() {
        let per_gram = |name: &str| find(name).unwrap().host_capacity().unwrap().value / 3600.0;
        // Mohtat et al. 2020: about 200 mAh/g per unit of y.
        assert_relative_eq!(per_gram("NMC532"), 200.0, max_relative = 2e-3);
        // Graphite's window stands for a practical capacity; LiC6 is 371.9 mAh/g.
        assert_relative_eq!(per_gram("graphite"), 371.9, max_relative = 3e-3);
        // One scale for both windows of the cobalt oxide, within 2 %.
        assert_relative_eq!(per_gram("LCO"), per_gram("high-voltage LCO"), max_relative = 0.02);
    }

    #[test]
    fn every_host_has_a_curve_with_its_error_and_a_window_within_it() {
        for material in MATERIALS {
            let host = matches!(material.role, Role::Cathode | Role::Anode);
            assert_eq!(material.half.is_some(), host, "{}", material.name);
            let Some(half) = material.half else { continue };
            let curve = material.curve().unwrap_or_else(|| panic!("{} does not fall", material.name));
            assert_eq!(curve.window(), half.window, "{}", material.name);
            let (reach, ends) = (curve.reach(), curve.ends());
            assert!(reach.0 <= half.window.0 && half.window.1 <= reach.1, "{}", material.name);
            // A cathode goes on to 4.5 V and down to 2.5 V at least (sodium's 4.2 V and 1.5 V), an anode up to 1.5 V.
            let (top, bottom) = match (material.role, half.ion) {
                (Role::Anode, _) => (1.5, 0.05),
                (_, Ion::Lithium) => (4.5, 2.5),
                (_, Ion::Sodium) => (4.2, 1.6),
            };
            assert!(ends.0 >= top && ends.1 <= bottom, "{}: {ends:?}", material.name);
            assert!((0.005..0.1).contains(&half.error), "{}", material.name);
            let texts = [half.error_source, half.continued, half.scale, half.source, half.check];
            assert!(texts.iter().all(|text| !text.is_empty()), "{}", material.name);
            assert!(half.shape_of.is_none_or(|lender| find(lender).is_some()), "{}", material.name);
            let capacity = material.capacity.unwrap().uncertain;
            assert!(
                capacity.u() > 0.0 && material.initial_coulombic_efficiency.is_some(),
                "{}",
                material.name
            );
        }
    }

    #[test]
    fn every_figure_is_plausible_and_has_a_source() {
        for material in MATERIALS {
            let figures = [Some(material.density), material.capacity, material.initial_coulombic_efficiency];
            for figure in figures.into_iter().flatten() {
                assert!(!figure.source.is_empty());
                if let Spread::Range { low, high } = figure.uncertain.spread {
                    assert!(low < high, "{}", material.name);
                    assert_relative_eq!(figure.uncertain.value, 0.5 * (low + high));
                }
            }
            assert!((500.0..10_000.0).contains(&material.density().value), "{}", material.name);
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
