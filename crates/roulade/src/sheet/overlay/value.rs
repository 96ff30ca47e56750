//! Entries of a sheet as JSON values.

use crate::material;
use crate::material::Role;
use crate::quantity::notation;
use crate::quantity::problem::Problems;
use crate::sheet::{REST, Shape};
use serde_json::Value;

/// What of a sheet is no property of the cell that it describes: names, remarks, and readings of the finished cell.
const ASIDE: [&str; 6] = ["roulade_sheet", "cell", "remark", "made_from", "cell_mass", "correlated"];

/// Materials that stand where a sheet names none.
pub(super) const ORDINARY: [(&str, &str); 5] = [
    ("can.material", "steel"),
    ("cathode.foil.material", "aluminium"),
    ("anode.foil.material", "copper"),
    ("separator.material", "polyethylene"),
    ("separator.ceramic", "alumina"),
];

/// Text of an entry, with or without remarks around it.
pub(super) fn text(value: &Value) -> Option<&str> {
    value.as_str().or_else(|| value.get("value")?.as_str())
}

/// An entry as it is shown: its text; of a component or part its own entries; of a curve that it is one.
pub(super) fn shown(value: &Value) -> String {
    if let Some(text) = text(value) {
        return text.to_owned();
    }
    match value {
        Value::Array(list) => match list.iter().map(name).collect::<Option<Vec<_>>>() {
            Some(names) => names.join(", "),
            None => format!("a list of {}", list.len()),
        },
        Value::Object(map) => {
            let said = map.iter().filter(|(key, _)| !["name", "material", "place"].contains(&key.as_str()));
            let said: Vec<&str> = said.filter_map(|(_, value)| text(value)).collect();
            match (name(value), said.as_slice()) {
                (Some(name), []) => name,
                (Some(name), said) => format!("{name}: {}", said.join(", ")),
                (None, said) => said.join(", "),
            }
        }
        other => other.to_string(),
    }
}

pub(super) fn canonical(name: &str) -> String {
    material::find(name).map_or_else(|| name.trim().to_owned(), |m| m.name.to_owned())
}

/// Name of an item of a list: of a part or a material its own, of a component that of its material.
pub(super) fn name(item: &Value) -> Option<String> {
    match item.get("name").and_then(Value::as_str) {
        Some(name) => Some(name.trim().to_owned()),
        None => item.get("material").and_then(Value::as_str).map(canonical),
    }
}

pub(super) fn list<'a>(sheet: &'a Value, path: &[&str]) -> &'a [Value] {
    let found = path.iter().try_fold(sheet, |at, key| at.get(key));
    found.and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

pub(super) fn role(sheet: &Value, material: &str) -> Option<Role> {
    let own = list(sheet, &["materials"]).iter().find(|m| canonical_name(m).as_deref() == Some(material));
    let own = own.and_then(|m| m.get("role")).cloned();
    own.and_then(|role| Role::whole(role, &mut Problems::default()))
        .or_else(|| material::find(material).map(|m| m.role))
}

fn canonical_name(item: &Value) -> Option<String> {
    item.get("name").and_then(Value::as_str).map(canonical)
}

/// Every material of a mix that holds lithium.
pub(super) fn hosts(sheet: &Value) -> Vec<(String, Role)> {
    let mixed = ["cathode", "anode"].into_iter().flat_map(|side| list(sheet, &[side, "mix"]));
    let named = mixed.filter_map(name);
    named
        .filter_map(|name| {
            let role = role(sheet, &name)?;
            matches!(role, Role::Cathode | Role::Anode).then_some((name, role))
        })
        .collect()
}

pub(super) fn parts(sheet: &Value) -> Vec<(String, Value)> {
    let parts = list(sheet, &["parts"]).iter();
    parts.filter_map(|part| Some((name(part)?, part.get("place").cloned().unwrap_or_default()))).collect()
}

