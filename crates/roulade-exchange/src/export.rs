//! A sheet as a partial parameter set.

use crate::rows::{
    FIGURES, MADE_OF, MATERIALS, MIX, NEGATIVE, PARTS, POSITIVE, POTENTIAL, ROWS, SINGLE, U, VERSION, beside,
};
use roulade::cell::design::{Component, Electrode, Part};
use roulade::cell::draft::{Draft, Input};
use roulade::cell::figures::{Worked, definition};
use roulade::quantity::problem::{Problems, json_visible};
use roulade::sheet::{Material, Sheet};
use roulade_stats::maths::pow;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::uncertain::{Origin, Uncertain};
use serde_json::{Map, Value, json};
use std::f64::consts::PI;

/// Points of an open-circuit potential as it is written.
const POINTS: usize = 101;

/// Figures that leave with the sheet: the id of each, its name, and how many SI units its unit has.
const GIVEN: [(&str, &str, f64); 7] = [
    ("energy", "Energy at open circuit [W.h]", 3600.0),
    ("mean_voltage", "Mean voltage at open circuit [V]", 1.0),
    ("mass", "Mass [kg]", 1.0),
    ("volumetric", "Volumetric energy density [W.h.L-1]", 3.6e6),
    ("gravimetric", "Gravimetric energy density [W.h.kg-1]", 3600.0),
    ("roll.cathode_length", "Positive electrode length [m]", 1.0),
    ("roll.anode_length", "Negative electrode length [m]", 1.0),
];

/// The JSON text of a partial parameter set: what is read of the cell and what it is estimated to give, with standard
/// uncertainties, and in its description everything that is assumed.
///
/// # Errors
/// Where the sheet cannot be read, or its cell does not hold together.
pub fn to_parameters(sheet: &Sheet) -> Result<String, Problems> {
    let draft = Draft::read(sheet)?;
    let values = draft.values();
    let worked = Worked::at(&draft, &values)?;
    let numbers = |worked: &Worked| -> Vec<f64> { said(worked).into_iter().map(|said| said.2).collect() };
    let best = said(&worked);
    let uncertain: Vec<Uncertain> = draft.inputs().iter().map(|input| input.uncertain).collect();
    let spread = FirstOrder::of(&uncertain, draft.correlation(), &numbers(&worked), |values| {
        Worked::at(&draft, values).ok().map(|worked| numbers(&worked))
    });

    let mut groups = Map::new();
    for (i, (path, name, value)) in best.into_iter().enumerate() {
        let mut group = &mut groups;
        for step in path {
            group = inner(group, &step);
        }
        // Below the rounding of the differences it is taken from, an uncertainty is none.
        let u = spread.u(i);
        if u > 1e-12 * value.abs() {
            group.insert(beside(&name, U), json!(u));
        }
        group.insert(name, json!(value));
    }
    let b = worked.design.blueprint();
    for (group, electrode) in [(POSITIVE, &b.cathode), (NEGATIVE, &b.anode)] {
        if let Some(points) = potential(electrode) {
            inner(&mut groups, group).insert(POTENTIAL.to_owned(), points);
        }
    }
    let document = sheet_as_json(sheet);
    for (group, name, key) in SINGLE {
        let at = key.split('.').try_fold(&document, |at, step| at.get(step));
        if let Some(material) = at.and_then(Value::as_str) {
            inner(inner(&mut groups, group), name).insert(material.to_owned(), json!(1.0));
        }
    }
    for (i, material) in sheet.materials.iter().flatten().enumerate() {
        if let Some((role, name, numbers)) = own_material(i, material, &draft) {
            inner(inner(&mut groups, MATERIALS), role).insert(name, numbers);
        }
    }
    groups.insert("description".to_owned(), json!(BESIDE));
    let document = serde_json::to_string_pretty(&json!({
        "Header": {
            "BPX": VERSION,
            "Title": draft.name(),
            "Description": description(&draft),
            "Model": "Partial",
        },
        "Parameterisation": {
            "Cell": cell(&worked),
            "Separator": separator(&worked),
            "User-defined": groups,
        },
    }));
    Ok(json_visible(document.unwrap_or_default()) + "\n")
}

/// What is said of the user-defined parameters.
const BESIDE: &str = "What a tear-down reads of foils, coatings, hardware and can, and what the cell is estimated to give. \
    Standard uncertainties (k = 1), to first order, stand beside the numbers. Open-circuit potentials are against lithium \
    (sodium for its active materials) over the stoichiometry of the electrode, which for a blend is that of all its active materials together.";

