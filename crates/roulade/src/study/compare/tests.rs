//! What two cells share, and what lies between their hardware, by hand.
#![allow(clippy::float_cmp, reason = "where nothing is left, nothing is left to the last bit")]

use super::*;
use crate::test_support::{demo, design, draft};
use approx::assert_relative_eq;
use serde_json::{Value, json};

fn close(a: f64, b: f64) {
    assert_relative_eq!(a, b, max_relative = 1e-9, epsilon = 1e-12);
}

/// Plate 0.4 + 1.5 mm out, weld spots 0.15 mm in, the anode's fold 0.1 mm higher: 1.65 mm. 4.3 − 0.3 g of copper.
#[test]
fn freed_between_the_two_series() {
    let (first, second) = (demo("marram a").design().unwrap(), demo("marram b").design().unwrap());
    let change = HardwareChange::between(&first, &second).unwrap();
    assert_eq!(change.left, ["lower collector plate"]);
    assert_eq!(change.came, ["ring of weld spots"]);
    assert!(change.changed.is_empty());
    close(1e3 * change.height.value, 1.5);
    close(1e9 * change.volume.value, 1.5 * 383.3764 * std::f64::consts::PI);
    close(1e6 * change.solid.value, 3.25 / 8.96);
    close(1e3 * change.mass.value, 3.25);
    close(change.share, 1.3 / 1.5);
    let (from, to) = change.place.unwrap();
    close(1e3 * from.value, 0.75);
    close(1e3 * to.value, 2.55);

    for (share, width, void_height) in [(0.0, 77.9, 1.5), (1.0, 79.4, 0.0), (0.5, 78.65, 0.75)] {
        let cell = change.apply(&first, share).unwrap();
        close(1e3 * cell.stack().cathode_width.value, width);
        let freed = cell.stack().void_height - first.stack().void_height;
        assert!((1e3 * freed.value - void_height).abs() < 1e-9);
        let b = cell.blueprint();
        assert_eq!(&*b.parts[1].label.name, "ring of weld spots");
        close(1e3 * b.anode.fold_height.value, 1.1);
        // Margin 0.7 and fold 1.1; overhang 0.8, margin 0.7 and fold 1.1.
        close(1e3 * b.anode.uncoated_margin.value, 1.8);
        close(1e3 * b.cathode.uncoated_margin.value, 2.6);
        close(b.cathode.loading.value, first.blueprint().cathode.loading.value);
    }
}

#[test]
fn the_bottom_is_hardware_too() {
    let (first, second) = (design(&[]), design(&[("can/bottom", json!("0.5 mm"))]));
    let change = HardwareChange::between(&first, &second).unwrap();
    assert!(change.left.is_empty() && change.came.is_empty() && change.changed.is_empty());
    close(1e3 * change.height.value, 0.1);
    close(change.share, 0.0);
    assert_eq!(change.place, None);
    close(1e3 * change.apply(&first, 1.0).unwrap().blueprint().can.bottom.value, 0.5);
}

#[test]
fn alike_hardware_or_another_can_is_no_change() {
    let none = |changes: &[(&str, Value)]| HardwareChange::between(&design(&[]), &design(changes)).is_none();
    assert!(none(&[]));
    assert!(none(&[("cathode/loading", json!("19 mg/cm2")), ("cathode/width", json!("79 mm"))]));
    assert!(none(&[("can/diameter", json!("46.11 mm")), ("parts/0/height", json!("0.3 mm"))]));
    assert!(none(&[("can/height", json!("95.11 mm")), ("parts/0/height", json!("0.3 mm"))]));
    // Two readings of one can.
    assert!(!none(&[("can/diameter", json!("46.09 mm")), ("parts/0/height", json!("0.3 mm"))]));
    assert!(!none(&[("can/height", json!("95.09 mm")), ("parts/0/height", json!("0.3 mm"))]));
}

#[test]
fn a_part_that_stays_may_change() {
    for (path, value) in [
        ("parts/1/height", json!("0.6 mm")),
        ("parts/1/axial_clearance", json!("1.4 mm")),
        ("parts/1/mass", json!("4.1 g")),
        ("parts/1/place", json!("above roll")),
        ("parts/1/material", json!("light metal")),
    ] {
        let change = HardwareChange::between(&design(&[]), &design(&[(path, value)])).expect(path);
        assert_eq!(change.changed, ["plate"], "{path}");
        assert!(change.left.is_empty() && change.came.is_empty());
    }
}

