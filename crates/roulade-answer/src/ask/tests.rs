use super::*;
use crate::test_support::{sheet, with};
use serde_json::{Value, json};

fn places(answer: &str) -> Vec<String> {
    let answer: Value = serde_json::from_str(answer).unwrap();
    let list = answer["problems"].as_array().expect("problems").iter();
    list.map(|problem| problem["place"].as_str().unwrap().to_owned()).collect()
}

fn ok(answer: &str) -> Value {
    let answer: Value = serde_json::from_str(answer).unwrap();
    assert!(answer["problems"].is_null(), "{answer}");
    answer["ok"].clone()
}

#[test]
fn every_question_has_its_answer() {
    let text = sheet().to_string();
    assert_eq!(ok(&estimate(&text))["cell"], "by hand");
    assert_eq!(ok(&compare(&text, &text))["second"]["cell"], "by hand");
    let taken = ok(&without(&json!({ "sheet": sheet(), "part": "plate" }).to_string()));
    // All of the freed height is reclaimed where nothing is said.
    assert_eq!(taken["sheet"]["cathode"]["width"], "82 mm");
    let share = |of: Value| without(&json!({ "sheet": sheet(), "part": "plate", "reclaim": of }).to_string());
    assert_eq!(share(json!("85 %")), share(json!(0.85)));
    for wrong in [json!("85 mm"), json!("120 %"), json!("80 ± 5 %"), json!("most"), json!([])] {
        assert_eq!(places(&share(wrong)), ["reclaim"]);
    }
    assert_eq!(taken["second"]["cell"], "by hand without the plate");
    let own = Draft::parse(&text).unwrap();
    assert_eq!(ok(&digest(&text, 2, 5)), format!("{:016x}", crate::digest::digest(&own, 2, 5)));
    assert!(ok(&materials()).as_array().is_some_and(|rows| rows.len() > 20));
    let rows = ok(&quantities());
    let bottom =
        rows.as_array().and_then(|rows| rows.iter().find(|row| row["path"] == "can.bottom")).cloned();
    let bottom = bottom.unwrap_or_default();
    assert_eq!((&bottom["label"], &bottom["unit"]), (&json!("bottom thickness"), &json!("mm")));
    assert!(bottom["default"].as_str().is_some_and(|text| text.starts_with("0.33 ± 0.06 mm")), "{bottom}");
    assert_eq!(bottom["plausible"], "0.2 .. 0.6 mm");
}

#[test]
fn draws_are_asked_for_in_one_object() {
    let alone = roulade_stats::executor::alone();
    let question = json!({ "sheet": sheet(), "draws": 1000, "seed": 3, "figures": ["mass"] }).to_string();
    let answer = ok(&sampled(&question, &alone));
    assert_eq!((&answer["draws"], &answer["seed"]), (&json!(1000), &json!(3)));
    assert_eq!(answer["figures"][0]["id"], "mass");
    let both = json!({ "sheet": sheet(), "second": sheet(), "draws": 1000, "figures": ["mass"] }).to_string();
    assert_eq!(ok(&sampled(&both, &alone))["figures"].as_array().map(Vec::len), Some(3));
    assert_eq!(
        ok(&sensitivity(&json!({ "sheet": sheet(), "figure": "mass" }).to_string(), &alone))["id"],
        "mass"
    );

    let bad = with(&[("can/wall", json!("5 g"))]);
    let question = |of: Value| sampled(&of.to_string(), &alone);
    assert_eq!(places(&question(json!({}))), ["sheet"]);
    assert_eq!(
        places(&question(json!({ "sheet": bad, "second": bad }))),
        ["sheet.can.wall", "second.can.wall"]
    );
    assert_eq!(places(&question(json!({ "sheet": sheet(), "draws": "many" }))), ["draws"]);
    assert_eq!(places(&sensitivity(&json!({ "sheet": sheet(), "draws": 3 }).to_string(), &alone)), ["draws"]);
}

#[test]
fn texts_that_are_no_sheet() {
    for text in ["", "  \n", "[]", "{", "3"] {
        assert_eq!(places(&estimate(text)).len(), 1, "{text}");
    }
    assert_eq!(places(&without("{}")), ["sheet"]);
    assert_eq!(places(&without(&json!({ "sheet": sheet() }).to_string())), ["part"]);
}

#[test]
fn two_sheets_are_reported_apart() {
    let (good, bad) = (sheet().to_string(), with(&[("can/wall", json!("5 g"))]).to_string());
    assert_eq!(places(&compare(&bad, &good)), ["first.can.wall"]);
    assert_eq!(places(&compare(&good, &bad)), ["second.can.wall"]);
    assert_eq!(places(&compare(&bad, &bad)), ["first.can.wall", "second.can.wall"]);
}
