//! A change: entries that move together from the first sheet's to the second's, by a name a bench would give it.

use super::asked::{Changes, NamedChange};
use crate::material::Role;
use crate::quantity::problem::{Problem, Problems, nearest, perhaps, quoted, shortened};
use crate::sheet::defaults::FIELDS;
use crate::sheet::overlay::{DifferingEntry, INSTEAD, Overlay, covers, item};
use crate::sheet::{former, unknown_keys};
use roulade_stats::order;

/// Entries that move together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// What it is called.
    pub name: String,
    /// Its edits, by their number.
    pub edits: Vec<usize>,
}

/// Groups all that differs by part and by recipe. No edit is left out, and none is in two changes.
///
/// - A part that left, came, or is not alike is one change. Parts that left and parts that came between the same
///   neighbours stand in one another's place and are one change.
/// - Coated width, void height and folded edges close the stack-up. Where one piece of hardware changed, what it frees
///   belongs to it; where several or none did, they are changes of their own.
/// - A recipe moves as one: binders, conductive additives, loading, thickness and porosity of a coating. Its active
///   material is another change, and so is a further host, silicon say.
/// - Leads and welds belong to the one piece of hardware that changed; otherwise the current path is one change.
/// - Foils, separator, winding, electrolyte, voltage window, and each side of the can are one change each.
pub fn automatic(overlay: &Overlay) -> Vec<Change> {
    let hardware = hardware(overlay);
    let one = (hardware.len() == 1).then(|| hardware.first()).flatten().cloned();
    let mut found: Vec<((u8, usize), Change)> = Vec::new();
    for (i, edit) in overlay.edits().iter().enumerate() {
        let part = hardware.iter().enumerate().find(|(_, part)| part.edits.contains(&i));
        let (rank, name) = if let Some((at, part)) = part {
            ((0, at), part.name.clone())
        } else {
            let (rank, name) = bucket(overlay, &edit.key);
            match &one {
                Some(part) if rank == CLOSES => ((0, 0), part.name.clone()),
                _ => ((rank, 0), name),
            }
        };
        match found.iter_mut().find(|(at, change)| *at == rank && change.name == name) {
            Some((_, change)) => change.edits.push(i),
            None => found.push((rank, Change { name, edits: vec![i] })),
        }
    }
    // Stable: what shares a rank stays in the order of the sheet.
    order::by(&mut found, |a, b| a.0.cmp(&b.0));
    found.into_iter().map(|(_, change)| change).collect()
}

/// Rank of what closes the stack-up.
const CLOSES: u8 = 1;

/// Where an entry that is no part belongs: its rank among the changes, and what they are called.
fn bucket(overlay: &Overlay, key: &str) -> (u8, String) {
    let whole_can = overlay.edits().iter().any(|edit| edit.key == "can.mass");
    let (rank, name) = match key {
        "cathode.width" | "void_height" => (CLOSES, "coated width"),
        "parts" => (0, "hardware"),
        // Leads and welds are hardware too.
        _ if covers("current_path.cathode", key) || covers("current_path.anode", key) => {
            (CLOSES, "current path")
        }
        _ if covers("current_path", key) => (17, "current path"),
        _ if key.ends_with("fold_height") || key.ends_with("uncoated_margin") => (CLOSES, "folded edges"),
        // The empty can on the balance is that of its size, wall, bottom and metal together.
        _ if whole_can && key.starts_with("can.") => (2, "can"),
        "can.diameter" | "can.height" => (2, "can size"),
        "can.wall" => (3, "can wall"),
        "can.bottom" => (4, "can bottom"),
        "can.material" => (5, "can material"),
        _ if covers("winding", key) => (6, "winding"),
        _ if covers("cathode.foil", key) => (7, "cathode current collector foil"),
        _ if covers("anode.foil", key) => (10, "anode current collector foil"),
        "anode.overhang" => (14, "anode overhang"),
        _ if covers("separator", key) => (15, "separator"),
        _ if covers("electrolyte", key) => (16, "electrolyte"),
        _ if covers("voltage", key) => (18, "voltage window"),
        _ if covers("cathode", key) || covers("anode", key) || covers("materials", key) => {
            return recipe(overlay, key);
        }
        other => (20, other.split(['.', '[']).next().unwrap_or(other)),
    };
    (rank, name.to_owned())
}

