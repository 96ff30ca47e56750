//! Which two cells are taken apart, and how.

use crate::quantity::problem::{Problem, Problems};
use crate::sheet::{Sheet, unknown_keys};
use crate::study::attribute::asked::{Changes, Prices};

/// Pairs of cells that are drawn where nothing is said.
pub const DRAWS: u32 = 200;
/// Most pairs that are drawn.
pub const MOST_DRAWS: u32 = 100_000;

/// Two sheets, and how their difference is to be taken apart.
#[derive(Clone, Copy, Debug)]
pub struct Question<'a> {
    /// Where the changes start.
    pub first: &'a Sheet,
    /// Where they lead.
    pub second: &'a Sheet,
    /// Changes by hand.
    pub changes: Option<&'a Changes>,
    /// What things cost.
    pub prices: Option<&'a Prices>,
    /// Pairs of cells to draw; with none, uncertainties are carried through to first order.
    pub draws: u32,
    /// Seed of all that is drawn.
    pub seed: u32,
}

pub(super) fn check(question: &Question<'_>) -> Result<(), Problems> {
    let mut problems = Problems::default();
    if question.draws == 1 || question.draws > MOST_DRAWS {
        let found = format!("{}", question.draws);
        problems.push(Problem::new(
            "draws",
            found,
            format!("0 for first order, or 2 to {MOST_DRAWS} trials"),
        ));
    }
    if let Some(prices) = question.prices {
        unknown_keys(&mut problems, "prices", &prices.unknown, Prices::KEYS);
    }
    problems.or_else_ok(())
}
