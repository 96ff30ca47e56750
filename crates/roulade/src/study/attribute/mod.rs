//! What each change between two cells is worth.
//!
//! Two sheets differ by changes, each a set of entries that move together ([`change`]). With every subset of them made
//! there is a cell, a corner; each change has its share of the whole difference by its Shapley value ([`roulade_stats::shapley`]), beside
//! what it would bring first of all and last of all. Worths add to the whole.
//!
//! What stands alike in both sheets is one quantity here: the question is what the changes do, not how two specimens
//! differ that were both read to be the same. What does not stand alike keeps the uncertainties of both sheets, shared
//! or not as [`Joint`] says, and every corner of one draw is worked out at the same values.

mod asked;
pub mod between;
pub mod change;
pub mod price;

pub use asked::{Changes, NamedChange, PriceList, Prices};
pub use between::{Between, Edit};
pub use change::Change;

use crate::cell::design::Bounds;
use crate::cell::draft::Draft;
use crate::cell::draft::Input;
use crate::cell::figures::{Definition, Worked, definition};
use crate::cell::held::Held;
use crate::material::CurveCache;
use crate::quantity::problem::{Problem, Problems, both};
use crate::sheet::Sheet;
use crate::sheet::unknown_keys;
use crate::study::compare::{Joint, Kinship};
use between::covers;
use price::Bill;
use roulade_stats::executor::Executor;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::propagation::deviate::Stream;
use roulade_stats::propagation::sample::Sampler;
use roulade_stats::shapley::{MOST, Orders, Weights};
use roulade_stats::uncertain::Uncertain;
use std::collections::BTreeMap;

/// Pairs of cells that are drawn where nothing is said.
pub const DRAWS: u32 = 200;
/// Most pairs that are drawn.
pub const MOST_DRAWS: u32 = 100_000;
/// Figures that changes are worth something in, as far as there are such figures.
const MERITS: [&str; 7] = ["volumetric", "gravimetric", "capacity", "energy", "resistance", "mass", "parts"];
/// Interactions that are told for each figure.
const MOST_PAIRS: usize = 3;

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

/// What a change is worth something in.
#[derive(Clone, Copy, Debug)]
pub enum Merit {
    /// A figure of the cell.
    Figure(&'static Definition),
    /// What it costs, as far as there are prices.
    Cost,
    /// That over its energy: per joule.
    CostPerEnergy,
}

impl Merit {
    fn of(self, cell: &Worked, bill: Option<&Bill>) -> f64 {
        let cost = || bill.map(|bill| bill.cost(cell));
        match self {
            Self::Figure(figure) => (figure.of)(cell),
            Self::Cost => cost(),
            Self::CostPerEnergy => cost().map(|cost| cost / cell.estimate.balance.energy.value),
        }
        .unwrap_or(f64::NAN)
    }
}

/// A difference and how well it is known, SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diagnostic {
    /// At the best values.
    pub value: f64,
    /// Standard uncertainty.
    pub u: f64,
    /// Interval that holds 95 % of the draws, as many beyond it below as above (JCGM 101:2008, 7.7.2); to first order,
    /// 1.96 standard uncertainties either way.
    pub interval: [f64; 2],
}

/// What one change is worth in one figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worth {
    /// Averaged over all orders: the Shapley value.
    pub worth: Diagnostic,
    /// Made before all others; `None` where that cell cannot be built.
    pub first_in: Option<Diagnostic>,
    /// Made after all others.
    pub last_in: Option<Diagnostic>,
    /// Standard error from the orders having been drawn; `None` where all were taken.
    pub standard_error: Option<f64>,
}

/// Two changes that are worth more, or less, together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// One change.
    pub a: usize,
    /// The other.
    pub b: usize,
    /// How much more each is worth with the other: the Shapley interaction index.
    pub more: Diagnostic,
}

/// One figure, shared among the changes.
#[derive(Clone, Debug)]
pub struct Shared {
    /// The figure.
    pub merit: Merit,
    /// Of the first cell, SI.
    pub first: f64,
    /// Of the second.
    pub second: f64,
    /// Second less first.
    pub whole: Diagnostic,
    /// For each change.
    pub worths: Vec<Worth>,
    /// The strongest interactions, the strongest first; those below a hundredth of all that moves are left out.
    pub pairs: Vec<Pair>,
}

