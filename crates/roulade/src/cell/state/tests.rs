//! Every change of the cell of round numbers by hand, and the few numbers of films and hosts that articles give.

use super::*;
use crate::cell::balance::Side;
use crate::cell::design::Opened;
use crate::cell::figures::Worked;
use crate::material::{FARADAY, Formula, Ion};
use crate::test_support::draft;
use approx::assert_relative_eq;
use serde_json::{Value, json};

fn worked(changes: &[(&str, Value)]) -> Worked {
    let draft = draft(changes);
    Worked::at(&draft, &draft.values()).unwrap()
}

fn change(worked: &Worked, state: &str, what: Changes) -> StateChange {
    let state = State::read(state).unwrap();
    state.change(what, &worked.design, &worked.estimate.balance, Ion::Lithium).unwrap()
}

#[test]
fn words_in_any_order() {
    let read = |text: &str| State::read(text).unwrap();
    assert!(read("as built").as_built() && read("").as_built() && read("before opening").as_built());
    let all = read("Washed; dried, Discharged, after_formation");
    assert_eq!(all, State { formed: Some(Charge::Discharged), pores: Some(Pores::Washed), opened: false });
    assert_eq!(read("after formation").formed, Some(Charge::Discharged));
    assert_eq!(read("charged to 4,2 V, wet").formed, Some(Charge::Voltage(4.2)));
    assert_eq!(read("at 30 %, dried").formed, Some(Charge::Share(0.3)));
    assert_eq!(read("before formation, dried").pores, Some(Pores::Dried));
    assert!(read("opened").opened);
    // What is printed reads as what it was.
    for text in ["at 3.7 V, washed, opened", "charged", "at 30 %, wet", "as built, dried", "opened"] {
        let state = read(text);
        assert_eq!(read(&state.to_string()), state, "{text}: {state}");
    }
    for (wrong, complaint) in [
        ("dischraged", "perhaps \"discharged\" was meant"),
        ("charged, discharged", "excludes"),
        ("as built, charged", "a state of charge of a cell as built"),
        ("washed, wet, charged", "both washed and wet"),
        ("dried", "not whether before formation"),
        ("at 130 %", "not known"),
        ("discharged to 2.5 A", "not known"),
    ] {
        let problem = State::read(wrong).unwrap_err();
        assert!(problem.to_string().contains(complaint), "{wrong}: {problem}");
        assert!(problem.expected.contains("\"after formation\""), "{problem}");
    }
}

/// Lithium is conserved, at either end and between.
#[test]
fn lithium_by_hand() {
    let w = worked(&[]);
    let windows = w.estimate.balance.windows.unwrap();
    let of = |charge| Contents::of(&w.design, &w.estimate.balance, charge).unwrap();
    for (charge, x, y) in [
        (Charge::Charged, windows.anode_charged, windows.cathode_charged),
        (Charge::Discharged, windows.anode_discharged, windows.cathode_discharged),
        (
            Charge::Share(0.5),
            0.5 * (windows.anode_charged + windows.anode_discharged),
            0.5 * (windows.cathode_charged + windows.cathode_discharged),
        ),
    ] {
        let contents = of(charge);
        assert_relative_eq!(contents.filled, x, max_relative = 1e-9, epsilon = 1e-12);
        // The cathode was full of lithium at first: 1 on its scale.
        let given = (1.0 - y) * windows.cathode_host.value;
        assert_relative_eq!(contents.cathode, given, max_relative = 1e-9);
    }
    // At the cut-off voltages it is charged and discharged; at one between, between.
    let near = |a: f64, b: f64| assert_relative_eq!(a, b, max_relative = 1e-6, epsilon = 1e-6);
    near(of(Charge::Voltage(4.1)).filled, of(Charge::Charged).filled);
    near(of(Charge::Voltage(2.0)).filled, of(Charge::Discharged).filled);
    let half = of(Charge::Voltage(3.6));
    assert!(half.filled < of(Charge::Charged).filled && half.filled > of(Charge::Discharged).filled);
}

