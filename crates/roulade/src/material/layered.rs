//! A layered oxide given by the mole fractions of its metals, and what the table knows near it.

use super::formula::Formula;
use super::row::Material;
use super::table::MATERIALS;
use roulade_stats::order;
use roulade_stats::uncertain::Uncertain;

/// The metals whose fractions may be given: key in the sheet, and symbol.
pub const METALS: [(&str, &str); 4] =
    [("nickel", "Ni"), ("cobalt", "Co"), ("manganese", "Mn"), ("aluminium", "Al")];

/// Below this a composition is that of the table.
const SAME: f64 = 1e-9;

/// A layered oxide `LiₓMO₂`: lithium per formula unit, and the mole fractions of the metals M, which add to one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layered {
    /// Lithium per formula unit.
    pub lithium: f64,
    /// Mole fractions in the order of [`METALS`].
    pub metals: [f64; 4],
}

impl Layered {
    /// Fractions brought to a sum of one.
    pub fn new(lithium: f64, metals: [f64; 4]) -> Self {
        let sum: f64 = metals.iter().sum();
        Self { lithium, metals: metals.map(|fraction| fraction / sum) }
    }

    /// That of a material of the table, where it is an oxide of these metals alone.
    pub fn of(material: &Material) -> Option<Self> {
        let formula = Formula::read(material.formula?).ok()?;
        let metals = METALS.map(|(_, symbol)| formula.moles(symbol));
        let layered = Self::new(formula.moles("Li"), metals);
        let alike = (layered.formula().molar_mass() / formula.molar_mass() - 1.0).abs() < 1e-3;
        (layered.lithium > 0.0 && metals.iter().sum::<f64>() > 0.0 && alike).then_some(layered)
    }

    /// Its formula.
    pub fn formula(&self) -> Formula {
        let mut parts = vec![("Li", self.lithium), ("O", 2.0)];
        parts.extend(METALS.iter().zip(self.metals).map(|((_, symbol), fraction)| (*symbol, fraction)));
        Formula::of(&parts)
    }

    /// Theoretical capacity x·F/M, all lithium counted, C/kg.
    ///
    /// ```
    /// // LiNiO2: 275 mAh/g in textbooks (from memory).
    /// let nickelate = roulade::material::Layered::new(1.0, [1.0, 0.0, 0.0, 0.0]);
    /// assert!((nickelate.capacity() / 3600.0 - 275.0).abs() < 0.5);
    /// ```
    pub fn capacity(&self) -> f64 {
        self.formula().capacity(self.lithium)
    }

    /// Share of the metal sites that hold another metal: ½·Σ|fᵢ − gᵢ|, 0 for the same metals and 1 for none in common.
    /// Lithium does not count.
    pub fn distance(&self, other: &Self) -> f64 {
        0.5 * self.metals.iter().zip(other.metals).map(|(f, g)| (f - g).abs()).sum::<f64>()
    }

