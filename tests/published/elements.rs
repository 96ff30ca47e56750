//! Atomic weights, molar masses, theoretical capacities and the densities between tabulated compositions.
//!
//! Sources: the `mendeleev` crate (a general periodic table) for atomic weights; `data/materials.json` for capacities
//! and crystals, with their standing; CODATA 2018 for the constants.

use super::say::{list, number, relative, say, text, within};
use mendeleev::{AtomicWeight, Element};
use roulade::material::{ELEMENTS, FARADAY, Formula, Layered, METALS};
use serde_json::Value;

fn data() -> Value {
    serde_json::from_str(include_str!("data/materials.json")).unwrap()
}

/// Value and uncertainty, or half the interval, of the periodic table.
fn listed(symbol: &str) -> (Element, f64, f64) {
    let element = Element::iter().find(|e| e.symbol() == symbol).unwrap_or_else(|| panic!("no {symbol}"));
    match element.atomic_weight() {
        AtomicWeight::Uncertainty { weight, uncertainty } => (element, weight, uncertainty),
        AtomicWeight::Interval { conventional, range } => {
            (element, conventional, 0.5 * (range.end() - range.start()))
        }
        AtomicWeight::MassNumber { .. } => panic!("{symbol} has a mass number alone"),
    }
}

/// Within the stated uncertainty, or the interval, of the periodic table; and by no more than 1e-6 from issue to issue of
/// the standard atomic weights.
#[test]
fn atomic_weights_are_those_of_a_periodic_table() {
    for element in &ELEMENTS {
        let (element_listed, weight, u) = listed(element.symbol);
        within(element.symbol, weight, element.weight, u.max(1e-9));
        relative(element.symbol, weight, element.weight, 1e-6);
        let name = element_listed.name().to_lowercase();
        assert!(name == element.name || (name == "aluminum" && element.name == "aluminium"), "{name}");
    }
}

/// Elementary charge times Avogadro's constant, both exact since 2019, rounded to ten digits as CODATA 2018 prints it.
#[test]
fn faraday_is_the_charge_of_a_mole() {
    relative("F, C/mol", 1.602_176_634e-19 * 6.022_140_76e23, FARADAY, 1e-10);
}

/// Whole mAh/g, so half of one; 0.6 for the tables' own rounding of molar masses.
#[test]
fn theoretical_capacities_of_the_literature() {
    let data = data();
    for case in list(&data, "/literature/cases") {
        let host = text(case, "/host");
        let capacity = Formula::read(host).unwrap().capacity(1.0) / 3600.0;
        within(&format!("{host}, mAh/g"), number(case, "/mAh_g"), capacity, 0.6);
    }
    for case in list(&data, "/capacities/cases") {
        let (host, lithium) = (text(case, "/host"), number(case, "/lithium"));
        let capacity = Formula::read(host).unwrap().capacity(lithium) / 3600.0;
        // From issue to issue of the atomic weights.
        relative(&format!("{host}, mAh/g"), number(case, "/mAh_g"), capacity, 2e-6);
    }
    for case in list(&data, "/capacities/rounded") {
        let host = text(case, "/host");
        within(
            &format!("{host}, g/mol"),
            number(case, "/g_mol"),
            1e3 * Formula::read(host).unwrap().molar_mass(),
            6e-4,
        );
    }
}

/// A layered oxide by its fractions is the same as by its formula: NMC 90/5/5, which the table does not have, 97.456
/// g/mol and 275.01 mAh/g.
#[test]
fn fractions_and_formula_agree() {
    let layered = Layered::new(1.0, [0.90, 0.05, 0.05, 0.0]);
    within("NMC 90/5/5, g/mol", 97.456, 1e3 * layered.formula().molar_mass(), 6e-4);
    within("NMC 90/5/5, mAh/g", 275.01, layered.capacity() / 3600.0, 6e-3);
    for ((_, symbol), fraction) in METALS.iter().zip(layered.metals) {
        within(symbol, fraction, layered.formula().moles(symbol), 1e-15);
    }
}

/// Beside each tabulated oxide, one metal site in fifty away, the estimate against the crystal density of the oxide's own
/// lattice constants: not above it by more than two standard uncertainties, and not below by more than the 5 % that closed
/// pores leave a powder.
#[test]
fn densities_between_compositions() {
    let data = data();
    let mut seen = 0;
    for case in list(&data, "/crystals/cases") {
        let formula = text(case, "/formula");
        if !formula.starts_with("LiNi") {
            continue;
        }
        let formula = Formula::read(formula).unwrap();
        let mut metals = METALS.map(|(_, symbol)| formula.moles(symbol));
        metals[0] -= 0.02;
        metals[2] += 0.02;
        let density = Layered::new(1.0, metals).density();
        let crystal = 1e3 * number(case, "/g_cm3");
        say(text(case, "/material"), crystal, density.value);
        let (above, below) = (density.value - crystal, crystal - density.value);
        assert!(above < 2.0 * density.u() && below < 0.05 * crystal, "{density:?}");
        assert!((5.0..100.0).contains(&density.u()), "{density:?}");
        seen += 1;
    }
    assert_eq!(seen, 5);
}
