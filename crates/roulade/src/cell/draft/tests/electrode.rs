//! One electrode, however it was read.

use super::super::*;
use super::close;
use crate::cell::design::Electrode;
use crate::test_support::{design, draft, refused, with};
use serde_json::{Value, json};

/// 0.9/5 + 0.1/2 = 0.23 cm³ a gram: 20 mg/cm² in 50 µm are 8 % pores. 0.9/2 + 0.1/2 = 0.5: 10 in 100 are 50 %.
#[test]
fn every_pair_of_readings_is_the_same_electrode() {
    let same = |electrode: &Electrode, [loading, thickness, porosity]: [f64; 3]| {
        close(100.0 * electrode.loading.value, loading);
        close(1e6 * electrode.thickness.value, thickness);
        close(electrode.porosity().value, porosity);
    };
    let cathode = [20.0, 50.0, 0.08];
    for (loading, thickness, porosity) in [
        (json!("20 mg/cm2"), json!("50 µm"), json!(null)),
        (json!("20 mg/cm2"), json!(null), json!("8 %")),
        (json!(null), json!("50 µm"), json!("8 %")),
        (json!("20 mg/cm2"), json!("50 µm"), json!("8 %")),
    ] {
        let d = design(&[
            ("cathode/loading", loading),
            ("cathode/thickness", thickness),
            ("cathode/porosity", porosity),
        ]);
        same(&d.blueprint().cathode, cathode);
        close(1e-3 * d.blueprint().cathode.solid_density.value, 1.0 / 0.23);
    }
    let anode = [10.0, 100.0, 0.5];
    for (loading, thickness, porosity, n_to_p) in [
        (json!("10 mg/cm2"), json!("100 µm"), json!(null), json!(null)),
        (json!("10 mg/cm2"), json!(null), json!("50 %"), json!(null)),
        (json!(null), json!("100 µm"), json!("50 %"), json!(null)),
        (json!(null), json!(null), json!("50 %"), json!("1.25")),
        (json!(null), json!("100 µm"), json!(null), json!("1.25")),
    ] {
        let d = design(&[
            ("anode/loading", loading),
            ("anode/thickness", thickness),
            ("anode/porosity", porosity),
            ("anode/n_to_p", n_to_p),
        ]);
        same(&d.blueprint().anode, anode);
    }
}

#[test]
fn what_stands_in_where_fewer_were_read() {
    let none = |side: &str| {
        let gone: Vec<(String, Value)> = ["loading", "thickness", "porosity"]
            .iter()
            .map(|what| (format!("{side}/{what}"), json!(null)))
            .collect();
        let gone: Vec<(&str, Value)> =
            gone.iter().map(|(path, value)| (path.as_str(), value.clone())).collect();
        draft(&gone)
    };
    // The population's laws at a purpose of 0, of a mix of 1/0.23 g/cm³.
    let cathode = none("cathode").design().unwrap().into_blueprint().cathode;
    close(1e6 * cathode.thickness.value, 58.0);
    close(cathode.porosity().value, 0.26);
    // N/P 1.085: 1.085·3.6/450 mAh/cm² and g; 26 %.
    let anode = none("anode").design().unwrap().into_blueprint().anode;
    close(100.0 * anode.loading.value, 8.68);
    close(anode.porosity().value, 0.26);
    let alone = design(&[("anode/loading", json!(null))]).into_blueprint().anode;
    close(1e6 * alone.thickness.value, 100.0);
    close(alone.porosity().value, 0.26);
}

#[test]
fn redundant_readings_agree_within_three_standard_uncertainties() {
    // 1 % of each reading is 0.92·√2·1 % of pore volume; with half a per cent for the last digit, 1.3938 %.
    let porosity = |text: &str| {
        [
            ("cathode/loading", json!("20 ± 0.2 mg/cm2")),
            ("cathode/thickness", json!("50 ± 0.5 µm")),
            ("cathode/porosity", json!(text)),
        ]
    };
    let read = draft(&porosity("12.1 %"));
    assert!(
        read.remarks()[0].contains("porosity 8.0 % follows from the first two, 12.1 % was read"),
        "{:?}",
        read.remarks()
    );
    let refused = refused(&porosity("12.3 %"));
    assert!(
        refused[0].contains("12.3 %, where loading and thickness of this mix leave 8.0 % (they differ by 3.1 standard uncertainties)"),
        "{refused:?}"
    );
    assert_eq!(draft(&porosity("12.3 ± 1 %")).remarks().len(), 1);
    assert!(draft(&[]).remarks().is_empty());
}

