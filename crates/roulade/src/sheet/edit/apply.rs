//! One edit made, with what belongs to the entry carried along.

use super::kind::Edit;
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, shortened};
use crate::sheet::carried::{Moved, carry};
use crate::sheet::key::{Found, called, find, item_of, no_item, position, text, value};
use crate::sheet::shape::{Json, Shape, Trail};
use crate::sheet::tree::{Inner, List};
use crate::sheet::{Entry, Noted, Sheet, defaults, rename, write};
use roulade_stats::uncertain::{Spread, Uncertain};
use serde_json::{Map, Value, json};

/// The sheet after some edits, where nobody wants the way back.
///
/// # Errors
/// As [`edit`](super::edit).
pub fn all_applied(sheet: &Sheet, edits: &[Edit]) -> Result<Sheet, Problems> {
    let mut now = sheet.clone();
    for (i, edit) in edits.iter().enumerate() {
        now = applied(&now, edit).map_err(|problems| problems.within(&format!("edits[{i}]")))?;
    }
    Ok(now)
}

/// The sheet after one edit.
///
/// # Errors
/// As [`edit`](super::edit), places without the number of the edit.
pub(crate) fn applied(before: &Sheet, edit: &Edit) -> Result<Sheet, Problems> {
    let mut after = before.clone();
    let moved = apply(&mut after, edit)?;
    carry(&mut before.clone(), &mut after, &moved);
    Ok(after)
}

fn apply(sheet: &mut Sheet, edit: &Edit) -> Result<Moved, Problems> {
    match edit {
        Edit::Set { key, to } => set(sheet, key, to),
        Edit::Clear { key } => {
            clear(sheet, key)?;
            Ok(Moved::by_name())
        }
        Edit::Remove { key } => {
            let name = name_at(sheet, key)?;
            let (list, at) = item(sheet, key)?;
            list.remove(at);
            let (key, ..) = item_of(key).unwrap_or_default();
            tidy(sheet, key);
            leaves(sheet, key, name.as_deref(), None);
            Ok(Moved::removed(key, at))
        }
        Edit::Add { list: key, item, at, after } => add(sheet, key, item, *at, after.as_deref()),
        Edit::Reorder { key, at: to } => {
            let (list, at) = item(sheet, key)?;
            let to = (*to).min(list.len().saturating_sub(1));
            list.reorder(at, to);
            let (key, ..) = item_of(key).unwrap_or_default();
            Ok(Moved::reordered(key, at, to))
        }
        Edit::Replace { key, with } => {
            let name = name_at(sheet, key)?;
            let (list, at) = item(sheet, key)?;
            let mut problems = Problems::default();
            list.insert(at + 1, with.clone(), Trail::Key(&Trail::Start, "with"), &mut problems);
            problems.or_else_ok(())?;
            list.remove(at);
            let came = list.name(at);
            let (key, ..) = item_of(key).unwrap_or_default();
            leaves(sheet, key, name.as_deref(), came.as_deref());
            Ok(Moved::replaced(key, at))
        }
        Edit::Rename { key, to } => renamed(sheet, key, to),
        Edit::Fix { key, at } => {
            let unit = unit_of(key)?;
            let uncertain = match at {
                Some(text) => {
                    let uncertain =
                        notation::read(text, unit.dimension()).map_err(|complaint| complaint.at("value"))?;
                    if uncertain.u() > 0.0 {
                        let found = format!("\"{}\", with an uncertainty", shortened(text));
                        return Err(Problem::new("value", found, "an exact value, such as \"46 mm\"").into());
                    }
                    return put_text(sheet, key, text.trim().to_owned(), true);
                }
                None => uncertain(sheet, key)?,
            };
            put_text(sheet, key, write::number(&Uncertain::exact(uncertain.value), unit), true)
        }
        Edit::Scale { key, by } => {
            if !(by.is_finite() && *by > 0.0) {
                return Err(Problem::new("by", format!("{by}"), "a factor that is greater than zero").into());
            }
            let unit = unit_of(key)?;
            let scaled = times(uncertain(sheet, key)?, *by);
            // A reading that was multiplied is none any more.
            put_text(sheet, key, write::number(&scaled, unit), false)
        }
    }
}

/// A number with all of it multiplied.
pub(crate) fn times(uncertain: Uncertain, factor: f64) -> Uncertain {
    let spread = match uncertain.spread {
        Spread::Exact => Spread::Exact,
        Spread::Standard(u) => Spread::Standard(u * factor),
        Spread::Range { low, high } => Spread::Range { low: low * factor, high: high * factor },
    };
    Uncertain { value: uncertain.value * factor, spread }
}

