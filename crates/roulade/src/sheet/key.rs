//! Where an entry stands in a sheet: `can.wall`, `parts[lid].mass`, `cathode.mix[NMC811].share`,
//! `current_path.anode.tabs[0].width`, `can.diameter.remark`.
//!
//! Items are called by their names, which stay as others come and go; those without names by their number from 0.

use super::tree::{Inner, List, Section, Slot};
use super::{Entry, Sheet, Unknown, former};
use crate::quantity::problem::{Problem, nearest, perhaps, quoted, shortened};
use serde_json::Value;

/// What a key leads to.
pub(super) enum Found<'a> {
    /// A place under a key that the sheet knows.
    Slot(&'a mut dyn Slot),
    /// An item of a list.
    Item(&'a mut dyn List, usize),
    /// The text, the origin or the remark of an entry.
    Within(&'a mut Entry, &'a str),
    /// A key that the sheet has and this version does not know.
    Unknown(&'a mut Unknown, &'a str),
    /// A place in a section or list that the sheet leaves out.
    Missing,
}

/// The list and the name of the item in the first brackets of a key, and what follows them.
///
/// A name may hold brackets itself: no key has more than one list on its way.
pub(super) fn item_of(key: &str) -> Option<(&str, &str, &str)> {
    let (list, rest) = key.split_once('[')?;
    let (item, rest) = rest.rsplit_once(']')?;
    Some((list, item, rest))
}

/// The number of an item by its name, or by its number.
pub(super) fn position(list: &dyn List, item: &str) -> Option<usize> {
    let wanted = list.spelled(item);
    let named = (0..list.len()).find(|i| list.name(*i).is_some_and(|name| name == wanted));
    named.or_else(|| item.trim().parse::<usize>().ok().filter(|i| *i < list.len()))
}

/// The name by which an item is called; its number where it has none, or another has the same.
pub(super) fn called(list: &dyn List, at: usize) -> String {
    let once = |name: &String| {
        (0..list.len()).filter(|i| list.name(*i).as_ref() == Some(name)).count() == 1
            && position(list, name) == Some(at)
    };
    list.name(at).filter(once).unwrap_or_else(|| at.to_string())
}

/// Finds what a key leads to; with `make`, sections and lists on the way are put there, with what stands in for them.
pub(super) fn find<'a>(sheet: &'a mut Sheet, key: &'a str, make: bool) -> Result<Found<'a>, Problem> {
    within(sheet, key, key, make)
}

fn within<'a>(
    section: &'a mut dyn Section,
    key: &'a str,
    whole: &'a str,
    make: bool,
) -> Result<Found<'a>, Problem> {
    let end = key.find(['.', '[']).unwrap_or(key.len());
    let (name, rest) = key.split_at(end);
    let keys = section.keys();
    let name = former::name_today(name).filter(|today| keys.contains(today)).unwrap_or(name);
    if !keys.contains(&name) {
        return if section.unknown().get(key).is_some_and(|value| !value.is_null()) {
            Ok(Found::Unknown(section.unknown_mut(), key))
        } else {
            Err(unknown(whole, name, keys))
        };
    }
    let Some(slot) = section.slot(name) else { return Err(unknown(whole, name, keys)) };
    if rest.is_empty() {
        return Ok(Found::Slot(slot));
    }
    if make {
        slot.make();
    }
    let expected = "a key such as can.wall, parts[lid].mass or cathode.mix[NMC811].share";
    let wrong = |found: String| Err(Problem::new(shortened(whole), found, expected));
    match slot.inner() {
        None => Ok(Found::Missing),
        Some(Inner::Leaf) => wrong(format!("\"{}\" within an entry that has no keys", shortened(rest))),
        Some(Inner::Entry(entry)) => {
            if let Some(part @ ("value" | "from" | "remark")) = rest.strip_prefix('.') {
                return Ok(Found::Within(entry, part));
            }
            let found = format!("\"{}\" within an entry", shortened(rest));
            Err(Problem::new(shortened(whole), found, "one of the keys known there: value, from, remark"))
        }
        Some(Inner::Section(inner)) => match rest.strip_prefix('.') {
            Some(key) => within(inner, key, whole, make),
            None => wrong("an item of what is no list".to_owned()),
        },
        Some(Inner::List(list)) => {
            let Some((item, rest)) = rest.strip_prefix('[').and_then(|rest| rest.rsplit_once(']')) else {
                return wrong("a list without the name of an item".to_owned());
            };
            let at = match position(list, item) {
                Some(at) => at,
                // Figures for a material of the table make it one of the sheet's own.
                None if make && name == "materials" && !item.trim().is_empty() => {
                    let new = serde_json::json!({ "name": item.trim() });
                    let end = list.len();
                    list.insert(
                        end,
                        new,
                        super::Trail::Start,
                        &mut crate::quantity::problem::Problems::default(),
                    );
                    end
                }
                None => return Err(no_item(list, whole, item)),
            };
            if rest.is_empty() {
                return Ok(Found::Item(list, at));
            }
            let Some(rest) = rest.strip_prefix('.') else {
                return wrong(format!("\"{}\" after an item", shortened(rest)));
            };
            match list.item(at) {
                Some(inner) => within(inner, rest, whole, make),
                None => Ok(Found::Missing),
            }
        }
    }
}

fn unknown(whole: &str, name: &str, keys: &[&str]) -> Problem {
    let expected = match nearest(name, keys.iter().copied()) {
        Some(near) => format!("one of the keys known here; {}", perhaps(near)),
        None => format!("one of the keys known here: {}", keys.join(", ")),
    };
    Problem::new(shortened(whole), "a key that is not known here", expected)
}

/// The complaint about an item that a list does not have.
pub(super) fn no_item(list: &dyn List, whole: &str, item: &str) -> Problem {
    let names: Vec<String> = (0..list.len()).map(|i| called(list, i)).collect();
    let expected = match nearest(item, names.iter().map(String::as_str)) {
        _ if names.is_empty() => "the name of an item, but the list is empty".to_owned(),
        Some(near) => format!("the name of an item of the list; {}", perhaps(near)),
        None => format!("the name of an item of the list, one of: {}", quoted(&names)),
    };
    let found = format!("\"{}\", which the sheet does not have", shortened(item));
    Problem::new(shortened(whole), found, expected)
}

/// What stands under a key, as JSON.
pub(super) fn value(sheet: &mut Sheet, key: &str) -> Option<Value> {
    match find(sheet, key, false).ok()? {
        Found::Slot(slot) => slot.value(),
        Found::Item(list, at) => list.value(at),
        Found::Within(entry, part) => serde_json::to_value(entry.clone().noted()).ok()?.get(part).cloned(),
        Found::Unknown(unknown, key) => unknown.get(key).cloned(),
        Found::Missing => None,
    }
}

/// The text of the entry under a key.
pub(super) fn text(sheet: &mut Sheet, key: &str) -> Option<String> {
    match find(sheet, key, false).ok()? {
        Found::Slot(slot) => match slot.inner()? {
            Inner::Entry(entry) => Some(entry.text().to_owned()),
            _ => None,
        },
        _ => None,
    }
}
