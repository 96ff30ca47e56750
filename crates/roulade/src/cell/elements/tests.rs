use super::*;
use crate::cell::figures::Worked;
use crate::material::ELEMENTS;
use crate::test_support::{demo, draft, with};
use approx::assert_relative_eq;
use proptest::prelude::*;
use serde_json::json;

fn of(draft: &Draft) -> (Elements, Worked) {
    let values = draft.values();
    let worked = Worked::at(draft, &values).unwrap();
    (Elements::of(draft, &values, &worked.design), worked)
}

fn grams(elements: &Elements, symbol: &str) -> f64 {
    let i = ELEMENTS.iter().position(|element| element.symbol == symbol).unwrap();
    1e3 * elements.masses[i].value
}

fn line(worked: &Worked, wanted: &str) -> f64 {
    let mut mass = 0.0;
    ledger::lines(&worked.design, |line| {
        if line.what == wanted {
            mass += 1e3 * line.mass.value;
        }
    });
    mass
}

/// The sheet by hand names materials of its own: only the electrolyte has a formula until they get theirs.
#[test]
fn what_has_no_formula_stands_on_its_own_line() {
    let (elements, worked) = of(&draft(&[]));
    let electrolyte =
        line(&worked, "electrolyte in the pores") + line(&worked, "free electrolyte, in the spaces");
    // The tape is polypropylene, the table's.
    let tape = line(&worked, "tape around the roll");
    let mass = 1e3 * worked.estimate.mass.value;
    assert_relative_eq!(1e3 * elements.unresolved.value, mass - electrolyte - tape, max_relative = 1e-12);
    // 13.85 % LiPF6, of which 30.974/151.905 is phosphorus and 6.94/151.905 lithium.
    assert_relative_eq!(grams(&elements, "P"), 0.1385 * electrolyte * 0.203_902, max_relative = 1e-5);
    assert_relative_eq!(grams(&elements, "Li"), 0.1385 * electrolyte * 0.045_686, max_relative = 1e-4);
    assert_relative_eq!(grams(&elements, "F"), 0.1385 * electrolyte * 0.750_405, max_relative = 1e-5);
}

#[test]
fn formulas_of_the_sheet_are_counted() {
    let cell = draft(&[
        ("materials/0/formula", json!("Fe")),
        ("materials/1/formula", json!("Al")),
        ("materials/2/formula", json!("C2H4")),
        ("materials/3/formula", json!("LiCoO2")),
        ("materials/4/formula", json!("C6")),
    ]);
    let (elements, worked) = of(&cell);
    assert!(elements.unresolved.value.abs() < 1e-18);
    let cathode = line(&worked, "C");
    // 58.933/97.871 of lithium cobalt oxide.
    assert_relative_eq!(grams(&elements, "Co"), cathode * 0.602_152, max_relative = 1e-5);
    assert_relative_eq!(
        grams(&elements, "Al"),
        line(&worked, "cathode current collector foil"),
        max_relative = 1e-12
    );
    let steel = line(&worked, "can, wall and bottom") + line(&worked, "plate") + line(&worked, "lid");
    assert_relative_eq!(
        grams(&elements, "Fe"),
        steel + line(&worked, "anode current collector foil"),
        max_relative = 1e-12
    );
}

/// The demo cells are of the table's materials alone: everything has a formula.
#[test]
fn closes_on_the_ledger_of_the_demo_cells() {
    for name in ["marram a", "marram b", "small"] {
        let (elements, worked) = of(&demo(name));
        assert_relative_eq!(elements.mass().value, worked.estimate.mass.value, max_relative = 1e-13);
        assert!(elements.unresolved.value.abs() < 1e-18, "{name}");
    }
}

#[test]
fn a_measured_composition_moves_its_elements() {
    let metals = |nickel: &str, manganese: &str| json!({ "name": "C", "density": "5 g/cm3", "metals": { "nickel": nickel, "cobalt": "0.1", "manganese": manganese } });
    let of_nickel = |nickel, manganese| {
        let (elements, worked) = of(&draft(&[("materials/3", metals(nickel, manganese))]));
        (grams(&elements, "Ni"), line(&worked, "C"))
    };
    // Ni 0.8·58.6934 of 97.28 g/mol, 0.9·58.6934 of 97.656.
    let (nickel, mass) = of_nickel("0.8", "0.1");
    assert_relative_eq!(nickel, mass * 0.8 * 58.6934 / 97.2805, max_relative = 1e-5);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    /// Whatever the metals, the salt and the silicon, elements and the unresolved add to the mass of the cell, and none
    /// of them is negative.
    #[test]
    fn elements_add_to_the_mass_of_the_cell(
        (nickel, cobalt, aluminium) in (0.0..0.6f64, 0.0..0.3f64, 0.0..0.1f64),
        lithium in 0.95..1.1f64,
        salt in 0.0..20.0f64,
        silicon in 0.0..30.0f64,
        oxide in 0.0..30.0f64,
        resolved in any::<bool>(),
    ) {
        let metals = json!({ "name": "C", "metals": { "nickel": nickel.to_string(), "cobalt": cobalt.to_string(),
            "aluminium": aluminium.to_string(), "manganese": (1.0 - nickel - cobalt - aluminium).to_string(),
            "lithium": lithium.to_string() } });
        let mut changes = vec![
            ("materials/3", metals),
            ("electrolyte/salt", json!(format!("{salt} %"))),
            ("anode/mix/0/material", json!("graphite")),
            // Without curves every such cell can be worked out.
            ("voltage/nominal", json!("3.6 V")),
            ("cathode/thickness", json!("60 µm")),
            ("anode/silicon", json!(format!("{silicon} %"))),
            ("anode/silicon_oxide", json!(format!("{oxide} %"))),
        ];
        if resolved {
            changes.extend([("materials/0/formula", json!("Cu")), ("materials/2/formula", json!("C2H4O"))]);
        }
        let cell = crate::test_support::read(&with(&changes)).unwrap();
        let values = cell.values();
        let worked = Worked::at(&cell, &values).unwrap();
        let elements = Elements::of(&cell, &values, &worked.design);
        prop_assert!((elements.mass().value / worked.estimate.mass.value - 1.0).abs() < 1e-12);
        prop_assert!(elements.masses.iter().all(|mass| mass.value >= 0.0));
        for (i, mass) in elements.masses.iter().enumerate() {
            prop_assert!(mass.value == 0.0 || cell.may_hold(i), "{}", ELEMENTS[i].symbol);
        }
    }
}
