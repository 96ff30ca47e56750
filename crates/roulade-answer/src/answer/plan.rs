//! How many trials are drawn, and from which seed.

use roulade::quantity::problem::Problem;
use roulade_stats::propagation::sample::{self, Plan};

/// What is drawn where nothing is said.
const DRAWS: u32 = 100_000;
/// Most: some seconds of work on one core.
const MOST: u32 = 500_000;

/// A plan from what was asked.
///
/// # Errors
/// Where there are too few draws or too many.
pub(super) fn plan(draws: Option<u32>, seed: Option<u64>) -> Result<Plan, Problem> {
    let draws = draws.unwrap_or(DRAWS);
    if (sample::FEWEST..=MOST).contains(&draws) {
        Ok(Plan { draws, seed: seed.unwrap_or(1) })
    } else {
        let expected = format!("from {} to {} trials", sample::FEWEST, MOST);
        Err(Problem::new("draws", draws.to_string(), expected))
    }
}
