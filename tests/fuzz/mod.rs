//! Sheets damaged in every way: never a panic, and always an answer or a complaint that says something.

use proptest::prelude::*;
use proptest::sample::{Index, select};
use roulade_answer::ask;
use serde_json::{Value, json};

const SHEETS: [&str; 3] = [
    include_str!("../../demo/marram-a.json"),
    include_str!("../../demo/marram-b.json"),
    include_str!("../../demo/marram-small.json"),
];

/// An answer, or problems that each say what was found and what would be right.
fn sound(answer: &str) -> Result<bool, TestCaseError> {
    let answer: Value =
        serde_json::from_str(answer).map_err(|error| TestCaseError::fail(format!("{error}: {answer}")))?;
    if answer.get("ok").is_some() {
        return Ok(true);
    }
    let problems = answer["problems"].as_array().filter(|problems| !problems.is_empty());
    let problems =
        problems.ok_or_else(|| TestCaseError::fail(format!("neither answer nor problem: {answer}")))?;
    for problem in problems {
        for part in ["found", "expected", "text"] {
            prop_assert!(problem[part].as_str().is_some_and(|text| !text.trim().is_empty()), "{problem}");
        }
        let text = problem["text"].as_str().unwrap_or_default();
        prop_assert!(!text.contains('\n'), "{text}");
    }
    Ok(false)
}

/// All three questions about a text.
fn ask_all(text: &str, part: &str) -> Result<(), TestCaseError> {
    sound(&ask::estimate(text))?;
    sound(&ask::compare(text, SHEETS[1]))?;
    sound(&ask::compare(SHEETS[0], text))?;
    let part = Value::from(part);
    sound(&ask::without(&format!("{{\"sheet\":{text},\"part\":{part}}}")))?;
    Ok(())
}

/// Every place in a value, as a pointer.
fn places(value: &Value, at: &str, found: &mut Vec<String>) {
    found.push(at.to_owned());
    match value {
        Value::Object(keys) => keys.iter().for_each(|(key, of)| places(of, &format!("{at}/{key}"), found)),
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(i, of)| places(of, &format!("{at}/{i}"), found));
        }
        _ => {}
    }
}

/// What is done to a place.
#[derive(Clone, Debug)]
enum Damage {
    Remove,
    Repeat,
    Put(Value),
    Rename(String),
}

fn damage() -> impl Strategy<Value = Damage> {
    prop_oneof![
        Just(Damage::Remove),
        Just(Damage::Repeat),
        quantity().prop_map(|text| Damage::Put(text.into())),
        any::<String>().prop_map(|text| Damage::Put(text.into())),
        any::<f64>().prop_map(|number| Damage::Put(json!(number))),
        select(vec![json!(null), json!([]), json!({}), json!(true), json!({"value": "1 mm"}), json!([1, 2])])
            .prop_map(Damage::Put),
        "[a-z_]{0,12}".prop_map(Damage::Rename),
        any::<String>().prop_map(Damage::Rename),
    ]
}

/// Texts that look like quantities, right and wrong.
fn quantity() -> impl Strategy<Value = String> {
    let number = prop_oneof![
        "-?[0-9]{1,4}(\\.[0-9]{0,3})?",
        "[0-9]e-?[0-9]{1,3}",
        select(vec!["0", "-0", "1e308", "1e-320", "inf", "NaN", "∞", "68,5", "1.000.000"])
            .prop_map(str::to_owned),
    ];
    let between = select(vec!["", " ± ", " .. ", " +/- ", "-", " (", "±±"]);
    let unit =
        select(vec!["", " mm", " µm", " um", " g", " mg/cm²", " %", " V", " Wh", " furlong", "°", " g/cm3"]);
    (number.clone(), between, number, unit)
        .prop_map(|(a, between, b, unit)| if between.is_empty() { a + unit } else { a + between + &b + unit })
}

fn apply(sheet: &mut Value, place: Index, damage: Damage) {
    let mut all = Vec::new();
    places(sheet, "", &mut all);
    let pointer = place.get(&all).clone();
    let Some((holder, key)) = pointer.rsplit_once('/') else {
        if let Damage::Put(value) = damage {
            *sheet = value;
        }
        return;
    };
    match sheet.pointer_mut(holder) {
        Some(Value::Object(keys)) => match damage {
            Damage::Remove => drop(keys.remove(key)),
            Damage::Repeat => drop(keys.get(key).cloned().and_then(|of| keys.insert(format!("{key}2"), of))),
            Damage::Put(value) => drop(keys.insert(key.to_owned(), value)),
            Damage::Rename(name) => drop(keys.remove(key).and_then(|of| keys.insert(name, of))),
        },
        Some(Value::Array(items)) => {
            let i = key.parse().unwrap_or(0);
            match damage {
                Damage::Remove => drop(items.remove(i)),
                Damage::Repeat => items.insert(i, items[i].clone()),
                Damage::Put(value) => items[i] = value,
                Damage::Rename(_) => items.reverse(),
            }
        }
        _ => {}
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 250, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn changed_bytes(sheet in select(&SHEETS), edits in prop::collection::vec((any::<Index>(), any::<u8>(), 0..3u8), 1..4)) {
        let mut bytes = sheet.as_bytes().to_vec();
        for (place, byte, edit) in edits {
            let at = place.index(bytes.len());
            match edit {
                0 => bytes[at] = byte,
                1 => bytes.insert(at, byte),
                _ => drop(bytes.remove(at)),
            }
        }
        ask_all(&String::from_utf8_lossy(&bytes), "upper insulator")?;
    }

    #[test]
    fn changed_nodes(sheet in select(&SHEETS), edits in prop::collection::vec((any::<Index>(), damage()), 1..4), part in any::<String>()) {
        let mut sheet: Value = serde_json::from_str(sheet).expect("the demo is JSON");
        for (place, damage) in edits {
            apply(&mut sheet, place, damage);
        }
        ask_all(&sheet.to_string(), &part)?;
        ask_all(&sheet.to_string(), "upper insulator")?;
    }

    #[test]
    fn other_quantities(sheet in select(&SHEETS), edits in prop::collection::vec((any::<Index>(), quantity()), 1..3)) {
        let mut sheet: Value = serde_json::from_str(sheet).expect("the demo is JSON");
        for (place, text) in edits {
            let mut all = Vec::new();
            places(&sheet, "", &mut all);
            all.retain(|pointer| pointer.ends_with("/value") || pointer.ends_with("/share"));
            if let Some(entry) = sheet.pointer_mut(place.get::<String>(&all)) {
                *entry = text.into();
            }
        }
        ask_all(&sheet.to_string(), "upper insulator")?;
    }

    #[test]
    fn any_text(text in any::<String>()) {
        prop_assert!(!sound(&ask::estimate(&text))?);
        prop_assert!(!sound(&ask::without(&text))?);
    }

    #[test]
    fn any_share_reclaimed(share in any::<f64>(), near in -0.5..1.5f64) {
        let sheet: Value = serde_json::from_str(SHEETS[0]).expect("the demo is JSON");
        for share in [share, near] {
            let question = json!({"sheet": sheet, "part": "lower collector plate", "reclaim": share});
            let answered = sound(&ask::without(&question.to_string()))?;
            prop_assert!(answered || share.is_nan() || !(0.0..=1.0).contains(&share));
        }
    }
}

#[test]
fn the_sheets_themselves_are_answered() {
    for sheet in SHEETS {
        assert!(sound(&ask::estimate(sheet)).expect("sound"));
        assert!(sound(&ask::compare(sheet, SHEETS[0])).expect("sound"));
    }
}
