//! The conventions a figure may have been declared under: rate, minimum or typical, cut-offs, temperature.
//!
//! Each changes the figure by a factor, that of the cell at its best values, and the draws are taken to change by the same.

use super::basis::{On, loaded, under};
use super::case::Case;
use super::declared::{Standing, Verdict};
use crate::quantity::units::Unit;

/// A claim under another convention.
#[derive(Clone, Debug)]
pub struct Convention {
    /// Which: "rated at 0.2 It".
    pub name: String,
    /// What it means.
    pub note: &'static str,
    /// The figure under it at the best values, SI.
    pub best: f64,
    /// Chance that the claim holds under it.
    pub chance: f64,
    /// What becomes of it.
    pub verdict: Verdict,
}

/// Rates at which figures are declared, 1/h: 0.2 It is the reference of IEC 61960-3 (from memory).
const RATES: [(f64, &str); 3] = [
    (0.2, "the reference rate of IEC 61960-3 (from memory)"),
    (0.5, "a common rate of data sheets: common practice, no source"),
    (1.0, "emptied within the hour"),
];
/// Cut-offs and temperatures of data sheets: common practice, no source.
const DOWN_TO: [f64; 2] = [2.5, 3.0];
const CHARGED_TO: [f64; 2] = [4.1, 4.2];
const AT: [f64; 2] = [20.0, 25.0];
const CUT_OFF: &str =
    "another discharge cut-off voltage, as data sheets state it: common practice, no source";
const CHARGE: &str = "another charge rule, as data sheets state it: common practice, no source";
const WARMTH: &str = "the temperature of the test; at open circuit the model knows none";

/// The claim under each convention that would change its figure and that it does not state; none where it compares two cells.
pub(super) fn each(
    case: &Case,
    values: &[f64],
    best: f64,
    judged: impl Fn((f64, f64)) -> (f64, Verdict),
    (low, high): (f64, f64),
) -> Vec<Convention> {
    let claim = &case.claim;
    if claim.over.is_some() || best.is_nan() || best <= 0.0 {
        return Vec::new();
    }
    let at = |path: &str| case.cell.inputs().iter().position(|input| input.path == path);
    // The figure with one input otherwise, and by other conditions of load.
    let with = |path: &str, value: f64, on: On| {
        let mut values = values.to_vec();
        *values.get_mut(at(path)?)? = value;
        let (own, _) = case.worked(&values).ok()?;
        Some(case.value(on, &own, None)).filter(|figure| figure.is_finite())
    };
    let own = On { figure: claim.figure, basis: claim.basis };
    let mut found: Vec<Convention> = Vec::new();
    let mut add = |name: String, note: &'static str, figure: Option<f64>| {
        if let Some(figure) = figure.filter(|figure| (figure / best - 1.0).abs() > 5e-4) {
            let factor = figure / best;
            let (chance, verdict) = judged((low / factor, high / factor));
            found.push(Convention { name, note, best: figure, chance, verdict });
        }
    };
    if let Some(figure) = under(claim.figure, true) {
        for (rate, note) in RATES.into_iter().filter(|_| claim.rate.is_none()) {
            let on = On { figure, basis: claim.basis };
            add(
                format!("rated at {rate} It"),
                note,
                with("current_path.c_rate", rate * Unit::PerHour.in_si(), on),
            );
        }
    }
    if claim.standing.is_none()
        && matches!(claim.figure.id, "capacity" | "loaded_capacity" | "energy" | "loaded_energy")
    {
        add(
            "minimum".to_owned(),
            "2 % below what is typical: common practice, no source",
            Some(Standing::Minimum.factor() * best),
        );
    }
    let curves = at("voltage.nominal").is_none() && loaded(claim.figure).is_some();
    for limit in DOWN_TO.into_iter().filter(|_| curves && claim.window.lower.is_none()) {
        add(format!("down to {limit} V"), CUT_OFF, with("voltage.discharge_cut_off", limit, own));
    }
    // An olivine is charged far below, and this is no rule for it.
    let charged = at("voltage.charge_cut_off").and_then(|i| values.get(i)).copied().unwrap_or(0.0);
    for limit in CHARGED_TO.into_iter().filter(|_| curves && claim.window.upper.is_none() && charged > 4.0) {
        add(format!("charged to {limit} V"), CHARGE, with("voltage.charge_cut_off", limit, own));
    }
    for temperature in AT.into_iter().filter(|_| claim.temperature.is_none()) {
        add(format!("at {temperature} °C"), WARMTH, with("current_path.temperature", temperature, own));
    }
    found
}
