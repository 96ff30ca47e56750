//! Whole cells by tabs and by their edges.
//!
//! - Waldmann, Scurtu, Brändle, Wohlfahrt-Mehrens, Processes 9 (2021) 1908, doi 10.3390/pr9111908, read as a copy of its
//!   text: pilot-built 21 × 70 cells of the same electrodes, pulses of 1 s. Welded tabs 39.4 ± 0.4 mΩ, tabs cut from the
//!   foil itself 48.2 ± 0.1 mΩ; the larger cross-section of the welded tabs is named as the main reason. Neither the
//!   tabs' sizes nor the electrodes' are in the part that was read: the crate's defaults stand in, the same width for
//!   both kinds. That the figures come so close is chance; the margins say what the defaults are good for.
//! - A market report of November 2024 (trade press, read; no measurement named): a cell fed along its edges has some 70 %
//!   less resistance than "traditional" ones. Which cells, and how measured, is not said.

use super::accuracy::{Expect::Agreement, Published, Row};
use super::cells::{Answered, practice, with};
use super::say::{say, within};
use serde_json::{Value, json};

fn by(path: &Value) -> Answered {
    Answered::of(&with(practice("21 mm", "70 mm"), &json!({ "current_path": path })))
}

fn resistance(cell: &Answered) -> f64 {
    cell.figure("resistance").value
}

fn tabs_of_foil() -> Answered {
    by(&json!({
        "cathode": { "tabs": [{ "thickness": "12 .. 16 µm", "welded": "edge" }] },
        "anode": { "tabs": [{ "thickness": "6 .. 10 µm", "material": "copper", "welded": "edge" }] },
    }))
}

/// The resistances of this file.
pub(super) fn rows() -> Vec<Row> {
    let row = |what, published, cell: &Answered| {
        let why = "electrodes and tabs are defaults, and so is the resistance of coatings and electrolyte";
        let published = Published::printed(published);
        let figure = cell.figure("resistance");
        Row::of(what, "resistance, mΩ", (published, "read as quoted"), figure, (Agreement, why))
    };
    vec![
        row("21 × 70 (Waldmann 2021), welded tabs", "39.4", &by(&json!({}))),
        row("21 × 70 (Waldmann 2021), tabs of foil", "48.2", &tabs_of_foil()),
    ]
}

#[test]
fn tabs_of_foil_cost_some_milliohms() {
    let more = resistance(&tabs_of_foil()) - resistance(&by(&json!({})));
    say("tabs of foil over welded tabs, mΩ", 48.2 - 39.4, more);
    // Their widths are not known: the sign, and the size within a factor of two.
    assert!((4.4..17.6).contains(&more), "{more}");
}

#[test]
fn a_cell_fed_along_its_edges_has_far_less() {
    let tabs = by(&json!({}));
    let edges = by(&json!({ "cathode": { "feed": "edge" }, "anode": { "feed": "edge" } }));
    let less = 100.0 * (1.0 - resistance(&edges) / resistance(&tabs));
    // What the edges cannot lower, coatings and electrolyte, is more than half of this cell; a thinner coating has less
    // of it, and how thick those of the published cell are is not known.
    within("edges instead of tabs, % less", 70.0, less, 30.0);
    let metal = |cell: &Answered| cell.figure("resistance.metal").value;
    let ratio = metal(&tabs) / metal(&edges);
    assert!(ratio > 10.0, "metals alone: {ratio}");
    assert!(edges.figure("loaded_energy").value > tabs.figure("loaded_energy").value);
}