/// A cell between the two that cannot be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Impossible {
    /// The changes made there, by their number.
    pub made: Vec<usize>,
    /// Why it cannot be.
    pub why: Problems,
}

/// What each change is worth.
#[derive(Debug)]
pub struct Worths {
    /// The changes.
    pub changes: Vec<Change>,
    /// All entries that differ.
    pub edits: Vec<Edit>,
    /// Each figure.
    pub figures: Vec<Shared>,
    /// Cells that were worked out at the best values.
    pub corners: usize,
    /// Those that cannot be.
    pub impossible: Vec<Impossible>,
    /// Cells with N/P below 1, where both ends have more: they can be worked out, but nobody would build them.
    pub unbalanced: usize,
    /// Whether all orders were taken.
    pub exact: bool,
    /// Draws that had an answer.
    pub answered: u32,
    /// Materials and parts that have no price, where prices were given.
    pub unpriced: Vec<String>,
    /// Prices that neither cell has a use for.
    pub unused: Vec<String>,
    /// Both sheets, read.
    pub drafts: [Draft; 2],
}

/// Where a corner's draft takes an input from.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Source {
    First(usize),
    Second(usize),
    /// In neither draft: a share that follows from others, or a default of this corner alone.
    Own(f64),
}

/// A cell between the two, ready to be worked out at any values.
#[derive(Debug)]
struct Corner {
    draft: Draft,
    sources: Vec<Source>,
    bill: Option<Bill>,
    at_best: Vec<f64>,
    n_to_p: f64,
}

/// The changes that two sheets lie apart: those of the list, and for what it does not name the automatic ones.
///
/// # Errors
/// Everything wrong with either sheet or with the list; places begin with `first.`, `second.` or `changes.`.
pub fn changes(
    first: &Sheet,
    second: &Sheet,
    wanted: Option<&Changes>,
) -> Result<(Between, Vec<Change>), Problems> {
    let (a, b) = (Draft::read(first), Draft::read(second));
    both(a.map(drop).map_err(|p| p.within("first")), b.map(drop).map_err(|p| p.within("second")))?;
    grouped(&*Draft::sheet_as_built(first)?, &*Draft::sheet_as_built(second)?, wanted)
}

fn grouped(
    first: &Sheet,
    second: &Sheet,
    wanted: Option<&Changes>,
) -> Result<(Between, Vec<Change>), Problems> {
    let between = Between::of(first, second);
    let changes = match wanted {
        None => change::automatic(&between),
        Some(wanted) => change::listed(&between, wanted).map_err(|problems| problems.within("changes"))?,
    };
    Ok((between, changes))
}

/// The contribution of each change between two sheets, with uncertainties to first order: the mean over all orders in which
/// the changes can be made (L. S. Shapley, Contributions to the Theory of Games II, 1953, 307). Changes are grouped by part
/// and by recipe; contributions add to the whole difference.
///
/// # Errors
/// Everything wrong with either sheet; places begin with `first.` or `second.`.
pub fn attribute(first: &Sheet, second: &Sheet) -> Result<Worths, Problems> {
    let question = Question { first, second, changes: None, prices: None, draws: 0, seed: 1 };
    of(&question, &roulade_stats::executor::alone())
}

/// Takes the difference of two cells apart.
///
/// # Errors
/// Everything wrong with either sheet or with the lists; changes of which no order can be made one after another.
pub fn of(question: &Question<'_>, hands: &impl Executor) -> Result<Worths, Problems> {
    // An entry read in one state and one read in another are no two changes.
    let (first, second) = both(
        Draft::sheet_as_built(question.first).map_err(|problems| problems.within("first")),
        Draft::sheet_as_built(question.second).map_err(|problems| problems.within("second")),
    )?;
    taken_apart(&Question { first: &first, second: &second, ..*question }, hands)
}

