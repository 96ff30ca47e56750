//! A cell of round numbers for the tests beside the code, so that their figures can be worked out by hand.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    missing_docs,
    clippy::missing_panics_doc,
    reason = "for tests alone"
)]

use crate::cell::design::Design;
use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::quantity::problem::Problems;
use serde_json::{Value, json};

/// 46 × 95 mm, wall 0.5 mm, bottom 0.6 mm; the stack-up takes 11 mm beside the coated width and the void height:
/// bottom 0.6, insulator 0.4, plate 0.5 + 1.5, two folds of 1, overhangs and margins of 0.5 at two edges, lid 4.
pub fn sheet() -> Value {
    json!({
        "cell": "by hand", "purpose": "0",
        "can": { "diameter": "46 mm", "height": "95 mm", "wall": "0.5 mm", "bottom": "0.6 mm", "material": "metal" },
        "parts": [
            { "name": "insulator", "place": "below roll", "height": "0.4 mm", "volume": "0.1 cm3", "material": "plastic" },
            { "name": "plate", "place": "below roll", "height": "0.5 mm", "axial_clearance": "1.5 mm", "mass": "4 g", "material": "metal" },
            { "name": "lid", "place": "above roll", "height": "4 mm", "solid_fraction": "25 %", "material": "metal" }
        ],
        "winding": { "core_diameter": "4 mm", "radial_clearance": "0.25 mm", "core_turns": "1", "anode_overhang_start": "0.5",
            "anode_overhang_end": "1.25", "outer_turns": "1", "tape_thickness": "50 µm", "tape_turns": "1" },
        "cathode": {
            "foil": { "thickness": "12 µm", "material": "light metal" },
            "mix": [{ "material": "C" }, { "material": "plastic", "share": "10 %" }],
            "loading": "20 mg/cm2", "thickness": "50 µm", "width": "80 mm", "fold_height": "1 mm"
        },
        "anode": {
            "foil": { "thickness": "8 µm", "material": "metal" },
            "mix": [{ "material": "A" }, { "material": "plastic", "share": "10 %" }],
            "loading": "10 mg/cm2", "thickness": "100 µm", "overhang": "0.5 mm", "fold_height": "1 mm"
        },
        "separator": { "material": "plastic", "thickness": "20 µm", "porosity": "50 %", "margin": "0.5 mm" },
        "electrolyte": { "density": "1.25 g/cm3", "excess": "10 %" },
        "model": { "capacity": "0 %" },
        "voltage": { "charge_cut_off": "4.1 V", "discharge_cut_off": "3 V" },
        "materials": [
            { "name": "metal", "role": "metal", "density": "8 g/cm3", "resistivity": "100 nΩ·m" },
            { "name": "light metal", "role": "metal", "density": "2.5 g/cm3", "resistivity": "25 nΩ·m" },
            { "name": "plastic", "role": "binder", "density": "2 g/cm3" },
            { "name": "C", "role": "cathode", "density": "5 g/cm3", "capacity": "200 mAh/g",
              "initial_coulombic_efficiency": "100 %", "curve": [[0, 4.4], [0.25, 4.15], [0.75, 3.65], [1, 3.4]] },
            { "name": "A", "role": "anode", "density": "2 g/cm3", "capacity": "500 mAh/g",
              "initial_coulombic_efficiency": "90 %", "curve": [[0, 0.5], [0.25, 0.4], [0.75, 0.2], [1, 0.1]] }
        ]
    })
}

/// The sheet with other entries, each under its path, "anode/loading"; `null` leaves one out. A list index past the
/// end appends.
pub fn with(changes: &[(&str, Value)]) -> Value {
    let mut sheet = sheet();
    for (path, value) in changes {
        let at = path.split('/').fold(&mut sheet, |at, key| match at {
            Value::Array(list) => {
                let i: usize = key.parse().unwrap();
                if i == list.len() {
                    list.push(Value::Null);
                }
                &mut list[i]
            }
            other => &mut other[key],
        });
        *at = value.clone();
    }
    sheet
}

/// The draft of a sheet.
///
/// # Errors
/// Everything that is wrong with it.
pub fn read(sheet: &Value) -> Result<Draft, Problems> {
    Draft::parse(&sheet.to_string())
}

pub fn draft(changes: &[(&str, Value)]) -> Draft {
    read(&with(changes)).unwrap()
}

pub fn design(changes: &[(&str, Value)]) -> Design {
    draft(changes).design().unwrap()
}

/// The complaints about the sheet with these changes, each as one line.
pub fn refused(changes: &[(&str, Value)]) -> Vec<String> {
    let problems =
        read(&with(changes)).and_then(|draft| Worked::at(&draft, &draft.values()).map(drop)).unwrap_err();
    problems.0.iter().map(ToString::to_string).collect()
}

pub fn demo(name: &str) -> Draft {
    let text = match name {
        "marram a" => include_str!("../../../demo/marram-a.json"),
        "marram b" => include_str!("../../../demo/marram-b.json"),
        _ => include_str!("../../../demo/marram-small.json"),
    };
    Draft::parse(text).unwrap()
}
