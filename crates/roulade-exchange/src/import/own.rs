//! User-defined parameters as this crate writes them.
#![allow(clippy::indexing_slicing, reason = "objects made here: a key that is missing is added")]

use super::block::Block;
use super::document::Written;
use crate::export::MATERIAL;
use crate::rows::{FIGURES, MADE_OF, MATERIALS, MIX, NEGATIVE, PARTS, POSITIVE, POTENTIAL, ROWS, SINGLE};
use roulade::material::Role;
use roulade::quantity::problem::Problems;
use roulade::quantity::units::Unit;
use roulade::sheet::Place;
use roulade::sheet::defaults::field;
use roulade_stats::uncertain::Uncertain;
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Takes what the groups say that a sheet has too.
pub(super) fn take(own: &Block<'_>, written: &mut Written, problems: &mut Problems) {
    let _ = own.value("description");
    written.of_this_model = of_this_model(own);
    if !written.of_this_model {
        // The same names in somebody else's parameter set may mean another thing.
        return;
    }
    // What was worked out is worked out again.
    let _ = own.value(FIGURES);
    let mut groups: BTreeMap<&str, Block<'_>> = BTreeMap::new();
    for row in ROWS {
        groups.entry(row.group).or_insert_with(|| own.inner(row.group, problems));
    }
    for row in ROWS {
        let Some(group) = groups.get(row.group) else { continue };
        if let Some(uncertain) = group.uncertain(row.name, problems) {
            written.number(row.key, &uncertain);
        }
    }
    for (group, side) in [(POSITIVE, "cathode"), (NEGATIVE, "anode")] {
        let Some(group) = groups.get(group) else { continue };
        // Follow from loading, thickness and mix.
        for name in ["Porosity", &crate::rows::beside("Porosity", crate::rows::U), POTENTIAL] {
            let _ = group.value(name);
        }
        let fractions = group.inner(MIX, problems);
        let mut mix: Vec<(&str, Uncertain)> = Vec::new();
        for name in fractions.names().filter(|name| !name.ends_with(crate::rows::U)) {
            mix.extend(fractions.uncertain(name, problems).map(|uncertain| (name, uncertain)));
        }
        // The greatest takes what the others leave.
        let most = mix.iter().map(|(_, uncertain)| uncertain.value).fold(f64::NEG_INFINITY, f64::max);
        let rest = mix.iter().position(|(_, uncertain)| uncertain.value >= most);
        let mixed = mix.iter().enumerate().map(|(i, (name, uncertain))| {
            if Some(i) == rest {
                json!({ "material": name })
            } else {
                json!({ "material": name, "share": written.entry(uncertain, Unit::Percent) })
            }
        });
        let mixed: Vec<Value> = mixed.collect();
        if !mixed.is_empty() {
            written.set(&format!("{side}.mix"), Value::Array(mixed));
        }
    }
    for (group, name, key) in SINGLE {
        let Some(group) = groups.get(group) else { continue };
        if let Some(material) = group.inner(name, problems).names().next() {
            written.set(key, json!(material));
        }
    }
    parts(&own.inner(PARTS, problems), written, problems);
    materials(&own.inner(MATERIALS, problems), written, problems);
    for group in groups.values() {
        written.left.extend(group.untaken());
    }
}

/// The hardware, from the bottom.
fn parts(block: &Block<'_>, written: &mut Written, problems: &mut Problems) {
    let mut all: Vec<(f64, Value)> = Vec::new();
    for place in [Place::BelowRoll, Place::AboveRoll, Place::BesideRoll, Place::InCore] {
        let there = block.inner(place.word(), problems);
        for name in there.names() {
            let part = there.inner(name, problems);
            let mut entry = json!({ "name": name, "place": place.word() });
            for (key, said) in [
                ("height", "Height [m]"),
                ("axial_clearance", "Axial clearance [m]"),
                ("mass", "Mass [kg]"),
                ("volume", "Volume [m3]"),
            ] {
                let Some(unit) = field(&format!("parts[].{key}")).map(|field| field.unit) else { continue };
                if let Some(uncertain) = part.uncertain(said, problems) {
                    // A part of no height takes none.
                    if uncertain.value > 0.0 {
                        entry[key] = written.entry(&uncertain, unit);
                    }
                }
            }
            if let Some(material) = part.inner(MADE_OF, problems).names().next() {
                entry["material"] = json!(material);
            }
            all.push((part.number("Position from the bottom").unwrap_or(f64::MAX), entry));
            written.left.extend(part.untaken());
        }
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    if !all.is_empty() {
        written.set("parts", all.into_iter().map(|(_, part)| part).collect());
    }
    written.left.extend(block.untaken());
}

/// Materials of the sheet's own.
fn materials(block: &Block<'_>, written: &mut Written, problems: &mut Problems) {
    for role in Role::ALL {
        let of_role = block.inner(role.word(), problems);
        for name in of_role.names() {
            let said = of_role.inner(name, problems);
            let mut material = json!({ "name": name, "role": role.word() });
            for (key, said_as, size) in MATERIAL {
                let Some(unit) = field(&format!("materials[].{key}")).map(|field| field.unit) else {
                    continue;
                };
                if let Some(uncertain) = said.uncertain(said_as, problems) {
                    let scaled = Uncertain::standard(uncertain.value * size, uncertain.u() * size);
                    let holder = match key.split_once('.') {
                        Some((section, _)) => &mut material[section],
                        None => &mut material,
                    };
                    holder[key.rsplit('.').next().unwrap_or(key)] = written.entry(&scaled, unit);
                }
            }
            if let Some(points) = said.value(POTENTIAL) {
                match super::electrode::table(points) {
                    Ok(points) => material["curve"] = json!(points),
                    Err(problem) => problems.push(problem.within(&said.place(POTENTIAL))),
                }
            }
            if let (Some(low), Some(high)) =
                (said.number("Minimum stoichiometry"), said.number("Maximum stoichiometry"))
            {
                material["window"] = json!([low, high]);
            }
            written.left.extend(said.untaken());
            written.material(material);
        }
    }
    written.left.extend(block.untaken());
}

/// Whether a parameter set was written by this crate: its groups are those of the rows.
fn of_this_model(own: &Block<'_>) -> bool {
    own.has(POSITIVE) && own.has(FIGURES)
}