/// Whether an entry of a mix, or of the materials, belongs to an active material or to the coating process.
fn recipe(overlay: &Overlay, key: &str) -> (u8, String) {
    const CATHODE: (u8, &str) = (8, "cathode active material");
    const ANODE: (u8, &str) = (11, "anode active material");
    let owned = |(rank, name): (u8, &str)| (rank, name.to_owned());
    let [_, anode] = &overlay.actives;
    let minor = |name: &str| {
        overlay.host(name) == Some(Role::Anode)
            && anode.as_ref().is_some_and(|main| !main.iter().any(|main| main == name))
    };
    let further = |name: &str| (12, format!("{name} in the anode"));
    let of_mix = covers("cathode.mix", key) || covers("anode.mix", key);
    match item(key) {
        Some(name) if of_mix || covers("materials", key) => match overlay.host(name) {
            Some(Role::Cathode) => return owned(CATHODE),
            Some(Role::Anode) if minor(name) => return further(name),
            Some(Role::Anode) => return owned(ANODE),
            _ if !of_mix => return (19, format!("figures of {name}")),
            _ => {}
        },
        _ => {}
    }
    match key {
        "anode.silicon" => further("silicon"),
        "anode.silicon_oxide" => further("silicon oxide"),
        "cathode.initial_coulombic_efficiency" => owned(CATHODE),
        "anode.initial_coulombic_efficiency" => {
            // What the anode gives back is read of the whole blend: it moves with what was blended in.
            let blended = overlay
                .edits()
                .iter()
                .filter_map(|edit| item(&edit.key).filter(|_| covers("anode.mix", &edit.key)));
            blended.into_iter().find(|name| minor(name)).map_or_else(|| owned(ANODE), further)
        }
        _ if covers("cathode", key) => (9, "cathode coating".to_owned()),
        _ => (13, "anode coating".to_owned()),
    }
}

/// Parts that left, came, or are not alike.
fn hardware(overlay: &Overlay) -> Vec<Change> {
    let edits = overlay.edits();
    let of_part = |name: &str| -> Vec<usize> {
        let own = format!("parts[{name}]");
        edits.iter().enumerate().filter(|(_, edit)| covers(&own, &edit.key)).map(|(i, _)| i).collect()
    };
    let [first, second] = overlay.parts();
    if edits.iter().any(|edit| edit.key == "parts") {
        return vec![Change { name: "hardware".to_owned(), edits: edit_numbers(edits, "parts") }];
    }
    let both = |name: &str| [first, second].iter().all(|parts| parts.iter().any(|(other, _)| other == name));
    // The gap in which a part stands: its place, and the last part before it that both cells have.
    let mut gaps: Vec<(Gap, [Vec<&str>; 2])> = Vec::new();
    let mut changes = Vec::new();
    for (side, parts) in [first, second].into_iter().enumerate() {
        let mut before: Vec<(&serde_json::Value, &str)> = Vec::new();
        for (name, place) in parts {
            let name = name.as_str();
            if both(name) {
                before.retain(|(other, _)| *other != place);
                before.push((place, name));
                if side == 0 && !of_part(name).is_empty() {
                    changes.push(Change { name: format!("other {name}"), edits: of_part(name) });
                }
                continue;
            }
            let gap = (place, before.iter().find(|(other, _)| *other == place).map(|(_, name)| *name));
            let at = gaps.iter().position(|(other, _)| *other == gap).unwrap_or_else(|| {
                gaps.push((gap, [Vec::new(), Vec::new()]));
                gaps.len() - 1
            });
            if let Some(names) = gaps.get_mut(at).and_then(|(_, sides)| sides.get_mut(side)) {
                names.push(name);
            }
        }
    }
    for (_, [left, came]) in &gaps {
        let edits_of = |names: &[&str]| names.iter().flat_map(|name| of_part(name)).collect::<Vec<_>>();
        if left.len() == came.len() {
            for (old, new) in left.iter().zip(came) {
                let name = format!("{new} in place of {old}");
                changes.push(Change { name, edits: edits_of(&[old, new]) });
            }
        } else if left.is_empty() || came.is_empty() {
            for name in left.iter().chain(came) {
                let named = if came.is_empty() { format!("no {name}") } else { format!("added {name}") };
                changes.push(Change { name: named, edits: edits_of(&[name]) });
            }
        } else {
            let name = format!("{} in place of {}", came.join(" and "), left.join(" and "));
            changes.push(Change { name, edits: edits_of(&[left.as_slice(), came].concat()) });
        }
    }
    changes.retain(|change| !change.edits.is_empty());
    changes
}

