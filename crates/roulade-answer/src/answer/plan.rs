//! How many trials are drawn, and from which seed.

use roulade::cell::draft::Draft;
use roulade::quantity::problem::Problem;
use roulade::study::effort;
use roulade_stats::propagation::sample::{self, Plan};

/// What is drawn where nothing is said.
const DRAWS: u32 = 100_000;
/// How many trials one answer holds, of cells with so many entries, of which so many move together.
fn most(entries: usize, together: usize) -> u32 {
    let most = u32::try_from(effort::cells(entries, together)).unwrap_or(u32::MAX);
    most.max(sample::FEWEST)
}

/// That number for an ordinary cell.
fn ordinary() -> u32 {
    most(0, 0)
}

/// A plan from what was asked, for so many entries, of which so many move together.
///
/// # Errors
/// Where there are too few draws or too many.
pub(super) fn plan(
    draws: Option<u32>,
    seed: Option<u64>,
    (entries, together): (usize, usize),
) -> Result<Plan, Problem> {
    let most = most(entries, together);
    let draws = draws.unwrap_or(DRAWS.min(most));
    if (sample::FEWEST..=most).contains(&draws) {
        Ok(Plan { draws, seed: seed.unwrap_or(1) })
    } else {
        let mut expected = format!("from {} to {most} trials", sample::FEWEST);
        if most < ordinary() {
            expected += " for so many entries";
        }
        Err(Problem::new("draws", draws.to_string(), expected))
    }
}

/// Entries of a cell or two, and how many of them move together.
pub(super) fn entries(first: &Draft, second: Option<&Draft>) -> (usize, usize) {
    let of = |draft: &Draft| (draft.inputs().len(), draft.correlation().inputs().len());
    let ((a, b), (c, d)) = (of(first), second.map_or((0, 0), of));
    (a + c, b + d)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fewer_trials_where_each_costs_more() {
        assert_eq!((most(110, 0), most(260, 0), most(516, 20)), (400_000, 400_000, 199_616));
        assert_eq!(plan(None, None, (220, 0)).unwrap().draws, DRAWS);
        let drawn = plan(None, None, (700, 398)).unwrap().draws;
        assert!((30_000..40_000).contains(&drawn), "{drawn}");
        let problem = plan(Some(400_000), None, (700, 398)).unwrap_err();
        assert!(problem.expected.contains("for so many entries"), "{problem}");
        assert!(plan(Some(sample::FEWEST), None, (100_000, 9_000)).is_ok());
    }
}