pub(in crate::sheet) fn set(sheet: &mut Sheet, key: &str, to: &Value) -> Result<Moved, Problems> {
    let mut problems = Problems::default();
    if key.trim().is_empty() {
        let read = Sheet::read(Json::from(to.clone()), Trail::Start, &mut problems);
        *sheet = problems.or_else_ok(read.unwrap_or_default())?;
        return Ok(Moved::by_name());
    }
    // The key that names an item is its name: the item stays what it is.
    let moved = match item_of(key) {
        Some((list, name, rest)) => match item(sheet, &format!("{list}[{name}]")) {
            Ok((found, at)) if found.name_key().is_some_and(|key| rest.strip_prefix('.') == Some(key)) => {
                Moved::kept(list, at)
            }
            _ => Moved::by_name(),
        },
        None => Moved::by_name(),
    };
    let place = Trail::Key(&Trail::Start, key);
    match find(sheet, key, true)? {
        Found::Slot(slot) => slot.put(to.clone(), place, &mut problems),
        Found::Item(list, at) => {
            list.insert(at + 1, to.clone(), place, &mut problems);
            if problems.0.is_empty() {
                list.remove(at);
            }
        }
        Found::Within(entry, part) => {
            let mut all = match serde_json::to_value(entry.clone().noted()) {
                Ok(Value::Object(noted)) => noted,
                _ => Map::from_iter([("value".to_owned(), json!(entry.text()))]),
            };
            all.insert(part.to_owned(), to.clone());
            let all = Value::Object(all);
            let whole = key.strip_suffix(part).and_then(|key| key.strip_suffix('.')).unwrap_or(key);
            if let Some(read) = Entry::read(Json::from(all), Trail::Key(&Trail::Start, whole), &mut problems)
            {
                *entry = Entry::of(read.noted());
            }
            if entry.text().trim().is_empty() && part != "value" {
                problems.push(Problem::new(
                    key,
                    "nothing that this could be said of",
                    "an entry that has its \"value\"",
                ));
            }
        }
        Found::Unknown(_, unknown) => {
            let expected = "a key that sheets have; this one can only be cleared";
            problems.push(Problem::new(
                key,
                format!("\"{}\", a key that is not known here", shortened(unknown)),
                expected,
            ));
        }
        // Cannot be: room was made on the way.
        Found::Missing => problems.push(Problem::new(key, "no such place", "a key of the sheet")),
    }
    problems.or_else_ok(moved)
}

pub(in crate::sheet) fn clear(sheet: &mut Sheet, key: &str) -> Result<(), Problems> {
    match find(sheet, key, false)? {
        Found::Slot(slot) => slot.clear(),
        Found::Item(list, at) => list.remove(at),
        Found::Within(entry, "value") => *entry = Entry::Text(String::new()),
        Found::Within(entry, part) => {
            let noted = entry.clone().noted();
            *entry = Entry::of(match part {
                "from" => Noted { from: None, ..noted },
                _ => Noted { remark: None, ..noted },
            });
        }
        Found::Unknown(unknown, key) => drop(unknown.remove(key)),
        // Whether there could be such a key is seen in a sheet that has everything on the way.
        Found::Missing => {
            find(&mut Sheet::default(), key, true)?;
        }
    }
    // Sections with nothing left in them go too.
    let mut rest = key;
    while let Some(end) = rest.rfind(['.', '[']) {
        rest = rest.get(..end).unwrap_or_default();
        tidy(sheet, rest);
    }
    Ok(())
}

/// Takes out a section with nothing left in it, a list of tabs or materials without items, and a material of which only
/// the name is left. Can and electrodes stay: every design sheet has them.
fn tidy(sheet: &mut Sheet, key: &str) {
    let Some(found) = value(sheet, key) else { return };
    let empty = match &found {
        Value::Object(map) if key.starts_with("materials[") && key.ends_with(']') => map.keys().eq(["name"]),
        Value::Object(map) => map.is_empty() && !["can", "cathode", "anode"].contains(&key),
        Value::Array(list) => {
            list.is_empty() && (key == "materials" || key.rsplit('.').next() == Some("tabs"))
        }
        _ => false,
    };
    if empty {
        match find(sheet, key, false) {
            Ok(Found::Slot(slot)) => slot.clear(),
            Ok(Found::Item(list, at)) if key.starts_with("materials[") => list.remove(at),
            _ => {}
        }
    }
}

pub(in crate::sheet) fn add(
    sheet: &mut Sheet,
    key: &str,
    new: &Value,
    at: Option<usize>,
    after: Option<&str>,
) -> Result<Moved, Problems> {
    let Found::Slot(slot) = find(sheet, key, true)? else { return Err(no_list(key).into()) };
    slot.make();
    let Some(Inner::List(list)) = slot.inner() else { return Err(no_list(key).into()) };
    let at = match (after, at) {
        (Some(name), _) => position(list, name).ok_or_else(|| no_item(list, "after", name))? + 1,
        (None, Some(at)) => at.min(list.len()),
        (None, None) => list.len(),
    };
    let mut problems = Problems::default();
    list.insert(at, new.clone(), Trail::Key(&Trail::Start, "item"), &mut problems);
    problems.or_else_ok(())?;
    if let Some(name) = list.name(at)
        && (0..list.len()).any(|i| i != at && list.name(i).as_ref() == Some(&name))
    {
        let found = format!("\"{}\", a name that stands there already", shortened(&name));
        return Err(Problem::new("item", found, "each item to have a name of its own").into());
    }
    Ok(Moved::inserted(key, at))
}

