//! Problems as they are told to programs.

use roulade::quantity::problem::Problem;
use serde::Serialize;

/// A problem with its wording.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Diagnostic {
    /// Path in the sheet, or line and column.
    pub place: String,
    /// What was found there.
    pub found: String,
    /// What would be right.
    pub expected: String,
    /// All of it in one line.
    pub text: String,
}

impl From<&Problem> for Diagnostic {
    fn from(problem: &Problem) -> Self {
        let Problem { place, found, expected } = problem.clone();
        Self { place, found, expected, text: problem.to_string() }
    }
}
