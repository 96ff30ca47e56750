//! Sheets that are written otherwise and say the same.

use super::{apart, cell, worked};
use proptest::prelude::*;
use roulade::cell::draft::{Draft, Input};
use serde_json::{Map, Value, json};

/// Does something to every quantity that a sheet holds as text.
fn each_quantity(value: &mut Value, with: &mut impl FnMut(&str) -> Option<String>) {
    match value {
        Value::String(text) => {
            if let Some(other) = with(text) {
                *text = other;
            }
        }
        Value::Array(items) => items.iter_mut().for_each(|item| each_quantity(item, with)),
        Value::Object(keys) => keys.values_mut().for_each(|of| each_quantity(of, with)),
        _ => {}
    }
}

/// Numbers of a text multiplied, its unit exchanged: "0.15 .. 0.35 mm" as "150 .. 350 µm".
fn in_other_unit(text: &str) -> Option<String> {
    const UNITS: [(&str, &str, i32); 6] = [
        (" mm", " µm", 3),
        (" µm", " mm", -3),
        (" g", " mg", 3),
        (" mg/cm²", " g/m²", 1),
        (" mΩ", " Ω", -3),
        (" V", " mV", 3),
    ];
    let (unit, other, power) = UNITS.into_iter().find(|(unit, ..)| text.ends_with(unit))?;
    let numbers = text.strip_suffix(unit)?;
    if !numbers.chars().all(|c| c.is_ascii_digit() || ".± ".contains(c)) {
        return None;
    }
    let words = numbers.split(' ').map(|word| match word.parse::<f64>() {
        // The power is put behind the digits: nothing is rounded.
        Ok(_) => format!("{word}e{power}"),
        Err(_) => word.to_owned(),
    });
    Some(words.collect::<Vec<_>>().join(" ") + other)
}

/// Without uncertainties: "40.0 ± 0.03 mm", "(40.0 ± 0.03) mm" and "40.0 mm ± 1 %" as "40.0 mm".
fn exact(text: &str) -> Option<String> {
    let (value, rest) = text.trim_start_matches('(').split_once(" ± ")?;
    if value.contains(' ') {
        return Some(value.to_owned());
    }
    let unit = rest.trim_start_matches(|c: char| c.is_ascii_digit() || ".)".contains(c)).trim();
    Some(format!("{value} {unit}").trim_end().to_owned())
}

/// The keys of every object in another order.
fn reversed(value: &Value) -> Value {
    match value {
        Value::Object(keys) => Value::Object(
            keys.iter().rev().map(|(key, of)| (key.clone(), reversed(of))).collect::<Map<_, _>>(),
        ),
        Value::Array(items) => items.iter().map(reversed).collect(),
        other => other.clone(),
    }
}

/// Whether usual heights give way to a stated width: without it another value of theirs stands in the draft.
fn gives_way(sheet: &Value) -> bool {
    let mut free = sheet.clone();
    if let Some(cathode) = free["cathode"].as_object_mut() {
        cathode.remove("width");
    }
    let [Ok(draft), Ok(free)] = [sheet, &free].map(|sheet| Draft::parse(&sheet.to_string())) else {
        return false;
    };
    let value = |draft: &Draft, path: &str| {
        draft.inputs().iter().find(|input| &*input.path == path).map(|input| input.uncertain.value)
    };
    draft.inputs().iter().any(|input| {
        value(&free, &input.path).is_some_and(|value| value.to_bits() != input.uncertain.value.to_bits())
    })
}

#[test]
fn only_usual_heights_give_way() {
    let sheet: Value = serde_json::from_str(include_str!("../../demo/marram-a.json")).unwrap();
    assert!(!gives_way(&sheet));
    let mut usual: Value = serde_json::from_str(include_str!("../../demo/marram-small.json")).unwrap();
    assert!(!gives_way(&usual));
    usual["can"].as_object_mut().unwrap().remove("bottom");
    assert!(gives_way(&usual));
}

/// Whether a number is nothing beside its uncertainty, 6e-18 ± 0.01 g: as an exact one it is refused.
fn holds_nothing(sheet: &Value) -> bool {
    Draft::parse(&sheet.to_string())
        .is_err_and(|problems| problems.to_string().contains("no cell comes near"))
}

/// Whether a usual value, which is written with five digits, is rounded up in one sheet and down in the other.
fn rounded_apart(sheet: &Value, other: &Value) -> bool {
    let [Ok(a), Ok(b)] = [sheet, other].map(|sheet| Draft::parse(&sheet.to_string())) else { return false };
    let apart = |(a, b): (&Input, &Input)| {
        let (a, b) = (a.uncertain.value, b.uncertain.value);
        let part = (a - b).abs() / a.abs();
        part > 1e-9 && part < 1.1e-4
    };
    a.inputs().iter().zip(b.inputs()).any(apart)
}

