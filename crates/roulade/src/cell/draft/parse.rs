//! A draft straight from JSON text: faults of shape and of number told together, and once.

use super::Draft;
use crate::material::CurveCache;
use crate::quantity::problem::Problems;
use crate::sheet::read;

impl Draft {
    /// Reads a sheet from JSON text and fills its gaps.
    ///
    /// # Errors
    /// Everything wrong with it.
    pub fn parse(json: &str) -> Result<Self, Problems> {
        Self::parse_with(json, &CurveCache::default())
    }

    /// The same, with curves of the table from a cache: for many sheets.
    ///
    /// # Errors
    /// Everything wrong with it.
    pub fn parse_with(json: &str, curves: &CurveCache) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        let Some(sheet) = read::as_far_as_shaped(json, &mut problems)? else { return Err(problems) };
        // An item that was left out of a list would shift the places of all after it.
        if problems.0.iter().any(|problem| problem.place.ends_with(']')) {
            return Err(problems);
        }
        match Self::read_with(&sheet, curves) {
            Ok(draft) => problems.or_else_ok(draft),
            Err(more) => {
                // What was left out for its shape is missed no second time.
                let places: Vec<String> = problems.0.iter().map(|problem| problem.place.clone()).collect();
                let again = |place: &str| {
                    places.iter().any(|at| at.starts_with(place) || place.starts_with(at.as_str()))
                };
                problems.0.extend(more.0.into_iter().filter(|problem| !again(&problem.place)));
                Err(problems)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::with;
    use serde_json::{Value, json};

    fn places(sheet: &Value) -> Vec<String> {
        Draft::parse(&sheet.to_string()).unwrap_err().0.into_iter().map(|problem| problem.place).collect()
    }

    #[test]
    fn faults_of_shape_and_of_number_are_reported_together_and_once() {
        let both =
            with(&[("can/wall", json!(5)), ("can/bottom", json!("0.6 g")), ("cathode/foil", json!("thin"))]);
        assert_eq!(places(&both), ["can.wall", "cathode.foil", "can.bottom"]);
        // The diameter is missing for its shape alone.
        assert_eq!(places(&with(&[("can/diameter", json!(46))])), ["can.diameter"]);
        // A list with a hole would shift every place after it.
        let hole = with(&[("parts/0", json!(3)), ("parts/1/mass", json!("4 mm"))]);
        assert_eq!(places(&hole), ["parts[0]"]);
    }
}
