//! What differs between two sheets, key by key, and the sheets that lie between them.
//!
//! Both sheets are laid over one another, items of lists by their names. What stands alike in both is common to every
//! sheet between them; what does not is an [`DifferingEntry`], and a sheet between the two takes some edits from the second and
//! the others from the first.

mod value;

use crate::material::Role;
use crate::quantity::notation;
use crate::quantity::problem::Problems;
use crate::sheet::defaults::field;
use crate::sheet::{Shape, Sheet};
use roulade_stats::uncertain::Uncertain;
use serde_json::{Map, Value};
use value::{ORDINARY, active, canonical, carry_own_materials, hosts, name, parts, shown, text, tidy};

/// Keys of which some stand in the place of others: whether one is there decides how the others are read.
pub(crate) const INSTEAD: [&[&str]; 8] = [
    &["cathode.width", "void_height"],
    &[
        "winding.radial_clearance",
        "winding.cathode_length",
        "winding.anode_length",
        "winding.anode_overhang_end",
    ],
    &["cathode.loading", "cathode.thickness", "cathode.porosity"],
    &["anode.loading", "anode.thickness", "anode.porosity", "anode.n_to_p"],
    &["electrolyte.excess", "electrolyte.mass"],
    &["current_path.areal_resistance", "current_path.electrochemical"],
    &["current_path.cathode.ring", "current_path.cathode.ring_radius"],
    &["current_path.anode.ring", "current_path.anode.ring_radius"],
];

/// A step on the way to an entry.
#[derive(Clone, Debug, PartialEq)]
enum Step {
    Key(String),
    Item(String),
}

/// An entry of either sheet, with names in the place of list indices.
#[derive(Clone, Debug)]
struct Leaf {
    path: Vec<Step>,
    first: Option<Value>,
    second: Option<Value>,
    /// Its number among the edits, where the two are not alike.
    edit: Option<usize>,
}

/// One entry that the two sheets do not have alike.
#[derive(Clone, Debug, PartialEq)]
pub struct DifferingEntry {
    /// Its key, names in the place of list indices: `cathode.mix[NMC811]`, `parts[lid].height`.
    pub key: String,
    /// As it stands in the first sheet; empty where that has none.
    pub first: String,
    /// As it stands in the second sheet.
    pub second: String,
}

impl DifferingEntry {
    /// Whether only one of the sheets has this entry.
    pub(crate) fn comes_or_goes(&self) -> bool {
        self.first.is_empty() != self.second.is_empty()
    }
}

/// Two sheets laid over one another.
#[derive(Clone, Debug)]
pub struct Overlay {
    leaves: Vec<Leaf>,
    edits: Vec<DifferingEntry>,
    /// Main active materials of the first and the second sheet, cathode and anode; `None` where the mix is one entry.
    pub(crate) actives: [Option<[String; 2]>; 2],
    parts: [Vec<(String, Value)>; 2],
    hosts: Vec<(String, Role)>,
}

impl Overlay {
    /// Lays two sheets over one another. Both are taken to be read without complaint already.
    pub fn of(first: &Sheet, second: &Sheet) -> Self {
        let plain = |sheet: &Sheet| serde_json::to_value(sheet).unwrap_or_default();
        let (mut a, mut b) = (plain(first), plain(second));
        let actives = ["cathode", "anode"].map(|side| {
            let (x, y) = (active(&a, side), active(&b, side));
            x.zip(y).map(|(x, y)| [x, y])
        });
        let hosts = hosts(&a).into_iter().chain(hosts(&b)).collect();
        let own = |at: usize| actives.each_ref().map(|pair| pair.as_ref().and_then(|pair| pair.get(at)));
        tidy(&mut a, own(0));
        tidy(&mut b, own(1));
        carry_own_materials(&mut a, &mut b);
        let mut walk = Walk { actives: &actives, leaves: Vec::new() };
        walk.object(Some(&a), Some(&b), &[]);
        let mut leaves = walk.leaves;
        let mut edits = Vec::new();
        for leaf in &mut leaves {
            let key = key(&leaf.path);
            if !alike(&key, leaf.first.as_ref(), leaf.second.as_ref()) {
                leaf.edit = Some(edits.len());
                let shown = |value: &Option<Value>| value.as_ref().map_or_else(String::new, shown);
                edits.push(DifferingEntry { key, first: shown(&leaf.first), second: shown(&leaf.second) });
            }
        }
        Self { leaves, edits, actives, parts: [parts(&a), parts(&b)], hosts }
    }