    /// The layered oxides of the table with their distances, the nearest first; of two of one composition, which differ
    /// in how far they are charged, the one that comes first in the table.
    pub fn neighbours(&self) -> Vec<(f64, &'static Material)> {
        let mut seen: Vec<Self> = Vec::new();
        let mut near: Vec<(f64, &'static Material)> = Vec::new();
        for material in MATERIALS {
            let Some(layered) = Self::of(material) else { continue };
            if !seen.contains(&layered) {
                seen.push(layered);
                near.push((self.distance(&layered), material));
            }
        }
        order::by(&mut near, |a, b| a.0.total_cmp(&b.0));
        near
    }

    /// True density, kg/m³, from the molar volumes M/ρ of the table's layered oxides: their mean V, each weighted with
    /// one over its distance squared, and ρ = M/V with the molar mass of this composition. So the nearest count most,
    /// and a composition of the table has the table's density. The standard uncertainty is that of the weighted
    /// mixture: u² = Σ wᵢ·(uᵢ² + (Vᵢ − V)²), the neighbours' own and their spread.
    pub fn density(&self) -> Uncertain {
        let near = self.neighbours();
        if let Some((_, same)) = near.first().filter(|(distance, _)| *distance < SAME) {
            return same.density.uncertain;
        }
        let volumes: Vec<(f64, f64, f64)> = near
            .iter()
            .filter_map(|(distance, material)| {
                let density = material.density.uncertain;
                let volume = Self::of(material)?.formula().molar_mass() / density.value;
                Some((1.0 / (distance * distance), volume, volume * density.u() / density.value))
            })
            .collect();
        let total: f64 = volumes.iter().map(|(weight, ..)| weight).sum();
        let mean = volumes.iter().map(|(weight, volume, _)| weight * volume).sum::<f64>() / total;
        let variance = volumes
            .iter()
            .map(|(weight, volume, u)| weight * (u * u + (volume - mean) * (volume - mean)))
            .sum::<f64>()
            / total;
        let density = self.formula().molar_mass() / mean;
        Uncertain::standard(density, density * variance.sqrt() / mean)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::find;
    use approx::{assert_abs_diff_eq, assert_relative_eq};
    use proptest::prelude::*;

    #[test]
    fn the_layered_oxides_of_the_table() {
        let names: Vec<&str> =
            MATERIALS.iter().filter(|m| Layered::of(m).is_some()).map(|m| m.name).collect();
        let nickel = ["NMC95", "NMC90", "NMC811", "NMC622", "NMC532", "NMC111", "NCA88", "NCA"];
        assert_eq!(names, [&nickel[..], &["LCO", "high-voltage LCO"]].concat());
        let one = Layered::new(1.0, [0.0, 1.0, 0.0, 0.0]).neighbours();
        assert!(
            one.first().unwrap().1.name == "LCO" && one.iter().all(|(_, m)| m.name != "high-voltage LCO")
        );
        assert_abs_diff_eq!(Layered::of(find("NMC111").unwrap()).unwrap().metals[1], 1.0 / 3.0);
    }

    #[test]
    fn distance_is_the_share_of_other_metals() {
        let of = |name: &str| Layered::of(find(name).unwrap()).unwrap();
        assert_abs_diff_eq!(of("NMC622").distance(&of("NMC532")), 0.1, epsilon = 1e-12);
        assert_abs_diff_eq!(of("NMC811").distance(&of("NMC622")), 0.2, epsilon = 1e-12);
        assert_abs_diff_eq!(of("LCO").distance(&of("NCA")), 0.85, epsilon = 1e-12);
        let near = Layered::new(1.0, [0.83, 0.11, 0.06, 0.0]).neighbours();
        assert_eq!(near.iter().take(2).map(|(_, m)| m.name).collect::<Vec<_>>(), ["NMC811", "NMC90"]);
        assert_abs_diff_eq!(near[0].0, 0.04, epsilon = 1e-12);
    }

    #[test]
    fn a_composition_of_the_table_has_its_density() {
        for name in ["NMC811", "NMC111", "LCO"] {
            let material = find(name).unwrap();
            let layered = Layered::of(material).unwrap();
            assert_eq!(layered.density(), material.density.uncertain);
            // And close by it is close.
            let [nickel, cobalt, ..] = layered.metals;
            let mut beside = layered;
            beside.metals[0] = nickel + 1e-5;
            beside.metals[1] = cobalt - 1e-5;
            assert_relative_eq!(
                beside.density().value,
                material.density.uncertain.value,
                max_relative = 1e-5
            );
            assert_relative_eq!(beside.density().u(), material.density.uncertain.u(), epsilon = 1.0);
        }
    }

    /// `LiNiO2`, hexagonal, a = 2.878 Å, c = 14.19 Å, Z = 3 (from memory): 4.78 g/cm³. It lies outside the table's
    /// compositions and a powder is lighter than its crystal, so two standard uncertainties are asked of it.
    #[test]
    fn density_of_a_composition_not_in_the_table() {
        let nickelate = Layered::new(1.0, [1.0, 0.0, 0.0, 0.0]).density();
        assert!((nickelate.value - 4780.0).abs() < 2.0 * nickelate.u(), "{nickelate:?}");
        assert!((10.0..100.0).contains(&nickelate.u()), "{nickelate:?}");
    }

    proptest! {
        /// Molar volumes are a mean of the table's, so they lie among them; the metric is symmetric and obeys the
        /// triangle.
        #[test]
        fn densities_lie_among_the_tables(f in proptest::array::uniform4(0.0..1.0f64), x in 0.9..1.2f64) {
            prop_assume!(f.iter().sum::<f64>() > 0.01);
            let layered = Layered::new(x, f);
            let density = layered.density();
            let volume = layered.formula().molar_mass() / density.value;
            let table: Vec<f64> = layered.neighbours().iter()
                .map(|(_, m)| Layered::of(m).unwrap().formula().molar_mass() / m.density.uncertain.value)
                .collect();
            let (low, high) = table.iter().fold((f64::MAX, 0.0f64), |(l, h), v| (l.min(*v), h.max(*v)));
            prop_assert!(volume > low * (1.0 - 1e-9) && volume < high * (1.0 + 1e-9));
            prop_assert!(density.u() > 0.0 && density.u() < 0.05 * density.value);
            let near = layered.neighbours();
            prop_assert!(near.windows(2).all(|w| w[0].0 <= w[1].0));
            let between = |a: usize, b: usize| Layered::of(near[a].1).unwrap().distance(&Layered::of(near[b].1).unwrap());
            prop_assert!(near[5].0 <= near[0].0 + between(0, 5) + 1e-12);
            prop_assert!((between(0, 5) - between(5, 0)).abs() < 1e-15);
        }
    }
}
