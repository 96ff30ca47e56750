//! Sheets out and in again, parameter sets of others in, and both held to the standard's own schema.

use crate::{Beside, Imported, from_parameters, to_parameters};
use approx::assert_relative_eq;
use proptest::prelude::*;
use roulade::Sheet;
use roulade::cell::draft::Draft;
use roulade::cell::figures::{Worked, definition};
use roulade::sheet::{Edit, edit};
use roulade_stats::uncertain::Origin;
use serde_json::{Value, json};

const MARRAM: [&str; 3] = [
    include_str!("../../../demo/marram-a.json"),
    include_str!("../../../demo/marram-b.json"),
    include_str!("../../../demo/marram-small.json"),
];
const SCHEMA: &str = include_str!("../../../tests/published/data/bpx.schema.json");

fn valid(text: &str) {
    let schema: Value = serde_json::from_str(SCHEMA).unwrap();
    jsonschema::meta::validate(&schema).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let document: Value = serde_json::from_str(text).unwrap();
    let errors: Vec<String> = validator.iter_errors(&document).map(|error| error.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
}

fn figure(sheet: &Sheet, id: &str) -> f64 {
    let draft = Draft::read(sheet).unwrap();
    (definition(id).unwrap().of)(&Worked::at(&draft, &draft.values()).unwrap()).unwrap()
}

fn again(sheet: &Sheet) -> Imported {
    let text = to_parameters(sheet).unwrap();
    let imported = from_parameters(&text, &Beside::default()).unwrap();
    assert!(imported.problems.0.is_empty(), "{}", imported.problems);
    assert!(imported.left_out.is_empty(), "{:?}", imported.left_out);
    imported
}

/// What both can say of a cell, and what follows from that alone.
const KEPT: [&str; 8] = [
    "capacity",
    "energy",
    "mean_voltage",
    "roll.cathode_length",
    "roll.anode_length",
    "balance.n_to_p",
    "balance.cathode_areal",
    "balance.anode_areal",
];

#[test]
fn a_sheet_leaves_as_a_valid_partial_set() {
    for text in MARRAM {
        let sheet = Sheet::parse(text).unwrap();
        let text = to_parameters(&sheet).unwrap();
        valid(&text);
        let set: Value = serde_json::from_str(&text).unwrap();
        assert_eq!((&set["Header"]["Model"], &set["Header"]["BPX"]), (&json!("Partial"), &json!("1.1.0")));
        let parameters = set["Parameterisation"].as_object().unwrap();
        assert!(
            !parameters.contains_key("Positive electrode") && !parameters.contains_key("Negative electrode")
        );
        // Every assumed entry is named, none that was read is.
        let description = set["Header"]["Description"].as_str().unwrap();
        let draft = Draft::read(&sheet).unwrap();
        for input in draft.inputs() {
            let named = description.contains(&format!(" {}, {} = ", input.path, input.label));
            assert_eq!(named, matches!(input.origin, Origin::Assumed | Origin::Default), "{}", input.path);
        }
        // Area times number of pairs is the whole facing area.
        let worked = Worked::at(&draft, &draft.values()).unwrap();
        let (inner, outer) = worked.design.active_area();
        let area = parameters["Cell"]["Electrode area [m2]"].as_f64().unwrap();
        assert_relative_eq!(area, (inner + outer).value, max_relative = 1e-14);
    }
}

#[test]
fn the_schema_refuses_what_is_no_parameter_set() {
    let schema: Value = serde_json::from_str(SCHEMA).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let good: Value =
        serde_json::from_str(&to_parameters(&Sheet::parse(MARRAM[2]).unwrap()).unwrap()).unwrap();
    for (pointer, value) in [
        ("/Header/Model", json!("Whole")),
        ("/Header/BPX", json!("one")),
        ("/Parameterisation/Cell/Mass [kg]", json!(0.07)),
        ("/Parameterisation/Cell/Electrode area [m2]", json!("large")),
        ("/Parameterisation/Separator/Porosity", Value::Null),
    ] {
        let mut bad = good.clone();
        let (holder, key) = pointer.rsplit_once('/').unwrap();
        bad.pointer_mut(holder).unwrap()[key] = value;
        assert!(!validator.is_valid(&bad), "{pointer}");
    }
}

#[test]
fn what_left_comes_in_again() {
    for text in MARRAM {
        let sheet = Sheet::parse(text).unwrap();
        let imported = again(&sheet);
        // Tabs are not said, and take the coating under them with them.
        let tabs = text.contains("\"tabs\"");
        for id in KEPT {
            let (before, after) = (figure(&sheet, id), figure(&imported.sheet, id));
            assert_relative_eq!(before, after, max_relative = if tabs { 0.02 } else { 1e-9 });
        }
        if tabs {
            assert!(
                imported.remarks.iter().any(|remark| remark.contains("under tabs")),
                "{:?}",
                imported.remarks
            );
        }
    }
}

#[test]
fn uncertainties_and_materials_of_ones_own_come_in_again() {
    let sheet = Sheet::parse(MARRAM[0]).unwrap();
    let own = json!([{ "name": "own oxide", "role": "cathode", "density": "4.8 ± 0.1 g/cm³", "capacity": "190 ± 2 mAh/g",
        "initial_coulombic_efficiency": "90 %", "curve": [[0.2, 4.4], [0.5, 4.0], [0.8, 3.8], [1.0, 3.3]], "window": [0.3, 0.95] }]);
    let sheet = edit(
        &sheet,
        &[
            Edit::Set { key: "materials".to_owned(), to: own },
            Edit::Set {
                key: "cathode.mix".to_owned(),
                to: json!([{ "material": "own oxide" }, { "material": "PVDF", "share": "2 ± 0.2 %" }]),
            },
        ],
    )
    .unwrap()
    .sheet;
    let after = again(&sheet).sheet;
    let inputs = |sheet: &Sheet| {
        let draft = Draft::read(sheet).unwrap();
        draft.inputs().iter().map(|input| (input.key.to_string(), input.uncertain)).collect::<Vec<_>>()
    };
    let (before, after) = (inputs(&sheet), inputs(&after));
    for key in [
        "can.diameter",
        "can.wall",
        "cathode.loading",
        "cathode.thickness",
        "materials[own oxide].density",
        "materials[own oxide].capacity",
        "cathode.mix[PVDF].share",
    ] {
        let find = |all: &[(String, roulade_stats::uncertain::Uncertain)]| {
            all.iter().find(|(at, _)| at == key).unwrap_or_else(|| panic!("{key}: {all:?}")).1
        };
        let (before, after) = (find(&before), find(&after));
        assert_relative_eq!(before.value, after.value, max_relative = 1e-12);
        assert_relative_eq!(before.u(), after.u(), max_relative = 1e-6);
        assert!(before.u() > 0.0, "{key}");
    }
    let text = to_parameters(&sheet).unwrap();
    valid(&text);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Whatever both can say comes back, and what follows from it.
    #[test]
    fn round_trip(
        diameter in 18.0..50.0_f64, height in 60.0..120.0_f64, loading in 12.0..28.0_f64, porosity in 18.0..35.0_f64,
        foil in 10.0..20.0_f64, ratio in 1.02..1.3_f64, overhang in 0.2..1.5_f64, low in 2.5..3.0_f64, high in 4.05..4.25_f64,
    ) {
        let sheet = Sheet::new("drawn")
            .can(format!("{diameter} mm"), format!("{height} mm"))
            .cathode(&[("NMC811", ""), ("PVDF", "2 %")], format!("{loading} mg/cm²"))
            .anode(&[("graphite", ""), ("CMC", "3 %")]);
        let sheet = [
            ("cathode.porosity", format!("{porosity} %")), ("cathode.foil.thickness", format!("{foil} µm")),
            ("anode.n_to_p", format!("{ratio}")), ("anode.overhang", format!("{overhang} mm")),
            ("voltage.discharge_cut_off", format!("{low} V")), ("voltage.charge_cut_off", format!("{high} V")),
            ("collection", "edges".to_owned()),
        ].into_iter().try_fold(sheet, |sheet, (key, text)| sheet.with(key, text)).unwrap();
        prop_assume!(to_parameters(&sheet).is_ok());
        let imported = again(&sheet);
        for id in KEPT {
            let (before, after) = (figure(&sheet, id), figure(&imported.sheet, id));
            prop_assert!((before / after - 1.0).abs() < 1e-9, "{id}: {before} {after}");
        }
        // A second time nothing changes any more.
        let twice = again(&imported.sheet);
        for id in KEPT {
            let (before, after) = (figure(&imported.sheet, id), figure(&twice.sheet, id));
            prop_assert!((before / after - 1.0).abs() < 1e-12, "{id}: {before} {after}");
        }
    }
}

/// Somebody else's parameter set, whole: round numbers.
fn whole() -> Value {
    let electrode = |thickness: f64, porosity: f64, surface: f64, most: f64, window: [f64; 2], ocp: Value| {
        json!({
            "Thickness [m]": thickness, "Porosity": porosity, "Transport efficiency": 0.25, "Conductivity [S.m-1]": 1.0,
            "Minimum stoichiometry": window[0], "Maximum stoichiometry": window[1],
            "Maximum concentration [mol.m-3]": most, "Particle radius [m]": 5e-6,
            "Surface area per unit volume [m-1]": surface, "Diffusivity [m2.s-1]": "1e-14 * exp(-x)",
            "OCP [V]": ocp, "Reaction rate constant [mol.m-2.s-1]": 1e-10,
        })
    };
    json!({
        "Header": { "BPX": "1.1.0", "Title": "round numbers", "Model": "DFN" },
        "Parameterisation": {
            "Cell": {
                "Electrode area [m2]": 0.045, "Number of electrode pairs connected in parallel to make a cell": 2,
                "Lower voltage cut-off [V]": 2.5, "Upper voltage cut-off [V]": 4.2, "Nominal cell capacity [A.h]": 5.0,
            },
            "Electrolyte": { "Cation transference number": 0.26, "Diffusivity [m2.s-1]": 3e-10, "Conductivity [S.m-1]": 1.0 },
            "Negative electrode": electrode(85e-6, 0.25, 4.2e5, 30_000.0, [0.02, 0.92], json!({ "x": [0.0, 0.1, 0.5, 0.92, 1.0], "y": [1.0, 0.2, 0.12, 0.08, 0.01] })),
            "Positive electrode": electrode(75e-6, 0.30, 4.0e5, 50_000.0, [0.27, 0.91], json!("4.6 - 1.1 * x - 0.5 * exp(20 * (x - 0.97))")),
            "Separator": { "Thickness [m]": 12e-6, "Porosity": 0.47, "Transport efficiency": 0.32 },
        },
    })
}

fn can() -> Beside {
    Beside { can: Some(["21 mm".to_owned(), "70 mm".to_owned()]), ..Beside::default() }
}

#[test]
fn a_whole_set_of_somebody_else_comes_in() {
    valid(&whole().to_string());
    let imported = from_parameters(&whole().to_string(), &can()).unwrap();
    assert!(imported.problems.0.is_empty(), "{}", imported.problems);
    let sheet = &imported.sheet;
    let draft = Draft::read(sheet).unwrap();
    let worked = Worked::at(&draft, &draft.values()).unwrap();
    let b = worked.design.blueprint();
    // Area times pairs.
    let (inner, outer) = worked.design.active_area();
    assert_relative_eq!((inner + outer).value, 0.09, max_relative = 1e-8);
    assert_relative_eq!(b.cathode.thickness.value, 75e-6, max_relative = 1e-12);
    assert_relative_eq!(b.cathode.porosity().value, 0.30, max_relative = 1e-9);
    assert_relative_eq!(b.anode.porosity().value, 0.25, max_relative = 1e-9);
    assert_relative_eq!(b.separator.film.value, 12e-6, max_relative = 1e-12);
    assert_relative_eq!(b.window.upper.value, 4.2);
    // By hand: c·F·Δx·ε·t with ε = a·R/3, whatever density stands in.
    let by_hand =
        |most: f64, span: f64, surface: f64, t: f64| most * 96_485.332 * span * surface * 5e-6 / 3.0 * t;
    assert_relative_eq!(
        figure(sheet, "balance.cathode_areal"),
        by_hand(50_000.0, 0.64, 4.0e5, 75e-6),
        max_relative = 1e-8
    );
    assert_relative_eq!(
        figure(sheet, "balance.anode_areal"),
        by_hand(30_000.0, 0.90, 4.2e5, 85e-6),
        max_relative = 1e-8
    );
    assert!(
        imported.remarks.iter().any(|remark| remark.contains("the parameter set states 5.000 Ah")),
        "{:?}",
        imported.remarks
    );
    for gone in ["Parameterisation.Electrolyte", "Diffusivity", "Reaction rate constant"] {
        assert!(imported.left_out.iter().any(|name| name.contains(gone)), "{gone}: {:?}", imported.left_out);
    }
    // What comes in may leave.
    valid(&to_parameters(sheet).unwrap());
}

#[test]
fn a_base_sheet_keeps_its_hardware() {
    let base = Sheet::parse(MARRAM[2]).unwrap();
    let mut set = whole();
    set["Parameterisation"]["Cell"]["Electrode area [m2]"] = json!(0.04);
    let imported =
        from_parameters(&set.to_string(), &Beside { base: Some(base.clone()), can: None }).unwrap();
    assert!(imported.problems.0.is_empty(), "{}", imported.problems);
    assert_eq!(imported.sheet.parts, base.parts);
    assert_eq!(imported.sheet.can, base.can);
    assert_ne!(imported.sheet.cathode, base.cathode);
}

#[test]
fn whatever_is_wrong_is_reported_with_its_place() {
    for (pointer, value, expected) in [
        ("/Header/Model", json!("Whole"), "Header.Model: found \"Whole\"; expected SPM"),
        (
            "/Parameterisation/Cell/Electrode area [m2]",
            json!(-1),
            "Cell.Electrode area [m2]: found -1; expected a number greater",
        ),
        ("/Parameterisation/Cell", json!([1]), "Parameterisation.Cell: found [1]; expected a JSON object"),
        ("/Parameterisation/Negative electrode/Porosity", json!(0.9), "fill 1.6000 of the coating"),
        ("/Parameterisation/Positive electrode/OCP [V]", json!("open('x')"), "character 1 of a formula"),
        (
            "/Parameterisation/Positive electrode/OCP [V]",
            json!("1 + x"),
            "expected a potential that falls with the stoichiometry",
        ),
        ("/Parameterisation/Positive electrode/OCP [V]", json!("1 / (x - 0.27)"), "no value at x = 0.27"),
        ("/Parameterisation/Positive electrode/OCP [V]", json!({ "x": [0, 1], "y": [1] }), "2 and 1 numbers"),
        (
            "/Parameterisation/Positive electrode/OCP [V]",
            json!({ "x": [0, "a"], "y": [1, 2] }),
            "expected a list of numbers",
        ),
        ("/Parameterisation/Positive electrode/OCP [V]", json!(true), "expected a formula of x"),
        (
            "/Parameterisation/Positive electrode/Minimum stoichiometry",
            json!(0.95),
            "expected a stoichiometry that is less than the maximum",
        ),
        (
            "/Parameterisation/Positive electrode/Particle radius [m]",
            json!("5"),
            "Particle radius [m]: found \"5\"",
        ),
    ] {
        let mut set = whole();
        let (holder, key) = pointer.rsplit_once('/').unwrap();
        set.pointer_mut(holder).unwrap()[key] = value;
        let problems = from_parameters(&set.to_string(), &can()).unwrap_err().to_string();
        assert!(problems.contains(expected), "{pointer}: {problems}");
    }
    let expected = |text: &str, beside: &Beside| from_parameters(text, beside).unwrap_err().to_string();
    assert!(expected(&whole().to_string(), &Beside::default()).contains("no size of the can"));
    assert!(expected("[]", &can()).contains("no object"));
    assert!(expected("{\"Header\": {}, \"Header\": {}}", &can()).contains("Header"));
    assert!(expected("", &can()).contains("breaks off"));
    assert!(expected(&" ".repeat(2_000_000), &can()).contains("MB"));
    // A cell whose area does not fit into its can is a sheet with a problem.
    let mut set = whole();
    set["Parameterisation"]["Cell"]["Electrode area [m2]"] = json!(5.0);
    assert!(!from_parameters(&set.to_string(), &can()).unwrap().problems.0.is_empty());
}
