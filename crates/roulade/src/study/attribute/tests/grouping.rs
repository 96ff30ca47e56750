//! Which entries make one change.

use super::super::*;
use super::{ask, automatic, demo, listed, named, read};
use crate::test_support::{sheet, with};
use roulade_stats::executor::alone;
use serde_json::{Value, json};

/// What was read off an opened cell, and the same as it was built, are one cell: no change lies between them.
#[test]
fn a_state_is_no_change() {
    let opened = with(&[
        ("readings_state", json!("after formation, discharged, washed")),
        ("anode/thickness", json!({ "value": "104 ± 1 µm", "from": "measured" })),
        ("anode/loading", json!({ "value": "10.6 ± 0.1 mg/cm2", "from": "measured" })),
    ]);
    let built =
        serde_json::to_value(crate::cell::draft::Draft::sheet_as_built(&read(&opened)).unwrap()).unwrap();
    assert!(automatic(&opened, &built).is_empty());
    assert_eq!(automatic(&opened, &sheet()).len(), 1);
}

#[test]
fn the_demo_is_grouped_as_a_bench_would() {
    let found = named(&changes(&demo("marram a"), &demo("marram b"), None).unwrap());
    let names: Vec<&str> = found.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(
        names,
        [
            "ring of weld spots in place of lower collector plate",
            "cathode current collector foil",
            "cathode active material",
            "cathode coating",
            "anode current collector foil",
            "silicon oxide in the anode",
            "anode coating",
            "separator"
        ]
    );
    // What the plate frees became electrode, the fold is longer where it was, and the welds are others: one change.
    for key in
        ["anode.fold_height", "cathode.width", "current_path.anode.spots", "parts[lower collector plate]"]
    {
        assert!(found[0].1.iter().any(|own| own == key), "{key}: {:?}", found[0].1);
    }
    assert_eq!(found[2].1, ["cathode.mix[LCO]", "cathode.mix[NMC532]"]);
}

#[test]
fn what_stands_alike_is_no_change() {
    let same = with(&[
        ("cell", json!("another")),
        ("remark", json!("of another day")),
        ("cell_mass", json!("400 g")),
        ("can/wall", json!({ "value": "500 um", "from": "measured", "remark": "caliper" })),
        ("winding/slack", json!("0 µm")),
        ("separator/ceramic", json!("alumina")),
        ("parts/0/remark", json!("white")),
        // What the others leave, written out.
        ("cathode/mix/0/share", json!("90 %")),
        // A third reading beside two says nothing more.
        ("materials/5", json!({ "name": "not used", "role": "metal", "density": "1 g/cm3" })),
    ]);
    assert_eq!(automatic(&sheet(), &same), []);
    let (a, b) = (read(&sheet()), read(&same));
    let found = of(&ask(&a, &b), &alone()).unwrap();
    assert_eq!((found.corners, found.figures.len()), (1, 7));
    assert!(found.figures.iter().all(|shared| shared.whole.value == 0.0));
}

#[test]
fn hardware_is_grouped_by_part() {
    let shim = json!({ "name": "shim", "place": "below roll", "height": "0.1 mm", "mass": "0.5 g", "material": "metal" });
    let ring = json!({ "name": "ring", "place": "below roll", "height": "0.2 mm", "mass": "1 g", "material": "metal" });
    let names =
        |second: &Value| automatic(&sheet(), second).into_iter().map(|(name, _)| name).collect::<Vec<_>>();
    // One in the place of another, with what it frees; the same beside another lid: the width is a change of its own.
    let one = with(&[("parts/1", ring.clone()), ("cathode/width", json!("81.8 mm"))]);
    assert_eq!(names(&one), ["ring in place of plate"]);
    let two = with(&[
        ("parts/1", ring.clone()),
        ("parts/2/height", json!("3.9 mm")),
        ("cathode/width", json!("81.8 mm")),
    ]);
    assert_eq!(names(&two), ["other lid", "ring in place of plate", "coated width"]);
    // Two for one stand in its place together; in another place a part comes by itself.
    assert_eq!(
        names(&with(&[("parts/1", ring.clone()), ("parts/3", shim.clone())])),
        ["shim and ring in place of plate"].map(|_| "ring and shim in place of plate")
    );
    let above = json!({ "name": "spring", "place": "above roll", "height": "0.1 mm", "mass": "0.5 g", "material": "metal" });
    let mut gone = with(&[("parts/3", above)]);
    gone["parts"].as_array_mut().unwrap().remove(1);
    assert_eq!(names(&gone), ["no plate", "added spring"]);
    // Without hardware that changed, what closes the stack-up changes by itself.
    assert_eq!(
        names(&with(&[("cathode/width", json!("79 mm")), ("anode/fold_height", json!("1.2 mm"))])),
        ["folded edges", "coated width"]
    );
    let none = {
        let mut none = sheet();
        none.as_object_mut().unwrap().remove("parts");
        none
    };
    assert_eq!(names(&none), ["hardware"]);
}