    /// All that differs.
    pub fn edits(&self) -> &[DifferingEntry] {
        &self.edits
    }

    /// The sheet that takes from the second what `taken` says, by the number of the edit, and all else from the first.
    ///
    /// # Errors
    /// Where the shape of an entry is wrong; not for sheets that were read from text.
    pub fn sheet(&self, taken: impl Fn(usize) -> bool) -> Result<Sheet, Problems> {
        let mut root = Value::Object(Map::new());
        let mut item = None;
        for leaf in &self.leaves {
            let from_second = leaf.edit.is_some_and(&taken);
            if let Some(value) = if from_second { &leaf.second } else { &leaf.first } {
                put(&mut root, &leaf.path, value.clone(), &mut item);
            }
        }
        let mut problems = Problems::default();
        match Sheet::whole(root, &mut problems) {
            Some(sheet) => problems.or_else_ok(sheet),
            None => Err(problems),
        }
    }

    /// Whether a key, or a beginning of keys, is met in either sheet.
    pub(crate) fn has(&self, beginning: &str) -> bool {
        self.leaves.iter().any(|leaf| covers(beginning, &key(&leaf.path)))
    }

    /// Names of the parts of the first and of the second sheet with what is said of them, in axial order.
    pub(crate) fn parts(&self) -> &[Vec<(String, Value)>; 2] {
        &self.parts
    }

    /// What a material is in a mix of either sheet, where it holds lithium.
    pub(crate) fn host(&self, name: &str) -> Option<Role> {
        self.hosts.iter().find(|(host, _)| host == name).map(|(_, role)| *role)
    }
}

/// Whether a key is `beginning` or lies within it: `cathode.mix` covers `cathode.mix[PVDF].share`.
pub(crate) fn covers(beginning: &str, key: &str) -> bool {
    key.strip_prefix(beginning).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
}

/// The name in the brackets of a key: `parts[lid].height` has "lid".
pub(crate) fn item(key: &str) -> Option<&str> {
    let (_, rest) = key.split_once('[')?;
    rest.rsplit_once(']').map(|(name, _)| name)
}

fn key(path: &[Step]) -> String {
    let mut key = String::new();
    for step in path {
        match step {
            Step::Key(name) if key.is_empty() => key.push_str(name),
            Step::Key(name) => {
                key.push('.');
                key.push_str(name);
            }
            Step::Item(name) => {
                key.push('[');
                key.push_str(name);
                key.push(']');
            }
        }
    }
    key
}

/// Goes through two sheets at once.
struct Walk<'a> {
    actives: &'a [Option<[String; 2]>; 2],
    leaves: Vec<Leaf>,
}

