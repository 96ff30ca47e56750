use super::*;
use crate::sheet::shape::Shape;
use crate::test_support::{sheet, with};
use serde_json::Value;
use serde_json::json;

fn of(value: Value) -> Sheet {
    let mut problems = Problems::default();
    let sheet = Sheet::whole(value, &mut problems);
    problems.or_else_ok(sheet.unwrap()).unwrap()
}

fn edits(list: Value) -> Vec<Edit> {
    let mut problems = Problems::default();
    let read = Vec::<Edit>::whole(list, &mut problems);
    problems.or_else_ok(read.unwrap()).unwrap()
}

/// The sheet after the edits as JSON; and back again it is the same.
fn after(sheet: Value, list: Value) -> Value {
    let sheet = of(sheet);
    let list = edits(list);
    assert_eq!(edits(serde_json::to_value(&list).unwrap()), list, "edits are written as they are read");
    let made = edit(&sheet, &list).unwrap();
    let back = edits(serde_json::to_value(&made.inverse).unwrap());
    assert_eq!(edit(&made.sheet, &back).unwrap().sheet, sheet);
    serde_json::to_value(made.sheet).unwrap()
}

fn refused(list: Value) -> String {
    edit(&of(sheet()), &edits(list)).unwrap_err().to_string()
}

#[test]
fn entries_are_found_by_key_and_name() {
    let made = after(
        sheet(),
        json!([
            { "set": "can.wall", "to": "0.3 mm" },
            { "set": "parts[lid].mass", "to": { "value": "9 g", "from": "measured" } },
            { "set": "cathode.mix[plastic].share", "to": "8 %" },
            { "set": "materials[C].density", "to": "4.8 g/cm3" },
            { "set": "materials[copper].density", "to": "8.9 g/cm3" },
            { "set": "current_path.cathode.tabs[0].width", "to": "4 mm" },
            { "set": "parts[1].remark", "to": "by number" },
            { "clear": "parts[lid].solid_fraction" },
            { "clear": "separator.margin" },
            { "clear": "separator.ceramic_thickness" }
        ]),
    );
    assert_eq!(made["can"]["wall"], "0.3 mm");
    assert_eq!(made["parts"][2]["mass"]["value"], "9 g");
    assert_eq!(made["cathode"]["mix"][1]["share"], "8 %");
    assert_eq!(made["materials"][3]["density"], "4.8 g/cm3");
    assert_eq!(made["materials"][5], json!({ "name": "copper", "density": "8.9 g/cm3" }));
    assert_eq!(made["current_path"]["cathode"]["tabs"][0]["width"], "4 mm");
    assert_eq!(made["parts"][1]["remark"], "by number");
    assert!(made["parts"][2].get("solid_fraction").is_none() && made["separator"].get("margin").is_none());
}

#[test]
fn a_section_with_nothing_left_goes_and_a_list_of_parts_stays() {
    let made = after(
        sheet(),
        json!([
            { "clear": "electrolyte.density" }, { "clear": "electrolyte.excess" },
            { "remove": "parts[lid]" }, { "remove": "parts[plate]" }, { "remove": "parts[insulator]" },
            { "set": "materials[tin].density", "to": "7.3 g/cm3" }, { "clear": "materials[tin].density" }
        ]),
    );
    assert!(made.get("electrolyte").is_none());
    assert_eq!(made["parts"], json!([]));
    assert_eq!(made["materials"].as_array().map(Vec::len), Some(5));
    let bare = json!({ "can": { "size": "18 × 65" }, "anode": { "overhang": "1 mm" }, "winding": { "slack": "1 µm" } });
    let made = after(
        bare,
        json!([{ "clear": "can.size" }, { "clear": "anode.overhang" }, { "clear": "winding.slack" }]),
    );
    assert_eq!(made, json!({ "can": {}, "anode": {} }));
}

