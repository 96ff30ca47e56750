//! The contribution of each change between two cells.
//!
//! Two sheets differ by changes, each a set of entries that move together ([`change`]). With every subset of them made
//! there is a cell, a corner; each change has its share of the whole difference by its Shapley value ([`roulade_stats::shapley`]), beside
//! what it would bring first of all and last of all. Contributions add to the whole.
//!
//! What stands alike in both sheets is one quantity here: the question is what the changes do, not how two specimens
//! differ that were both read to be the same. What does not stand alike keeps the uncertainties of both sheets, shared
//! or not as [`Joint`] says, and every corner of one draw is worked out at the same values.

mod asked;
pub mod change;
mod contribution;
mod corner;
mod merit;
mod over_orders;
pub mod price;
mod question;

use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::cell::held::Held;
use crate::material::CurveCache;
use crate::quantity::problem::{Problem, Problems, both};
use crate::sheet::Sheet;
use crate::study::compare::{Joint, Kinship};
use corner::{Cells, Corner, made};
use merit::merits;
use over_orders::{Shapley, from_draws};
use price::Bill;
use question::check;
use roulade_stats::executor::Executor;
use roulade_stats::propagation::deviate::Stream;
use roulade_stats::shapley::{MOST, Orders};

pub use asked::{Changes, NamedChange, PriceList, Prices};

pub use crate::sheet::overlay::{DifferingEntry, Overlay};
pub use change::Change;
pub use contribution::{Attribution, Contribution, Difference, FigureContributions, Impossible, Pair};
pub use merit::Merit;
pub use question::{DRAWS, FEWEST_ANSWERED, MOST_DRAWS, Question};

/// The changes that two sheets lie apart: those of the list, and for what it does not name the automatic ones.
///
/// # Errors
/// Everything wrong with either sheet or with the list; places begin with `first.`, `second.` or `changes.`.
pub fn changes(
    first: &Sheet,
    second: &Sheet,
    wanted: Option<&Changes>,
) -> Result<(Overlay, Vec<Change>), Problems> {
    let (a, b) = (Draft::read(first), Draft::read(second));
    both(a.map(drop).map_err(|p| p.within("first")), b.map(drop).map_err(|p| p.within("second")))?;
    grouped(&*Draft::sheet_as_built(first)?, &*Draft::sheet_as_built(second)?, wanted)
}

fn grouped(
    first: &Sheet,
    second: &Sheet,
    wanted: Option<&Changes>,
) -> Result<(Overlay, Vec<Change>), Problems> {
    let overlay = Overlay::of(first, second);
    let changes = match wanted {
        None => change::automatic(&overlay),
        Some(wanted) => change::listed(&overlay, wanted).map_err(|problems| problems.within("changes"))?,
    };
    Ok((overlay, changes))
}

/// The contribution of each change between two sheets, with uncertainties to first order: the mean over all orders in which
/// the changes can be made (L. S. Shapley, Contributions to the Theory of Games II, 1953, 307). Changes are grouped by part
/// and by recipe; contributions add to the whole difference.
///
/// # Errors
/// Everything wrong with either sheet; places begin with `first.` or `second.`.
pub fn attribute(first: &Sheet, second: &Sheet) -> Result<Attribution, Problems> {
    let question = Question { first, second, changes: None, prices: None, draws: 0, seed: 1, sharing: 1 };
    of(&question, &roulade_stats::executor::alone())
}

/// Takes the difference of two cells apart.
///
/// # Errors
/// Everything wrong with either sheet or with the lists; changes of which no order can be made one after another.
pub fn of(question: &Question<'_>, executor: &impl Executor) -> Result<Attribution, Problems> {
    // An entry read in one state and one read in another are no two changes.
    let (first, second) = both(
        Draft::sheet_as_built(question.first).map_err(|problems| problems.within("first")),
        Draft::sheet_as_built(question.second).map_err(|problems| problems.within("second")),
    )?;
    taken_apart(&Question { first: &first, second: &second, ..*question }, executor)
}

