//! What answers about two cells say: the same as the studies they were made from.
#![allow(clippy::float_cmp, reason = "where nothing is left, nothing is left to the last bit")]

use crate::answer::{AttributionAnswer, grouping};
use crate::ask;
use crate::test_support::{compared, sheet, with};
use approx::assert_relative_eq;
use roulade::sheet::Sheet;
use roulade::study::attribute::{self, Changes, Prices, Question};
use roulade_stats::executor::alone;
use serde_json::{Value, json};

fn parsed(sheet: &Value) -> Sheet {
    Sheet::parse(&sheet.to_string()).unwrap()
}

fn ask<'a>(first: &'a Sheet, second: &'a Sheet) -> Question<'a> {
    Question { first, second, changes: None, prices: None, draws: 2, seed: 1, sharing: 1 }
}

fn by_head_space() -> Value {
    with(&[("cathode/width", json!(null)), ("void_height", json!("4 mm"))])
}

fn ring() -> Value {
    json!({ "name": "ring", "place": "below roll", "height": "0.25 mm", "mass": "0.5 g", "material": "metal" })
}

fn demo(name: &str) -> Sheet {
    Sheet::parse(match name {
        "marram a" => include_str!("../../../../../demo/marram-a.json"),
        _ => include_str!("../../../../../demo/marram-b.json"),
    })
    .unwrap()
}

/// Standard uncertainties of a figure of the first cell, the second, and the difference.
fn u(first: &Value, second: &Value, id: &str) -> [f64; 3] {
    let answer = compared(first, second);
    let row = answer.figures.iter().find(|row| row.id == id).unwrap();
    [&row.first, &row.second, &row.change].map(|figure| figure.u.unwrap_or(0.0))
}

#[test]
fn what_is_shared_leaves_the_difference() {
    let noted =
        |from: &str, value: &str| with(&[("cathode/loading", json!({ "value": value, "from": from }))]);
    for id in ["capacity", "mass", "volumetric"] {
        // The same supposition in both, and the densities of the table: one quantity.
        let assumed = noted("assumed", "20 ± 0.2 mg/cm2");
        let [a, b, difference] = u(&assumed, &assumed, id);
        assert!(a > 0.0 && a == b && difference == 0.0, "{id}: {a} {b} {difference}");
        // Two readings: √2 of one; all else is exact but the tape's density, which is shared.
        let measured = noted("measured", "20 ± 0.2 mg/cm2");
        let mut another = measured.clone();
        another["cell"] = json!("another");
        let [_, _, difference] = u(&measured, &another, id);
        let exact = u(&sheet(), &sheet(), id)[0];
        assert_relative_eq!(difference, (2.0 * (a * a - exact * exact)).sqrt(), max_relative = 1e-9);
        // One was made from the other: one quantity again.
        let mut derived = measured.clone();
        derived["made_from"] = json!("by hand");
        assert_eq!(u(&measured, &derived, id)[2], 0.0, "{id}");
        // Another supposition is another quantity.
        assert!(u(&assumed, &noted("assumed", "20 ± 0.1 mg/cm2"), id)[2] > 0.9 * a);
        assert!(u(&assumed, &measured, id)[2] > 1.3 * (a * a - exact * exact).sqrt());
    }
}

#[test]
fn the_same_answer_as_comparing_the_two_sheets() {
    for before in [sheet(), by_head_space()] {
        for reclaim in [0.0, 0.5, 1.0] {
            let question = json!({ "sheet": before, "part": "plate", "reclaim": reclaim, "instead": ring() });
            let mut answer: Value = serde_json::from_str(&ask::without(&question.to_string())).unwrap();
            let after = answer["ok"].as_object_mut().unwrap().remove("sheet").unwrap();
            let compared: Value =
                serde_json::from_str(&ask::compare(&before.to_string(), &after.to_string())).unwrap();
            assert_eq!(answer, compared, "{reclaim}");
        }
    }
}

#[test]
fn what_was_written_down_is_taken_back() {
    let (first, second) = (demo("marram a"), demo("marram b"));
    let found = attribute::changes(&first, &second, None).unwrap();
    let text = serde_json::to_string(&grouping(&found.1, found.0.edits())).unwrap();
    let again = attribute::changes(&first, &second, Some(&Changes::parse(&text).unwrap())).unwrap();
    assert_eq!(found.1, again.1);
}

#[test]
fn what_stands_alike_is_reported_to_be_no_change() {
    let (a, b) = (parsed(&sheet()), parsed(&with(&[("cell", json!("another"))])));
    let text = AttributionAnswer::of(&ask(&a, &b), &alone()).unwrap().answer.text;
    assert!(text.starts_with("by hand and another do not differ"), "{text}");
}

#[test]
fn cost_by_energy_is_cost_over_energy() {
    let prices = Prices::parse(&json!({ "per_kg": { "metal": 2 }, "currency": "X" }).to_string()).unwrap();
    let (a, b) = (parsed(&sheet()), parsed(&with(&[("parts/1/mass", json!("3 g"))])));
    let question = Question { prices: Some(&prices), ..ask(&a, &b) };
    let answer = AttributionAnswer::of(&question, &alone()).unwrap();
    let per = answer.figures.iter().find(|table| table.id == "cost_per_kwh").unwrap();
    let cost = answer.figures.iter().find(|table| table.id == "cost").unwrap();
    let energy = answer.figures.iter().find(|table| table.id == "energy").unwrap();
    assert_eq!((per.unit.as_str(), cost.unit.as_str()), ("X/kWh", "X"));
    assert_relative_eq!(per.first.value, 1e3 * cost.first.value / energy.first.value, max_relative = 1e-12);
}
