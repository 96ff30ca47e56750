//! Answers hold to their schemas, and the page's types are written from these.

use crate::typescript::Types;
use crate::{answered, text_of, top};
use roulade_answer::ask;
use roulade_stats::executor::alone;
use serde_json::{Value, json};

const COMMITTED: &str = "web/src/model/types.ts";

/// What `roulade schema` has, as its help lists it.
fn names() -> Vec<String> {
    let help = answered(&["schema", "--help"]);
    let listed = help.split("possible values: ").nth(1).and_then(|rest| rest.split(']').next());
    let names = listed.expect("a list of what has a schema").split(',');
    names.map(|name| name.split_whitespace().collect::<String>()).collect()
}

fn schema(name: &str) -> Value {
    serde_json::from_str(&answered(&["schema", name])).expect("a schema is JSON")
}

/// `UPDATE=1` writes the file anew.
#[test]
fn the_types_of_the_page_are_current() {
    let mut types = Types::default();
    let names = names();
    assert!(names.len() > 30, "{names:?}");
    for name in &names {
        types.take(name, &schema(name));
    }
    let current = types.text();
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(top().join(COMMITTED), &current).expect("it can be written");
    }
    assert!(text_of(COMMITTED) == current, "UPDATE=1 writes {COMMITTED} anew");
}

/// Holds an answer to its schema, a fuller one than its type alone would pass: every key that it has is known.
fn holds(name: &str, answer: &str) {
    let answer: Value = serde_json::from_str(answer).expect("an answer is JSON");
    let ok = answer.get("ok").unwrap_or_else(|| panic!("{name}: {answer}"));
    let mut schema = schema(&format!("{name}-answer"));
    jsonschema::meta::validate(&schema).expect("it holds to its own draft");
    closed(&mut schema);
    let validator = jsonschema::validator_for(&schema).expect("a schema");
    let errors: Vec<String> =
        validator.iter_errors(ok).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(errors.is_empty(), "{name}: {:?}", &errors[..errors.len().min(4)]);
    assert!(!validator.is_valid(&json!({ "no such key": 1 })), "{name} takes anything");
}

/// No key besides those that are named, wherever keys are named.
fn closed(schema: &mut Value) {
    match schema {
        Value::Array(items) => items.iter_mut().for_each(closed),
        Value::Object(keys) => {
            keys.values_mut().for_each(closed);
            if keys.get("properties").is_some_and(Value::is_object)
                && keys.get("type") == Some(&json!("object"))
            {
                keys.insert("additionalProperties".to_owned(), json!(false));
            }
        }
        _ => {}
    }
}

#[test]
fn every_answer_holds_to_its_schema() {
    let (first, second) = (text_of("demo/marram-a.json"), text_of("demo/marram-b.json"));
    let sheet = |text: &str| serde_json::from_str::<Value>(text).expect("a sheet is JSON");
    let (a, b, small) = (sheet(&first), sheet(&second), sheet(&text_of("demo/marram-small.json")));
    let alone = alone();
    let span = json!({ "from": "18 mm", "to": "46 mm", "steps": 4 });
    let along = json!([{ "key": "cathode.loading", "from": "15 mg/cm2", "to": "30 mg/cm2", "steps": 4 }]);
    let free = json!([{ "key": "cathode.loading", "from": "15 mg/cm2", "to": "30 mg/cm2" }]);
    let readings = text_of("demo/bench.csv");
    let text = |question: Value| question.to_string();
    holds("estimate", &ask::estimate(&first));
    holds("compare", &ask::compare(&first, &second));
    let part = a["parts"][0]["name"].clone();
    holds("without", &ask::without(&text(json!({ "sheet": a, "part": part }))));
    holds("edit", &ask::edit(&text(json!({ "sheet": a, "edits": [{ "set": "can.wall", "to": "0.3 mm" }] }))));
    for claim in ["at least 195 Wh/kg", "4.6 Ah, 72 g"] {
        let question = json!({ "sheet": small, "claim": claim, "draws": 1000, "seed": 1 });
        holds("claim", &ask::claim(&text(question), &alone));
    }
    let prices = json!({ "per_kg": { "copper": 9.5 }, "currency": "EUR" });
    holds(
        "attribute",
        &ask::attribute(&text(json!({ "first": a, "second": b, "prices": prices, "draws": 0 })), &alone),
    );
    holds("map", &ask::map(&text(json!({ "sheet": a, "diameter": span, "height": span })), &alone));
    holds("resize", &ask::resize(&text(json!({ "sheet": a, "diameter": "21 mm", "height": "70 mm" }))));
    holds("sweep", &ask::sweep(&text(json!({ "sheet": a, "along": along })), &alone));
    holds("sampled", &ask::sampled(&text(json!({ "sheet": a, "draws": 1000, "seed": 1 })), &alone));
    holds(
        "sensitivity",
        &ask::sensitivity(&text(json!({ "sheet": a, "figure": "mass", "draws": 1000 })), &alone),
    );
    holds("reconcile", &ask::reconcile(&text(json!({ "sheet": a, "readings": readings }))));
    holds("next", &ask::next(&text(json!({ "sheet": a, "figure": "volumetric" }))));
    holds("readings", &ask::readings(&readings));
    holds("readable", &ask::readable());
    holds("materials", &ask::materials());
    holds("quantities", &ask::quantities());
    let search = json!({ "sheet": a, "free": free, "best": "volumetric", "trials": 200 });
    let found = roulade_search::search(searched(&search)).expect("a design");
    holds("search", &ask::answer(Ok(found)));
    let refused: Value = serde_json::from_str(&ask::estimate("{}")).expect("JSON");
    let validator = jsonschema::validator_for(&schema("problems")).expect("a schema");
    assert!(validator.is_valid(&refused["problems"]), "{refused}");
}

fn searched(question: &Value) -> roulade_search::SearchQuestion {
    roulade_search::SearchQuestion::parse(&question.to_string()).expect("a question")
}