#[test]
fn recipes_move_as_one_and_active_materials_apart() {
    let b = json!({ "name": "B", "role": "cathode", "density": "4 g/cm3", "capacity": "180 mAh/g",
        "initial_coulombic_efficiency": "100 %", "curve": [[0, 4.3], [0.3, 4.0], [0.7, 3.7], [1, 3.4]] });
    let second = with(&[
        ("cathode/mix/0/material", json!("B")),
        ("cathode/mix/1/share", json!("8 %")),
        ("cathode/loading", json!("21 mg/cm2")),
        ("anode/mix/2", json!({ "material": "silicon", "share": "5 %" })),
        ("anode/initial_coulombic_efficiency", json!("88 %")),
        ("anode/thickness", json!("110 µm")),
        ("materials/0/density", json!("7.9 g/cm3")),
        ("materials/4/capacity", json!("510 mAh/g")),
        ("materials/5", b),
        ("voltage/charge_cut_off", json!("4.05 V")),
        ("electrolyte/excess", json!(null)),
        ("electrolyte/mass", json!("30 g")),
        ("separator/thickness", json!("18 µm")),
        ("can/wall", json!("0.45 mm")),
        ("winding/core_diameter", json!("3.5 mm")),
    ]);
    let found = automatic(&sheet(), &second);
    let names: Vec<(&str, usize)> = found.iter().map(|(name, keys)| (name.as_str(), keys.len())).collect();
    assert_eq!(
        names,
        [
            ("can wall", 1),
            ("winding", 1),
            ("cathode active material", 2),
            ("cathode coating", 2),
            ("anode active material", 1),
            ("silicon in the anode", 2),
            ("anode coating", 1),
            ("separator", 1),
            ("electrolyte", 2),
            ("voltage window", 1),
            ("figures of metal", 1),
        ]
    );
    // The figures of B come with B, wherever it is.
    assert!(!found.iter().any(|(_, keys)| keys.iter().any(|key| key.contains("materials[B]"))));
}

#[test]
fn a_mix_whose_rest_is_a_binder_is_one_entry() {
    let mut first = sheet();
    first["cathode"]["mix"] = json!([{ "material": "C", "share": "90 %" }, { "material": "plastic" }]);
    let mut second = first.clone();
    second["cathode"]["mix"][0]["share"] = json!("92 %");
    // 90 % is the largest only where it is not left open: here the binder takes the rest.
    assert_eq!(automatic(&first, &second), [("cathode coating".to_owned(), vec!["cathode.mix".to_owned()])]);
    let (a, b) = (read(&first), read(&second));
    assert_eq!(of(&ask(&a, &b), &alone()).unwrap().corners, 2);
}

#[test]
fn changes_by_hand_take_what_they_name_and_leave_the_rest() {
    let second = with(&[
        ("cathode/loading", json!("21 mg/cm2")),
        ("cathode/thickness", json!("55 µm")),
        ("cathode/mix/1/share", json!("8 %")),
        ("anode/thickness", json!("110 µm")),
        ("can/wall", json!("0.45 mm")),
    ]);
    let list = json!({ "changes": [
        { "name": "coatings", "keys": ["cathode.loading", "anode"] },
        { "name": "cathode coating", "keys": ["cathode.mix[plastic]"] },
    ] });
    let found = listed(&sheet(), &second, &list).unwrap();
    let found: Vec<(&str, Vec<&str>)> =
        found.iter().map(|(name, keys)| (name.as_str(), keys.iter().map(String::as_str).collect())).collect();
    assert_eq!(
        found,
        [
            ("coatings", vec!["anode.thickness", "cathode.loading"]),
            ("cathode coating", vec!["cathode.mix[plastic].share"]),
            ("can wall", vec!["can.wall"]),
            ("cathode coating, the rest", vec!["cathode.thickness"]),
        ]
    );
}

#[test]
fn lists_that_make_no_sense_are_refused_in_words() {
    let second = with(&[
        ("cathode/width", json!(null)),
        ("void_height", json!("0.5 mm")),
        ("can/wall", json!("0.45 mm")),
        ("cathode/mix/0/material", json!("B")),
        (
            "materials/5",
            json!({ "name": "B", "role": "cathode", "density": "4 g/cm3", "capacity": "180 mAh/g",
            "initial_coulombic_efficiency": "100 %", "curve": [[0, 4.3], [0.3, 4.0], [0.7, 3.7], [1, 3.4]] }),
        ),
    ]);
    let refused = |list: Value| listed(&sheet(), &second, &json!({ "changes": list })).unwrap_err();
    let of = |name: &str, keys: &[&str]| json!({ "name": name, "keys": keys });
    assert_eq!(
        refused(json!([of("x", &["can.bottom"])])),
        [
            "changes.changes[0].keys: found \"x\", a change that touches nothing; expected keys in which the two sheets differ: \
          \"can.wall\", \"cathode.mix[C]\", \"cathode.mix[B]\", \"cathode.width\", \"void_height\""
        ]
    );
    assert_eq!(
        refused(json!([of("x", &["can"]), of("y", &["can.wall"])])),
        [
            "changes.changes[1].keys[0]: found \"can.wall\", which \"x\" sets too; expected each entry to belong to one change only"
        ]
    );
    assert_eq!(
        refused(json!([of("x", &["can.wal"])])),
        [
            "changes.changes[0].keys[0]: found \"can.wal\", a key that neither sheet has; expected a key in which the two sheets differ; perhaps \"can.wall\" was meant"
        ]
    );
    assert_eq!(
        refused(json!([of("x", &["cathode.width"])])),
        [
            "changes.changes[0].keys: found \"cathode.width\", \"void_height\" in several changes; expected them to be \
          listed in one change, since one replaces the other"
        ]
    );
    assert_eq!(
        refused(json!([of("x", &["cathode.mix[C]"])])),
        [
            "changes.changes[0].keys: found \"cathode.mix[C]\", \"cathode.mix[B]\" in several changes; expected them to \
          be listed in one change, since one replaces the other"
        ]
    );
    assert_eq!(
        refused(json!([of("x", &["can"]), of("x", &["cathode"]), { "keys": ["void_height"], "kees": 3 }])),
        [
            "changes.changes[1].name: found a second change called \"x\"; expected each change to have a name of its own",
            "changes.changes[2].kees: found a key that is not known here; expected one of the keys known here; perhaps \"keys\" was meant",
            "changes.changes[2].name: found nothing; expected each change to have a name",
        ]
    );
}