fn taken_apart(question: &Question<'_>, executor: &impl Executor) -> Result<Attribution, Problems> {
    let worked = |sheet: &Sheet, whose: &str| {
        let draft = Draft::read(sheet).and_then(|draft| Ok((Worked::at(&draft, &draft.values())?, draft)));
        draft.map_err(|problems| problems.within(whose))
    };
    let ((first, a), (second, b)) = both(worked(question.first, "first"), worked(question.second, "second"))?;
    check(question)?;
    let (overlay, changes) = grouped(question.first, question.second, question.changes)?;
    if changes.len() > MOST {
        let found = format!("{} changes", changes.len());
        return Err(Problem::new("changes", found, format!("at most {MOST}; put some together")).into());
    }
    let joint = Joint::of(&a, &b, Kinship::of(&a, &b));
    let bill = |sheet, cell| question.prices.map(|prices| Bill::of(prices, sheet, cell));
    let bills = bill(question.first, &first).zip(bill(question.second, &second));
    let priced = |prices: &Prices| {
        [&prices.per_kg, &prices.per_part].into_iter().flatten().any(|list| !list.0.is_empty())
    };
    let merits = merits([&first, &second], question.prices.is_some_and(priced));
    let cells = Cells {
        overlay: &overlay,
        changes: &changes,
        drafts: [&a, &b],
        merits: &merits,
        prices: question.prices,
        curve_cache: CurveCache::full(),
    };
    let sought = cells.sought();
    let question::Extent { orders, draws, first_order } =
        question::extent(question, changes.len(), joint.uncertain())?;
    let corners = executor.each(orders.corners(), |i| cells.corner(orders.corner(i), &sought));
    let can_be: Vec<bool> = corners.iter().map(Result::is_ok).collect();
    let shapley = Shapley { orders: &orders, corners: &corners, can_be: &can_be, merits: &merits };
    let weights = shapley.orders.weights(&can_be).ok_or_else(|| no_order(&changes, &orders, &corners))?;
    let at_best = shapley.at_best();
    let pairs: Vec<Vec<(usize, usize)>> =
        at_best.iter().map(|values| shapley.strongest(&weights, values)).collect();
    let best = shapley.differences(&weights, &can_be, &at_best, &pairs);
    let (differences, answered) = if draws == 0 {
        (shapley.first_order(&joint, &best, &weights, &pairs), 0)
    } else {
        let (of_a, of_b) = (a.bounds(), b.bounds());
        let held_a = Held::of(&a).map_err(|problems| problems.within("first"))?;
        let held_b = Held::of(&b).map_err(|problems| problems.within("second"))?;
        let sampler = joint.bounds(&a, &b).sampler(joint.uncertain(), joint.correlation());
        let drawn = executor.each(draws as usize, |i| {
            // A stream of its own for each draw: who draws it changes no bit.
            let mut values = sampler.best().to_vec();
            sampler.draw(&mut Stream::of(u64::from(question.seed), i as u64), &mut values);
            let (x, y) = joint.split(&values);
            if !(of_a.hold(&x) && of_b.hold(&y)) {
                return None;
            }
            shapley.at(&(held_a.alone(&a, x), held_b.alone(&b, y)), &weights, &pairs)
        });
        let drawn: Vec<Vec<f64>> = drawn.into_iter().flatten().collect();
        let by_trials = from_draws(&best, &drawn);
        let differences = if by_trials.iter().all(Option::is_some) {
            by_trials.into_iter().flatten().collect()
        } else if !first_order {
            let found = format!("{} of {draws} trials with an answer", drawn.len());
            let expected = "smaller uncertainties, or fewer changes, so that some trials have both cells";
            return Err(Problem::new("draws", found, expected).into());
        } else {
            let first_order = shapley.first_order(&joint, &best, &weights, &pairs);
            by_trials
                .into_iter()
                .zip(first_order)
                .map(|(differences, instead)| differences.unwrap_or(instead))
                .collect()
        };
        (differences, u32::try_from(drawn.len()).unwrap_or(u32::MAX))
    };
    let figures = shapley.shared(&at_best, &weights, &differences, &pairs);
    let (unpriced, unused) = match (&bills, question.prices) {
        (Some((x, y)), Some(prices)) => {
            (once_each(x.unpriced().chain(y.unpriced()).collect()), once_each(price::unused(prices, &[x, y])))
        }
        _ => (Vec::new(), Vec::new()),
    };
    let impossible = corners
        .iter()
        .enumerate()
        .filter_map(|(i, corner)| {
            let why = corner.as_ref().err()?.clone();
            Some(Impossible { made: made(orders.corner(i), changes.len()), why })
        })
        .collect();
    Ok(Attribution {
        edits: overlay.edits().to_vec(),
        figures,
        corners: orders.corners(),
        impossible,
        unbalanced: unbalanced([&first, &second], &corners),
        exact: matches!(orders, Orders::All(_)),
        draws,
        answered,
        unpriced,
        unused,
        drafts: [a, b],
        changes,
    })
}

/// Cells between the two with N/P below 1, where both ends have more.
fn unbalanced(ends: [&Worked; 2], corners: &[Result<Corner, Problems>]) -> usize {
    let balanced = |cell: &Worked| cell.estimate.balance.n_to_p().value >= 1.0;
    let below = corners.iter().flatten().filter(|corner| corner.n_to_p < 1.0);
    if ends.into_iter().all(balanced) { below.count() } else { 0 }
}

/// Names without repetition, in their order.
fn once_each(names: Vec<&str>) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for name in names {
        if !all.iter().any(|other| other == name) {
            all.push(name.to_owned());
        }
    }
    all
}

fn no_order(changes: &[Change], orders: &Orders, corners: &[Result<Corner, Problems>]) -> Problems {
    let built = corners.iter().filter(|corner| corner.is_ok()).count();
    let found = format!(
        "{} changes of which no order can be made one after another: of {} cells between the two, {built} can be built",
        changes.len(),
        orders.corners()
    );
    let why = corners.iter().find_map(|corner| corner.as_ref().err()?.0.first()).map(ToString::to_string);
    let expected = format!(
        "changes that need one another to be listed as one{}",
        why.map(|why| format!("; the first cell that cannot be built: {why}")).unwrap_or_default()
    );
    Problem::new("changes", found, expected).into()
}

#[cfg(test)]
mod tests;