#[test]
fn shares_add_to_one_whatever_moves() {
    let shares = |draft: &Draft, at: &[(&str, f64)]| -> Vec<f64> {
        let mut values = draft.values();
        for (path, by) in at {
            values[draft.inputs().iter().position(|i| i.path == *path).unwrap()] += by;
        }
        draft.blueprint_at(&values).cathode.mix.iter().map(|c| c.share).collect()
    };
    let mix = |host: &str, first: &str, second: &str| json!([{ "material": "PVDF", "share": first }, { "material": "C", "share": host }, { "material": "plastic", "share": second }]);
    let all = draft(&[("cathode/mix", mix("90 %", "4 %", "6 %"))]);
    for (found, hand) in shares(&all, &[("cathode.mix[0].share", 0.01)]).iter().zip([0.05, 0.89, 0.06]) {
        close(*found, hand);
    }
    // The largest gives way also to itself.
    for (found, hand) in shares(&all, &[("cathode.mix[1].share", 0.01)]).iter().zip([0.04, 0.9, 0.06]) {
        close(*found, hand);
    }
    let rest = draft(&[]);
    for (found, hand) in shares(&rest, &[("cathode.mix[1].share", 0.02)]).iter().zip([0.88, 0.12]) {
        close(*found, hand);
    }
    let diagnostics = refused(&[("cathode/mix", mix("90 %", "4 %", "6.1 %"))]);
    assert!(diagnostics[0].contains("cathode.mix: found shares that add to 1.0010"), "{diagnostics:?}");
    let diagnostics = refused(&[("cathode/mix/1/share", json!("100 %"))]);
    assert!(
        diagnostics[0].contains("shares that add to 1.0000, with one more left to fill in"),
        "{diagnostics:?}"
    );
    let diagnostics = refused(&[("cathode/mix/1/share", json!(null))]);
    assert!(diagnostics[0].contains("2 shares left out"), "{diagnostics:?}");
}

#[test]
fn a_mix_without_its_host_or_with_anothers_is_refused() {
    let diagnostics = refused(&[("anode/mix", json!([{ "material": "plastic" }]))]);
    assert!(diagnostics[0].contains("no active material") && diagnostics.len() == 1, "{diagnostics:?}");
    let diagnostics = refused(&[("anode/mix/2", json!({ "material": "C", "share": "5 %" }))]);
    assert!(diagnostics[0].contains("C, which is no anode material"), "{diagnostics:?}");
    assert!(refused(&[("anode/mix", json!([]))])[0].starts_with("anode.mix: found nothing"));
    assert!(refused(&[("anode/mix/0/material", json!(" "))])[0].starts_with("anode.mix[0].material"));
    let diagnostics = refused(&[("anode/n_to_p", json!("1.1"))]);
    assert!(
        diagnostics[0].starts_with("anode.n_to_p: found a ratio beside what the loading follows from"),
        "{diagnostics:?}"
    );
    let diagnostics = refused(&[
        ("anode/n_to_p", json!("1.1")),
        ("anode/loading", json!(null)),
        ("anode/porosity", json!("50 %")),
    ]);
    assert!(diagnostics[0].starts_with("anode.n_to_p"), "{diagnostics:?}");
    let diagnostics = refused(&[("materials/3/curve", json!(null))]);
    assert!(
        diagnostics[0].starts_with("cathode.mix: found \"C\", for which there is no half-cell curve"),
        "{diagnostics:?}"
    );
    assert!(
        crate::test_support::read(&with(&[
            ("materials/3/curve", json!(null)),
            ("voltage/nominal", json!("3.6 V"))
        ]))
        .is_ok()
    );
}

