//! The roll as its anode swells: how much room full charge takes.

use crate::cell::balance::Balance;
use crate::cell::design::Design;
use crate::quantity::units::{Area, ArealMassDensity, Length, Ratio};
use std::f64::consts::PI;

/// The roll at both ends of charge.
///
/// # Formula
/// The wound lengths stay, and a coating that faces cathode grows by `t·ε·x` on each face: t its thickness as built, ε
/// the strain of a full host, x its stoichiometry. Every turn lies on the one below, so cross-sections add, and the
/// mean radius goes from R to `√(R² + ΔA/π)` with `ΔA` the thickness gained times the facing lengths of both faces.
/// The anode's coating alone swells here; separators do not give way, and the cathode, whose particles shrink by some
/// per cent as the anode swells, stays as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swollen {
    /// Growth of the coating over its thickness as built, charged.
    pub strain_charged: Ratio,
    /// The same, discharged.
    pub strain_discharged: Ratio,
    /// Mean radius of the roll, charged.
    pub radius_charged: Length,
    /// Mean radius of the roll, discharged.
    pub radius_discharged: Length,
    /// What is left to the wall when charged; negative where the roll presses against it.
    pub gap_charged: Length,
    /// Largest share of the host that swells most with which the charged roll just fits: same thickness, porosity and
    /// stoichiometry; where the mix has such a host and its swelling follows from the mix.
    pub most_silicon: Option<Ratio>,
    /// Largest loading of the cathode with which the charged roll just fits: both coatings thicker or thinner by one
    /// factor, same lengths.
    pub most_loading: ArealMassDensity,
}

impl Swollen {
    /// The roll of a design at both ends of charge; nothing where its sheet does not say how the anode swells.
    pub fn of(design: &Design, balance: &Balance) -> Option<Self> {
        let b = design.blueprint();
        let swelling = b.swelling?;
        let (charged, discharged) = if let Some(windows) = &balance.windows {
            // A metal is there as built: what it grows by is what is plated on it.
            let built = b.anode.potential.as_ref().map_or(0.0, |potential| potential.as_assembled);
            (windows.anode_charged - built, windows.anode_discharged - built)
        } else {
            // Without curves: what is drawn, over what the anode could give back.
            let (inner, outer) = design.active_area();
            ((balance.capacity / (balance.anode_areal * (inner + outer))).value, 0.0)
        };
        let facing = design.facing();
        let [of_anode, of_cathode] = design.sides();
        let (anode, cathode) = (b.anode.thickness, b.cathode.thickness);
        // Cross-section that a strain of one would add.
        let per_strain = anode * (facing.inner + facing.outer);
        let built = design.outer_radius() * design.outer_radius() * PI;
        let bore = b.can.bore_area();
        let radius = |strain: f64| ((built + per_strain * strain) / PI).sqrt();
        let strain_charged = swelling.strain * charged;
        let radius_charged = radius(strain_charged);
        // The strain that fills the bore, and the factor on both coatings that does.
        let full = ((bore - built) / per_strain).value;
        let coatings: Area = anode * of_anode.coated + cathode * of_cathode.coated;
        let factor = ((bore - built + coatings) / (coatings + per_strain * strain_charged)).value;
        Some(Self {
            strain_charged: ratio(strain_charged),
            strain_discharged: ratio(swelling.strain * discharged),
            radius_charged,
            radius_discharged: radius(swelling.strain * discharged),
            gap_charged: 0.5 * b.can.bore() - radius_charged,
            most_silicon: swelling.silicon.map(|silicon| ratio(silicon.share_for(full / charged))),
            most_loading: b.cathode.loading * factor.max(0.0),
        })
    }
}

