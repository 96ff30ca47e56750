//! Gaps filled, readings paired and figures overridden: one electrode, however it was read.

mod electrode;
mod material;

use super::*;
use crate::cell::design::Electrolyte;
use crate::test_support::{design, draft, refused, with};
use approx::assert_relative_eq;
use roulade_stats::uncertain::Origin;
use serde_json::{Value, json};

#[track_caller]
fn close(a: f64, b: f64) {
    assert_relative_eq!(a, b, max_relative = 1e-9, epsilon = 1e-12);
}

fn input<'a>(draft: &'a Draft, path: &str) -> &'a Input {
    draft.inputs().iter().find(|input| input.path == path).expect(path)
}

#[test]
fn a_sheet_without_parts_has_a_lid() {
    let plain = draft(&[("parts", json!(null))]);
    assert!(plain.remarks()[0].starts_with("The sheet lists no parts"));
    let b = plain.design().unwrap().into_blueprint();
    // Both folds are stated: two plates, an insulator and the cap assembly, 3.9 + 0.03·28 mm of bore, 23 % of it steel.
    assert_eq!(b.parts.len(), 4);
    close(1e9 * b.parts[3].volume.value, 4.74 * 506.25 * std::f64::consts::PI * 0.23);
    assert!(
        plain
            .inputs()
            .iter()
            .filter(|i| i.path.starts_with("parts"))
            .all(|i| i.origin == Origin::Default && i.source().is_some())
    );
    assert!(draft(&[("parts", json!([]))]).design().unwrap().blueprint().parts.is_empty());
    assert!(
        draft(&[])
            .inputs()
            .iter()
            .filter(|i| i.path == "parts[0].height")
            .all(|i| i.origin == Origin::Assumed)
    );
}

#[test]
fn a_part_needs_what_it_weighs_and_takes() {
    let part = |more: Value| {
        let mut part = json!({ "name": "x", "place": "above roll", "height": "1 mm" });
        for (key, value) in more.as_object().unwrap() {
            part[key] = value.clone();
        }
        refused(&[("parts/3", part)]).join("\n")
    };
    assert!(part(json!({})).contains("parts[3]: found \"x\" with neither mass nor volume"));
    assert!(part(json!({ "mass": "1 g" })).contains("\"x\" with a mass alone"));
    assert!(
        part(json!({ "mass": "1 g", "solid_fraction": "5 %", "material": "metal" }))
            .contains("\"x\" with a mass and a solid fraction and a material")
    );
    assert!(
        part(json!({ "name": "lid", "mass": "1 g", "material": "metal" }))
            .contains("a second part called \"lid\"")
    );
    assert!(
        part(json!({ "name": " ", "mass": "1 g", "material": "metal" }))
            .contains("parts[3].name: found nothing")
    );
    assert!(
        part(json!({ "place": null, "mass": "1 g", "material": "metal" }))
            .contains("parts[3].place: found nothing")
    );
}

#[test]
fn one_entry_too_many_is_refused() {
    for (changes, place) in [
        (vec![("void_height", json!("4 mm"))], "void_height"),
        (vec![("winding/cathode_length", json!("4 m"))], "winding.radial_clearance"),
        (vec![("winding/anode_length", json!("4 m"))], "winding.anode_length"),
        (
            vec![
                ("winding/radial_clearance", json!(null)),
                ("winding/cathode_length", json!("3 m")),
                ("winding/anode_length", json!("3.2 m")),
            ],
            "winding.anode_overhang_end",
        ),
        (vec![("electrolyte/mass", json!("30 g"))], "electrolyte.excess"),
        (vec![("roulade_sheet", json!(2))], "roulade_sheet"),
    ] {
        let diagnostics = refused(&changes);
        assert!(diagnostics[0].starts_with(&format!("{place}: ")), "{place}: {diagnostics:?}");
    }
    assert!(crate::test_support::read(&with(&[("roulade_sheet", json!(1))])).is_ok());
}

#[test]
fn unknown_keys_are_named_wherever_they_stand() {
    for (path, place) in [
        ("colour", "colour"),
        ("can/colour", "can.colour"),
        ("parts/1/colour", "parts[1].colour"),
        ("winding/colour", "winding.colour"),
        ("cathode/colour", "cathode.colour"),
        ("cathode/foil/colour", "cathode.foil.colour"),
        ("cathode/mix/1/colour", "cathode.mix[1].colour"),
        ("anode/colour", "anode.colour"),
        ("anode/foil/colour", "anode.foil.colour"),
        ("anode/mix/1/colour", "anode.mix[1].colour"),
        ("separator/colour", "separator.colour"),
        ("electrolyte/colour", "electrolyte.colour"),
        ("voltage/colour", "voltage.colour"),
        ("materials/2/colour", "materials[2].colour"),
    ] {
        let diagnostics = refused(&[(path, json!("red"))]);
        assert!(
            diagnostics[0].starts_with(&format!(
                "{place}: found a key that is not known here; expected one of the keys known here: "
            )),
            "{diagnostics:?}"
        );
    }
    assert!(refused(&[("can/hieght", json!("95 mm"))])[0].ends_with("perhaps \"height\" was meant"));
}