#[test]
fn a_part_beside_the_roll_has_no_place_on_the_axis() {
    let pin = json!({ "name": "pin", "place": "in core", "mass": "1 g", "material": "metal" });
    let change = HardwareChange::between(&design(&[("parts/3", pin)]), &design(&[])).unwrap();
    assert_eq!((change.left.as_slice(), change.place), (["pin".to_owned()].as_slice(), None));
    close(1e3 * change.mass.value, 1.0);
    close(change.height.value, 0.0);
    close(change.share, 0.0);
}

#[test]
fn kinship_is_what_the_sheets_say() {
    let first = draft(&[]);
    let called = |name: &str, from: serde_json::Value| draft(&[("cell", json!(name)), ("made_from", from)]);
    // The same sheet twice; the same cell read to be otherwise; another that was read alike.
    assert_eq!(Kinship::of(&first, &draft(&[])), Kinship::Derived);
    assert_eq!(Kinship::of(&first, &draft(&[("can/wall", json!("0.6 mm"))])), Kinship::Separate);
    assert_eq!(Kinship::of(&first, &called("b", json!(null))), Kinship::Separate);
    // Either of the other, or both of a third.
    assert_eq!(Kinship::of(&called("b", json!("by hand")), &first), Kinship::Derived);
    assert_eq!(Kinship::of(&called("b", json!("a")), &called("c", json!("a"))), Kinship::Derived);
    assert_eq!(Kinship::of(&called("b", json!("a")), &called("c", json!("d"))), Kinship::Separate);
    assert_eq!(Kinship::of(&first, &draft(&[("made_from", json!("another"))])), Kinship::Separate);
    assert_eq!(Kinship::of(&first, &draft(&[("made_from", json!("by hand"))])), Kinship::Derived);
}

#[test]
fn joint_inputs_move_both_or_one() {
    let first = draft(&[("cathode/loading", json!({ "value": "20 mg/cm2", "from": "measured" }))]);
    let second = draft(&[
        ("cathode/loading", json!({ "value": "21 mg/cm2", "from": "measured" })),
        ("cell_mass", json!("300 g")),
    ]);
    let at = |draft: &Draft, path: &str| draft.inputs().iter().position(|i| i.path == path).unwrap();
    let (a, b) = (at(&first, "cathode.loading"), at(&second, "cathode.loading"));
    let moved = |kinship| {
        let joint = Joint::of(&first, &second, kinship);
        let i = (0..joint.uncertain().len())
            .find(|i| {
                joint.is_of_first(*i) && joint.input(&first, &second, *i).unwrap().0.path == "cathode.loading"
            })
            .unwrap();
        let mut values: Vec<f64> = joint.uncertain().iter().map(|k| k.value).collect();
        values[i] += 0.01;
        let (x, y) = joint.split(&values);
        (joint, i, [x[a] - first.values()[a], y[b] - second.values()[b]])
    };
    let (joint, i, [x, y]) = moved(Kinship::Separate);
    close(x, 0.01);
    close(y, 0.0);
    // Two loadings and the weighed cell; everything else is shared.
    assert_eq!(joint.uncertain().len(), first.inputs().len() + 2);
    assert!(!joint.input(&first, &second, i).unwrap().1);
    let last = joint.uncertain().len() - 1;
    assert!(!joint.is_of_first(last));
    assert_eq!(joint.input(&first, &second, last).unwrap().0.path, "cell_mass");
    let (joint, i, [x, y]) = moved(Kinship::Derived);
    close(x, 0.01);
    close(y, 0.01);
    assert_eq!(joint.uncertain().len(), first.inputs().len() + 1);
    assert!(joint.input(&first, &second, i).unwrap().1);
    assert!(joint.input(&first, &second, joint.uncertain().len()).is_none());
}

