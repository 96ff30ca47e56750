//! Figures of materials: the sheet's own before those of the table, and how well curves are known.

use super::super::*;
use super::{close, input};
use crate::test_support::{design, draft, refused};
use serde_json::{Value, json};

#[test]
fn the_sheets_figure_comes_before_the_tables() {
    let steel = |more: &[(&str, Value)]| {
        let mut changes = vec![("can/material", json!("mild steel"))];
        changes.extend(more.iter().cloned());
        1e-3 * design(&changes).blueprint().can.density.value
    };
    close(steel(&[]), 7.872);
    close(steel(&[("materials/5", json!({ "name": "steel", "density": "7.9 g/cm3" }))]), 7.9);
    // A density left out stays the table's.
    close(steel(&[("materials/5", json!({ "name": "steel", "role": "metal" }))]), 7.872);
    let own = draft(&[
        ("materials/5", json!({ "name": "NMC811", "capacity": "195 mAh/g" })),
        ("cathode/mix/0/material", json!("NMC811")),
    ]);
    close(input(&own, "materials[5].capacity").uncertain.value / 3600.0, 195.0);
    assert_eq!(input(&own, "materials[5].capacity").origin, Origin::Assumed);
    assert_eq!(input(&own, "materials[NMC811].density").origin, Origin::Default);
    // One material is one number, wherever it is used.
    let plastic = draft(&[]);
    assert_eq!(plastic.inputs().iter().filter(|i| i.key == "materials[plastic].density").count(), 1);
    let diagnostics = refused(&[("can/material", json!("stell"))]);
    assert!(
        diagnostics[0].contains("can.material: found \"stell\"")
            && diagnostics[0].contains("perhaps \"steel\" was meant"),
        "{diagnostics:?}"
    );
    let diagnostics = refused(&[
        ("materials/5", json!({ "name": "X", "density": "2 g/cm3" })),
        ("cathode/mix/1/material", json!("X")),
    ]);
    assert!(diagnostics[0].starts_with("materials[5].role: found nothing"), "{diagnostics:?}");
    assert!(refused(&[("materials/5", json!({ "name": " " }))])[0].starts_with("materials[5].name"));
    let diagnostics = refused(&[("materials/3/curve/1/1", json!(4.5))]);
    assert!(diagnostics[0].starts_with("materials[3].curve[1]"), "{diagnostics:?}");
    assert!(!diagnostics.iter().any(|t| t.contains("no half-cell curve")), "{diagnostics:?}");
    let diagnostics = refused(&[("materials/3/capacity", json!(null))]);
    assert!(
        diagnostics[0].contains("expected a capacity of \"C\" in the sheet's materials"),
        "{diagnostics:?}"
    );
}

#[test]
fn an_uncertain_curve_says_so() {
    let remarks = |material: &str| {
        draft(&[("anode/mix/2", json!({ "material": material, "share": "5 %" }))]).remarks().to_vec()
    };
    assert!(remarks("graphite").is_empty() && remarks("silicon").is_empty());
    let lent = remarks("silicon oxide");
    assert!(
        lent.len() == 1
            && lent[0].starts_with(
                "The half-cell curve of silicon oxide, in shape that of silicon, is uncertain: 50 mV either way"
            ),
        "{lent:?}"
    );
}

/// A sheet's own points may go on past the window that its capacity stands for; then limits count there too.
#[test]
fn a_curve_of_the_sheet_may_go_on_past_its_window() {
    let curve = (
        "materials/3/curve",
        json!([[0, 4.6], [0.1, 4.4], [0.3, 4.15], [0.7, 3.65], [0.9, 3.4], [0.95, 2.5]]),
    );
    let of = |window: Value| draft(&[curve.clone(), ("materials/3/window", window)]).design().unwrap();
    let whole = of(json!(null)).into_blueprint().cathode;
    let part = of(json!([0.1, 0.9])).into_blueprint().cathode;
    close(part.host.value * 0.8, whole.host.value * 0.95);
    let potential = part.potential.unwrap();
    assert_eq!((potential.curve.window(), potential.curve.reach()), ((0.1, 0.9), (0.0, 0.95)));
    close(potential.as_assembled, 0.9);
    for (window, expected) in
        [(json!([0.1]), "1 numbers"), (json!([0.9, 0.1]), "with 0 of"), (json!([0.2, 0.4]), "with 1 of")]
    {
        let problems = refused(&[curve.clone(), ("materials/3/window", window)]);
        assert!(
            problems[0].starts_with("materials[3].window") && problems[0].contains(expected),
            "{problems:?}"
        );
    }
}

/// Errors of curves are inputs with a name. Two hosts shift the coating by what each moves, 0.85·500 and 0.05·350 mAh/g.
#[test]
fn errors_of_curves_are_inputs() {
    let d = draft(&[
        ("anode/mix/2", json!({ "material": "graphite", "share": "5 %" })),
        ("materials/5", json!({ "name": "graphite", "capacity": "350 mAh/g" })),
    ]);
    let own = input(&d, "materials[A].potential");
    assert!(own.uncertain.u() == 0.0 && own.origin == Origin::Default);
    let graphite = input(&d, "materials[graphite].potential");
    assert_eq!(
        (&*graphite.text(), graphite.label.as_ref()),
        ("0 ± 10 mV", "graphite: potential, error of its curve")
    );
    let at = |path: &str| d.inputs().iter().position(|i| i.path == path).unwrap();
    let mut values = d.values();
    values[at("materials[A].potential")] = 0.01;
    values[at("materials[graphite].potential")] = -0.02;
    let shares = [0.85 * 500.0, 0.05 * 350.0];
    let shift = (shares[0] * 0.01 - shares[1] * 0.02) / (shares[0] + shares[1]);
    close(d.blueprint_at(&values).anode.potential.unwrap().shift.value, shift);
    // The sheet's own curve ends where its points do: there is nothing to stretch.
    assert!(d.inputs().iter().all(|i| i.path != "materials[A].extension"));
    assert_eq!(&*input(&d, "materials[graphite].extension").text(), "0.5 .. 1.5");
}