/// A group within a group, made where there is none.
fn inner<'a>(group: &'a mut Map<String, Value>, name: &str) -> &'a mut Map<String, Value> {
    let held = group.entry(name).or_insert(Value::Null);
    if !held.is_object() {
        *held = Value::Object(Map::new());
    }
    match held {
        Value::Object(inner) => inner,
        _ => unreachable!("it has just been made one"),
    }
}

fn sheet_as_json(sheet: &Sheet) -> Value {
    // Plain data always becomes a value.
    serde_json::to_value(sheet).unwrap_or_default()
}

/// Groups, name and value of every number that has an uncertainty; the same for every design of a draft.
fn said(worked: &Worked) -> Vec<(Vec<String>, String, f64)> {
    let design = &worked.design;
    let b = design.blueprint();
    let mut said: Vec<(Vec<String>, String, f64)> = Vec::with_capacity(128);
    let mut say = |groups: &[&str], name: &str, value: f64| {
        said.push((groups.iter().map(|group| (*group).to_owned()).collect(), name.to_owned(), value));
    };
    for row in ROWS {
        if let Some(value) = (row.of)(design) {
            say(&[row.group], row.name, value);
        }
    }
    for (group, electrode) in [(POSITIVE, &b.cathode), (NEGATIVE, &b.anode)] {
        say(&[group], "Porosity", electrode.porosity().value);
        for Component { name, share, .. } in electrode.mix.iter() {
            say(&[group, MIX], name, *share);
        }
    }
    for (i, part) in b.parts.iter().enumerate() {
        let place = part.place.word();
        // Two of one name in one place are told apart by their number.
        let alike = |other: &&Part| other.label.name == part.label.name && other.place == part.place;
        let before = b.parts.iter().take(i).filter(alike).count();
        let name = if before == 0 {
            part.label.name.clone()
        } else {
            format!("{} ({})", part.label.name, before + 1)
        };
        let groups = [PARTS, place, name.as_str()];
        say(&groups, "Position from the bottom", i as f64 + 1.0);
        say(&groups, "Height [m]", part.height.value);
        say(&groups, "Axial clearance [m]", part.axial_clearance.value);
        say(&groups, "Mass [kg]", part.mass.value);
        say(&groups, "Volume [m3]", part.volume.value);
        if let Some(material) = &part.label.material {
            say(&[PARTS, place, name.as_str(), MADE_OF], material, 1.0);
        }
    }
    for (id, name, size) in GIVEN {
        if let Some(value) = definition(id).and_then(|figure| (figure.of)(worked)) {
            say(&[FIGURES], name, value / size);
        }
    }
    let capacity = definition("capacity").and_then(|figure| (figure.of)(worked));
    say(&[FIGURES], "Capacity at open circuit [A.h]", capacity.unwrap_or_default() / 3600.0);
    let (inner, outer) = design.active_area();
    say(&[FIGURES], "Facing area, both sides [m2]", (inner + outer).value);
    said
}

/// The block of the cell.
fn cell(worked: &Worked) -> Value {
    let b = worked.design.blueprint();
    let (inner, outer) = worked.design.active_area();
    let (diameter, height) = (b.can.diameter.value, b.can.height.value);
    let volume = b.envelope().value;
    let capacity = definition("capacity").and_then(|figure| (figure.of)(worked)).unwrap_or_default();
    json!({
        "Electrode area [m2]": (inner + outer).value,
        "Number of electrode pairs connected in parallel to make a cell": 1,
        "Lower voltage cut-off [V]": b.window.lower.value,
        "Upper voltage cut-off [V]": b.window.upper.value,
        "Nominal cell capacity [A.h]": capacity / 3600.0,
        "External surface area [m2]": PI * diameter * (height + 0.5 * diameter),
        "Volume [m3]": volume,
        "Density [kg.m-3]": worked.estimate.mass.value / volume,
    })
}

/// The block of the separator, film and ceramic together.
fn separator(worked: &Worked) -> Value {
    let s = &worked.design.blueprint().separator;
    let thickness = s.thickness().value;
    let pores = s.film.value * s.porosity.value + s.ceramic.value * s.ceramic_porosity.value;
    // In series: thickness over efficiency adds.
    let layer = |thickness: f64, porosity: f64| {
        if thickness > 0.0 { thickness * pow(porosity, -1.5) } else { 0.0 }
    };
    let hindered = layer(s.film.value, s.porosity.value) + layer(s.ceramic.value, s.ceramic_porosity.value);
    json!({
        "Thickness [m]": thickness,
        "Porosity": pores / thickness,
        "Transport efficiency": thickness / hindered,
    })
}