fn ratio(value: f64) -> Ratio {
    Ratio::new::<uom::si::ratio::ratio>(value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::figures::Worked;
    use crate::test_support::{demo, draft, read, with};
    use approx::assert_relative_eq;
    use serde_json::{Value, json};

    fn worked(changes: &[(&str, Value)]) -> Worked {
        let draft = draft(changes);
        Worked::at(&draft, &draft.values()).unwrap()
    }

    /// The anode of the hand-made cell with graphite in the place of its host, and 10 % of a host that swells.
    fn blend(share: &str) -> Vec<(&'static str, Value)> {
        let host = |name: &str, expansion: &str| {
            json!({ "name": name, "role": "anode", "density": "2 g/cm3", "capacity": "500 mAh/g", "initial_coulombic_efficiency": "90 %",
                "expansion": expansion, "curve": [[0, 0.5], [0.25, 0.4], [0.75, 0.2], [1, 0.1]] })
        };
        vec![
            ("materials/4", host("A", "10 %")),
            ("materials/5", host("S", "200 %")),
            (
                "anode/mix",
                json!([{ "material": "A" }, { "material": "S", "share": share }, { "material": "plastic", "share": "10 %" }]),
            ),
            ("anode/expansion_into_pores", json!("40 %")),
        ]
    }

    #[test]
    fn a_given_strain_by_hand() {
        let w = worked(&[("anode/swelling", json!("5 %"))]);
        let windows = w.estimate.balance.windows.unwrap();
        let swollen = *w.swollen().unwrap();
        assert_relative_eq!(swollen.strain_charged.value, 0.05 * windows.anode_charged, max_relative = 1e-12);
        // Two faces of 100 µm over the facing lengths, onto a roll of 22.25 mm.
        let facing = w.design.facing();
        let area = 1e-4 * swollen.strain_charged.value * (facing.inner + facing.outer).value;
        let radius = (0.022_25_f64 * 0.022_25 + area / PI).sqrt();
        assert_relative_eq!(swollen.radius_charged.value, radius, max_relative = 1e-12);
        assert_relative_eq!(swollen.gap_charged.value, 0.0225 - radius, max_relative = 1e-9);
        assert!(swollen.radius_discharged < swollen.radius_charged && swollen.most_silicon.is_none());
    }

    /// The closed form against the roll wound anew, every turn on the one below, with the thicker coating.
    #[test]
    fn the_same_lengths_wound_anew() {
        let w = worked(&[("anode/swelling", json!("5 %"))]);
        let swollen = w.swollen().unwrap();
        let lengths = w.design.roll().lengths();
        let mut b = w.design.blueprint().clone();
        b.anode.thickness *= 1.0 + swollen.strain_charged.value;
        b.can.diameter += Length::new::<uom::si::length::millimeter>(5.0);
        b.winding.fill =
            crate::cell::design::Fill::Lengths { cathode: lengths.cathode, anode: Some(lengths.anode) };
        let anew = crate::cell::design::Design::new(b).unwrap();
        let grown = swollen.radius_charged - w.design.outer_radius();
        let wound = anew.roll().outer_radius() - w.design.outer_radius();
        // Wound anew the anode swells where it faces nothing too: 1.75 of its turns, 4 % of it; and the turns of separator
        // keep their number, not their length.
        assert_relative_eq!(grown.value, wound.value, max_relative = 0.04);
    }

    #[test]
    fn a_blend_by_hand() {
        let w = worked(&blend("10 %"));
        let swelling = w.design.blueprint().swelling.unwrap();
        // All densities are 2: volume shares are mass shares. Half of the coating is solid, 60 % of the growth shows.
        let strain = 0.6 * 0.5 * (0.8 * 0.1 + 0.1 * 2.0);
        assert_relative_eq!(swelling.strain, strain, max_relative = 1e-12);
        let silicon = swelling.silicon.unwrap();
        assert_relative_eq!(silicon.share, 0.1, max_relative = 1e-12);
        assert_relative_eq!(silicon.most, 0.9, max_relative = 1e-12);
        assert_relative_eq!(silicon.strain_at(0.1), strain, max_relative = 1e-12);
        assert_relative_eq!(silicon.strain_at(0.0), 0.6 * 0.5 * 0.09, max_relative = 1e-12);
    }

    #[test]
    fn what_just_fits_just_fits() {
        let w = worked(&blend("2 %"));
        let swollen = w.swollen().unwrap();
        let most = swollen.most_silicon.unwrap().value;
        assert!((0.02..0.9).contains(&most), "{most}");
        // With that strain at the same stoichiometry the roll fills the bore.
        let strain = w.design.blueprint().swelling.unwrap().silicon.unwrap().strain_at(most);
        let charged = w.estimate.balance.windows.unwrap().anode_charged;
        let facing = w.design.facing();
        let built = w.design.outer_radius();
        let full = built * built * PI
            + w.design.blueprint().anode.thickness * (facing.inner + facing.outer) * strain * charged;
        assert_relative_eq!(full.value, w.design.blueprint().can.bore_area().value, max_relative = 1e-12);
        // The loading that fits is above the one that is there exactly where there is a gap left.
        let loading = w.design.blueprint().cathode.loading;
        assert_eq!(swollen.most_loading > loading, swollen.gap_charged.value > 0.0);
    }

    #[test]
    fn the_demo_has_a_most_silicon() {
        let demo = demo("marram b");
        assert!(Worked::at(&demo, &demo.values()).unwrap().swollen().unwrap().most_silicon.is_some());
    }

    #[test]
    fn less_than_full_swells_less() {
        // 1000 of 3578.6 mAh/g of silicon: as much of its growth.
        let own = |capacity: &str| {
            let mut sheet = with(&[(
                "anode/mix",
                json!([{ "material": "silicon" }, { "material": "plastic", "share": "10 %" }]),
            )]);
            sheet["materials"]
                .as_array_mut()
                .unwrap()
                .push(json!({ "name": "silicon", "capacity": capacity }));
            sheet["anode"]["expansion_into_pores"] = json!("0 %");
            let draft = read(&sheet).unwrap();
            draft.design().unwrap().blueprint().swelling.unwrap().strain
        };
        assert_relative_eq!(own("1000 mAh/g") / own("2000 mAh/g"), 0.5, max_relative = 1e-12);
    }

    #[test]
    fn a_nominal_voltage_stands_in_here_too() {
        let w = worked(&[("anode/swelling", json!("5 %")), ("voltage/nominal", json!("3.6 V"))]);
        let swollen = w.swollen().unwrap();
        let used = swollen.strain_charged.value / 0.05;
        assert!((0.5..1.0).contains(&used) && swollen.strain_discharged.value == 0.0, "{used}");
    }

    #[test]
    fn both_ways_of_saying_it_are_one_too_many() {
        let diagnostics = crate::test_support::refused(&[
            ("anode/swelling", json!("5 %")),
            ("anode/expansion_into_pores", json!("40 %")),
        ]);
        assert!(
            diagnostics.iter().any(|line| line.starts_with("anode.expansion_into_pores: found a share of the pores beside")),
            "{diagnostics:?}"
        );
    }
}