fn taken_apart(question: &Question<'_>, hands: &impl Executor) -> Result<Worths, Problems> {
    let worked = |sheet: &Sheet, whose: &str| {
        let draft = Draft::read(sheet).and_then(|draft| Ok((Worked::at(&draft, &draft.values())?, draft)));
        draft.map_err(|problems| problems.within(whose))
    };
    let ((first, a), (second, b)) = both(worked(question.first, "first"), worked(question.second, "second"))?;
    check(question)?;
    let (between, changes) = grouped(question.first, question.second, question.changes)?;
    if changes.len() > MOST {
        let found = format!("{} changes", changes.len());
        return Err(Problem::new("changes", found, format!("at most {MOST}: put some together")).into());
    }
    let joint = Joint::of(&a, &b, Kinship::of(&a, &b));
    let bill = |sheet, cell| question.prices.map(|prices| Bill::of(prices, sheet, cell));
    let bills = bill(question.first, &first).zip(bill(question.second, &second));
    let priced = |prices: &Prices| {
        [&prices.per_kg, &prices.per_part].into_iter().flatten().any(|list| !list.0.is_empty())
    };
    let merits = merits([&first, &second], question.prices.is_some_and(priced));
    let cells = Cells {
        between: &between,
        changes: &changes,
        drafts: [&a, &b],
        merits: &merits,
        prices: question.prices,
        shelf: CurveCache::full(),
    };
    let sought = cells.sought();
    let orders = Orders::new(changes.len(), u64::from(question.seed));
    let corners = hands.each(orders.corners(), |i| cells.corner(orders.corner(i), &sought));
    let can_be: Vec<bool> = corners.iter().map(Result::is_ok).collect();
    let game = Game { orders: &orders, corners: &corners, can_be: &can_be, merits: &merits };
    let weights = game.orders.weights(&can_be).ok_or_else(|| no_order(&changes, &orders, &corners))?;
    let at_best = game.at_best();
    let pairs: Vec<Vec<(usize, usize)>> =
        at_best.iter().map(|values| game.strongest(&weights, values)).collect();
    let best = game.told(&weights, &can_be, &at_best, &pairs);
    let (told, answered) = if question.draws == 0 {
        (game.first_order(&joint, &best, &weights, &pairs), 0)
    } else {
        let (of_a, of_b) = (a.bounds(), b.bounds());
        let held_a = Held::of(&a).map_err(|problems| problems.within("first"))?;
        let held_b = Held::of(&b).map_err(|problems| problems.within("second"))?;
        let of = |i: usize| joint.input(&a, &b, i).map_or("", |(input, _)| &input.path);
        let bounds = Bounds::of(joint.known().iter().enumerate().map(|(i, known)| (of(i), *known)));
        let sampler = Sampler::new(joint.known(), joint.correlation()).within(|i| bounds.ends(i));
        let drawn = hands.each(question.draws as usize, |i| {
            // A stream of its own for each draw: who draws it changes no bit.
            let mut values = sampler.best().to_vec();
            sampler.draw(&mut Stream::of(u64::from(question.seed), i as u64), &mut values);
            let (x, y) = joint.split(&values);
            if !(of_a.hold(&x) && of_b.hold(&y)) {
                return None;
            }
            game.at(&(held_a.hold(&a, x), held_b.hold(&b, y)), &weights, &pairs)
        });
        let drawn: Vec<Vec<f64>> = drawn.into_iter().flatten().collect();
        (from_draws(&best, &drawn), u32::try_from(drawn.len()).unwrap_or(u32::MAX))
    };
    let figures = game.shared(&at_best, &weights, &told, &pairs);
    let names = |names: Vec<&str>| {
        let mut all: Vec<String> = Vec::new();
        for name in names {
            if !all.iter().any(|known| known == name) {
                all.push(name.to_owned());
            }
        }
        all
    };
    let (unpriced, unused) = match (&bills, question.prices) {
        (Some((x, y)), Some(prices)) => {
            (names(x.unpriced().chain(y.unpriced()).collect()), names(price::unused(prices, &[x, y])))
        }
        _ => (Vec::new(), Vec::new()),
    };
    let balanced = |cell: &Worked| cell.estimate.balance.n_to_p().value >= 1.0;
    let unbalanced = if balanced(&first) && balanced(&second) {
        corners.iter().flatten().filter(|corner| corner.n_to_p < 1.0).count()
    } else {
        0
    };
    let impossible = corners
        .iter()
        .enumerate()
        .filter_map(|(i, corner)| {
            let why = corner.as_ref().err()?.clone();
            Some(Impossible { made: made(orders.corner(i), changes.len()), why })
        })
        .collect();
    Ok(Worths {
        edits: between.edits().to_vec(),
        figures,
        corners: orders.corners(),
        impossible,
        unbalanced,
        exact: matches!(orders, Orders::All(_)),
        answered,
        unpriced,
        unused,
        drafts: [a, b],
        changes,
    })
}

