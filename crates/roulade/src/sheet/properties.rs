//! What holds of every sheet, tried on sheets and edits drawn at random.

use super::{Edit, Shape, Sheet, diff, edit, write};
use crate::cell::draft::Draft;
use crate::quantity::problem::Problems;
use crate::study::edit::{SheetChange, edited};
use crate::test_support::sheet;
use proptest::prelude::*;
use serde_json::{Map, Value, json};

/// Entries that may stand there or be left out, whatever the others are.
const FREE: [(&str, &str); 14] = [
    ("can.wall", "mm"),
    ("can.bottom", "mm"),
    ("winding.core_diameter", "mm"),
    ("winding.slack", "µm"),
    ("winding.core_turns", ""),
    ("cathode.foil.thickness", "µm"),
    ("cathode.fold_height", "mm"),
    ("anode.overhang", "mm"),
    ("anode.foil.thickness", "µm"),
    ("separator.thickness", "µm"),
    ("separator.margin", "mm"),
    ("electrolyte.excess", "%"),
    ("parts[lid].height", "mm"),
    ("parts[plate].mass", "g"),
];

fn of(value: Value) -> Sheet {
    let mut problems = Problems::default();
    let read = Sheet::whole(value, &mut problems);
    problems.or_else_ok(read.unwrap_or_default()).unwrap()
}

/// A quantity as people write it: exact, with an uncertainty, between bounds, noted.
fn quantity(unit: &'static str) -> impl Strategy<Value = Value> {
    (0.2..0.9_f64, 1e-3..0.1_f64, 0..4_u8, any::<bool>()).prop_map(move |(x, u, kind, noted)| {
        let text = match kind {
            0 => format!("{x} {unit}"),
            1 => format!("{x} ± {u} {unit}"),
            2 => format!("{} .. {} {unit}", x - u, x + u),
            _ => format!("{x:.3} ± {u:.3} {unit}"),
        };
        if noted {
            json!({ "value": text.trim(), "from": "measured", "remark": "read" })
        } else {
            json!(text.trim())
        }
    })
}

/// An edit of one of the entries, or of a list.
fn an_edit() -> impl Strategy<Value = Edit> {
    let free = (0..FREE.len()).prop_flat_map(|i| {
        let (key, unit) = FREE[i];
        let key = key.to_owned();
        prop_oneof![
            4 => quantity(unit).prop_map({ let key = key.clone(); move |to| Edit::Set { key: key.clone(), to } }),
            1 => Just(Edit::Clear { key: key.clone() }),
            1 => Just(Edit::Fix { key: key.clone(), at: None }),
            1 => (0.5..2.0_f64).prop_map({ let key = key.clone(); move |by| Edit::Scale { key: key.clone(), by } }),
            1 => Just(Edit::Set { key: format!("{key}.remark"), to: json!("seen") }),
        ]
    });
    let ring = json!({ "name": "ring", "place": "below roll", "mass": "1 ± 0.1 g", "material": "metal" });
    let listed = prop::sample::select(vec![
        Edit::Remove { key: "parts[insulator]".to_owned() },
        Edit::Remove { key: "parts[plate]".to_owned() },
        Edit::Remove { key: "parts[0]".to_owned() },
        Edit::Reorder { key: "parts[lid]".to_owned(), at: 0 },
        Edit::Add { list: "parts".to_owned(), item: ring.clone(), at: Some(1), after: None },
        Edit::Replace { key: "parts[plate]".to_owned(), with: ring },
        Edit::Rename { key: "parts[lid]".to_owned(), to: "cap".to_owned() },
        Edit::Rename { key: "materials[plastic]".to_owned(), to: "polymer".to_owned() },
        Edit::Set { key: "cathode.mix[plastic].share".to_owned(), to: json!("7 ± 1 %") },
        Edit::Set { key: "materials[copper].density".to_owned(), to: json!("8.9 g/cm3") },
        Edit::Clear { key: "winding".to_owned() },
        Edit::Clear { key: "parts".to_owned() },
        Edit::Clear { key: "correlated".to_owned() },
    ]);
    prop_oneof![5 => free, 2 => listed]
}

/// A sheet with entries drawn at random, those of them that are uncertain correlated.
fn a_sheet() -> impl Strategy<Value = Sheet> {
    let entries: Vec<_> = FREE.iter().map(|(_, unit)| prop::option::weighted(0.8, quantity(unit))).collect();
    (entries, prop::collection::vec(-1.0..1.0_f64, FREE.len())).prop_map(|(entries, weights)| {
        let mut sheet = of(sheet());
        for ((key, _), entry) in FREE.iter().zip(entries) {
            let key = (*key).to_owned();
            // Without its mass the plate's volume would not be known.
            if entry.is_none() && key == "parts[plate].mass" {
                continue;
            }
            let one = entry.map_or(Edit::Clear { key: key.clone() }, |to| Edit::Set { key, to });
            sheet = edit(&sheet, &[one]).unwrap().sheet;
        }
        // One thing behind all of them: the coefficients are possible.
        let draft = Draft::read(&sheet).unwrap();
        let moving = FREE.iter().zip(&weights).filter(|((key, _), _)| {
            draft.inputs().iter().any(|input| input.key == *key && input.uncertain.u() > 0.0)
        });
        let moving: Vec<(&str, f64)> = moving.map(|((key, _), weight)| (*key, *weight)).collect();
        let rows: Vec<Vec<f64>> =
            (1..moving.len()).map(|i| (0..i).map(|j| moving[i].1 * moving[j].1).collect()).collect();
        if moving.len() > 1 {
            let paths: Vec<&str> = moving.iter().map(|(key, _)| *key).collect();
            let to = json!({ "paths": paths, "coefficients": rows });
            sheet = edit(&sheet, &[Edit::Set { key: "correlated".to_owned(), to }]).unwrap().sheet;
        }
        sheet
    })
}

