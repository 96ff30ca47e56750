//! What differs between two sheets, as edits that lead from one to the other.

use super::edit::apply::{applied, item_key};
use super::tree::{Inner, List, Section};
use super::{Edit, Sheet};
use serde_json::Value;

/// Rounds after which whatever is left is written whole: an edit may carry along what the other sheet does not.
const ROUNDS: usize = 4;

/// The edits that make the second sheet of the first, entry by entry; items of lists are told apart by their names. None
/// where the two say the same in the same words, whatever the order of their keys.
///
/// ```
/// use roulade::sheet::{Edit, Sheet, diff, edit};
/// let of = |wall: &str| Sheet::parse(&format!(r#"{{"can": {{"wall": "{wall}"}}}}"#));
/// let (thin, thick) = (of("0.2 mm")?, of("0.3 mm")?);
/// let edits = diff(&thin, &thick);
/// assert_eq!(edits, [Edit::Set { key: "can.wall".to_owned(), to: "0.3 mm".into() }]);
/// assert_eq!(edit(&thin, &edits)?.sheet, thick);
/// # Ok::<(), roulade::quantity::problem::Problems>(())
/// ```
pub fn diff(first: &Sheet, second: &Sheet) -> Vec<Edit> {
    let mut edits = Vec::new();
    let mut now = first.clone();
    for round in 0..=ROUNDS {
        if now == *second {
            break;
        }
        let found = if round < ROUNDS { between(&now, second) } else { whole(second) };
        for edit in found {
            match applied(&now, &edit) {
                Ok(after) => now = after,
                // What one edit carried along may have done what the next one asks for.
                Err(_) => continue,
            }
            edits.push(edit);
        }
    }
    edits
}

fn whole(sheet: &Sheet) -> Vec<Edit> {
    vec![Edit::Set { key: String::new(), to: serde_json::to_value(sheet).unwrap_or_default() }]
}

/// The same, from what stands in the two alone.
fn between(first: &Sheet, second: &Sheet) -> Vec<Edit> {
    let (mut a, mut b) = (first.clone(), second.clone());
    if a.unknown != b.unknown {
        return whole(second);
    }
    let mut edits = Vec::new();
    // Edits before it may change it.
    let correlated = a.correlated != b.correlated;
    sections(&mut a, &mut b, "", &mut edits);
    edits.retain(|edit| !edit.key().starts_with("correlated"));
    if correlated {
        edits.push(match &second.correlated {
            Some(section) => Edit::Set {
                key: "correlated".to_owned(),
                to: serde_json::to_value(section).unwrap_or_default(),
            },
            None => Edit::Clear { key: "correlated".to_owned() },
        });
    }
    edits
}

impl Edit {
    /// The key it is about.
    pub fn key(&self) -> &str {
        match self {
            Self::Add { list, .. } => list,
            Self::Set { key, .. }
            | Self::Clear { key }
            | Self::Remove { key }
            | Self::Reorder { key, .. }
            | Self::Replace { key, .. }
            | Self::Rename { key, .. }
            | Self::Fix { key, .. }
            | Self::Scale { key, .. } => key,
        }
    }
}

fn sections(a: &mut dyn Section, b: &mut dyn Section, key: &str, edits: &mut Vec<Edit>) {
    for name in a.keys() {
        let key = if key.is_empty() { (*name).to_owned() } else { format!("{key}.{name}") };
        let (Some(x), Some(y)) = (a.slot(name), b.slot(name)) else { continue };
        let (was, is) = (x.value(), y.value());
        if was == is {
            continue;
        }
        let Some(is) = is else {
            edits.push(Edit::Clear { key });
            continue;
        };
        if was.is_none()
            && !matches!(y.inner(), Some(Inner::List(_)))
            && is != Value::Object(serde_json::Map::new())
        {
            x.make();
        }
        match (x.inner(), y.inner()) {
            (Some(Inner::Section(x)), Some(Inner::Section(y)))
                if x.unknown() == y.unknown() && is != Value::Object(serde_json::Map::new()) =>
            {
                sections(x, y, &key, edits);
            }
            (Some(Inner::List(x)), Some(Inner::List(y))) => match lists(x, y, &key) {
                Some(found) => edits.extend(found),
                None => edits.push(Edit::Set { key, to: is }),
            },
            _ => edits.push(Edit::Set { key, to: is }),
        }
    }
}

/// Item by item; `None` where items cannot be told apart.
fn lists(a: &mut dyn List, b: &mut dyn List, key: &str) -> Option<Vec<Edit>> {
    let mut edits = Vec::new();
    if a.name_key().is_none() {
        if a.len() != b.len() {
            return None;
        }
        for i in 0..a.len() {
            items(a, i, b, i, &format!("{key}[{i}]"), &mut edits);
        }
        return Some(edits);
    }
    let (was, is) = (names(a)?, names(b)?);
    let mut now = was.clone();
    for name in was.iter().filter(|name| !is.contains(name)) {
        edits.push(Edit::Remove { key: format!("{key}[{name}]") });
        now.retain(|other| other != name);
    }
    for (i, name) in is.iter().enumerate() {
        #[allow(clippy::single_match_else, reason = "moved or new: both weigh the same")]
        match now.iter().position(|other| other == name) {
            Some(at) => {
                let before = was.iter().position(|other| other == name)?;
                if at != i {
                    edits.push(Edit::Reorder { key: format!("{key}[{name}]"), at: i });
                    let moved = now.remove(at);
                    now.insert(i, moved);
                }
                let own = item_key(key, &*a, before);
                items(a, before, b, i, &own, &mut edits);
            }
            None => {
                edits.push(Edit::Add { list: key.to_owned(), item: b.value(i)?, at: Some(i), after: None });
                now.insert(i.min(now.len()), name.clone());
            }
        }
    }
    Some(edits)
}

fn items(a: &mut dyn List, i: usize, b: &mut dyn List, j: usize, key: &str, edits: &mut Vec<Edit>) {
    let (was, is) = (a.value(i), b.value(j));
    if was == is {
        return;
    }
    match (a.item(i), b.item(j)) {
        (Some(x), Some(y)) if x.unknown() == y.unknown() => sections(x, y, key, edits),
        _ => edits.extend(is.map(|with| Edit::Set { key: key.to_owned(), to: with })),
    }
}

/// Names of all items, where each has one of its own.
fn names(list: &dyn List) -> Option<Vec<String>> {
    let all: Vec<String> = (0..list.len()).map(|i| list.name(i)).collect::<Option<_>>()?;
    let unlike = all.iter().enumerate().all(|(i, name)| !all.iter().take(i).any(|other| other == name));
    unlike.then_some(all)
}