/// A material of the sheet's own with its numbers, under what it does.
fn own_material(i: usize, material: &Material, draft: &Draft) -> Option<(&'static str, String, Value)> {
    let name = material.name.as_deref()?;
    let prefix = format!("materials[{i}].");
    let mut numbers = Map::new();
    for input in draft.inputs() {
        let Some(what) = input.path.strip_prefix(prefix.as_str()) else { continue };
        let Some((_, said, size)) = MATERIAL.iter().find(|(key, _, _)| *key == what) else { continue };
        numbers.insert((*said).to_owned(), json!(input.uncertain.value / size));
        if input.uncertain.u() > 0.0 {
            numbers.insert(beside(said, U), json!(input.uncertain.u() / size));
        }
    }
    if let Some(curve) = &material.curve {
        let (x, y): (Vec<f64>, Vec<f64>) = curve.iter().copied().unzip();
        numbers.insert(POTENTIAL.to_owned(), json!({ "x": x, "y": y }));
    }
    if let Some([low, high]) = material.window.as_deref() {
        numbers.insert("Minimum stoichiometry".to_owned(), json!(low));
        numbers.insert("Maximum stoichiometry".to_owned(), json!(high));
    }
    let measured = material.metals.as_ref().map(|_| roulade::material::Role::Cathode);
    let role = material.role.or(measured).or_else(|| roulade::material::find(name).map(|table| table.role));
    Some((role?.word(), name.to_owned(), Value::Object(numbers)))
}

/// Figures of a material: key in the sheet, name in a parameter set, and how many SI units its unit has.
pub(crate) const MATERIAL: [(&str, &str, f64); 10] = [
    ("metals.nickel", "Mole fraction of nickel", 1.0),
    ("metals.cobalt", "Mole fraction of cobalt", 1.0),
    ("metals.manganese", "Mole fraction of manganese", 1.0),
    ("metals.aluminium", "Mole fraction of aluminium", 1.0),
    ("metals.lithium", "Lithium for one of all these metals", 1.0),
    ("density", "Density [kg.m-3]", 1.0),
    ("capacity", "Practical capacity [A.h.kg-1]", 3600.0),
    ("initial_coulombic_efficiency", "Initial coulombic efficiency", 1.0),
    ("resistivity", "Resistivity [Ohm.m]", 1.0),
    ("expansion", "Volume expansion at full lithiation", 1.0),
];

/// An open-circuit potential as a table of points over its window.
pub(crate) fn potential(electrode: &Electrode) -> Option<Value> {
    let potential = electrode.potential.as_ref()?;
    let (low, high) = potential.curve.window();
    let x: Vec<f64> = (0..POINTS).map(|i| low + (high - low) * i as f64 / (POINTS - 1) as f64).collect();
    let y: Vec<f64> = x.iter().map(|x| potential.at(*x)).collect();
    Some(json!({ "x": x, "y": y }))
}

/// What the numbers are, and everything that is assumed.
fn description(draft: &Draft) -> String {
    let mut text = String::from(
        "Wound cylindrical cell, estimated from its geometry and the lithium balance of its electrodes; no transport, kinetic \
         or thermal parameter was measured, so the set is partial. Electrode area is the whole area in which cathode and anode \
         face each other, both sides of the coated foil together: the number of electrode pairs is 1. Nominal cell capacity is \
         the estimate at open circuit between the cut-off voltages. Density is the estimated mass over the volume. The \
         separator's transport efficiency is its porosity to the power 1.5 (Bruggeman), not measured.",
    );
    let assumed: Vec<&Input> = draft
        .inputs()
        .iter()
        .filter(|input| matches!(input.origin, Origin::Assumed | Origin::Default))
        .collect();
    let count = format!(" Assumed, not measured ({} of {} entries):", assumed.len(), draft.inputs().len());
    text.push_str(&count);
    for (i, input) in assumed.into_iter().enumerate() {
        let source = match (input.source(), input.remark.as_deref()) {
            (Some(source), _) => format!(" ({source})"),
            (None, Some(remark)) => format!(" ({remark})"),
            (None, None) => String::new(),
        };
        let sep = if i == 0 { " " } else { "; " };
        text.extend([sep, &*input.path, ", ", &*input.label, " = ", &input.text(), &source]);
    }
    text.push('.');
    for remark in draft.plausibility() {
        text.extend([" ", &remark]);
    }
    text
}
