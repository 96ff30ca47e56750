//! A plain slip in a sheet is named where every verb's answer begins, with what was probably meant.

use crate::{call, call_with, folder, text_of};
use serde_json::{Value, json};

const OTHER: &str = "demo/marram-b.json";

/// Slips: the key as a JSON pointer, what is written, and words that explain it.
const SLIPS: &[(&str, &str, &str)] = &[
    ("/can/height", "92 cm", "92 mm would then be meant"),
    ("/cathode/thickness", "630 µm", "63 µm would then be meant"),
    ("/electrolyte/excess", "5000 %", "5 % would then be meant"),
    ("/electrolyte/density", "12 g/cm3", "1.2 g/cm³ would then be meant"),
    ("/current_path/temperature", "2500 °C", "25 °C would then be meant"),
    ("/current_path/c_rate", "100 C", "10 C would then be meant"),
    ("/voltage/charge_cut_off", "4.15 mV", "4.15 V would then be meant"),
    ("/parts/1/axial_clearance", "13.5 mm", "1.35 mm would then be meant"),
    ("/can/mass", "460 g", "46 g would then be meant"),
    ("/cell_mass", "3.26 g", "326 g would then be meant"),
];

/// Verbs with what they are asked besides the sheet, which stands where the text is empty.
const VERBS: &[&[&str]] = &[
    &["estimate", ""],
    &["compare", "", OTHER],
    &["compare", OTHER, ""],
    &["remove", "", "gasket"],
    &["edit", "", "remark=x"],
    &["claim", "200 Wh/kg", ""],
    &["form-factors", "", "--steps", "2"],
    &["attribute", "", OTHER, "--trials", "0"],
    &["sweep", "", "anode.fold_height", "1.0 mm", "1.1 mm", "--steps", "2"],
    &["uncertainty", "", "--trials", "1000"],
    &["next", "", "--for", "volumetric"],
    &["reconcile", "", "demo/bench.csv"],
    &["export-parameters", ""],
    &["optimise", "", "SEARCH"],
    &["batch", "-"],
];

fn with(pointer: &str, value: &str) -> Value {
    let mut sheet: Value = serde_json::from_str(&text_of("demo/marram-a.json")).expect("JSON");
    let (parent, key) = pointer.rsplit_once('/').expect("a pointer");
    if sheet.pointer(parent).is_none() {
        sheet[&parent[1..]] = json!({});
    }
    sheet.pointer_mut(parent).expect("it was made")[key] = value.into();
    sheet
}

#[test]
fn every_verb_names_a_plain_slip_where_its_answer_begins() {
    let folder = folder("slips");
    let (path, search) = (folder.join("sheet.json"), folder.join("search.json"));
    let few = json!({ "free": [{ "key": "cathode.loading", "from": "18 mg/cm²", "to": "23 mg/cm²" }], "best": "volumetric", "trials": 50 });
    std::fs::write(&search, few.to_string()).expect("it can be written");
    let mut silent = Vec::new();
    for (pointer, value, meant) in SLIPS {
        let sheet = with(pointer, value);
        std::fs::write(&path, sheet.to_string()).expect("it can be written");
        for verb in VERBS {
            let filled = verb.iter().map(|word| match *word {
                "" => path.to_str().expect("a path"),
                "SEARCH" => search.to_str().expect("a path"),
                word => word,
            });
            let words: Vec<&str> = filled.collect();
            let said = match words.as_slice() {
                ["batch", ..] => call_with(&words, format!("{sheet}\n").as_bytes()),
                _ => call(&words),
            };
            // A paragraph is broken into lines; what is handed out as data has its remarks beside it.
            let begins: Vec<&str> =
                said.out.lines().take(14).chain(said.err.lines()).map(str::trim).collect();
            if !begins.join(" ").contains(meant) {
                silent.push(format!("{pointer} {value}, {}: {}", verb[0], begins.join(" ")));
            }
        }
    }
    assert!(silent.is_empty(), "{}", silent.join("\n"));
}