/// C: 200 mAh/g over a window of one. D: 100 mAh/g over a window of a half, so 200 from 0 to 1; half of its first
/// charge comes back.
#[test]
fn two_hosts_by_hand() {
    let d = design(&[
        (
            "materials/5",
            json!({ "name": "D", "role": "cathode", "density": "5 g/cm3", "capacity": "100 mAh/g",
            "initial_coulombic_efficiency": "80 %", "curve": [[0, 4.3], [0.1, 4.2], [0.4, 3.8], [0.5, 3.5]] }),
        ),
        (
            "cathode/mix",
            json!([{ "material": "C", "share": "30 %" }, { "material": "D", "share": "60 %" }, { "material": "plastic" }]),
        ),
    ]);
    let c = &d.blueprint().cathode;
    close(c.reversible.value / 3600.0, 0.3 * 200.0 + 0.6 * 100.0);
    close(c.host.value / 3600.0, 0.3 * 200.0 + 0.6 * 200.0);
    // 60 + 60 of 60 + 75.
    close(c.initial_coulombic_efficiency.value, 120.0 / 135.0);
    let potential = c.potential.as_ref().unwrap();
    // A third and two thirds of the host capacity: C from 0 to 1, D from 0 to a half, as assembled 0.5/0.8 of it.
    close(potential.curve.window().1, 1.0 / 3.0 + 0.5 * 2.0 / 3.0);
    close(potential.as_assembled, 1.0 / 3.0 + 0.625 * 2.0 / 3.0);
    close(potential.curve.stoichiometry(3.8), 0.6 / 3.0 + 0.4 * 2.0 / 3.0);
    // With other shares the curve is made anew.
    let draft = self::draft(&[
        (
            "materials/5",
            json!({ "name": "D", "role": "cathode", "density": "5 g/cm3", "capacity": "100 mAh/g",
            "initial_coulombic_efficiency": "80 %", "curve": [[0, 4.3], [0.1, 4.2], [0.4, 3.8], [0.5, 3.5]] }),
        ),
        (
            "cathode/mix",
            json!([{ "material": "C" }, { "material": "D", "share": "60 %" }, { "material": "plastic", "share": "10 %" }]),
        ),
    ]);
    let mut values = draft.values();
    values[draft.inputs().iter().position(|i| i.path == "cathode.mix[1].share").unwrap()] = 0.45;
    let moved = draft.blueprint_at(&values).cathode.potential.unwrap();
    close(moved.curve.window().1, 0.75);
    close(moved.as_assembled, 0.5 + 0.5 * 0.625);
}

#[test]
fn a_cathode_is_assembled_with_what_its_first_cycle_says() {
    let assembled = |efficiency: &str, high: f64| {
        let points: Vec<(f64, f64)> = [0.1, 0.3, 0.6, high].iter().map(|x| (*x, 4.4 - x)).collect();
        let d = design(&[
            ("materials/3/curve", json!(points)),
            ("materials/3/initial_coulombic_efficiency", json!(efficiency)),
        ]);
        d.blueprint().cathode.potential.as_ref().unwrap().as_assembled
    };
    // y_low + (y_high − y_low)/η; more than its curve shows where little comes back, less where more did than was taken.
    close(assembled("90 %", 0.9), 0.1 + 0.8 / 0.9);
    close(assembled("50 %", 0.9), 0.1 + 1.6);
    close(assembled("105 %", 0.9), 0.1 + 0.8 / 1.05);
    // At every draw, for a curve of the table as well, and by the electrode's own figure where the sheet has one.
    let table = [("cathode/mix/0/material", json!("NMC811"))];
    let draft = self::draft(&table);
    let mut values = draft.values();
    let at = draft
        .inputs()
        .iter()
        .position(|i| i.path == "materials[NMC811].initial_coulombic_efficiency")
        .unwrap();
    for eta in [0.86, 0.9] {
        values[at] = eta;
        let potential = draft.blueprint_at(&values).cathode.potential.unwrap();
        close(potential.as_assembled, 0.2661 + 0.6423 / eta);
    }
    let stated = design(&[table[0].clone(), ("cathode/initial_coulombic_efficiency", json!("95 %"))]);
    close(stated.blueprint().cathode.potential.as_ref().unwrap().as_assembled, 0.2661 + 0.6423 / 0.95);
    let d = design(&[]);
    close(d.blueprint().anode.potential.as_ref().unwrap().as_assembled, 0.0);
    close(d.blueprint().anode.potential.as_ref().unwrap().curve.potential(0.5), 0.3);
}