/// Where parts stand in one another's place.
type Gap<'a> = (&'a serde_json::Value, Option<&'a str>);

fn edit_numbers(edits: &[DifferingEntry], beginning: &str) -> Vec<usize> {
    edits.iter().enumerate().filter(|(_, edit)| covers(beginning, &edit.key)).map(|(i, _)| i).collect()
}

/// The changes as somebody named them; what the list does not name keeps its automatic change.
///
/// # Errors
/// A change without a name or with that of another; a key that neither sheet knows; a change that touches nothing; an
/// entry that two changes set; entries of which one stands in the place of the other, in two changes.
pub fn listed(overlay: &Overlay, wanted: &Changes) -> Result<Vec<Change>, Problems> {
    let mut problems = Problems::default();
    let mut own: Vec<(Change, String)> = Vec::new();
    unknown_keys(&mut problems, "", &wanted.unknown, Changes::KEYS);
    for (n, named) in wanted.changes.iter().flatten().enumerate() {
        let place = format!("changes[{n}]");
        let before = problems.0.len();
        unknown_keys(&mut problems, &place, &named.unknown, NamedChange::KEYS);
        let name = named.name.as_deref().unwrap_or_default().trim().to_owned();
        if name.is_empty() {
            problems.push(Problem::new(format!("{place}.name"), "nothing", "each change to have a name"));
        } else if own.iter().any(|(other, _)| other.name == name) {
            let found = format!("a second change called \"{}\"", shortened(&name));
            problems.push(Problem::new(
                format!("{place}.name"),
                found,
                "each change to have a name of its own",
            ));
        }
        let mut edits: Vec<usize> = Vec::new();
        for (k, key) in named.keys.iter().flatten().enumerate() {
            let place = format!("{place}.keys[{k}]");
            let today = former::path_today(key.trim());
            let touched = edit_numbers(overlay.edits(), &today);
            if touched.is_empty() && !is_entry(overlay, &today) {
                problems.push(unknown_key(overlay, &place, key));
            }
            for i in touched {
                let twice = own.iter().find(|(other, _)| other.edits.contains(&i));
                if let (Some((other, _)), Some(edit)) = (twice, overlay.edits().get(i)) {
                    let found = format!(
                        "\"{}\", which \"{}\" sets too",
                        shortened(&edit.key),
                        shortened(&other.name)
                    );
                    problems.push(Problem::new(&place, found, "each entry to belong to one change only"));
                } else if !edits.contains(&i) {
                    edits.push(i);
                }
            }
        }
        if edits.is_empty() && problems.0.len() == before {
            let found = format!("\"{}\", a change that touches nothing", shortened(&name));
            let keys: Vec<&str> = overlay.edits().iter().map(|edit| edit.key.as_str()).collect();
            let expected = if keys.is_empty() {
                "two sheets that differ, which these do not".to_owned()
            } else {
                format!("keys in which the two sheets differ: {}", quoted(&keys))
            };
            problems.push(Problem::new(format!("{place}.keys"), found, expected));
        }
        edits.sort_unstable();
        own.push((Change { name, edits }, place));
    }
    let mut changes: Vec<Change> = Vec::new();
    for automatic in automatic(overlay) {
        let taken = |i: &usize| own.iter().any(|(change, _)| change.edits.contains(i));
        let edits: Vec<usize> = automatic.edits.iter().copied().filter(|i| !taken(i)).collect();
        if edits.is_empty() {
            continue;
        }
        let named = own.iter().any(|(change, _)| change.name == automatic.name);
        let name = if named { format!("{}, the rest", automatic.name) } else { automatic.name };
        changes.push(Change { name, edits });
    }
    let automatic_from = own.len();
    let places: Vec<String> = own.iter().map(|(_, place)| format!("{place}.keys")).collect();
    let mut all: Vec<Change> = own.into_iter().map(|(change, _)| change).collect();
    all.extend(changes);
    if problems.0.is_empty() {
        split(overlay, &all, &mut problems, |i| {
            places.get(i).filter(|_| i < automatic_from).cloned().unwrap_or_else(|| "changes".to_owned())
        });
    }
    problems.or_else_ok(all)
}

