//! Problems as they are told to programs.

use roulade::quantity::problem::Problem;
use serde::Serialize;

/// The place of what is wrong with all that was given, and with no entry of it.
const WHOLE: &str = "input";

/// A problem with its wording.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Diagnostic {
    /// Path in the sheet, or line and column; "input" for all that was given.
    pub place: String,
    /// What was found there.
    pub found: String,
    /// What would be right, as it reads after "expected".
    pub expected: String,
    /// All of it in one line.
    pub text: String,
}

impl From<&Problem> for Diagnostic {
    fn from(problem: &Problem) -> Self {
        let mut problem = problem.clone();
        if problem.place.is_empty() {
            WHOLE.clone_into(&mut problem.place);
        }
        let text = problem.to_string();
        let Problem { place, found, expected } = problem;
        Self { place, found, expected, text }
    }
}