#[test]
fn each_sheet_moves_by_its_own_uncertainty() {
    let first = draft(&[("cathode/loading", json!({ "value": "20 ± 0.2 mg/cm2", "from": "measured" }))]);
    let second = |value: &str| {
        let loading = json!({ "value": value, "from": "measured" });
        draft(&[("cell", json!("b")), ("made_from", json!("by hand")), ("cathode/loading", loading)])
    };
    let at = |draft: &Draft| draft.inputs().iter().position(|i| i.path == "cathode.loading").unwrap();
    for (value, shared, moves) in [
        ("20 ± 0.2 mg/cm2", true, 0.002),
        // Known twice as well, and exact: what is exact stays where it is.
        ("20 ± 0.1 mg/cm2", true, 0.001),
        ("20.5 mg/cm2", false, 0.0),
    ] {
        let other = second(value);
        let joint = Joint::of(&first, &other, Kinship::of(&first, &other));
        let i = joint.place(0, at(&first)).unwrap();
        assert_eq!(joint.input(&first, &other, i).unwrap().1, shared, "{value}");
        let mut values: Vec<f64> = joint.uncertain().iter().map(|k| k.value).collect();
        values[i] += 0.002;
        let (x, y) = joint.split(&values);
        close(x[at(&first)] - first.values()[at(&first)], 0.002);
        close(y[at(&other)] - other.values()[at(&other)], moves);
        // The second's own uncertainty is what its sheet says, whatever it is compared with.
        let own = joint.place(1, at(&other)).map(|i| (i, joint.uncertain()[i].u())).unwrap();
        assert!(shared || own.1 == other.inputs()[at(&other)].uncertain.u(), "{own:?}");
    }
}

#[test]
fn correlations_are_kept_between_two_cells() {
    let correlated =
        |r: f64| json!({ "paths": ["cathode.loading", "cathode.thickness"], "coefficients": [[r]] });
    let uncertain = |of: &str, r: f64| {
        draft(&[
            ("cell", json!(of)),
            ("made_from", json!("one")),
            ("cathode/loading", json!({ "value": "20 ± 0.1 mg/cm2", "from": "measured" })),
            ("cathode/thickness", json!({ "value": "50 ± 1 µm", "from": "measured" })),
            ("correlated", correlated(r)),
        ])
    };
    let coefficients = |first: &Draft, second: &Draft, kinship| {
        let joint = Joint::of(first, second, kinship);
        let all = joint.correlation().inputs().iter();
        let both =
            |i: &usize| joint.input(first, second, *i).map(|(input, shared)| (input.path.clone(), shared));
        let named: Vec<_> = all.filter_map(both).collect();
        (named, joint.correlation().matrix().clone())
    };
    let (one, other, unlike) = (uncertain("one", 0.8), uncertain("other", 0.8), uncertain("other", 0.7));
    // Readings of two cells: two pairs.
    let (named, matrix) = coefficients(&one, &other, Kinship::Separate);
    assert_eq!(named.len(), 4);
    assert_eq!((matrix[(1, 0)], matrix[(2, 0)], matrix[(3, 2)]), (0.8, 0.0, 0.8));
    // One made from the other: the same pair. What differs in it is no longer the same.
    let (named, matrix) = coefficients(&one, &other, Kinship::Derived);
    assert!(named.iter().all(|(_, shared)| *shared) && named.len() == 2);
    assert_eq!(matrix[(1, 0)], 0.8);
    let (named, matrix) = coefficients(&one, &unlike, Kinship::Derived);
    assert!(named.iter().all(|(_, shared)| !shared) && named.len() == 4);
    assert_eq!((matrix[(1, 0)], matrix[(3, 2)]), (0.8, 0.7));
}

/// A sheet that was made from another by one entry, under the same name.
#[test]
fn readings_alike_that_nobody_explained_are_counted() {
    let first = demo("marram a");
    let sheet = |made_from: Option<&str>| {
        let mut sheet: Value =
            serde_json::from_str(include_str!("../../../../../demo/marram-a.json")).unwrap();
        sheet["can"]["wall"] = json!("0.3 mm");
        sheet["cell"] = json!("C");
        sheet["made_from"] = json!(made_from);
        Draft::parse(&sheet.to_string()).unwrap()
    };
    let unsaid = |second: &Draft| Kinship::of(&first, second).unsaid(&first, second);
    assert!(unsaid(&sheet(None)) > 20);
    assert_eq!(unsaid(&sheet(Some("Marram A"))), 0);
    // Two cells that were read apart.
    assert_eq!(unsaid(&demo("marram b")), 0);
}