fn check(question: &Question<'_>) -> Result<(), Problems> {
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

/// Figures that both cells have.
fn merits(cells: [&Worked; 2], priced: bool) -> Vec<Merit> {
    let figures = MERITS.iter().filter_map(|id| definition(id));
    let had = figures.filter(|figure| cells.iter().all(|cell| (figure.of)(cell).is_some()));
    let costs = [Merit::Cost, Merit::CostPerEnergy].into_iter().filter(|_| priced);
    had.map(Merit::Figure).chain(costs).collect()
}

/// The changes made at a corner.
fn made(corner: u64, changes: usize) -> Vec<usize> {
    (0..changes).filter(|i| corner >> i & 1 == 1).collect()
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
        "changes that need one another listed as one{}",
        why.map(|why| format!("; the first cell that cannot be: {why}")).unwrap_or_default()
    );
    Problem::new("changes", found, expected).into()
}

/// What every corner is made from.
struct Cells<'a> {
    between: &'a Between,
    changes: &'a [Change],
    drafts: [&'a Draft; 2],
    merits: &'a [Merit],
    prices: Option<&'a Prices>,
    shelf: CurveCache,
}

/// An input by its key: the change that sets it, its place in both drafts, and what is known of it there.
type Sought<'a> = BTreeMap<&'a str, (Option<usize>, [Option<(usize, Uncertain)>; 2])>;

impl<'a> Cells<'a> {
    fn sought(&self) -> Sought<'a> {
        let mut sought: Sought<'a> = BTreeMap::new();
        for (side, draft) in self.drafts.into_iter().enumerate() {
            for (i, input) in draft.inputs().iter().enumerate() {
                let edits = self.between.edits().iter().enumerate();
                let mut covering = edits.filter(|(_, edit)| covers(&edit.key, &input.key)).map(|(i, _)| i);
                let change = |i| self.changes.iter().position(|change| change.edits.contains(&i));
                let (_, places) = sought
                    .entry(&input.key)
                    .or_insert_with(|| (covering.next().and_then(change), [None, None]));
                if let Some(place) = places.get_mut(side) {
                    place.get_or_insert((i, input.known));
                }
            }
        }
        sought
    }

    fn corner(&self, corner: u64, sought: &Sought<'_>) -> Result<Corner, Problems> {
        let taken = |change: usize| corner >> change & 1 == 1;
        let of_edit = |i: usize| self.changes.iter().position(|change| change.edits.contains(&i));
        let sheet = self.between.sheet(|edit| of_edit(edit).is_some_and(taken))?;
        let draft = Draft::read_with(&sheet, &self.shelf)?;
        let source = |input: &Input| {
            let Some((change, [first, second])) = sought.get(&*input.key) else {
                return Source::Own(input.known.value);
            };
            let alike = |place: &Option<(usize, Uncertain)>| place.filter(|(_, known)| *known == input.known);
            let (first, second) =
                (alike(first).map(|(i, _)| Source::First(i)), alike(second).map(|(i, _)| Source::Second(i)));
            let found = if change.is_some_and(taken) { second.or(first) } else { first.or(second) };
            found.unwrap_or(Source::Own(input.known.value))
        };
        let sources = draft.inputs().iter().map(source).collect();
        let values = draft.values();
        let cell = Worked::at(&draft, &values)?;
        let bill = self.prices.map(|prices| Bill::of(prices, &sheet, &cell));
        let at_best = self.merits.iter().map(|merit| merit.of(&cell, bill.as_ref())).collect();
        let n_to_p = cell.estimate.balance.n_to_p().value;
        Ok(Corner { draft: draft.for_many(&self.drafts), sources, bill, at_best, n_to_p })
    }
}

