//! The reconciled design as a sheet like the one it started from.

use super::found::Moved;
use crate::cell::draft::Draft;
use crate::cell::draft::Input;
use crate::cell::draft::stand_in;
use crate::quantity::notation;
use crate::quantity::problem::Problems;
use crate::sheet::{Correlated, Shape, Sheet};
use nalgebra::DMatrix;
use roulade_stats::uncertain::Origin;
use serde_json::{Map, Value, json};

/// Changes below this part of the uncertainty do not show, and the entry stays as it was written.
const SHOWS: f64 = 0.01;
/// A reading made an entry what it is where it took more than this part off its variance.
const READ: f64 = 0.5;
/// Quantities whose coefficients are all smaller than this are as good as independent.
const TOGETHER: f64 = 0.02;

/// The sheet with every entry that moved; coefficients of correlation stand in its section, in the place of those that were
/// there.
pub(super) fn rewritten(
    sheet: &Sheet,
    draft: &Draft,
    moved: &[Moved],
    covariance: &DMatrix<f64>,
) -> Result<Sheet, Problems> {
    let mut sheet = sheet.clone();
    let touched: Vec<(&Moved, &Input)> =
        moved.iter().filter(|m| m.shows()).filter_map(|m| Some((m, draft.inputs().get(m.input)?))).collect();
    if sheet.parts.is_none() && touched.iter().any(|(_, input)| input.path.starts_with("parts[")) {
        sheet.parts = Some(stand_in(&sheet));
    }
    sheet.correlated = correlated(draft, moved, covariance);
    // Plain data become JSON.
    let mut value = serde_json::to_value(&sheet).unwrap_or_default();
    for (moved, input) in touched {
        if let Some(slot) = slot(&mut value, &input.path) {
            *slot = entry(moved, input);
        }
    }
    let mut problems = Problems::default();
    let rewritten = Sheet::whole(value, &mut problems);
    problems.or_else_ok(rewritten.unwrap_or_default())
}

impl Moved {
    /// Whether the readings changed it by as much as one sees.
    pub fn shows(&self) -> bool {
        let before = self.before.u();
        (self.after.value - self.before.value).abs() > SHOWS * before
            || self.after.u() < (1.0 - SHOWS) * before
    }

    /// Share of its variance that the readings took off.
    pub fn share(&self) -> f64 {
        let ratio = self.after.u() / self.before.u();
        (1.0 - ratio * ratio).clamp(0.0, 1.0)
    }
}

fn entry(moved: &Moved, input: &Input) -> Value {
    let from = match input.origin {
        _ if moved.share() > READ => Origin::Measured,
        Origin::Default => Origin::Assumed,
        other => other,
    };
    let remark = input.remark.clone().unwrap_or_else(|| format!("reconciled; before: {}", input.text()));
    json!({ "value": notation::print_known(&moved.after, input.unit), "from": from, "remark": remark })
}

/// Which quantities move together by now, and how much.
fn correlated(draft: &Draft, moved: &[Moved], covariance: &DMatrix<f64>) -> Option<Correlated> {
    let between = |i: usize, j: usize| {
        let (a, b) = (covariance[(i, i)].sqrt(), covariance[(j, j)].sqrt());
        if a > 0.0 && b > 0.0 { covariance[(i, j)] / a / b } else { 0.0 }
    };
    let count = moved.len();
    let kept: Vec<usize> =
        (0..count).filter(|i| (0..count).any(|j| *i != j && between(*i, j).abs() > TOGETHER)).collect();
    let name = |i: &usize| {
        let input = draft.inputs().get(moved.get(*i)?.input)?;
        // A material of the table gets its place in the sheet's list only now.
        Some(if input.path.starts_with("materials[") {
            input.key.to_string()
        } else {
            input.path.to_string()
        })
    };
    let rounded = |r: f64| (r * 1e12).round_ties_even() / 1e12;
    let row = |(k, i): (usize, &usize)| kept.iter().take(k).map(|j| rounded(between(*i, *j))).collect();
    (kept.len() > 1).then(|| Correlated {
        paths: Some(kept.iter().filter_map(name).collect()),
        coefficients: Some(kept.iter().enumerate().skip(1).map(row).collect()),
        unknown: Map::new(),
    })
}

/// Where an entry stands, or would.
fn slot<'a>(sheet: &'a mut Value, path: &str) -> Option<&'a mut Value> {
    if let Some((name, what)) = path.strip_prefix("materials[").and_then(|rest| rest.split_once("]."))
        && name.parse::<usize>().is_err()
    {
        let list = sheet.as_object_mut()?.entry("materials").or_insert_with(|| json!([])).as_array_mut()?;
        let at = list.iter().position(|material| material.get("name").and_then(Value::as_str) == Some(name));
        let at = at.unwrap_or_else(|| {
            list.push(json!({ "name": name }));
            list.len() - 1
        });
        return Some(list.get_mut(at)?.as_object_mut()?.entry(what.to_owned()).or_insert(Value::Null));
    }
    let mut at = sheet;
    for step in path.split('.') {
        let (key, index) = match step.split_once('[') {
            Some((key, rest)) => (key, rest.strip_suffix(']').and_then(|i| i.parse::<usize>().ok())),
            None => (step, None),
        };
        if at.is_null() {
            *at = json!({});
        }
        at = at.as_object_mut()?.entry(key.to_owned()).or_insert(Value::Null);
        if let Some(index) = index {
            at = at.get_mut(index)?;
        }
    }
    Some(at)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn entries_find_their_places() {
        let mut sheet = json!({ "can": {}, "parts": [{ "name": "lid" }], "materials": [{ "name": "A" }] });
        for path in ["can.wall", "parts[0].height", "separator.porosity", "cathode.foil.thickness"] {
            *slot(&mut sheet, path).unwrap() = json!(path);
        }
        for path in ["materials[A].density", "materials[0].capacity", "materials[electrolyte].density"] {
            *slot(&mut sheet, path).unwrap() = json!(path);
        }
        assert_eq!(sheet["parts"][0]["height"], "parts[0].height");
        assert_eq!(sheet["cathode"]["foil"]["thickness"], "cathode.foil.thickness");
        assert_eq!(sheet["materials"][0]["density"], "materials[A].density");
        assert_eq!(sheet["materials"][0]["capacity"], "materials[0].capacity");
        assert_eq!(
            sheet["materials"][1],
            json!({ "name": "electrolyte", "density": "materials[electrolyte].density" })
        );
        assert!(slot(&mut sheet, "parts[7].height").is_none());
    }
}
