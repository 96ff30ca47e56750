//! Gaps filled, readings paired and figures overridden: one electrode, however it was read.

use super::*;
use crate::cell::design::Electrode;
use crate::test_support::{design, draft, refused, with};
use approx::assert_relative_eq;
use serde_json::{Value, json};

#[track_caller]
fn close(a: f64, b: f64) {
    assert_relative_eq!(a, b, max_relative = 1e-9, epsilon = 1e-12);
}

fn input<'a>(draft: &'a Draft, path: &str) -> &'a Input {
    draft.inputs().iter().find(|input| input.path == path).expect(path)
}

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
    let told = draft(&porosity("12.1 %"));
    assert!(
        told.remarks()[0].contains("porosity 8.0 % follows from the first two, 12.1 % was read"),
        "{:?}",
        told.remarks()
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
    let told = refused(&[("cathode/mix", mix("90 %", "4 %", "6.1 %"))]);
    assert!(told[0].contains("cathode.mix: found shares that add to 1.0010"), "{told:?}");
    let told = refused(&[("cathode/mix/1/share", json!("100 %"))]);
    assert!(told[0].contains("shares that add to 1.0000, with one more left to fill in"), "{told:?}");
    let told = refused(&[("cathode/mix/1/share", json!(null))]);
    assert!(told[0].contains("2 shares left out"), "{told:?}");
}

#[test]
fn a_mix_without_its_host_or_with_anothers_is_refused() {
    let told = refused(&[("anode/mix", json!([{ "material": "plastic" }]))]);
    assert!(told[0].contains("no active material") && told.len() == 1, "{told:?}");
    let told = refused(&[("anode/mix/2", json!({ "material": "C", "share": "5 %" }))]);
    assert!(told[0].contains("C, which is no anode material"), "{told:?}");
    assert!(refused(&[("anode/mix", json!([]))])[0].starts_with("anode.mix: found nothing"));
    assert!(refused(&[("anode/mix/0/material", json!(" "))])[0].starts_with("anode.mix[0].material"));
    let told = refused(&[("anode/n_to_p", json!("1.1"))]);
    assert!(
        told[0].starts_with("anode.n_to_p: found a ratio beside what the loading follows from"),
        "{told:?}"
    );
    let told = refused(&[
        ("anode/n_to_p", json!("1.1")),
        ("anode/loading", json!(null)),
        ("anode/porosity", json!("50 %")),
    ]);
    assert!(told[0].starts_with("anode.n_to_p"), "{told:?}");
    let told = refused(&[("materials/3/curve", json!(null))]);
    assert!(told[0].starts_with("cathode.mix: found C, for which there is no half-cell curve"), "{told:?}");
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
    close(input(&own, "materials[5].capacity").known.value / 3600.0, 195.0);
    assert_eq!(input(&own, "materials[5].capacity").origin, Origin::Assumed);
    assert_eq!(input(&own, "materials[NMC811].density").origin, Origin::Default);
    // One material is one number, wherever it is used.
    let plastic = draft(&[]);
    assert_eq!(plastic.inputs().iter().filter(|i| i.key == "materials[plastic].density").count(), 1);
    let told = refused(&[("can/material", json!("stell"))]);
    assert!(
        told[0].contains("can.material: found \"stell\"") && told[0].contains("perhaps \"steel\" was meant"),
        "{told:?}"
    );
    let told = refused(&[
        ("materials/5", json!({ "name": "X", "density": "2 g/cm3" })),
        ("cathode/mix/1/material", json!("X")),
    ]);
    assert!(told[0].starts_with("materials[5].role: found nothing"), "{told:?}");
    assert!(refused(&[("materials/5", json!({ "name": " " }))])[0].starts_with("materials[5].name"));
    let told = refused(&[("materials/3/curve/1/1", json!(4.5))]);
    assert!(told[0].starts_with("materials[3].curve[1]"), "{told:?}");
    assert!(!told.iter().any(|t| t.contains("no half-cell curve")), "{told:?}");
    let told = refused(&[("materials/3/capacity", json!(null))]);
    assert!(told[0].contains("a capacity of C is needed in the sheet's materials"), "{told:?}");
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
    for (window, told) in
        [(json!([0.1]), "1 numbers"), (json!([0.9, 0.1]), "with 0 of"), (json!([0.2, 0.4]), "with 1 of")]
    {
        let problems = refused(&[curve.clone(), ("materials/3/window", window)]);
        assert!(problems[0].starts_with("materials[3].window") && problems[0].contains(told), "{problems:?}");
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
    assert!(own.known.u() == 0.0 && own.origin == Origin::Default);
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
    assert!(part(json!({})).contains("parts[3]: found x with neither mass nor volume"));
    assert!(part(json!({ "mass": "1 g" })).contains("x with a mass alone"));
    assert!(
        part(json!({ "mass": "1 g", "solid_fraction": "5 %", "material": "metal" }))
            .contains("x with a mass and a filling and a material")
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
        let told = refused(&changes);
        assert!(told[0].starts_with(&format!("{place}: ")), "{place}: {told:?}");
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
        let told = refused(&[(path, json!("red"))]);
        assert!(
            told[0].starts_with(&format!("{place}: found a key that is not known here; known here: ")),
            "{told:?}"
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
    close(wall.known.u(), 1e-5);
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
            .contains("must be zero or more and less than 1")
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

    let told = |paths: Value, coefficients: Value| refused(&of(paths, coefficients));
    assert_eq!(
        told(
            json!(["cathode.loadin", "can.wall", "cathode.loading", "cathode.loading"]),
            json!([[1.5], [0, 0, 0]])
        ),
        [
            "correlated.paths[0]: found \"cathode.loadin\", a path this sheet does not use; perhaps \"cathode.loading\" \
             was meant; the path of a quantity of the sheet, for example \"cathode.loading\"",
            "correlated.paths[1]: found \"can.wall\", which is exact (0.5 mm); a quantity with an uncertainty moves with \
             others: \"68 ± 1 µm\" or \"60 .. 75 µm\"",
            "correlated.paths[3]: found \"cathode.loading\" a second time; each quantity stands there once",
            "correlated.coefficients: found 2 rows; 3 rows for 4 paths: one for each path after the first",
            "correlated.coefficients[0][0]: found 1.5; a correlation coefficient lies between -1 and 1",
            "correlated.coefficients[1]: found a row of 3; a row of 2: one for each path before it",
        ]
    );
    let held = json!({ "paths": [], "coefficients": [], "held": ["capacity"], "held_u": [0, 1] });
    assert_eq!(
        refused(&[("correlated", held)]),
        [
            "correlated.held_u: found 2 uncertainties; 1, one for each figure of held",
            "correlated.held_u[0]: found 0; a standard uncertainty above zero",
        ]
    );
    let three = json!(["cathode.thickness", "parts[1].mass", "cathode.loading"]);
    let impossible = told(three, json!([[0.9], [0.9, -0.9]]));
    assert!(impossible.len() == 1 && impossible[0].contains("not positive semidefinite"), "{impossible:?}");
}