/// All corners, and what is made of their values.
struct Game<'a> {
    orders: &'a Orders,
    corners: &'a [Result<Corner, Problems>],
    can_be: &'a [bool],
    merits: &'a [Merit],
}

impl Game<'_> {
    /// For each figure its value at each corner; not a number where the corner cannot be.
    fn at_best(&self) -> Vec<Vec<f64>> {
        let of = |merit: usize| {
            let value = |corner: &Result<Corner, Problems>| {
                corner.as_ref().ok().and_then(|corner| corner.at_best.get(merit).copied()).unwrap_or(f64::NAN)
            };
            self.corners.iter().map(value).collect()
        };
        (0..self.merits.len()).map(of).collect()
    }

    /// Everything that is told, one after another: for each figure the whole, then for each change worth, first-in and
    /// last-in, then its pairs. What there is not is not a number.
    fn told(
        &self,
        weights: &Weights,
        can_be: &[bool],
        values: &[Vec<f64>],
        pairs: &[Vec<(usize, usize)>],
    ) -> Vec<f64> {
        let n = self.orders.changes();
        let all = if n == 0 { 0 } else { u64::MAX >> (64 - n) };
        let mut told = Vec::with_capacity(self.merits.len() * (1 + 3 * n + MOST_PAIRS));
        for (values, pairs) in values.iter().zip(pairs) {
            let at = |corner: u64| {
                self.orders.find(corner).and_then(|i| values.get(i).copied()).unwrap_or(f64::NAN)
            };
            told.push(at(all) - at(0));
            for (i, worth) in self.orders.worths(weights, values).into_iter().enumerate() {
                told.extend([worth, at(1 << i) - at(0), at(all) - at(all & !(1 << i))]);
            }
            told.extend(
                pairs
                    .iter()
                    .map(|(i, j)| self.orders.interaction(can_be, values, *i, *j).unwrap_or(f64::NAN)),
            );
        }
        told
    }

    /// The pairs of changes whose interaction moves a figure most.
    fn strongest(&self, weights: &Weights, values: &[f64]) -> Vec<(usize, usize)> {
        let n = self.orders.changes();
        let moved: f64 = self.orders.worths(weights, values).iter().map(|worth| worth.abs()).sum();
        let pairs = (0..n).flat_map(|i| (i + 1..n).map(move |j| (i, j)));
        let mut found: Vec<(f64, (usize, usize))> = pairs
            .filter_map(|(i, j)| {
                let more = self.orders.interaction(self.can_be, values, i, j)?.abs();
                (more > 0.01 * moved).then_some((more, (i, j)))
            })
            .collect();
        found.sort_by(|a, b| b.0.total_cmp(&a.0));
        found.into_iter().take(MOST_PAIRS).map(|(_, pair)| pair).collect()
    }

    /// Everything that is told, at other values of both cells; `None` where either cell, or every order between them,
    /// cannot be built at those values.
    fn at(
        &self,
        (first, second): &(Vec<f64>, Vec<f64>),
        weights: &Weights,
        pairs: &[Vec<(usize, usize)>],
    ) -> Option<Vec<f64>> {
        let mut values = vec![vec![f64::NAN; self.corners.len()]; self.merits.len()];
        let mut can_be = vec![false; self.corners.len()];
        let mut inputs = Vec::new();
        for (i, (corner, can_be)) in self.corners.iter().zip(&mut can_be).enumerate() {
            let Ok(corner) = corner else { continue };
            inputs.clear();
            inputs.extend(corner.sources.iter().map(|source| match source {
                Source::First(i) => first.get(*i).copied().unwrap_or(f64::NAN),
                Source::Second(i) => second.get(*i).copied().unwrap_or(f64::NAN),
                Source::Own(value) => *value,
            }));
            let Ok(cell) = Worked::at(&corner.draft, &inputs) else {
                continue;
            };
            for (of_merit, merit) in values.iter_mut().zip(self.merits) {
                if let Some(value) = of_merit.get_mut(i) {
                    *value = merit.of(&cell, corner.bill.as_ref());
                }
            }
            *can_be = true;
        }
        let anew = if can_be == self.can_be { None } else { Some(self.orders.weights(&can_be)?) };
        Some(self.told(anew.as_ref().unwrap_or(weights), &can_be, &values, pairs))
    }

    /// To first order (JCGM 100:2008, 5.1), every uncertain input moved by itself.
    fn first_order(
        &self,
        joint: &Joint,
        best: &[f64],
        weights: &Weights,
        pairs: &[Vec<(usize, usize)>],
    ) -> Vec<Diagnostic> {
        let spread = FirstOrder::of(joint.known(), joint.correlation(), best, |values| {
            self.at(&joint.split(values), weights, pairs)
        });
        let told = |(i, value): (usize, &f64)| {
            let u = spread.u(i);
            Diagnostic { value: *value, u, interval: [value - NORMAL_95 * u, value + NORMAL_95 * u] }
        };
        best.iter().enumerate().map(told).collect()
    }

    fn shared(
        &self,
        at_best: &[Vec<f64>],
        weights: &Weights,
        told: &[Diagnostic],
        pairs: &[Vec<(usize, usize)>],
    ) -> Vec<Shared> {
        let n = self.orders.changes();
        let mut told = told.iter().copied();
        let mut next = || told.next().filter(|told| told.value.is_finite());
        let mut figures = Vec::with_capacity(self.merits.len());
        for ((merit, values), pairs) in self.merits.iter().zip(at_best).zip(pairs) {
            let whole = next();
            let errors = self.orders.standard_errors(weights, values);
            let worths: Vec<Option<Worth>> = (0..n)
                .map(|i| {
                    let (worth, first_in, last_in) = (next(), next(), next());
                    let standard_error = errors.as_ref().and_then(|errors| errors.get(i).copied());
                    Some(Worth { worth: worth?, first_in, last_in, standard_error })
                })
                .collect();
            let pairs: Vec<Option<Pair>> =
                pairs.iter().map(|(a, b)| next().map(|more| Pair { a: *a, b: *b, more })).collect();
            let first = values.first().copied().unwrap_or(f64::NAN);
            // A figure that some cell between the two does not have cannot be shared.
            if let (Some(whole), Some(worths)) = (whole, worths.into_iter().collect::<Option<Vec<_>>>()) {
                let pairs = pairs.into_iter().flatten().collect();
                let second = values.last().copied().unwrap_or(f64::NAN);
                figures.push(Shared { merit: *merit, first, second, whole, worths, pairs });
            }
        }
        figures
    }
}