/// The component that takes what the others leave (the one without a share, or else the largest), where it is what
/// holds the lithium. Its share says nothing that the others do not.
pub(super) fn active(sheet: &Value, side: &str) -> Option<String> {
    let mix = list(sheet, &[side, "mix"]);
    let share = |mixed: &Value| {
        let text = mixed.get("share").and_then(text)?;
        notation::read(text, crate::quantity::units::Unit::Percent.dimension())
            .ok()
            .map(|uncertain| uncertain.value)
    };
    let left_open = |share: &Value| share.is_null() || text(share).is_some_and(|text| text.trim() == REST);
    let open = mix.iter().find(|mixed| mixed.get("share").is_none_or(left_open));
    let largest = || {
        let shares = mix.iter().filter_map(|mixed| Some((mixed, share(mixed)?)));
        shares.max_by(|a, b| a.1.total_cmp(&b.1)).map(|(mixed, _)| mixed)
    };
    let rest = name(open.or_else(largest)?)?;
    let once = mix.iter().filter(|mixed| name(mixed).as_deref() == Some(&rest)).count() == 1;
    (once && matches!(role(sheet, &rest), Some(Role::Cathode | Role::Anode))).then_some(rest)
}

/// Leaves out what is no property of the cell, and what says nothing that other entries do not: the share of the
/// component that takes the rest, and a porosity beside loading and thickness.
pub(super) fn tidy(sheet: &mut Value, actives: [Option<&String>; 2]) {
    let Some(sheet) = sheet.as_object_mut() else { return };
    for key in ASIDE {
        sheet.remove(key);
    }
    for list in ["parts", "materials"] {
        for item in sheet.get_mut(list).and_then(Value::as_array_mut).into_iter().flatten() {
            if let Some(item) = item.as_object_mut() {
                item.remove("remark");
            }
        }
    }
    for (side, active) in ["cathode", "anode"].into_iter().zip(actives) {
        let Some(electrode) = sheet.get_mut(side).and_then(Value::as_object_mut) else { continue };
        if electrode.contains_key("loading") && electrode.contains_key("thickness") {
            electrode.remove("porosity");
        }
        let Some(active) = active else { continue };
        for mixed in electrode.get_mut("mix").and_then(Value::as_array_mut).into_iter().flatten() {
            if name(mixed).as_ref() == Some(active)
                && let Some(mixed) = mixed.as_object_mut()
            {
                mixed.remove("share");
            }
        }
    }
}

/// Figures that a sheet gives for a material that only it uses come with the material, wherever that is: they stand in
/// every sheet between the two.
pub(super) fn carry_own_materials(a: &mut Value, b: &mut Value) {
    let (of_a, of_b) = (list(a, &["materials"]).to_vec(), list(b, &["materials"]).to_vec());
    let carry = |to: &mut Value, own: &[Value], others: &[Value]| {
        for material in others {
            let Some(name) = canonical_name(material) else { continue };
            let there = own.iter().any(|m| canonical_name(m).as_deref() == Some(&name));
            if there || uses(to, &name) {
                continue;
            }
            if let Some(sheet) = to.as_object_mut() {
                let list = sheet.entry("materials").or_insert_with(|| Value::Array(Vec::new()));
                list.as_array_mut().into_iter().for_each(|list| list.push(material.clone()));
            }
        }
    };
    carry(a, &of_a, &of_b);
    carry(b, &of_b, &of_a);
}

fn uses(sheet: &Value, material: &str) -> bool {
    let named = |value: &Value| {
        value.get("material").and_then(Value::as_str).is_some_and(|m| canonical(m) == material)
    };
    let listed = [
        &["parts"][..],
        &["cathode", "mix"],
        &["anode", "mix"],
        &["current_path", "cathode", "tabs"],
        &["current_path", "anode", "tabs"],
    ];
    let ordinary = |(key, default): &(&str, &str)| {
        let found = key.split('.').try_fold(sheet, |at, key| at.get(key)).and_then(Value::as_str);
        canonical(found.unwrap_or(default)) == material
    };
    ["electrolyte", "polypropylene"].contains(&material)
        || listed.iter().any(|path| list(sheet, path).iter().any(named))
        || ORDINARY.iter().any(ordinary)
}