#[test]
fn entries_keep_where_they_come_from() {
    let d = draft(&[
        ("can/wall", json!({ "value": "0.5 ± 0.01 mm", "from": "measured", "remark": "calliper" })),
        ("can/bottom", json!(null)),
        ("cathode/initial_coulombic_efficiency", json!({ "value": "95 %", "from": "stated" })),
    ]);
    let wall = input(&d, "can.wall");
    assert_eq!(
        (wall.origin, wall.remark.as_deref(), &*wall.text()),
        (Origin::Measured, Some("calliper"), "0.5 ± 0.01 mm")
    );
    close(wall.uncertain.u(), 1e-5);
    let bottom = input(&d, "can.bottom");
    assert_eq!((bottom.origin, &*bottom.text()), (Origin::Default, "0.58 ± 0.10 mm"));
    assert!(bottom.source().is_some() && bottom.section == "Can");
    assert_eq!(input(&d, "cathode.initial_coulombic_efficiency").origin, Origin::Stated);
    close(d.blueprint_at(&d.values()).cathode.initial_coulombic_efficiency.value, 0.95);
    assert_eq!(input(&d, "parts[1].mass").label, "plate: mass");
    assert_eq!(input(&d, "parts[1].mass").key, "parts[plate].mass");
    let supposed =
        d.inputs().iter().filter(|i| matches!(i.origin, Origin::Assumed | Origin::Default)).count();
    assert_eq!((d.assumed(), d.assumed()), (supposed, d.inputs().len() - 2));
    // A range is judged at both its ends.
    assert!(
        refused(&[("cathode/porosity", json!("-5 .. 20 %"))])[0]
            .contains("expected a value that is zero or more and less than 1")
    );
    assert!(refused(&[("cathode/porosity", json!("20 .. 100 %"))])[0].starts_with("cathode.porosity"));
    assert!(refused(&[("can/diameter", json!(null))])[0].starts_with("can.diameter: found nothing"));
}

#[test]
fn electrolyte_and_cell_as_given() {
    let b = design(&[("cell_mass", json!("330 g"))]).into_blueprint();
    close(1e3 * b.weighed.unwrap().value, 330.0);
    let Electrolyte::Excess { density, share } = b.electrolyte else { panic!() };
    close(density.value, 1250.0);
    close(share.value, 0.1);
    let b = design(&[("electrolyte", json!({ "mass": "30 g" }))]).into_blueprint();
    let Electrolyte::Filled { density, mass } = b.electrolyte else { panic!() };
    // The table's.
    close(density.value, 1200.0);
    close(1e3 * mass.value, 30.0);
}

#[test]
fn correlated_inputs_are_found_by_their_paths() {
    let uncertain = [
        ("cathode/loading", json!("20 ± 0.1 mg/cm2")),
        ("parts/1/mass", json!("4 ± 0.1 g")),
        ("cathode/thickness", json!("49 .. 51 µm")),
    ];
    let of = |paths: Value, coefficients: Value| {
        let section = json!({ "paths": paths, "coefficients": coefficients });
        [&uncertain[..], &[("correlated", section)]].concat()
    };
    let draft = draft(&of(
        json!(["cathode.thickness", " parts[plate].mass", "cathode.loading"]),
        json!([[0.3], [-0.9, 0]]),
    ));
    let at = |path: &str| draft.inputs().iter().position(|input| input.path == path).unwrap();
    let r = |a, b| draft.correlation().between(at(a), at(b));
    close(r("cathode.thickness", "cathode.loading"), -0.9);
    close(r("parts[1].mass", "cathode.thickness"), 0.3);
    close(r("parts[1].mass", "cathode.loading"), 0.0);
    close(r("can.wall", "cathode.loading"), 0.0);
    assert!(crate::test_support::draft(&of(json!([]), json!([]))).correlation().is_empty());

    let diagnostics = |paths: Value, coefficients: Value| refused(&of(paths, coefficients));
    assert_eq!(
        diagnostics(
            json!(["cathode.loadin", "can.wall", "cathode.loading", "cathode.loading"]),
            json!([[1.5], [0, 0, 0]])
        ),
        [
            "correlated.paths[0]: found \"cathode.loadin\", a path this sheet does not use; expected the path of a quantity of \
             the sheet, for example \"cathode.loading\"; perhaps \"cathode.loading\" was meant",
            "correlated.paths[1]: found \"can.wall\", which is exact (0.5 mm); expected a quantity that has an \
             uncertainty, as \"68 ± 1 µm\" or \"60 .. 75 µm\" has",
            "correlated.paths[3]: found \"cathode.loading\" a second time; expected each quantity to be listed once",
            "correlated.coefficients: found 2 rows; expected 3 rows for 4 paths, one for each path after the first",
            "correlated.coefficients[0][0]: found 1.5; expected a correlation coefficient that lies between -1 and 1",
            "correlated.coefficients[1]: found a row of 3; expected a row of 2, one for each path before it",
        ]
    );
    let held = json!({ "paths": [], "coefficients": [], "held": ["capacity"], "held_u": [0, 1] });
    assert_eq!(
        refused(&[("correlated", held)]),
        [
            "correlated.held_u: found 2 uncertainties; expected 1, which is one for each figure of held",
            "correlated.held_u[0]: found 0; expected a standard uncertainty that is greater than zero",
        ]
    );
    let three = json!(["cathode.thickness", "parts[1].mass", "cathode.loading"]);
    let impossible = diagnostics(three, json!([[0.9], [0.9, -0.9]]));
    assert!(impossible.len() == 1 && impossible[0].contains("not positive semidefinite"), "{impossible:?}");
}