/// Complains of entries that only make sense together but stand in several changes.
fn split(overlay: &Overlay, changes: &[Change], problems: &mut Problems, place: impl Fn(usize) -> String) {
    let mixes = overlay.actives.iter().zip(["cathode", "anode"]).filter_map(|(pair, side)| {
        let [a, b] = pair.as_ref()?;
        (a != b).then(|| [format!("{side}.mix[{a}]"), format!("{side}.mix[{b}]")].to_vec())
    });
    let sets = INSTEAD.iter().map(|set| set.iter().map(|key| (*key).to_owned()).collect()).chain(mixes);
    for set in sets {
        let set: Vec<String> = set;
        let together = |edit: &DifferingEntry| {
            // An entry that both have moves freely; one that comes or goes decides how the others are read.
            set.iter().any(|key| covers(key, &edit.key)) && edit.comes_or_goes()
        };
        let of = |i: usize| changes.iter().position(|change| change.edits.contains(&i));
        let members: Vec<(usize, &str)> = overlay
            .edits()
            .iter()
            .enumerate()
            .filter(|(_, edit)| together(edit))
            .filter_map(|(i, edit)| Some((of(i)?, edit.key.as_str())))
            .collect();
        let Some(&(home, _)) = members.first() else { continue };
        if members.iter().all(|(change, _)| *change == home) {
            continue;
        }
        let keys: Vec<&str> = members.iter().map(|(_, key)| *key).collect();
        let at = members.iter().map(|(change, _)| *change).min().unwrap_or(home);
        let found = format!("{} in several changes", quoted(&keys));
        problems.push(Problem::new(
            place(at),
            found,
            "them to be listed in one change, since one replaces the other",
        ));
    }
}

/// Whether a key, or a beginning of keys, is one of either sheet, or one that a sheet may have.
fn is_entry(overlay: &Overlay, key: &str) -> bool {
    overlay.has(key) || FIELDS.iter().any(|field| covers(key, field.path))
}

fn unknown_key(overlay: &Overlay, place: &str, key: &str) -> Problem {
    let keys = || overlay.edits().iter().map(|edit| edit.key.as_str());
    let expected = match nearest(key, keys()) {
        Some(near) => format!("a key in which the two sheets differ; {}", perhaps(near)),
        None => {
            format!("a key in which the two sheets differ, one of: {}", quoted(&keys().collect::<Vec<_>>()))
        }
    };
    Problem::new(place, format!("\"{}\", a key that neither sheet has", shortened(key)), expected)
}
