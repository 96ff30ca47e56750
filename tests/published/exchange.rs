//! A published parameter set, handed over in the exchange standard's form with its formulas as text, comes in as the cell that it
//! is: area, areal capacities, and capacity between the cut-off voltages.
//!
//! Source: Chen, Brosa Planella, O'Regan, Gastol, Widanage, Kendrick, J. Electrochem. Soc. 167 (2020) 080534, doi
//! 10.1149/1945-7111/ab9050; its figures and their standing in `data/cells.json`, the formulas' coefficients from memory, as in
//! `formulas.rs`, whose closures are the other side of the comparison. Particle radii and surfaces enter as their product alone,
//! the active volume fraction.

use super::cells::{cell, data};
use super::chen::full_sheet;
use super::formulas::half;
use super::say::{number, relative, say};
use roulade::Sheet;
use roulade::cell::draft::Draft;
use roulade::cell::figures::{Worked, definition};
use roulade_exchange::{Beside, from_parameters};
use serde_json::{Value, json};

const FARADAY: f64 = 96_485.332_12;
const NMC811: &str = "4.4875 - 0.8090 * x - 0.0428 * tanh(18.5138 * (x - 0.5542)) - 17.7326 * tanh(15.7890 * (x - 0.3117)) \
    + 17.5842 * tanh(15.9308 * (x - 0.3120))";
const GRAPHITE: &str = "1.9793 * exp(-39.3631 * x) + 0.2482 - 0.0909 * tanh(29.8538 * (x - 0.1234)) \
    - 0.04478 * tanh(14.9159 * (x - 0.2769)) - 0.0205 * tanh(30.4444 * (x - 0.6103))";

#[test]
fn a_published_set_comes_in_as_its_cell() {
    let data = data();
    let published = cell(&data, "wound-21x70-nmc811-graphite-siox");
    let at = |what: &str| number(published, &format!("/given/{what}"));
    let radius = 5e-6;
    let electrode = |side: &str, formula: &str| {
        let window = ["0", "1"].map(|i| at(&format!("stoichiometry_charged_discharged/{side}/{i}")));
        json!({
            "Thickness [m]": 1e-6 * at(&format!("coating_thickness_one_face_um/{side}")),
            "Porosity": at(&format!("porosity/{side}")),
            "Minimum stoichiometry": window[0].min(window[1]),
            "Maximum stoichiometry": window[0].max(window[1]),
            "Maximum concentration [mol.m-3]": at(&format!("maximum_concentration_mol_m3/{side}")),
            "Particle radius [m]": radius,
            "Surface area per unit volume [m-1]": 3.0 * at(&format!("active_volume_fraction/{side}")) / radius,
            "OCP [V]": formula,
        })
    };
    let area = number(published, "/to_predict/area_one_face_m2/value");
    let set = json!({
        "Header": { "BPX": "1.1.0", "Title": "Chen 2020", "Model": "Partial" },
        "Parameterisation": {
            "Cell": {
                "Electrode area [m2]": area,
                "Number of electrode pairs connected in parallel to make a cell": 1,
                "Lower voltage cut-off [V]": at("voltage_window_V/value/0"),
                "Upper voltage cut-off [V]": at("voltage_window_V/value/1"),
                "Nominal cell capacity [A.h]": number(published, "/to_predict/nominal_capacity_Ah/value"),
            },
            "Positive electrode": electrode("cathode", NMC811),
            "Negative electrode": electrode("anode", GRAPHITE),
        },
    });
    // A can in which the published area has room, whatever is supposed of core and wall.
    let mut base = full_sheet(&data);
    base["can"] = json!({ "diameter": "22 mm", "height": "70 mm" });
    base["model"] = json!({ "capacity": "0 %" });
    let base = Sheet::parse(&base.to_string()).unwrap();
    let came = from_parameters(&set.to_string(), &Beside { base: Some(base), can: None }).unwrap();
    assert!(came.problems.0.is_empty(), "{}", came.problems);
    let draft = Draft::read(&came.sheet).unwrap();
    let worked = Worked::at(&draft, &draft.values()).unwrap();
    let (inner, outer) = worked.design.active_area();
    // Digits of the text of a length.
    relative("area of Chen 2020, m²", area, (inner + outer).value, 1e-7);

    // Charge for each unit of stoichiometry over the whole area, Ah.
    let charge = |side: &str| {
        at(&format!("maximum_concentration_mol_m3/{side}"))
            * FARADAY
            * at(&format!("active_volume_fraction/{side}"))
            * 1e-6
            * at(&format!("coating_thickness_one_face_um/{side}"))
            * area
            / 3600.0
    };
    let figure = |id: &str| (definition(id).unwrap().of)(&worked).unwrap();
    for (side, id) in [("cathode", "balance.cathode_areal"), ("anode", "balance.anode_areal")] {
        let window = ["0", "1"].map(|i| at(&format!("stoichiometry_charged_discharged/{side}/{i}")));
        let wanted = charge(side) * (window[0] - window[1]).abs() / area * 0.1;
        // Both from the same figures: digits of the texts in between.
        relative(&format!("{side}, mAh/cm²"), wanted, figure(id) / 36e3, 1e-6);
    }

    // From the discharged end up to the charge cut-off, or to the end of the anode's window, by the closures.
    let (cathode, anode) = (half("NMC811"), half("graphite with silicon oxide"));
    let volts = |q: f64| {
        (cathode.potential)(0.9084 - q / charge("cathode")) - (anode.potential)(0.0279 + q / charge("anode"))
    };
    let mut q = 0.0;
    while volts(q) < at("voltage_window_V/value/1") && 0.0279 + q / charge("anode") < 0.9014 {
        q += 1e-4;
    }
    let capacity = figure("capacity") / 3600.0;
    // The sheet's table falls on past the window for as long as the formula does.
    relative("capacity of the same formulas, Ah", q, capacity, 0.02);
    say(
        "nominal capacity of Chen 2020, Ah",
        number(published, "/to_predict/nominal_capacity_Ah/value"),
        capacity,
    );
    // The paper's own hosts differ by 10 %: 5.09 and 5.61 Ah over their windows. The stated capacity lies below both.
    let nominal: Value = set["Parameterisation"]["Cell"]["Nominal cell capacity [A.h]"].clone();
    assert!((capacity / nominal.as_f64().unwrap() - 1.0).abs() < 0.05, "{capacity}");
}
