//! Which two cells are taken apart, and how.

use crate::quantity::problem::{Problem, Problems};
use crate::sheet::{Sheet, unknown_keys};
use crate::study::attribute::asked::{Changes, Prices};
use roulade_stats::shapley::Orders;
use roulade_stats::uncertain::Uncertain;

/// Pairs of cells that are drawn where nothing is said.
pub const DRAWS: u32 = 200;
/// Most pairs that are drawn.
pub const MOST_DRAWS: u32 = 100_000;
/// Trials that must have an answer, or the uncertainty is that to first order.
pub const FEWEST_ANSWERED: usize = 20;
/// Cells of ordinary size that are worked out for one answer: some seconds of work on one core.
const MOST_CELLS: usize = 1_200_000;
/// Inputs of two cells of ordinary size.
const ORDINARY_INPUTS: usize = 250;

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

/// The orders that are taken, as many as some seconds hold: each corner is worked out at the values of each trial, or of each
/// input moved up and down.
///
/// # Errors
/// Where there are too many trials for so many corners.
pub(super) fn orders(
    question: &Question<'_>,
    changes: usize,
    known: &[Uncertain],
) -> Result<Orders, Problem> {
    let most = MOST_CELLS * ORDINARY_INPUTS / known.len().max(ORDINARY_INPUTS);
    let uncertain = known.iter().filter(|known| known.u() > 0.0).count();
    let times = if question.draws == 0 { 2 * uncertain + 1 } else { question.draws.min(DRAWS) as usize };
    let orders = Orders::within(changes, u64::from(question.seed), most / times);
    let most_draws = (most / orders.corners()).max(DRAWS as usize);
    if question.draws as usize > most_draws {
        let found = format!("{} trials of {} cells each", question.draws, orders.corners());
        let expected =
            format!("at most {most_draws} for so many changes; or some of the changes put together");
        return Err(Problem::new("draws", found, expected));
    }
    Ok(orders)
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
