//! Changes to a sheet: the one way in which a sheet becomes another.
//!
//! An edit names an entry by its key ([`find`](super::key)), carries what belongs to the entry along (correlation
//! coefficients, and the plate that a part was to an edge), and has an inverse: what [`diff`](super::diff()) finds between
//! the sheet it made and the sheet it was given.

use super::carried::{Moved, carry};
use super::key::{Found, called, find, item_of, no_item, position, text, value};
use super::shape::{Json, Shape, Trail, unknown_keys};
use super::tree::{Inner, List};
use super::{Entry, Noted, Sheet, defaults, diff, rename, write};
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, shortened};
use crate::section;
use roulade_stats::uncertain::{Spread, Uncertain};
use serde_json::{Map, Value, json};

/// One change to a sheet.
///
/// As JSON, `{"set": "can.wall", "to": "0.3 mm"}`: the verb with the key it is about, and what else it takes.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Writes what stands under a key: a quantity with its unit, an entry with its origin, a word, a whole section or list.
    /// The entries of a quantity have keys too: `can.wall.from`.
    Set {
        /// The key.
        key: String,
        /// What is to stand there.
        to: Value,
    },
    /// Leaves out what stands under a key; nothing happens where nothing does.
    Clear {
        /// The key.
        key: String,
    },
    /// Takes an item out of its list: `parts[lid]`.
    Remove {
        /// The item.
        key: String,
    },
    /// Puts an item into a list, last where nothing is said.
    Add {
        /// The list: `parts`.
        list: String,
        /// The item, as it would stand in the sheet.
        item: Value,
        /// Its place, counted from 0.
        at: Option<usize>,
        /// The item it follows.
        after: Option<String>,
    },
    /// Moves an item within its list.
    Reorder {
        /// The item.
        key: String,
        /// Its new place, counted from 0.
        at: usize,
    },
    /// Puts another item in the place of one.
    Replace {
        /// The item that goes.
        key: String,
        /// The one that comes.
        with: Value,
    },
    /// Calls a part or a material otherwise, here and wherever the sheet names it.
    Rename {
        /// The item.
        key: String,
        /// Its new name.
        to: String,
    },
    /// Makes a quantity exact: at its value as it stands, or at another.
    Fix {
        /// The key.
        key: String,
        /// The value, with its unit and without an uncertainty.
        at: Option<String>,
    },
    /// Multiplies a quantity and its uncertainty.
    Scale {
        /// The key.
        key: String,
        /// By what; greater than zero.
        by: f64,
    },
}

section! {
    /// A change as it is written: one of its verbs (set, clear, remove, add, reorder, replace, rename, fix, scale) with the
    /// key it is about.
    EditEntries {
        /// Writes `to` under this key.
        set: String,
        /// Leaves out what stands under this key.
        clear: String,
        /// Takes this item out of its list: `parts[lid]`.
        remove: String,
        /// Puts `item` into this list, `at` a place counted from 0 or `after` the item of that name.
        add: String,
        /// Moves this item to the place `at`.
        reorder: String,
        /// Puts `with` in the place of this item.
        replace: String,
        /// Calls this part or material `to`.
        rename: String,
        /// Makes this quantity exact, at `value` where that is given.
        fix: String,
        /// Multiplies this quantity and its uncertainty `by` a number.
        scale: String,
        /// What to write, or the new name.
        to: Value,
        /// The item to add.
        item: Value,
        /// The item that comes.
        with: Value,
        /// A place in the list, counted from 0.
        at: u32,
        /// Name of the item that it follows.
        after: String,
        /// The exact value.
        value: String,
        /// The factor.
        by: f64,
    }
}

impl serde::Serialize for Edit {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let value = match self {
            Self::Set { key, to } => json!({ "set": key, "to": to }),
            Self::Clear { key } => json!({ "clear": key }),
            Self::Remove { key } => json!({ "remove": key }),
            Self::Add { list, item, at, after } => {
                let mut value =
                    Map::from_iter([("add".to_owned(), json!(list)), ("item".to_owned(), json!(item))]);
                value.extend(at.map(|at| ("at".to_owned(), json!(at))));
                value.extend(after.as_ref().map(|after| ("after".to_owned(), json!(after))));
                Value::Object(value)
            }
            Self::Reorder { key, at } => json!({ "reorder": key, "at": at }),
            Self::Replace { key, with } => json!({ "replace": key, "with": with }),
            Self::Rename { key, to } => json!({ "rename": key, "to": to }),
            Self::Fix { key, at: None } => json!({ "fix": key }),
            Self::Fix { key, at: Some(at) } => json!({ "fix": key, "value": at }),
            Self::Scale { key, by } => json!({ "scale": key, "by": by }),
        };
        value.serialize(serializer)
    }
}

