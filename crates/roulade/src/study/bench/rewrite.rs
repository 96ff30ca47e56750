//! The reconciled design as a sheet like the one it started from.

use super::found::Moved;
use crate::cell::draft::Draft;
use crate::cell::draft::Input;
use crate::cell::draft::stand_in;
use crate::cell::figures::definition;
use crate::quantity::problem::Problems;
use crate::sheet::defaults::field;
use crate::sheet::shape::digits;
use crate::sheet::{Correlated, Edit, Sheet, all_applied, write};
use crate::study::readings::quantity::{Asked, Of};
use nalgebra::DMatrix;
use roulade_stats::uncertain::{Origin, Spread, Uncertain};
use serde_json::{Map, Value, json};

/// Changes below this part of the uncertainty do not show.
const SHOWS: f64 = 0.01;
/// Changes below this part of it are the noise of the arithmetic, and the entry stays as it was written.
const NOISE: f64 = 1e-9;
const CORRELATED: &str = "correlated";
/// A reading made an entry what it is where it took more than this part off its variance.
const READ: f64 = 0.5;
/// Quantities whose coefficients are all smaller than this are as good as independent.
const TOGETHER: f64 = 0.02;

/// The sheet with every entry that moved, as it was fitted: what is read from it is what was found, to the last bits of a
/// number. Coefficients of correlation stand in its section, in the place of those that were there.
pub(super) fn rewritten(
    sheet: &Sheet,
    draft: &Draft,
    moved: &[Moved],
    covariance: &DMatrix<f64>,
    held: &[(&'static str, f64)],
) -> Result<Sheet, Problems> {
    let mut edits = vec![Edit::Clear { key: CORRELATED.to_owned() }];
    // What was fitted is the cell as built.
    edits.extend(draft.edits_to_as_built());
    for moved in moved.iter().filter(|moved| moved.moves()) {
        if let Some(input) = draft.inputs().get(moved.input).filter(|input| stands(input)) {
            edits.push(Edit::Set { key: input.key.to_string(), to: entry(moved, input) });
        }
    }
    let mut sheet = sheet.clone();
    if sheet.parts.is_none() && edits.iter().any(|edit| edit.key().starts_with("parts[")) {
        sheet.parts = Some(stand_in(&sheet));
    }
    let together = correlated(draft, moved, covariance, held);
    // Plain data become JSON.
    let section = together.and_then(|section| serde_json::to_value(section).ok());
    edits.extend(section.map(|to| Edit::Set { key: CORRELATED.to_owned(), to }));
    all_applied(&sheet, &edits)
}

impl Moved {
    /// Whether the readings changed it by as much as one sees.
    pub fn shows(&self) -> bool {
        let before = self.before.u();
        (self.after.value - self.before.value).abs() > SHOWS * before
            || self.after.u() < (1.0 - SHOWS) * before
    }

    /// Whether they changed it at all.
    fn moves(&self) -> bool {
        let before = self.before.u();
        (self.after.value - self.before.value).abs() > NOISE * before
            || (self.after.u() - before).abs() > NOISE * before
    }

    /// Share of its variance that the readings took off.
    pub fn share(&self) -> f64 {
        let ratio = self.after.u() / self.before.u();
        (1.0 - ratio * ratio).clamp(0.0, 1.0)
    }
}

/// Figures by which trials keep to what was read, of quantities that a design predicts from several entries. Those that are the sum
/// of a few are straight enough without. The widest diameter of the jelly roll is left out: it goes up and down with every turn, a
/// fit takes it along a straight line, and trials that kept to it by its slope at one place would be led astray.
const FIGURES: &[(&str, &str)] = &[
    ("void height", "stack.void_height"),
    ("jelly roll diameter", "roll.diameter"),
    ("radial clearance", "roll.radial_clearance"),
    ("turns of cathode", "roll.cathode_turns"),
    ("turns of the jelly roll", "roll.turns"),
    ("cathode length", "roll.cathode_length"),
    ("anode length", "roll.anode_length"),
    ("inner separator length", "roll.inner_separator_length"),
    ("outer separator length", "roll.outer_separator_length"),
    ("cathode width", "stack.cathode_width"),
    ("anode width", "stack.anode_width"),
    ("separator width", "stack.separator_width"),
    ("cathode porosity", "cathode.porosity"),
    ("anode porosity", "anode.porosity"),
    ("cell mass", "mass"),
    ("electrolyte mass", "electrolyte.mass"),
    ("capacity", "capacity"),
    ("energy", "energy"),
    ("mean voltage", "mean_voltage"),
];

/// The figure that a quantity is, with the uncertainty of all its readings together; `None` for an entry of the sheet, which
/// follows its readings straight, and for what is no figure.
pub(super) fn held(draft: &Draft, asked: &Asked, u: f64) -> Option<(&'static str, f64)> {
    if asked.input(draft).is_some() {
        return None;
    }
    let id = match asked.quantity.of {
        Of::Figure(id) => id,
        _ => FIGURES.iter().find(|(key, _)| *key == asked.quantity.key)?.1,
    };
    Some((id, digits(u / definition(id)?.unit.in_si())))
}

fn entry(moved: &Moved, input: &Input) -> Value {
    let from = match input.origin {
        _ if moved.share() > READ => Origin::Measured,
        Origin::Default => Origin::Assumed,
        other => other,
    };
    let remark = input.remark.clone().unwrap_or_else(|| format!("reconciled; before: {}", input.text()));
    json!({ "value": write::number(&as_it_was(moved, input), input.unit), "from": from, "remark": remark })
}

/// What readings hardly touched stays of its kind: between bounds, where it lay between bounds and still may.
fn as_it_was(moved: &Moved, input: &Input) -> Uncertain {
    let half = moved.after.u() * 3f64.sqrt();
    let (low, high) = (moved.after.value - half, moved.after.value + half);
    let may = field(&input.key).is_none_or(|field| field.bound.holds(low) && field.bound.holds(high));
    match input.uncertain.spread {
        Spread::Range { .. } if !moved.shows() && may => Uncertain::range(low, high),
        _ => moved.after,
    }
}

/// Whether an entry has a place in the sheet. A component that the ordinary mix brings in is called by its name in paths
/// too and has none: it stays at what is ordinary.
fn stands(input: &Input) -> bool {
    input.path.split_once(".mix[").is_none_or(|(_, rest)| rest.starts_with(|c: char| c.is_ascii_digit()))
}

/// Which quantities move together by now, and how much.
fn correlated(
    draft: &Draft,
    moved: &[Moved],
    covariance: &DMatrix<f64>,
    held: &[(&'static str, f64)],
) -> Option<Correlated> {
    let between = |i: usize, j: usize| {
        let (a, b) = (covariance[(i, i)].sqrt(), covariance[(j, j)].sqrt());
        if a > 0.0 && b > 0.0 { covariance[(i, j)] / a / b } else { 0.0 }
    };
    let count = moved.len();
    let standing = |i: &usize| moved.get(*i).and_then(|m| draft.inputs().get(m.input)).is_some_and(stands);
    let standing: Vec<usize> = (0..count).filter(standing).collect();
    let kept: Vec<usize> = standing
        .iter()
        .copied()
        .filter(|i| standing.iter().any(|j| i != j && between(*i, *j).abs() > TOGETHER))
        .collect();
    // By name: a material of the table gets its place in the sheet's list only now.
    let name = |i: &usize| draft.inputs().get(moved.get(*i)?.input).map(|input| input.key.to_string());
    let row = |(k, i): (usize, &usize)| kept.iter().take(k).map(|j| digits(between(*i, *j))).collect();
    (kept.len() > 1).then(|| Correlated {
        paths: Some(kept.iter().filter_map(name).collect()),
        coefficients: Some(kept.iter().enumerate().skip(1).map(row).collect()),
        held: (!held.is_empty()).then(|| held.iter().map(|(figure, _)| (*figure).to_owned()).collect()),
        held_u: (!held.is_empty()).then(|| held.iter().map(|(_, u)| *u).collect()),
        unknown: Map::new(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::{draft, with};

    /// What is read from the new sheet is what was fitted, coefficients included.
    #[test]
    fn what_is_written_is_what_was_fitted() {
        let changes = [
            ("void_height", json!("0 .. 1 mm")),
            ("cathode/width", json!(null)),
            ("cathode/loading", json!("20 ± 0.3 mg/cm2")),
            ("parts/1/mass", json!("4 ± 0.1 g")),
        ];
        let draft = draft(&changes);
        let at = |key: &str| draft.inputs().iter().position(|input| input.key == key).unwrap();
        let move_to = |key: &str, value: f64, u: f64| {
            let input = at(key);
            let before = draft.inputs()[input].uncertain;
            Moved { input, before, after: Uncertain::standard(value, u), freed: false, stopped: 0 }
        };
        let moved = [
            move_to("void_height", 1e-4 / 3.0, 1e-5 / 7.0),
            move_to("cathode.loading", 0.2 + 1e-3 / 3.0, 1e-3 / 7.0),
            move_to("parts[plate].mass", 4e-3 * (1.0 + 1e-10), 1e-4 * (1.0 - 1e-4)),
            move_to("materials[C].density", 4999.0 + 1.0 / 3.0, 0.1),
        ];
        // All but one and the same: rounded to six digits they could not be together.
        let u: Vec<f64> = moved.iter().map(|moved| moved.after.u()).collect();
        let cosine: f64 = 1.0 - 1.0 / 3e7;
        let covariance = DMatrix::from_fn(4, 4, |i, j| u[i] * u[j] * if i == j { 1.0 } else { cosine });
        let sheet = Sheet::parse(&with(&changes).to_string()).unwrap();
        let written = rewritten(&sheet, &draft, &moved, &covariance, &[]).unwrap();
        let read = Draft::read(&Sheet::parse(&write::text(&written)).unwrap()).unwrap();
        for (n, moved) in moved.iter().enumerate() {
            let key = &draft.inputs()[moved.input].key;
            let i = read.inputs().iter().position(|input| input.key == *key).unwrap();
            let (found, wanted) = (read.inputs()[i].uncertain, moved.after);
            assert!((found.value - wanted.value).abs() <= f64::EPSILON * wanted.value.abs(), "{key}");
            assert!((found.u() - wanted.u()).abs() <= f64::EPSILON * wanted.u(), "{key}");
            if n > 0 {
                let first = read.inputs().iter().position(|input| input.key == "void_height").unwrap();
                assert!((read.correlation().between(first, i) - cosine).abs() < 1e-15);
            }
        }
    }
}
