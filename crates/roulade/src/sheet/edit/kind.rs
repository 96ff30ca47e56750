//! What an edit may be, and how it is written as JSON.

use crate::quantity::problem::{Problem, Problems};
use crate::section;
use crate::sheet::shape::{Json, Shape, Trail, unknown_keys};
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
            |what: &str| Problem::new(what, "nothing", format!("a change of this kind to have \"{what}\""));
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
                "each change to have one verb",
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
