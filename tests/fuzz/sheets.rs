//! Design sheets that know their schema: entries removed, replaced, scaled, of other units, under swapped keys.

use super::luck::Luck;
use super::words;
use roulade::sheet::defaults::{FIELDS, Field};
use serde_json::{Map, Value, json};

/// Sheets to begin with, and the places in each.
pub(crate) struct Bases {
    pub(crate) sheets: Vec<Value>,
    places: Vec<Vec<String>>,
}

const DEMO: [&str; 4] = [
    include_str!("../../demo/marram-a.json"),
    include_str!("../../demo/marram-b.json"),
    include_str!("../../demo/marram-small.json"),
    include_str!("../../demo/marram-b-assay.json"),
];

/// What scales a quantity by a slip, by a little, or beyond reason.
const FACTORS: &[f64] = &[
    0.0, 1e-16, 1e-3, 0.01, 0.1, 0.5, 0.8, 0.9, 0.95, 1.05, 1.1, 1.25, 2.0, 10.0, 20.0, 100.0, 1e3, 1e6,
    1e16, 1e300, -1.0,
];
const GENTLE: &[f64] = &[0.9, 0.95, 0.98, 0.99, 1.01, 1.02, 1.05, 1.1];

const WORDS: &[&str] = &[
    "tabs",
    "edges",
    "edge",
    "across",
    "yes",
    "no",
    "top",
    "bottom",
    "below roll",
    "above roll",
    "beside roll",
    "in core",
    "energy",
    "power",
    "middle",
    "measured",
    "stated",
    "assumed",
    "steel",
    "copper",
    "aluminium",
    "nickel",
    "NMC811",
    "LFP",
    "LCO",
    "NMC532",
    "graphite",
    "silicon oxide",
    "silicon",
    "hard carbon",
    "PVDF",
    "carbon black",
    "18 × 65",
    "46 x 80",
    "after formation, discharged, washed, dried",
    "charged",
    "lithium metal",
    "Li2O",
    "LiMn0.6Fe0.4PO4",
    "polypropylene",
];

impl Bases {
    pub(crate) fn new() -> Self {
        let mut sheets: Vec<Value> =
            DEMO.iter().map(|text| serde_json::from_str(text).expect("the demo is JSON")).collect();
        let least = json!({
            "can": { "diameter": "21.0 mm", "height": "70.0 mm" },
            "cathode": { "mix": [{ "material": "NMC811" }] },
            "anode": { "mix": [{ "material": "graphite" }] },
        });
        sheets.push(least);
        let places = sheets.iter().map(|sheet| {
            let mut found = Vec::new();
            places(sheet, "", &mut found);
            found
        });
        Self { places: places.collect(), sheets }
    }

    /// A sheet, mostly one that could be a cell.
    pub(crate) fn sheet(&self, luck: &mut Luck) -> Value {
        let (mut sheet, places) = self.base(luck);
        let gentle = !luck.once_in(3);
        for _ in 0..luck.below(if gentle { 5 } else { 4 }) {
            let place = luck.any(places);
            if gentle { self.little(luck, &mut sheet, place) } else { damage(luck, &mut sheet, place) }
        }
        sheet
    }

    /// A sheet that nothing was done to, and its places.
    pub(crate) fn base(&self, luck: &mut Luck) -> (Value, &[String]) {
        let which = luck.below(self.sheets.len());
        (self.sheets[which].clone(), &self.places[which])
    }

    /// A sheet that differs from another in a few entries, by little.
    pub(crate) fn changed(&self, luck: &mut Luck, from: &Value) -> Value {
        let mut sheet = from.clone();
        let mut found = Vec::new();
        places(&sheet, "", &mut found);
        for _ in 0..=luck.below(4) {
            if !found.is_empty() {
                let place = luck.any(&found).clone();
                self.little(luck, &mut sheet, &place);
            }
        }
        sheet
    }

    /// A key of the sheet as edits and sweeps name it.
    pub(crate) fn key(&self, luck: &mut Luck) -> String {
        match luck.below(8) {
            0 => words::name(luck),
            1 => format!(
                "parts[{}].{}",
                words::name(luck),
                luck.pick(&["mass", "height", "name", "volume", "x"])
            ),
            2 => format!("cathode.mix[{}].share", luck.pick(&["NMC532", "LCO", "PVDF", "0", "9", "x"])),
            _ => luck
                .any(FIELDS)
                .path
                .replace("[]", luck.pick(&["[0]", "[1]", "[lid]", "[gasket]", "[99]", ""])),
        }
    }

    fn little(&self, luck: &mut Luck, sheet: &mut Value, place: &str) {
        if let Some(text) = sheet.pointer_mut(place).filter(|found| found.is_string())
            && let Some(scaled) = text.as_str().and_then(|text| words::scaled(text, *luck.any(GENTLE)))
        {
            *text = scaled.into();
        }
    }
}