#[test]
fn what_stands_in_for_a_list_is_written_out() {
    let made = after(
        with(&[("parts", json!(null))]),
        json!([{ "set": "parts[cap assembly].height", "to": "3.2 mm" }]),
    );
    assert_eq!(made["parts"][2]["height"], "3.2 mm");
    assert_eq!(made["parts"][2]["solid_fraction"], "29 ± 6 %");
}

#[test]
fn parts_of_an_entry_have_keys_too() {
    let noted = json!({ "value": "0.5 mm", "from": "measured", "remark": "by a caliper" });
    let start = with(&[("can/wall", noted)]);
    let made = after(
        start.clone(),
        json!([{ "set": "can.wall.value", "to": "0.4 mm" }, { "clear": "can.wall.remark" }]),
    );
    assert_eq!(made["can"]["wall"], json!({ "value": "0.4 mm", "from": "measured" }));
    let made = after(start, json!([{ "clear": "can.wall.from" }, { "clear": "can.wall.remark" }]));
    assert_eq!(made["can"]["wall"], "0.5 mm");
}

#[test]
fn items_come_go_move_and_are_renamed() {
    let ring = json!({ "name": "ring", "place": "below roll", "height": "1 mm", "mass": "1 g", "volume": "0.2 cm3" });
    let names = |made: &Value| -> Vec<String> {
        made["parts"]
            .as_array()
            .unwrap()
            .iter()
            .map(|part| part["name"].as_str().unwrap().to_owned())
            .collect()
    };
    let made = after(sheet(), json!([{ "add": "parts", "item": ring, "after": "insulator" }]));
    assert_eq!(names(&made), ["insulator", "ring", "plate", "lid"]);
    let made =
        after(sheet(), json!([{ "add": "parts", "item": ring }, { "reorder": "parts[ring]", "at": 0 }]));
    assert_eq!(names(&made), ["ring", "insulator", "plate", "lid"]);
    let path = json!({ "cathode": { "feed": "edge" }, "anode": { "plate": "plate", "feed": "edge" } });
    let start = with(&[("current_path", path)]);
    let made = after(start.clone(), json!([{ "rename": "parts[plate]", "to": "disc" }]));
    assert_eq!((names(&made)[1].as_str(), &made["current_path"]["anode"]["plate"]), ("disc", &json!("disc")));
    for list in [json!([{ "replace": "parts[plate]", "with": ring }]), json!([{ "remove": "parts[plate]" }])]
    {
        assert!(after(start.clone(), list)["current_path"]["anode"].get("plate").is_none());
    }
    let made = after(sheet(), json!([{ "rename": "materials[plastic]", "to": "polymer" }]));
    assert_eq!(made["cathode"]["mix"][1]["material"], "polymer");
    assert_eq!(
        (&made["separator"]["material"], &made["parts"][0]["material"]),
        (&json!("polymer"), &json!("polymer"))
    );
}

#[test]
fn fixed_and_scaled() {
    let entry = json!({ "value": "40 ± 2 g", "from": "measured", "remark": "weighed" });
    let start = with(&[("can/mass", entry)]);
    let made = |list| after(start.clone(), list)["can"]["mass"].clone();
    assert_eq!(
        made(json!([{ "fix": "can.mass" }])),
        json!({ "value": "40 g", "from": "measured", "remark": "weighed" })
    );
    assert_eq!(made(json!([{ "fix": "can.mass", "value": "41 g" }]))["value"], "41 g");
    assert_eq!(
        made(json!([{ "scale": "can.mass", "by": 1.5 }])),
        json!({ "value": "60 ± 3 g", "remark": "weighed" })
    );
    let default = after(start.clone(), json!([{ "fix": "separator.ceramic_porosity" }]));
    assert_eq!(default["separator"]["ceramic_porosity"], "50 %");
}