fn no_list(key: &str) -> Problem {
    Problem::new(
        shortened(key),
        "no list",
        "a list: parts, materials, cathode.mix, anode.mix, current_path.cathode.tabs or current_path.anode.tabs",
    )
}

fn renamed(sheet: &mut Sheet, key: &str, to: &str) -> Result<Moved, Problems> {
    let (list, at) = item(sheet, key)?;
    let Some(name_key) = list.name_key() else {
        return Err(Problem::new(
            shortened(key),
            "an item without a name",
            "a part, a material or a component, which has a name",
        )
        .into());
    };
    let wanted = list.spelled(to);
    if wanted.is_empty() {
        return Err(Problem::new("to", "nothing", "the new name").into());
    }
    if (0..list.len()).any(|i| i != at && list.name(i).as_ref() == Some(&wanted)) {
        let found = format!("\"{}\", a name that stands there already", shortened(to));
        return Err(Problem::new("to", found, "a name that no other item has").into());
    }
    let was = list.name(at);
    let mut problems = Problems::default();
    if let Some(slot) = list.item(at).and_then(|item| item.slot(name_key)) {
        slot.put(json!(to.trim()), Trail::Key(&Trail::Start, "to"), &mut problems);
    }
    problems.or_else_ok(())?;
    let (key, ..) = item_of(key).unwrap_or_default();
    if let Some(was) = was {
        match key {
            "parts" => rename::plates(sheet, &was, Some(to.trim())),
            "materials" => rename::materials(sheet, &was, to.trim()),
            _ => {}
        }
    }
    Ok(Moved::kept(key, at))
}

/// A part that left gathers no edge any more; the edge is then welded directly, or to what came.
fn leaves(sheet: &mut Sheet, list: &str, name: Option<&str>, came: Option<&str>) {
    if let ("parts", Some(name), true) = (list, name, name != came) {
        rename::plates(sheet, name, None);
    }
}

/// The item that a key names, in its list.
pub(in crate::sheet) fn item<'a>(
    sheet: &'a mut Sheet,
    key: &'a str,
) -> Result<(&'a mut dyn List, usize), Problem> {
    match find(sheet, key, !key.starts_with("materials["))? {
        Found::Item(list, at) => Ok((list, at)),
        _ => Err(Problem::new(
            shortened(key),
            "no item of a list",
            "an item of a list, such as parts[lid] or cathode.mix[PVDF]",
        )),
    }
}

fn name_at(sheet: &mut Sheet, key: &str) -> Result<Option<String>, Problem> {
    item(sheet, key).map(|(list, at)| list.name(at))
}

fn unit_of(key: &str) -> Result<crate::quantity::units::Unit, Problem> {
    let field = defaults::field(key);
    field.map(|field| field.unit).ok_or_else(|| {
        Problem::new(
            shortened(key),
            "no quantity",
            "the key of a quantity, such as can.wall or parts[lid].mass",
        )
    })
}

/// A quantity as it stands, or what stands in for it.
fn uncertain(sheet: &mut Sheet, key: &str) -> Result<Uncertain, Problem> {
    let unit = unit_of(key)?;
    let default =
        || defaults::field(key).and_then(|field| field.default).map(|default| default.text.to_owned());
    let Some(text) = text(sheet, key).or_else(default) else {
        return Err(Problem::new(
            shortened(key),
            "nothing in the sheet",
            "a quantity that the sheet has; set it first",
        ));
    };
    notation::read(&text, unit.dimension()).map_err(|complaint| complaint.at(shortened(key)))
}

/// Writes the text of a quantity; its remark stays, and its origin where it is still what was read.
fn put_text(sheet: &mut Sheet, key: &str, text: String, keeps_origin: bool) -> Result<Moved, Problems> {
    let mut problems = Problems::default();
    if let Found::Slot(slot) = find(sheet, key, true)? {
        slot.make();
        if let Some(Inner::Entry(entry)) = slot.inner() {
            let noted = entry.clone().noted();
            let from = noted.from.filter(|_| keeps_origin);
            *entry = Entry::of(Noted { value: text, from, remark: noted.remark });
            return Ok(Moved::by_name());
        }
    }
    problems.push(Problem::new(shortened(key), "no quantity", "the key of a quantity"));
    problems.or_else_ok(Moved::by_name())
}

/// How the item at a place is called in keys.
pub(in crate::sheet) fn item_key(list: &str, items: &dyn List, at: usize) -> String {
    format!("{list}[{}]", called(items, at))
}
