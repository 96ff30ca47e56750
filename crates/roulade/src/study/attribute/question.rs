//! Which two cells are taken apart, and how.

use crate::quantity::problem::{Problem, Problems};
use crate::sheet::{Sheet, unknown_keys};
use crate::study::attribute::asked::{Changes, Prices};
use crate::study::effort;
use roulade_stats::shapley::Orders;
use roulade_stats::uncertain::Uncertain;

/// Pairs of cells that are drawn where nothing is said.
pub const DRAWS: u32 = 200;
/// Most pairs that are drawn.
pub const MOST_DRAWS: u32 = 100_000;
/// Trials that must have an answer, or the uncertainty is that to first order.
pub const FEWEST_ANSWERED: usize = 20;
/// Cells of ordinary size that are worked out for one answer: some seconds of work on one core.
const MOST_CELLS: usize = 820_000;
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
    /// How many answers share what one holds: 1 for this by itself, more where it is part of a report.
    pub sharing: u32,
}

/// What is worked out: each corner of the orders at the values of each trial, or of each input moved up and down.
pub(super) struct Extent {
    pub(super) orders: Orders,
    /// Trials; none for first order.
    pub(super) draws: u32,
    /// Whether first order could be worked out too, where too few trials have an answer.
    pub(super) first_order: bool,
}

/// As many orders and trials as some seconds hold. Where even the fewest orders would take more to first order, which costs
/// as much as there are inputs, trials are drawn instead.
///
/// # Errors
/// Where more trials are asked for by number than so many corners allow.
pub(super) fn extent(
    question: &Question<'_>,
    changes: usize,
    inputs: &[Uncertain],
) -> Result<Extent, Problem> {
    // Each corner is a cell of its own: those of many inputs leave the processor's cache besides.
    let larger = inputs.len().max(ORDINARY_INPUTS);
    let most = MOST_CELLS * ORDINARY_INPUTS / larger * ORDINARY_INPUTS / larger;
    let most = most / question.sharing.max(1) as usize;
    let uncertain = inputs.iter().filter(|inputs| inputs.u() > 0.0).count();
    let moves = 2 * uncertain + 1;
    let fewest = Orders::fewest_corners(changes);
    let draws = match question.draws {
        0 if moves * fewest <= most => 0,
        0 => effort::trials(DRAWS, most, fewest),
        draws => effort::trials(draws.min(DRAWS), most, fewest),
    };
    let times = if draws == 0 { moves } else { draws.min(DRAWS) as usize };
    let orders = Orders::within(changes, u64::from(question.seed), most / times);
    let most_draws = (most / orders.corners()).max(DRAWS as usize);
    if question.draws as usize > most_draws {
        let found = format!("{} trials of {} cells each", question.draws, orders.corners());
        let expected =
            format!("at most {most_draws} trials for so many changes; put some of them together for more");
        return Err(Problem::new("draws", found, expected));
    }
    let draws = if question.draws > DRAWS { question.draws } else { draws };
    Ok(Extent { first_order: moves * orders.corners() <= most, orders, draws })
}

pub(super) fn check(question: &Question<'_>) -> Result<(), Problems> {
    let mut problems = Problems::default();
    if question.draws == 1 || question.draws > MOST_DRAWS {
        let found = format!("{}", question.draws);
        problems.push(Problem::new(
            "draws",
            found,
            format!("0 for first order, or from 2 to {MOST_DRAWS} trials"),
        ));
    }
    if let Some(prices) = question.prices {
        unknown_keys(&mut problems, "prices", &prices.unknown, Prices::KEYS);
    }
    problems.or_else_ok(())
}