/// Four quantities that move together, two of them of parts.
fn together() -> Value {
    with(&[
        ("can/diameter", json!("46.0 ± 0.1 mm")),
        ("parts/0/height", json!("0.40 ± 0.02 mm")),
        ("parts/1/mass", json!("4.0 ± 0.1 g")),
        ("parts/2/height", json!("4.0 ± 0.1 mm")),
        (
            "correlated",
            json!({
                "paths": ["can.diameter", "parts[0].height", "parts[plate].mass", "parts[2].height"],
                "coefficients": [[0.1], [0.2, 0.3], [0.4, 0.5, 0.6]]
            }),
        ),
    ])
}

fn correlated(list: Value) -> Value {
    after(together(), list).get("correlated").cloned().unwrap_or_default()
}

#[test]
fn correlations_follow_their_entries() {
    // One that is cleared or exact leaves; the others keep what they have with one another.
    for list in [
        json!([{ "set": "can.diameter", "to": "46 mm" }]),
        json!([{ "fix": "can.diameter" }]),
        json!([{ "clear": "can.diameter" }]),
        json!([{ "set": "can.diameter.value", "to": "46.2 mm" }]),
    ] {
        let left = correlated(list);
        assert_eq!(left["paths"], json!(["parts[0].height", "parts[plate].mass", "parts[2].height"]));
        assert_eq!(left["coefficients"], json!([[0.3], [0.5, 0.6]]));
    }
    // A part that goes takes its own along, and no other part gets them.
    let left = correlated(json!([{ "remove": "parts[plate]" }]));
    assert_eq!(left["paths"], json!(["can.diameter", "parts[insulator].height", "parts[lid].height"]));
    assert_eq!(left["coefficients"], json!([[0.1], [0.4, 0.5]]));
    // Called otherwise, or elsewhere, they keep them.
    let all = json!([[0.1], [0.2, 0.3], [0.4, 0.5, 0.6]]);
    for (list, second) in [
        (json!([{ "rename": "parts[insulator]", "to": "washer" }]), "parts[washer].height"),
        (json!([{ "set": "parts[insulator].name", "to": "washer" }]), "parts[washer].height"),
        (json!([{ "reorder": "parts[lid]", "at": 0 }]), "parts[insulator].height"),
        (json!([{ "scale": "parts[insulator].height", "by": 2 }]), "parts[0].height"),
        (json!([{ "set": "can.diameter", "to": "46.1 ± 0.2 mm" }]), "parts[0].height"),
        (json!([{ "set": "can.diameter", "to": "46.1 ± 0." }]), "parts[0].height"),
    ] {
        let left = correlated(list);
        assert_eq!((&left["paths"][1], &left["coefficients"]), (&json!(second), &all));
    }
    // Another part is another quantity.
    let other = json!({ "name": "plate", "place": "below roll", "height": "1 mm", "mass": "4.0 ± 0.1 g", "material": "metal" });
    assert_eq!(
        correlated(json!([{ "replace": "parts[plate]", "with": other }]))["paths"].as_array().map(Vec::len),
        Some(3)
    );
    // Of one alone nothing is said.
    let three = json!([{ "fix": "can.diameter" }, { "remove": "parts[plate]" }, { "remove": "parts[lid]" }]);
    assert_eq!(correlated(three), json!(null));
    // What is written there is meant.
    assert_eq!(correlated(json!([{ "clear": "correlated" }])), json!(null));
}

#[test]
fn tabs_are_counted() {
    let tabs = json!({ "cathode": { "tabs": [{ "width": "3.0 ± 0.1 mm" }, { "width": "4.0 ± 0.1 mm" }, { "width": "5.0 ± 0.1 mm" }] } });
    let paths = ["0", "1", "2"].map(|i| format!("current_path.cathode.tabs[{i}].width"));
    let section = json!({ "paths": paths, "coefficients": [[0.1], [0.2, 0.3]] });
    let start = with(&[("current_path", tabs), ("correlated", section)]);
    let made = after(start, json!([{ "remove": "current_path.cathode.tabs[1]" }]));
    assert_eq!(made["correlated"], json!({ "paths": [paths[0], paths[1]], "coefficients": [[0.2]] }));
}

