//! What must hold between the answers to two sheets, whatever they are: who changes a sheet in one way knows which way its
//! figures go, or that they stay.
//!
//! The sheets are those of `fuzz`: cells of the demo and the least sheet there is, a few of their entries changed.

mod defaults;
mod directions;
mod sameness;

use crate::fuzz::luck::Luck;
use crate::fuzz::sheets::Bases;
use roulade::cell::draft::Draft;
use roulade::cell::figures::{Worked, definition};
use serde_json::Value;

/// The sheet of a number, and what it makes; nothing where it is no cell.
fn cell(number: u64) -> Option<(Value, Draft, Worked)> {
    let sheet = Bases::new().sheet(&mut Luck::of(number));
    let draft = Draft::parse(&sheet.to_string()).ok()?;
    let worked = Worked::at(&draft, &draft.values()).ok()?;
    Some((sheet, draft, worked))
}

/// The cell of a sheet.
fn worked(sheet: &Value) -> Option<Worked> {
    let draft = Draft::parse(&sheet.to_string()).ok()?;
    Worked::at(&draft, &draft.values()).ok()
}

/// A figure, SI.
fn figure(worked: &Worked, id: &str) -> f64 {
    let figure = definition(id).unwrap_or_else(|| panic!("{id} is a figure"));
    (figure.of)(worked).unwrap_or(f64::NAN)
}

/// Figures that every cell has.
const ALL: [&str; 12] = [
    "capacity",
    "energy",
    "mean_voltage",
    "volumetric",
    "gravimetric",
    "mass",
    "envelope",
    "roll.cathode_length",
    "roll.turns",
    "balance.n_to_p",
    "resistance",
    "electrolyte.mass",
];

/// What differs between two cells by more than this part of it.
fn apart(a: &Worked, b: &Worked, by: f64) -> Vec<String> {
    let differ = |id: &&&str| {
        let (a, b) = (figure(a, id), figure(b, id));
        !(a.is_nan() && b.is_nan() || (a - b).abs() <= by * a.abs().max(b.abs()))
    };
    ALL.iter().filter(differ).map(|id| format!("{id}: {} and {}", figure(a, id), figure(b, id))).collect()
}