/// The two films by their formulas; a lithiated graphite, `LiC₆`, is 9.63 % heavier than its carbon (stoichiometry).
#[test]
fn films_by_their_formulas() {
    let half = |text: &str| 0.5 * Formula::read(text).unwrap().molar_mass();
    for (ion, light, heavy) in [(Ion::Lithium, "Li2CO3", "C4H4O6Li2"), (Ion::Sodium, "Na2CO3", "C4H4O6Na2")] {
        let film = per_mole(&Opened::USUAL, ion);
        let (low, high) = (film.value - film.u() * 3f64.sqrt(), film.value + film.u() * 3f64.sqrt());
        assert_relative_eq!(low, half(light), max_relative = 1e-4);
        assert_relative_eq!(high, half(heavy), max_relative = 1e-4);
        assert!(half("Li2F2") < low);
    }
    let carbon = 6.0 * 12.011e-3;
    assert_relative_eq!(super::film::metal(Ion::Lithium) / carbon, 0.0963, max_relative = 1e-3);
}

/// The cathode of 3.6 mAh/cm² gives what the first charge takes, the tenth that is lost stays in the film.
#[test]
fn masses_by_hand() {
    let w = worked(&[]);
    let balance = &w.estimate.balance;
    let windows = balance.windows.unwrap();
    let host = |side: Side| match side {
        Side::Cathode => 36_000.0 * 3.6,
        Side::Anode => 36_000.0 * 4.5,
    };
    let moles = |charge: f64| charge / FARADAY;
    let lost = host(Side::Cathode) * balance.lost.value / windows.cathode_host.value;
    let anode = change(&w, "discharged, washed", Changes::Loading(Side::Anode));
    let held = windows.anode_discharged * host(Side::Anode);
    assert_relative_eq!(anode.by, moles(held) * 6.94e-3 + moles(lost) * 58.96e-3, max_relative = 1e-3);
    assert_relative_eq!(anode.uncertainty(), moles(lost) * 12.71e-3, max_relative = 1e-3);
    let cathode = change(&w, "charged, washed", Changes::Loading(Side::Cathode));
    let given = (1.0 - windows.cathode_charged) * host(Side::Cathode);
    assert_relative_eq!(cathode.by, -moles(given) * 6.94e-3, max_relative = 1e-9);
    // The roll gains what the film took from the electrolyte, and that is what the electrolyte lost.
    let roll = change(&w, "charged, washed", Changes::DryRoll);
    assert_relative_eq!(roll.by, moles(balance.lost.value) * (58.96e-3 - 6.94e-3), max_relative = 1e-3);
    let electrolyte = change(&w, "charged", Changes::Electrolyte);
    assert_relative_eq!(electrolyte.by, -roll.by, max_relative = 1e-12);
    // A cell that is closed weighs what it weighed.
    assert_eq!(change(&w, "charged", Changes::Cell), StateChange::default());
    let opened = change(&w, "opened", Changes::Cell);
    assert_relative_eq!(opened.by, -0.05 * w.design.room().electrolyte().value, max_relative = 1e-12);
}

#[test]
fn pores_by_hand() {
    let w = worked(&[]);
    // Not formed: 100 µm of 50 %, 1.25 g/cm³.
    let wet = change(&w, "as built, wet", Changes::Loading(Side::Anode));
    assert_relative_eq!(wet.by, 1e-4 * 0.5 * 1250.0, max_relative = 1e-9);
    let dried = change(&w, "as built, dried", Changes::Loading(Side::Anode));
    assert_relative_eq!(dried.by, wet.by * w.design.blueprint().salt, max_relative = 1e-12);
    assert!(dried.uncertainty() > 0.0 && dried.uncertainty() < dried.by);
    assert_eq!(change(&w, "as built, washed", Changes::Loading(Side::Anode)), StateChange::default());
    let roll = change(&w, "as built, dried", Changes::DryRoll);
    let soaked = w.design.room().wetted * w.design.room().density;
    assert_relative_eq!(roll.by, soaked.value * w.design.blueprint().salt, max_relative = 1e-12);
}