impl Walk<'_> {
    fn leaf(&mut self, first: Option<&Value>, second: Option<&Value>, path: Vec<Step>) {
        self.leaves.push(Leaf { path, first: first.cloned(), second: second.cloned(), edit: None });
    }

    fn object(&mut self, first: Option<&Value>, second: Option<&Value>, path: &[Step]) {
        let keys = |value: Option<&Value>| -> Vec<String> {
            value.and_then(Value::as_object).into_iter().flat_map(Map::keys).cloned().collect()
        };
        let mut all = keys(first);
        all.extend(keys(second).into_iter().filter(|key| !all.contains(key)).collect::<Vec<_>>());
        for name in all {
            let of = |value: Option<&Value>| value.and_then(|value| value.get(&name)).cloned();
            let mut path = path.to_vec();
            path.push(Step::Key(name.clone()));
            self.any(of(first).as_ref(), of(second).as_ref(), path);
        }
    }

    fn any(&mut self, first: Option<&Value>, second: Option<&Value>, path: Vec<Step>) {
        let section = |value: Option<&Value>| value.is_none_or(|v| v.is_object() && v.get("value").is_none());
        let by_name = match key(&path).as_str() {
            "materials" => true,
            // A lid stands in for all hardware of a sheet that lists none.
            "parts" => first.is_some() && second.is_some(),
            "cathode.mix" => self.actives[0].is_some(),
            "anode.mix" => self.actives[1].is_some(),
            _ => false,
        };
        if by_name {
            self.items(first, second, &path);
        } else if section(first) && section(second) {
            self.object(first, second, &path);
        } else {
            self.leaf(first, second, path);
        }
    }

    /// Items of two lists by their names, in the order of the first; what only the second has follows what it follows
    /// there. What both have is laid over one another entry by entry.
    fn items(&mut self, first: Option<&Value>, second: Option<&Value>, path: &[Step]) {
        let (a, b) = (named(first), named(second));
        let mut names: Vec<&String> = a.iter().map(|(name, _)| name).collect();
        let mut after = 0;
        for (name, _) in &b {
            let Some(at) = names.iter().position(|listed| *listed == name) else {
                // What left stands before what came to its place.
                let gone =
                    |at: usize| names.get(at).is_some_and(|name| b.iter().all(|(listed, _)| listed != *name));
                while gone(after) {
                    after += 1;
                }
                names.insert(after, name);
                after += 1;
                continue;
            };
            after = at + 1;
        }
        for name in names {
            let of = |list: &[(String, Value)]| {
                list.iter().find(|(listed, _)| listed == name).map(|(_, value)| value.clone())
            };
            let mut path = path.to_vec();
            path.push(Step::Item(name.clone()));
            match (of(&a), of(&b)) {
                (Some(a), Some(b)) => self.object(Some(&a), Some(&b), &path),
                (a, b) => self.leaf(a.as_ref(), b.as_ref(), path),
            }
        }
    }
}

/// Items with their names; a name that stands twice is told apart by its number.
fn named(list: Option<&Value>) -> Vec<(String, Value)> {
    let mut all: Vec<(String, Value)> = Vec::new();
    for item in list.and_then(Value::as_array).into_iter().flatten() {
        let name = name(item).unwrap_or_default();
        let before = all.iter().filter(|(listed, _)| *listed == name).count();
        all.push((if before == 0 { name } else { format!("{name} {}", before + 1) }, item.clone()));
    }
    all
}

/// Puts an entry to its place; items of a list follow one another, so that a list's last is the one to fill.
fn put(root: &mut Value, path: &[Step], value: Value, last: &mut Option<Vec<Step>>) {
    let mut at = root;
    for (i, step) in path.iter().enumerate() {
        let end = i + 1 == path.len();
        match step {
            Step::Key(name) => {
                let Some(map) = at.as_object_mut() else { return };
                let list = matches!(path.get(i + 1), Some(Step::Item(_)));
                at = map.entry(name.as_str()).or_insert_with(|| {
                    if list { Value::Array(Vec::new()) } else { Value::Object(Map::new()) }
                });
            }
            Step::Item(_) => {
                let Some(items) = at.as_array_mut() else { return };
                let own = path.get(..=i).unwrap_or_default();
                if end || last.as_deref() != Some(own) {
                    items.push(Value::Object(Map::new()));
                    *last = Some(own.to_vec());
                }
                let Some(newest) = items.last_mut() else { return };
                at = newest;
            }
        }
        if end {
            *at = value;
            return;
        }
    }
}

/// Whether an entry says the same in both sheets: the same number, the same material, the same word. An entry that is
/// left out says its default, unless its being there decides how others are read.
fn alike(key: &str, first: Option<&Value>, second: Option<&Value>) -> bool {
    if first == second {
        return true;
    }
    if let Some((_, default)) = ORDINARY.iter().find(|(ordinary, _)| *ordinary == key) {
        let name = |value: Option<&Value>| canonical(value.and_then(text).unwrap_or(default));
        return name(first) == name(second);
    }
    if key.ends_with(".material") {
        return first.and_then(text).map(canonical) == second.and_then(text).map(canonical);
    }
    let Some(field) = field(key) else {
        return first.and_then(text).is_some_and(|a| second.and_then(text) == Some(a));
    };
    let decides = INSTEAD.iter().any(|set| set.contains(&key));
    let number = |value: Option<&Value>| -> Option<Uncertain> {
        let text = match value {
            Some(value) => text(value)?,
            None => field.default.filter(|_| !decides)?.text,
        };
        notation::read(text, field.unit.dimension()).ok()
    };
    number(first).is_some_and(|a| number(second) == Some(a))
}