/// Does something to one place.
fn damage(luck: &mut Luck, sheet: &mut Value, place: &str) {
    match luck.below(12) {
        0 => remove(sheet, place),
        1..=2 => set(sheet, place, words::quantity(luck, None).into()),
        3..=5 => {
            let scaled = sheet
                .pointer(place)
                .and_then(Value::as_str)
                .and_then(|text| words::scaled(text, *luck.any(FACTORS)));
            if let Some(scaled) = scaled {
                set(sheet, place, scaled.into());
            }
        }
        6 => {
            let field: &Field = luck.any(FIELDS);
            let text = match field.default {
                Some(default) if luck.once_in(2) => default.text.to_owned(),
                _ => words::quantity(luck, Some(field.unit.symbol())),
            };
            put(sheet, field.path, text.into());
        }
        7 => {
            let name = words::name(luck);
            set(sheet, place, name.into());
        }
        8 => set(sheet, place, luck.pick(WORDS).into()),
        9 => rename(luck, sheet, place),
        10 => repeat(luck, sheet, place),
        _ => set(sheet, place, odd(luck)),
    }
}

/// JSON that is not what a sheet has.
pub(crate) fn odd(luck: &mut Luck) -> Value {
    match luck.below(9) {
        0 => Value::Null,
        1 => json!([]),
        2 => json!({}),
        3 => json!(true),
        4 => json!(luck.part()),
        5 => json!(-1),
        6 => json!([1, 2]),
        7 => json!({ "value": words::quantity(luck, None), "from": "measured", "remark": words::name(luck) }),
        _ => json!([[0.0, 4.2], [1.0, luck.part()]]),
    }
}

fn remove(sheet: &mut Value, place: &str) {
    let Some((holder, key)) = place.rsplit_once('/') else { return };
    match sheet.pointer_mut(holder) {
        Some(Value::Object(keys)) => drop(keys.remove(key)),
        Some(Value::Array(items)) => {
            if let Some(at) = key.parse::<usize>().ok().filter(|at| *at < items.len()) {
                items.remove(at);
            }
        }
        _ => {}
    }
}

fn set(sheet: &mut Value, place: &str, value: Value) {
    if let Some(found) = sheet.pointer_mut(place) {
        *found = value;
    }
}

/// Another key in the place of one, known to the schema or not.
fn rename(luck: &mut Luck, sheet: &mut Value, place: &str) {
    let Some((holder, key)) = place.rsplit_once('/') else { return };
    if let Some(Value::Object(keys)) = sheet.pointer_mut(holder) {
        let Some(value) = keys.remove(key) else { return };
        let other = luck.any(FIELDS).path.rsplit(['.', ']']).next().unwrap_or("x").to_owned();
        keys.insert(if luck.once_in(3) { words::name(luck) } else { other }, value);
    }
}

/// An item once more, or many times; an object's entry under a second key.
fn repeat(luck: &mut Luck, sheet: &mut Value, place: &str) {
    let Some((holder, key)) = place.rsplit_once('/') else { return };
    match sheet.pointer_mut(holder) {
        Some(Value::Array(items)) => {
            if let Some(item) = key.parse::<usize>().ok().and_then(|at| items.get(at).cloned()) {
                let times = if luck.once_in(8) { 30 } else { 1 };
                for i in 0..times {
                    let mut item = item.clone();
                    if let Some(name) = item.get_mut("name") {
                        *name = format!("{} {i}", words::name(luck)).into();
                    }
                    items.push(item);
                }
            }
        }
        Some(Value::Object(keys)) => {
            if let Some(value) = keys.get(key).cloned() {
                keys.insert(format!("{key}2"), value);
            }
        }
        _ => {}
    }
}

/// Puts an entry under a path such as `parts[].mass`, into the first item of a list.
pub(crate) fn put(sheet: &mut Value, path: &str, value: Value) {
    let mut at = sheet;
    for step in path.split('.') {
        if !at.is_object() {
            *at = Value::Object(Map::new());
        }
        let Some(object) = at.as_object_mut() else { return };
        match step.strip_suffix("[]") {
            None => at = object.entry(step).or_insert(Value::Null),
            Some(list) => {
                let list = object.entry(list).or_insert_with(|| json!([{}]));
                if !list.get(0).is_some_and(Value::is_object) {
                    *list = json!([{}]);
                }
                let Some(first) = list.get_mut(0) else { return };
                at = first;
            }
        }
    }
    *at = value;
}

/// Every place in a value, as a pointer.
fn places(value: &Value, at: &str, found: &mut Vec<String>) {
    if !at.is_empty() {
        found.push(at.to_owned());
    }
    match value {
        Value::Object(keys) => keys.iter().for_each(|(key, of)| places(of, &format!("{at}/{key}"), found)),
        Value::Array(items) => {
            items.iter().enumerate().for_each(|(i, of)| places(of, &format!("{at}/{i}"), found));
        }
        _ => {}
    }
}