/// A change is read from its entries: one verb, and what it takes.
impl Shape for Edit {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        let before = problems.0.len();
        let entries = EditEntries::read(value, place, problems)?;
        unknown_keys(problems, &place.to_string(), &entries.unknown, EditEntries::KEYS);
        match entries.edit() {
            Ok(edit) => (problems.0.len() == before).then_some(edit),
            Err(problem) => {
                let place = place.to_string();
                problems.push(if place.is_empty() { problem } else { problem.within(&place) });
                None
            }
        }
    }
}

impl EditEntries {
    /// The change that these entries say.
    ///
    /// # Errors
    /// Where there is no verb or more than one, or where what the verb takes is missing.
    pub fn edit(self) -> Result<Edit, Problem> {
        const EXPECTED: &str =
            "{\"set\": KEY, \"to\": …}, or one of clear, remove, add, reorder, replace, rename, fix, scale";
        let missing =
            |what: &str| Problem::new(what, "nothing", format!("a change of this kind has \"{what}\""));
        let text = |to: Option<Value>| match to {
            Some(Value::String(text)) => Ok(text),
            _ => Err(Problem::new("to", "no text", "the new name, in quotes")),
        };
        let verbs = [
            ("set", self.set),
            ("clear", self.clear),
            ("remove", self.remove),
            ("add", self.add),
            ("reorder", self.reorder),
            ("replace", self.replace),
            ("rename", self.rename),
            ("fix", self.fix),
            ("scale", self.scale),
        ];
        let mut said = verbs.into_iter().filter_map(|(verb, key)| Some((verb, key?)));
        let Some((verb, key)) = said.next() else { return Err(Problem::new("", "no verb", EXPECTED)) };
        if let Some((second, _)) = said.next() {
            return Err(Problem::new(
                second,
                format!("a second verb beside \"{verb}\""),
                "one verb in each change",
            ));
        }
        let at = self.at.and_then(|at| usize::try_from(at).ok());
        Ok(match verb {
            "set" => Edit::Set { key, to: self.to.ok_or_else(|| missing("to"))? },
            "clear" => Edit::Clear { key },
            "remove" => Edit::Remove { key },
            "add" => Edit::Add {
                list: key,
                item: self.item.ok_or_else(|| missing("item"))?,
                at,
                after: self.after,
            },
            "reorder" => Edit::Reorder { key, at: at.ok_or_else(|| missing("at"))? },
            "replace" => Edit::Replace { key, with: self.with.ok_or_else(|| missing("with"))? },
            "rename" => Edit::Rename { key, to: text(self.to)? },
            "fix" => Edit::Fix { key, at: self.value },
            _ => Edit::Scale { key, by: self.by.ok_or_else(|| missing("by"))? },
        })
    }
}

/// A sheet after some edits, and the edits that lead back.
#[derive(Clone, Debug, PartialEq)]
pub struct Edited {
    /// The new sheet.
    pub sheet: Sheet,
    /// Edits that make the old sheet of the new one.
    pub inverse: Vec<Edit>,
}

/// Makes changes to a sheet, one after the other.
///
/// Nothing is said of whether the new sheet describes a cell: an entry may be left half-typed, and a reader of the sheet
/// says what is wrong with it.
///
/// # Errors
/// What is wrong with the edits, places beginning with `edits[0].`: a key that sheets do not have, an item that this sheet
/// does not have, a value of the wrong shape. Then nothing is changed.
///
/// # Examples
/// ```
/// use roulade::sheet::{Edit, Sheet, edit};
///
/// let sheet = Sheet::parse(r#"{"can": {"diameter": "21.0 ± 0.1 mm", "height": "70 mm"}}"#)?;
/// let wider = edit(&sheet, &[Edit::Fix { key: "can.diameter".to_owned(), at: Some("22 mm".to_owned()) }])?;
/// assert_eq!(wider.sheet.can.as_ref().unwrap().diameter.as_ref().unwrap().text(), "22 mm");
/// assert_eq!(edit(&wider.sheet, &wider.inverse)?.sheet, sheet);
/// # Ok::<(), roulade::quantity::problem::Problems>(())
/// ```
pub fn edit(sheet: &Sheet, edits: &[Edit]) -> Result<Edited, Problems> {
    let made = all_applied(sheet, edits)?;
    let inverse = diff(&made, sheet);
    Ok(Edited { sheet: made, inverse })
}

