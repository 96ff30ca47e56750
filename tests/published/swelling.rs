//! How much anodes swell.
//!
//! - Michael et al., "A Dilatometric Study of Graphite Electrodes during Cycling with X-ray Computed Tomography", J.
//!   Electrochem. Soc. 168 (2021) 010507 (abstract read, place from memory): a graphite electrode gained close to 9 % in
//!   thickness at its first lithiation, and its porosity stayed mostly as it was. Nothing presses on it there.
//! - Gonzalez et al., J. Power Sources 269 (2014) 334 (highlights read): silicon particles gain up to 290 % in volume
//!   when fully lithiated.
//! - Graphite particles gain about 13 % when fully lithiated (meeting abstract on void volume, read; authors not given
//!   where it was read).

use super::say::{relative, within};
use roulade::cell::draft::Draft;
use roulade::material;
use serde_json::json;

/// Nothing taken up by pores, a full host: all of the growth goes into thickness. Recipe and porosity of the electrode
/// are not in the abstract; 96 % of graphite at 30 % pores is practice, from memory, hence two points of margin.
#[test]
fn a_graphite_electrode_that_nothing_presses() {
    let sheet = json!({
        "can": { "diameter": "21 mm", "height": "70 mm" },
        "cathode": { "mix": [{ "material": "NMC811" }, { "material": "PVDF", "share": "3 %" }] },
        "anode": {
            "mix": [{ "material": "graphite" }, { "material": "PVDF", "share": "4 %" }],
            "porosity": "30 %",
            "expansion_into_pores": "0 %",
        },
    });
    let design = Draft::parse(&sheet.to_string()).unwrap().design().unwrap();
    let strain = design.blueprint().swelling.unwrap().strain;
    within("thickness gained, %", 9.0, 100.0 * strain, 2.0);
}

#[test]
fn particles() {
    let gained = |name: &str| material::find(name).unwrap().expansion.unwrap().volume.uncertain.value;
    // "Up to" 290 %: an upper end.
    relative("silicon, full", 2.90, gained("silicon"), 0.05);
    relative("graphite, full", 0.13, gained("graphite"), 0.05);
}