/// The same JSON, keys in the reverse of their order.
fn reversed(value: Value) -> String {
    match value {
        Value::Object(map) => {
            let each: Vec<String> = map
                .into_iter()
                .rev()
                .map(|(key, value)| format!("{}:{}", json!(key), reversed(value)))
                .collect();
            format!("{{{}}}", each.join(","))
        }
        Value::Array(list) => format!("[{}]", list.into_iter().map(reversed).collect::<Vec<_>>().join(",")),
        other => other.to_string(),
    }
}

/// The same JSON with a remark wherever one may stand.
fn remarked(value: Value) -> Value {
    const QUANTITIES: [&str; 6] = ["wall", "loading", "height", "thickness", "share", "mass"];
    match value {
        Value::Object(map) if !map.contains_key("value") => {
            let mut new = Map::new();
            for (key, value) in map {
                let value = match value {
                    Value::String(text) if QUANTITIES.contains(&key.as_str()) => {
                        json!({ "value": text, "remark": "said" })
                    }
                    other => remarked(other),
                };
                new.insert(key, value);
            }
            Value::Object(new)
        }
        Value::Array(list) => Value::Array(list.into_iter().map(remarked).collect()),
        other => other,
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn an_edit_and_its_inverse_give_the_sheet(
        start in a_sheet(),
        edits in prop::collection::vec(an_edit(), 1..6),
    ) {
        let mut now = start.clone();
        let mut back = Vec::new();
        for one in edits {
            // An item may be gone by then.
            let Ok(made) = edited(&now, &[SheetChange::Edit(one)]) else { continue };
            back.push(made.inverse);
            now = made.sheet;
            // A sheet that reads on stays one that reads: nothing that is exact, or gone, is said to move.
            if let Err(problems) = Draft::read(&now) {
                prop_assert!(problems.0.iter().all(|problem| !problem.place.starts_with("correlated")), "{problems}");
            }
        }
        prop_assert_eq!(&edit(&now, &diff(&now, &start)).unwrap().sheet, &start);
        for inverse in back.iter().rev() {
            now = edit(&now, inverse).unwrap().sheet;
        }
        prop_assert_eq!(now, start);
    }

    #[test]
    fn what_differs_leads_from_one_to_the_other(
        a in a_sheet(),
        b in a_sheet(),
        edits in prop::collection::vec(an_edit(), 0..6),
    ) {
        let b = edits.iter().fold(b, |now, one| {
            edit(&now, std::slice::from_ref(one)).map(|made| made.sheet).unwrap_or(now)
        });
        let between = diff(&a, &b);
        prop_assert_eq!(edit(&a, &between).unwrap().sheet, b);
        prop_assert!(diff(&a, &a).is_empty());
    }

    #[test]
    fn a_sheet_survives_being_written_and_read(start in a_sheet()) {
        let text = write::text(&start);
        let read = Sheet::parse(&text).unwrap();
        prop_assert_eq!(&read, &start);
        prop_assert_eq!(write::text(&read), text);
    }

    #[test]
    fn order_units_and_remarks_change_no_answer(start in a_sheet()) {
        let draft = Draft::read(&start).unwrap();
        let value = serde_json::to_value(&start).unwrap();
        let other = Draft::parse(&reversed(value.clone())).unwrap();
        prop_assert!(draft.same(&other));
        prop_assert_eq!(draft.values(), other.values());
        let other = Draft::read(&of(remarked(value))).unwrap();
        prop_assert_eq!(draft.values(), other.values());
        prop_assert_eq!(draft.correlation(), other.correlation());
        // The wall in micrometres.
        let wall = draft.inputs().iter().find(|input| input.path == "can.wall").unwrap().uncertain;
        let text = format!("{} ± {} µm", 1e6 * wall.value, 1e6 * wall.u());
        let other = edit(&start, &[Edit::Set { key: "can.wall".to_owned(), to: json!(text) }]).unwrap().sheet;
        for (a, b) in draft.values().iter().zip(Draft::read(&Draft::settled(&start, other)).unwrap().values()) {
            prop_assert!((a - b).abs() <= 1e-14 * a.abs());
        }
    }
}