#[test]
fn thicknesses_by_hand() {
    let w = worked(&[("anode/swelling", json!("10 %"))]);
    let windows = w.estimate.balance.windows.unwrap();
    let anode = change(&w, "charged", Changes::Thickness(Side::Anode, 2.0));
    assert_relative_eq!(anode.by, 2e-4 * (0.06 + 0.1 * windows.anode_charged), max_relative = 1e-9);
    let cathode = change(&w, "charged", Changes::Thickness(Side::Cathode, 1.0));
    assert_relative_eq!(cathode.by, 0.02 * 50e-6, max_relative = 1e-12);
    // A roll with 0.5 mm of room around it takes 250 µm of clearance in its turns.
    let diameter = change(&w, "discharged", Changes::Diameter(1.0));
    let [anode_side, cathode_side] = w.design.sides();
    let grown = change(&w, "discharged", Changes::Thickness(Side::Anode, 1.0)).by * anode_side.coated.value
        + cathode.by * cathode_side.coated.value;
    let radius = (0.022_25 * 0.022_25 + grown / std::f64::consts::PI).sqrt();
    assert_relative_eq!(diameter.by, 2.0 * (radius.min(0.0225) - 0.022_25), max_relative = 1e-9);
    let clearance = change(&w, "discharged", Changes::Diameter(-0.5));
    assert_relative_eq!(clearance.by, -0.5 * diameter.by, max_relative = 1e-12);
    // Thicker with the same solid: more porous, but for the film.
    let porosity = change(&w, "discharged, washed", Changes::Porosity(Side::Cathode));
    let built = w.design.blueprint().cathode.porosity().value;
    assert_relative_eq!(porosity.by, 1.0 - (1.0 - built) / 1.02 - built, max_relative = 1e-9);
    let film = change(&w, "discharged, washed", Changes::Porosity(Side::Anode));
    // A tenth of the first charge makes 5 µm of it, about as much as formation adds.
    assert!(film.by.abs() < 0.03 && film.by < 1.0 - 0.5 / 1.06 - 0.5);
}

/// Graphite's own growth from free to full, 13.2 % of its volume by X-ray diffraction (Schweidler, de Biasi, Schiele, Hartmann,
/// Brezesinski, Janek, J. Phys. Chem. C 122 (2018) 8829, doi 10.1021/acs.jpcc.8b01873; number from memory), shows in a charged
/// anode as far as its pores do not take it: here, half solid and nothing into pores, as 6 % beside what formation left.
#[test]
fn graphite_against_its_lattice() {
    let w = worked(&[
        ("anode/mix", json!([{ "material": "graphite" }, { "material": "plastic", "share": "10 %" }])),
        ("anode/expansion_into_pores", json!("0 %")),
        ("anode/loading", json!("12 mg/cm2")),
    ]);
    let grown = change(&w, "charged", Changes::Thickness(Side::Anode, 1.0)).by;
    let emptied = change(&w, "discharged", Changes::Thickness(Side::Anode, 1.0)).by;
    let windows = w.estimate.balance.windows.unwrap();
    let solid = 1.0 - w.design.blueprint().anode.porosity().value;
    let of_graphite = 0.9 / 2.26 / (0.9 / 2.26 + 0.1 / 2.0);
    let lattice = 0.132 * solid * of_graphite * (windows.anode_charged - windows.anode_discharged);
    assert_relative_eq!((grown - emptied) / 1e-4, lattice, max_relative = 0.05);
}

/// Half-cell curves or not, a discharged anode gave back all it could.
#[test]
fn a_nominal_voltage_knows_no_voltage() {
    let w = worked(&[("voltage/nominal", json!("3.6 V"))]);
    let at = |text: &str| {
        State::read(text).unwrap().change(
            Changes::Loading(Side::Anode),
            &w.design,
            &w.estimate.balance,
            Ion::Lithium,
        )
    };
    assert!(at("at 3.6 V").is_none());
    assert!(at("charged").unwrap().by > at("discharged").unwrap().by);
}