/// Standard uncertainties that reach to 95 % of a normal distribution either way (JCGM 100:2008, table G.1).
const NORMAL_95: f64 = 1.96;

/// Mean is left where it is: at the best values. The draws say how far around it.
fn from_draws(best: &[f64], drawn: &[Vec<f64>]) -> Vec<Diagnostic> {
    let told = |(i, value): (usize, &f64)| {
        let mut column: Vec<f64> =
            drawn.iter().filter_map(|told| told.get(i).copied()).filter(|told| told.is_finite()).collect();
        column.sort_by(f64::total_cmp);
        let count = column.len();
        let mean = column.iter().sum::<f64>() / count as f64;
        let squares: f64 = column.iter().map(|x| (x - mean) * (x - mean)).sum();
        let u = if count > 1 { (squares / (count - 1) as f64).sqrt() } else { 0.0 };
        // q, the nearest to 0.95 of them, inside and the others halved: from y(r) to y(r + q), counted from one (JCGM
        // 101:2008, 7.7.2).
        let inside = (count * 95 + 50) / 100;
        let below = (count - inside) / 2;
        let end = |i: usize| column.get(i.min(count.saturating_sub(1))).copied().unwrap_or(*value);
        Diagnostic {
            value: *value,
            u,
            interval: [end(below.saturating_sub(1)), end((below + inside).saturating_sub(1))],
        }
    };
    best.iter().enumerate().map(told).collect()
}

#[cfg(test)]
mod tests;