#[test]
fn what_cannot_be_made_is_reported_and_nothing_is_changed() {
    for (list, expected) in [
        (
            json!([{ "set": "can.wal", "to": "1 mm" }]),
            "edits[0].can.wal: found a key that is not known here; expected one of the keys known here; perhaps \"wall\" was meant",
        ),
        (json!([{ "set": "parts[lod].mass", "to": "1 g" }]), "perhaps \"lid\" was meant"),
        (
            json!([{ "set": "can.wall", "to": 3 }]),
            "edits[0].can.wall: found 3; expected a text with its unit",
        ),
        (
            json!([{ "set": "can.wall", "to": "1 mm" }, { "remove": "can" }]),
            "edits[1].can: found no item of a list",
        ),
        (
            json!([{ "set": "can.wall.unit", "to": "mm" }]),
            "expected one of the keys known there: value, from, remark",
        ),
        (json!([{ "clear": "can.wal" }]), "a key that is not known here"),
        (json!([{ "clear": "voltage.nominl" }]), "a key that is not known here"),
        (json!([{ "add": "can", "item": {} }]), "found no list"),
        (
            json!([{ "add": "parts", "item": { "name": "lid", "place": "above roll" } }]),
            "a name that stands there already",
        ),
        (json!([{ "add": "parts", "item": { "name": "a", "place": "aside" } }]), "edits[0].item.place"),
        (json!([{ "rename": "parts[lid]", "to": "plate" }]), "a name that stands there already"),
        (json!([{ "fix": "can.mass" }]), "nothing in the sheet"),
        (json!([{ "fix": "can.wall", "value": "1 ± 0.1 mm" }]), "with an uncertainty"),
        (json!([{ "fix": "can.material" }]), "no quantity"),
        (json!([{ "scale": "can.wall", "by": -1 }]), "a factor that is greater than zero"),
        (
            json!([{ "set": "can.wall.remark", "to": "thin" }, { "set": "can.mass.from", "to": "stated" }]),
            "edits[1].can.mass.from",
        ),
        (json!([{ "set": "can.wall[0]", "to": "thin" }]), "within an entry"),
        (json!([{ "set": "parts.lid", "to": "thin" }]), "a list without the name of an item"),
        (json!([{ "set": "foo", "to": "thin" }]), "a key that is not known here"),
    ] {
        let found = refused(list);
        assert!(found.contains(expected), "{found}\n{expected}");
    }
    for (list, expected) in [
        (json!([{}]), "[0]: found no verb"),
        (json!([{ "set": "a", "clear": "b" }]), "a second verb beside \"set\""),
        (json!([{ "set": "a" }]), "[0].to: found nothing"),
        (json!([{ "set": "a", "to": 1, "too": 2 }]), "[0].too: found a key that is not known here"),
        (json!([{ "rename": "a", "to": 1 }]), "the new name, in quotes"),
    ] {
        let mut problems = Problems::default();
        let _ = Vec::<Edit>::whole(list, &mut problems);
        assert!(problems.to_string().contains(expected), "{problems}\n{expected}");
    }
}

#[test]
fn keys_that_nobody_knows_can_go() {
    let mut start = sheet();
    start["can"]["dia.meter"] = json!("3 mm");
    start["colour"] = json!("red");
    let made = after(start, json!([{ "clear": "can.dia.meter" }, { "clear": "colour" }]));
    assert_eq!(of(made), of(sheet()));
}

#[test]
fn names_may_be_anything() {
    let odd = "a.b[c] = d]e";
    let start = with(&[("parts/1/name", json!(odd)), ("parts/2/name", json!("1"))]);
    let key = |what: &str| format!("parts[{odd}].{what}");
    let made = after(
        start.clone(),
        json!([{ "set": key("mass"), "to": "5 g" }, { "set": "parts[1].height", "to": "5 mm" }]),
    );
    // A name goes before a number.
    assert_eq!((&made["parts"][1]["mass"], &made["parts"][2]["height"]), (&json!("5 g"), &json!("5 mm")));
}
