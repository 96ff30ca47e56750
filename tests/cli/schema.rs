//! The schema is that of the reader, and so is the list of quantities.

use crate::{answered, demo, text_of, top};
use roulade::sheet::defaults::FIELDS;
use serde_json::{Value, json};
use std::collections::BTreeSet;

const COMMITTED: &str = "crates/roulade-cli/sheet.schema.json";

fn schema() -> Value {
    serde_json::from_str(&answered(&["schema"])).expect("a schema is JSON")
}

/// `UPDATE=1` writes the file anew.
#[test]
fn the_committed_schema_is_current() {
    let current = answered(&["schema"]);
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(top().join(COMMITTED), &current).expect("it can be written");
    }
    assert_eq!(text_of(COMMITTED), current, "UPDATE=1 writes {COMMITTED} anew");
}

#[test]
fn it_is_a_schema_of_its_draft() {
    let schema = schema();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    assert!(schema.get("$id").is_none() && schema["title"].is_string() && schema["description"].is_string());
    jsonschema::meta::validate(&schema).expect("it holds to its own draft");
}

#[test]
fn every_question_has_a_schema_that_real_questions_hold_to() {
    let sheet: Value = serde_json::from_str(&text_of("demo/marram-a.json")).expect("a sheet is JSON");
    let span = json!({ "from": "18 mm", "to": "46 mm", "steps": 4 });
    let along = json!([{ "key": "cathode.loading", "from": "15 mg/cm2", "to": "30 mg/cm2", "steps": 4 }]);
    let free = json!([{ "key": "cathode.loading", "from": "15 mg/cm2", "to": "30 mg/cm2" }]);
    for (name, question) in [
        ("without", json!({ "sheet": sheet, "part": "lid", "reclaim": 0.5 })),
        ("claim", json!({ "sheet": sheet, "claim": "at least 290 Wh/kg", "draws": 100 })),
        ("attribute", json!({ "first": sheet, "second": sheet, "prices": { "per_kg": { "copper": 9.5 } } })),
        ("map", json!({ "sheet": sheet, "diameter": span, "height": span, "figures": ["mass"] })),
        ("resize", json!({ "sheet": sheet, "diameter": "21 mm", "height": "70 mm" })),
        ("sweep", json!({ "sheet": sheet, "along": along })),
        ("search", json!({ "sheet": sheet, "free": free, "best": "volumetric" })),
        ("sampled", json!({ "sheet": sheet, "draws": 1000, "seed": 1 })),
        ("sensitivity", json!({ "sheet": sheet, "figure": "mass" })),
        ("edit", json!({ "sheet": sheet, "edits": [{ "set": "can.wall", "to": "0.3 mm" }] })),
        ("reconcile", json!({ "sheet": sheet, "readings": "quantity,value,unit", "loss": "huber" })),
        ("next", json!({ "sheet": sheet, "figure": "volumetric" })),
        ("report", json!({ "first": sheet, "date": "today" })),
    ] {
        let schema: Value = serde_json::from_str(&answered(&["schema", name])).expect("a schema is JSON");
        jsonschema::meta::validate(&schema).expect("it holds to its own draft");
        let validator = jsonschema::validator_for(&schema).expect("a schema");
        let errors: Vec<String> = validator.iter_errors(&question).map(|error| error.to_string()).collect();
        assert!(errors.is_empty(), "{name}: {errors:?}");
        assert!(!validator.is_valid(&json!({ "no such key": 1 })), "{name} takes anything");
    }
}

#[test]
fn every_sheet_of_the_demo_is_valid() {
    let validator = jsonschema::validator_for(&schema()).expect("a schema");
    for name in demo() {
        let sheet: Value = serde_json::from_str(&text_of(&name)).expect("a sheet is JSON");
        let errors: Vec<String> = validator
            .iter_errors(&sheet)
            .map(|error| format!("{}: {error}", error.instance_path()))
            .collect();
        assert!(errors.is_empty(), "{name}: {errors:?}");
    }
}

#[test]
fn what_the_reader_refuses_in_shape_the_schema_refuses() {
    let validator = jsonschema::validator_for(&schema()).expect("a schema");
    let sheet: Value = serde_json::from_str(&text_of("demo/marram-a.json")).expect("a sheet is JSON");
    for (pointer, value) in [
        ("/colour", json!("red")),
        ("/can/wal", json!("0.5 mm")),
        ("/can/wall/frm", json!("measured")),
        ("/can/wall/from", json!("default")),
        ("/can/wall", json!(0.5)),
        ("/can/wall", json!(["0.5 mm"])),
        ("/parts/0/colour", json!("red")),
        ("/parts/0/place", json!("roof")),
        ("/cathode/mix/0/shar", json!("1 %")),
        ("/cathode/foil/metal", json!("copper")),
        ("/roulade_sheet", json!(2)),
    ] {
        let mut changed = sheet.clone();
        let (holder, key) = pointer.rsplit_once('/').expect("a pointer");
        changed.pointer_mut(holder).expect("it is there")[key] = value;
        assert!(!validator.is_valid(&changed), "the schema at {pointer}");
        let answer: Value =
            serde_json::from_str(&roulade_answer::ask::estimate(&changed.to_string())).expect("JSON");
        assert!(answer.get("problems").is_some(), "the reader at {pointer}");
    }
    for gone in ["can", "cathode", "anode"] {
        let mut changed = sheet.clone();
        changed.as_object_mut().expect("an object").remove(gone);
        assert!(!validator.is_valid(&changed), "without {gone}");
    }
}

/// Paths of all entries that the schema knows.
fn entries(root: &Value, schema: &Value, path: &str, found: &mut BTreeSet<String>) {
    if let Some(name) = schema["$ref"].as_str() {
        if name == "#/$defs/Entry" {
            found.insert(path.to_owned());
        } else {
            entries(root, root.pointer(&name[1..]).expect("a definition"), path, found);
        }
    }
    for (key, of) in schema["properties"].as_object().into_iter().flatten() {
        let deeper = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
        entries(root, of, &deeper, found);
    }
    if schema["items"].is_object() {
        entries(root, &schema["items"], &format!("{path}[]"), found);
    }
}

#[test]
fn quantities_are_the_entries_of_the_schema() {
    let schema = schema();
    let mut in_schema = BTreeSet::new();
    entries(&schema, &schema, "", &mut in_schema);
    let answer: Value = serde_json::from_str(&answered(&["quantities", "--json"])).expect("JSON");
    let listed: BTreeSet<String> = answer["ok"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|row| row["path"].as_str().expect("a path").to_owned())
        .collect();
    assert_eq!(listed.len(), FIELDS.len());
    assert_eq!(listed, in_schema);
    let text = answered(&["quantities"]);
    for field in FIELDS {
        assert!(text.contains(field.path) && text.contains(field.label), "{}", field.path);
    }
}