/// The sheet after some edits, where nobody wants the way back.
///
/// # Errors
/// As [`edit`].
pub(crate) fn all_applied(sheet: &Sheet, edits: &[Edit]) -> Result<Sheet, Problems> {
    let mut now = sheet.clone();
    for (i, edit) in edits.iter().enumerate() {
        now = applied(&now, edit).map_err(|problems| problems.within(&format!("edits[{i}]")))?;
    }
    Ok(now)
}

/// The sheet after one edit.
///
/// # Errors
/// As [`edit`], places without the number of the edit.
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
            let known = match at {
                Some(text) => {
                    let known =
                        notation::read(text, unit.dimension()).map_err(|complaint| complaint.at("value"))?;
                    if known.u() > 0.0 {
                        let found = format!("\"{}\", with an uncertainty", shortened(text));
                        return Err(Problem::new("value", found, "an exact value, such as \"46 mm\"").into());
                    }
                    return put_text(sheet, key, text.trim().to_owned(), true);
                }
                None => known(sheet, key)?,
            };
            put_text(sheet, key, write::number(&Uncertain::exact(known.value), unit), true)
        }
        Edit::Scale { key, by } => {
            if !(by.is_finite() && *by > 0.0) {
                return Err(Problem::new("by", format!("{by}"), "a factor greater than zero").into());
            }
            let unit = unit_of(key)?;
            let scaled = times(known(sheet, key)?, *by);
            // A reading that was multiplied is none any more.
            put_text(sheet, key, write::number(&scaled, unit), false)
        }
    }
}

/// A number with all of it multiplied.
pub(crate) fn times(known: Uncertain, factor: f64) -> Uncertain {
    let spread = match known.spread {
        Spread::Exact => Spread::Exact,
        Spread::Standard(u) => Spread::Standard(u * factor),
        Spread::Range { low, high } => Spread::Range { low: low * factor, high: high * factor },
    };
    Uncertain { value: known.value * factor, spread }
}

fn set(sheet: &mut Sheet, key: &str, to: &Value) -> Result<Moved, Problems> {
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
                    "an entry with its \"value\"",
                ));
            }
        }
        Found::Unknown(_, unknown) => {
            let expected = "a key that sheets have; this one can be cleared";
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

fn clear(sheet: &mut Sheet, key: &str) -> Result<(), Problems> {
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
/// the name is left.
fn tidy(sheet: &mut Sheet, key: &str) {
    let Some(found) = value(sheet, key) else { return };
    let empty = match &found {
        Value::Object(map) if key.starts_with("materials[") && key.ends_with(']') => map.keys().eq(["name"]),
        Value::Object(map) => map.is_empty(),
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

fn add(
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
        return Err(Problem::new("item", found, "an item with a name of its own").into());
    }
    Ok(Moved::inserted(key, at))
}

fn no_list(key: &str) -> Problem {
    Problem::new(
        shortened(key),
        "no list",
        "parts, materials, cathode.mix, anode.mix, current_path.cathode.tabs or current_path.anode.tabs",
    )
}

fn renamed(sheet: &mut Sheet, key: &str, to: &str) -> Result<Moved, Problems> {
    let (list, at) = item(sheet, key)?;
    let Some(name_key) = list.name_key() else {
        return Err(Problem::new(
            shortened(key),
            "an item without a name",
            "a part, a material or a component",
        )
        .into());
    };
    let wanted = list.spelled(to);
    if wanted.is_empty() {
        return Err(Problem::new("to", "nothing", "the new name").into());
    }
    if (0..list.len()).any(|i| i != at && list.name(i).as_ref() == Some(&wanted)) {
        let found = format!("\"{}\", a name that stands there already", shortened(to));
        return Err(Problem::new("to", found, "a name of its own").into());
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
fn item<'a>(sheet: &'a mut Sheet, key: &'a str) -> Result<(&'a mut dyn List, usize), Problem> {
    match find(sheet, key, !key.starts_with("materials["))? {
        Found::Item(list, at) => Ok((list, at)),
        _ => Err(Problem::new(
            shortened(key),
            "no item of a list",
            "an item, such as parts[lid] or cathode.mix[PVDF]",
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
fn known(sheet: &mut Sheet, key: &str) -> Result<Uncertain, Problem> {
    let unit = unit_of(key)?;
    let default =
        || defaults::field(key).and_then(|field| field.default).map(|default| default.text.to_owned());
    let Some(text) = text(sheet, key).or_else(default) else {
        return Err(Problem::new(
            shortened(key),
            "nothing in the sheet",
            "a quantity that the sheet has: set it first",
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
pub(super) fn item_key(list: &str, items: &dyn List, at: usize) -> String {
    format!("{list}[{}]", called(items, at))
}

#[cfg(test)]
mod tests;