/// The other sheet is the same cell.
fn same(sheet: &Value, other: &Value) -> Result<(), TestCaseError> {
    let (Some(a), b) = (worked(sheet), worked(other)) else { return Ok(()) };
    let Some(b) = b else {
        return Err(TestCaseError::fail(format!("it is no cell any more\n{sheet}\n{other}")));
    };
    let apart = apart(&a, &b, 1e-9);
    prop_assert!(apart.is_empty(), "{apart:?}\n{sheet}\n{other}");
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, ..ProptestConfig::default() })]

    #[test]
    fn in_other_units(number: u64) {
        let Some((sheet, ..)) = cell(number) else { return Ok(()) };
        let (mut other, mut changed) = (sheet.clone(), 0);
        each_quantity(&mut other, &mut |text| {
            let text = in_other_unit(text);
            changed += usize::from(text.is_some());
            text
        });
        prop_assert!(changed > 0);
        // In another unit the can's size may differ in its last bit.
        if rounded_apart(&sheet, &other) {
            return Ok(());
        }
        same(&sheet, &other)?;
    }

    /// What is known of a number is not the number: as exact entries, they make the same best values.
    #[test]
    fn without_uncertainties(number: u64) {
        let Some((sheet, ..)) = cell(number) else { return Ok(()) };
        // Where the state is not as built, or figures were read, what is known decides how much each entry gives way.
        if ["state", "held", "correlated", "opened"].iter().any(|key| sheet.get(key).is_some()) {
            return Ok(());
        }
        // Shares of metals that were read to add up to 1 within their uncertainties do not without them.
        if sheet["materials"].as_array().is_some_and(|all| all.iter().any(|one| one.get("metals").is_some())) {
            return Ok(());
        }
        // Usual heights that do not fit beside a stated width give way to it, each by as much as it is uncertain.
        if gives_way(&sheet) {
            return Ok(());
        }
        let mut other = sheet.clone();
        each_quantity(&mut other, &mut exact);
        if holds_nothing(&other) {
            return Ok(());
        }
        same(&sheet, &other)?;
    }

    #[test]
    fn in_another_order(number: u64, turn in 0..9_usize) {
        let Some((sheet, ..)) = cell(number) else { return Ok(()) };
        same(&sheet, &reversed(&sheet))?;
        let mut other = sheet.clone();
        for list in ["/parts", "/cathode/mix", "/anode/mix"] {
            if let Some(Value::Array(items)) = other.pointer_mut(list)
                && !items.is_empty()
            {
                let by = turn % items.len();
                items.rotate_left(by);
            }
        }
        same(&sheet, &other)?;
    }

    #[test]
    fn under_another_name_with_remarks(number: u64) {
        let Some((sheet, ..)) = cell(number) else { return Ok(()) };
        let mut other = sheet.clone();
        other["cell"] = json!("another");
        other["remark"] = json!("seen");
        if other["can"]["height"].is_string() {
            other["can"]["height"] = json!({ "value": other["can"]["height"], "remark": "read twice" });
        }
        same(&sheet, &other)?;
    }

    /// A part sawn in two, each with half of what it had.
    #[test]
    fn with_a_part_in_two(number: u64) {
        let Some((sheet, ..)) = cell(number) else { return Ok(()) };
        // What gives way does so by its uncertainty, and the halves are exact.
        if gives_way(&sheet) {
            return Ok(());
        }
        let mut other = sheet.clone();
        let Some(parts) = other.get_mut("parts").and_then(Value::as_array_mut) else { return Ok(()) };
        let Some(lid) = parts.iter().position(|part| part["name"] == "gasket") else { return Ok(()) };
        // A usual mass is rounded, each half's by itself.
        if parts[lid].get("mass").is_none() {
            return Ok(());
        }
        let mut half = parts[lid].clone();
        each_quantity(&mut half, &mut |text| {
            let (number, unit) = exact(text).unwrap_or_else(|| text.to_owned()).split_once(' ').map(|(a, b)| (a.to_owned(), b.to_owned()))?;
            let number: f64 = number.parse().ok()?;
            Some(format!("{} {unit}", 0.5 * number))
        });
        let mut rest = half.clone();
        rest["name"] = json!("the gasket's other half");
        parts[lid] = half;
        parts.push(rest);
        if holds_nothing(&other) {
            return Ok(());
        }
        same(&sheet, &other)?;
    }
}
