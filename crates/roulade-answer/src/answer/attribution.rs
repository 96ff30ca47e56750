//! The contribution of each change between two cells, in words and figures.

use super::amount::Amount;
use super::change::above_roundings;
use super::hazards::cautioned;
use super::sentence::{Sentence, Words, assumed};
use roulade::quantity::problem::{Problems, quoted};
use roulade::quantity::units::Unit;
use roulade::study::attribute::{
    self, Attribution, Changes, Difference, DifferingEntry, FigureContributions, Merit, NamedChange, Question,
};
use roulade::study::effort;
use roulade_stats::executor::Executor;
use roulade_stats::order;
use serde::Serialize;

/// An entry that moves with a change.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Move {
    /// Its key, names in the place of list indices.
    pub key: String,
    /// In the first sheet; empty where it has none.
    pub first: String,
    /// In the second.
    pub second: String,
}

/// A change by its name.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct NamedMoves {
    /// What it is called.
    pub name: String,
    /// What moves with it.
    pub moves: Vec<Move>,
}

/// The contribution of one change to one figure.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ContributionRow {
    /// Name of the change.
    pub change: String,
    /// Averaged over all orders of the changes.
    pub contribution: Amount,
    /// Made before all others; absent where that cell cannot be built.
    pub first_in: Option<Amount>,
    /// Made after all others.
    pub last_in: Option<Amount>,
    /// Standard error in the figure's unit from the orders having been drawn; absent where all were taken.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub standard_error: Option<f64>,
}

/// Two changes that depend on one another.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PairRow {
    /// One change.
    pub a: String,
    /// The other.
    pub b: String,
    /// How much more each contributes with the other than without.
    pub more: Amount,
    /// In words.
    pub text: String,
}

/// One figure, shared among the changes.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ContributionTable {
    /// Stable name.
    pub id: &'static str,
    /// What it is.
    pub label: String,
    /// Its unit.
    pub unit: String,
    /// Of the first cell.
    pub first: Amount,
    /// Of the second.
    pub second: Amount,
    /// Second less first: the sum of all contributions.
    pub whole: Amount,
    /// For each change, in the order of the changes.
    pub rows: Vec<ContributionRow>,
    /// The strongest interactions.
    pub pairs: Vec<PairRow>,
}

/// A cell between the two that cannot be built.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CannotBe {
    /// Names of the changes made there.
    pub made: Vec<String>,
    /// Why it cannot be.
    pub why: String,
}

/// How it was found.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Method {
    /// Whether all orders of the changes were taken; otherwise some were drawn.
    pub exact: bool,
    /// Cells between the two, these included, that were worked out.
    pub corners: usize,
    /// How many of them cannot be built.
    pub cannot_be: usize,
    /// The first of those.
    pub shown: Vec<CannotBe>,
    /// Cells between the two with N/P below 1, where both ends have more.
    pub unbalanced: usize,
    /// Pairs of cells drawn from the uncertainties; 0 for first order.
    pub draws: u32,
    /// Those that could be built.
    pub answered: u32,
    /// Seed of all that was drawn.
    pub seed: u32,
}

/// What prices were used for.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Priced {
    /// As written after a price.
    pub currency: String,
    /// Materials and parts without a price: left out of the cost.
    pub unpriced: Vec<String>,
    /// Prices that neither cell has a use for.
    pub unused: Vec<String>,
}

/// Answer about the changes between two cells.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AttributionAnswer {
    /// Version of this crate.
    pub roulade: &'static str,
    /// Name of the first cell.
    pub first: String,
    /// Name of the second.
    pub second: String,
    /// In a sentence or two.
    pub answer: Sentence,
    /// The changes.
    pub changes: Vec<NamedMoves>,
    /// For each figure the contribution of each change.
    pub figures: Vec<ContributionTable>,
    /// How it was found.
    pub method: Method,
    /// Where prices were given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub prices: Option<Priced>,
    /// The changes as a list that can be edited and given back.
    pub grouping: Changes,
    /// What to know of this answer.
    pub remarks: Vec<String>,
}

/// Cells that cannot be built which are told one by one.
const MOST_SHOWN: usize = 20;
/// Changes that the sentence names.
const MOST_NAMED: usize = 4;

impl AttributionAnswer {
    /// Takes the difference of two cells apart.
    ///
    /// # Errors
    /// As [`attribute::of`].
    pub fn of(question: &Question<'_>, executor: &impl Executor) -> Result<Self, Problems> {
        let contributions = attribute::of(question, executor)?;
        let currency = question.prices.and_then(|prices| prices.currency.clone()).unwrap_or_default();
        let name =
            |i: usize| contributions.changes.get(i).map_or_else(String::new, |change| change.name.clone());
        let figures: Vec<ContributionTable> =
            contributions.figures.iter().map(|shared| table(shared, &contributions, &currency)).collect();
        let [first, second] = contributions.drafts.each_ref().map(|draft| draft.name().to_owned());
        let shown = contributions.impossible.iter().take(MOST_SHOWN);
        let method = Method {
            exact: contributions.exact,
            corners: contributions.corners,
            cannot_be: contributions.impossible.len(),
            shown: shown
                .map(|corner| CannotBe {
                    made: corner.made.iter().map(|i| name(*i)).collect(),
                    why: corner.why.0.first().map_or_else(String::new, ToString::to_string),
                })
                .collect(),
            unbalanced: contributions.unbalanced,
            draws: contributions.draws,
            answered: contributions.answered,
            seed: question.seed,
        };
        let moves = |edits: &[usize]| -> Vec<Move> {
            let edits = edits.iter().filter_map(|i| contributions.edits.get(*i)).cloned();
            edits.map(|DifferingEntry { key, first, second }| Move { key, first, second }).collect()
        };
        let changes: Vec<NamedMoves> = contributions
            .changes
            .iter()
            .map(|change| NamedMoves { name: change.name.clone(), moves: moves(&change.edits) })
            .collect();
        Ok(Self {
            roulade: env!("CARGO_PKG_VERSION"),
            answer: sentence(&first, &second, &figures, &contributions),
            first,
            second,
            grouping: grouping(&contributions.changes, &contributions.edits),
            changes,
            figures,
            remarks: [
                cautioned(&contributions.drafts.each_ref()),
                remarks(&method, &contributions, question.draws),
            ]
            .concat(),
            method,
            prices: question.prices.map(|_| Priced {
                currency,
                unpriced: contributions.unpriced.clone(),
                unused: contributions.unused.clone(),
            }),
        })
    }
}

/// Changes as a list that can be written down, edited and given back.
pub fn grouping(changes: &[attribute::Change], edits: &[DifferingEntry]) -> Changes {
    let named = |change: &attribute::Change| NamedChange {
        name: Some(change.name.clone()),
        keys: Some(change.edits.iter().filter_map(|i| Some(edits.get(*i)?.key.clone())).collect()),
        ..NamedChange::default()
    };
    Changes { changes: Some(changes.iter().map(named).collect()), ..Changes::default() }
}

/// The unit of a figure: its symbol, and its size in SI.
fn unit_of(merit: Merit, currency: &str) -> (String, f64) {
    match merit {
        Merit::Figure(figure) => (figure.unit.symbol().to_owned(), figure.unit.in_si()),
        Merit::Cost => (currency.to_owned(), 1.0),
        Merit::CostPerEnergy => {
            let per = if currency.is_empty() { "per kWh".to_owned() } else { format!("{currency}/kWh") };
            (per, 1.0 / (1e3 * Unit::WattHour.in_si()))
        }
    }
}

fn named(merit: Merit) -> (&'static str, &'static str) {
    match merit {
        Merit::Figure(figure) => (figure.id, figure.label),
        Merit::Cost => ("cost", "cost of what is priced"),
        Merit::CostPerEnergy => ("cost_per_kwh", "that cost per energy"),
    }
}

fn table(shared: &FigureContributions, contributions: &Attribution, currency: &str) -> ContributionTable {
    let (id, label) = named(shared.merit);
    let (unit, size) = unit_of(shared.merit, currency);
    let amount = |difference: &Difference| Amount::of(difference, shared.scale, &unit, size);
    let bare = |value: f64| Amount::bare(value / size, &unit);
    let name = |i: usize| contributions.changes.get(i).map_or_else(String::new, |change| change.name.clone());
    let row = |(i, contribution): (usize, &attribute::Contribution)| ContributionRow {
        change: name(i),
        contribution: amount(&contribution.contribution),
        first_in: contribution.first_in.as_ref().map(amount),
        last_in: contribution.last_in.as_ref().map(amount),
        standard_error: contribution.standard_error.map(|error| above_roundings(error, shared.scale) / size),
    };
    let pair = |pair: &attribute::Pair| {
        let (a, b, more) = (name(pair.a), name(pair.b), amount(&pair.more));
        let text = together(&a, &b, &more);
        PairRow { a, b, more, text }
    };
    ContributionTable {
        id,
        label: label.to_owned(),
        first: bare(shared.first),
        second: bare(shared.second),
        whole: amount(&shared.whole),
        rows: shared.contributions.iter().enumerate().map(row).collect(),
        pairs: shared.pairs.iter().map(pair).filter(|pair| !pair.more.is_nothing()).collect(),
        unit,
    }
}

/// "Each of A and B brings 13 ± 4 Wh/L more with the other than without."
fn together(a: &str, b: &str, more: &Amount) -> String {
    let size = more.text.trim_start_matches(['+', '−']);
    let word = if more.value < 0.0 { "less" } else { "more" };
    format!("{a}, {b}: each contributes {size} {word} with the other than without")
}

fn sentence(
    first: &str,
    second: &str,
    figures: &[ContributionTable],
    contributions: &Attribution,
) -> Sentence {
    let [a, b] = &contributions.drafts;
    let words = Words::default();
    let Some(main) = figures.first().filter(|main| !main.rows.is_empty()) else {
        let said = format!("{first} and {second} do not differ in anything that their figures follow from.");
        return words.say(said).done(Vec::new(), assumed(&[a, b]));
    };
    let mut words = words
        .say(format!("From {first} to {second}: {} ", main.label.split(" (").next().unwrap_or_default()))
        .strong(&main.whole.text);
    let mut rows: Vec<&ContributionRow> = main.rows.iter().collect();
    order::by(&mut rows, |a, b| b.contribution.value.abs().total_cmp(&a.contribution.value.abs()));
    let (named, rest) = rows.split_at(rows.len().min(MOST_NAMED));
    for (i, row) in named.iter().enumerate() {
        let joint = match i {
            0 => ". Contributions: ",
            _ if i + 1 == named.len() && rest.is_empty() => " and ",
            _ => ", ",
        };
        words = words.say(format!("{joint}{}: ", row.change)).strong(&row.contribution.text);
    }
    words = match rest {
        [] => words.say("."),
        [only] => words.say(format!(" and {}: ", only.change)).strong(&only.contribution.text).say("."),
        rest => words.say(format!("; {} others contribute the rest.", rest.len())),
    };
    if let Some(pair) = main.pairs.first() {
        words = words.say(format!(" Strongest interaction: {}.", pair.text));
    }
    words.done(Vec::new(), assumed(&[a, b]))
}

fn remarks(method: &Method, contributions: &Attribution, asked: u32) -> Vec<String> {
    let mut remarks = vec![
        "A contribution is the mean over all orders in which the changes could be made (Shapley value); contributions add \
         up to the difference. Each is rounded by its own uncertainty, so rounded ones may miss the sum in their last digits."
            .to_owned(),
        "What stands alike in both sheets is one quantity here: an interval is that of what the changes do, not of how \
         two specimens differ that were read to be the same."
            .to_owned(),
    ];
    if !method.exact {
        remarks.push(format!(
            "Of so many changes, {}, orders are drawn, each with its reverse; standard errors say what that costs. \
             Interactions are not looked for.",
            contributions.changes.len()
        ));
    }
    if method.cannot_be > 0 {
        remarks.push(format!(
            "{} of {} cells between the two cannot be built. Only orders that pass through the others count, each alike; \
             contributions still add up to the difference.",
            method.cannot_be, method.corners
        ));
    }
    if method.unbalanced > 0 {
        remarks.push(format!(
            "In {} of {} cells between the two the anode holds less than the cathode gives (N/P below 1), as it does in \
             neither of the two themselves. Nobody would build those; changes that keep the balance may be listed as one.",
            method.unbalanced, method.corners
        ));
    }
    if asked == 0 && method.draws > 0 {
        remarks.push(format!(
            "First order would work out more cells than one answer holds: uncertainties are those of {} Monte Carlo trials, each \
             with a standard error of {:.1} % of itself.",
            method.draws,
            100.0 / (2.0 * f64::from(method.draws)).sqrt()
        ));
    }
    remarks.extend(effort::remark(asked, method.draws).filter(|_| method.draws > 0));
    if method.draws == 0 {
        remarks.push("Uncertainties are carried through to first order.".to_owned());
    }
    if method.answered < method.draws {
        remarks.push(format!(
            "{} of {} Monte Carlo trials give a pair of cells that cannot be built, and are left out.{}",
            method.draws - method.answered,
            method.draws,
            if (method.answered as usize) < attribute::FEWEST_ANSWERED.min(method.draws as usize) {
                " Too few are left: uncertainties are those to first order."
            } else {
                ""
            }
        ));
    }
    if !contributions.unpriced.is_empty() {
        remarks
            .push(format!("Without a price, and left out of the cost: {}.", quoted(&contributions.unpriced)));
    }
    if !contributions.unused.is_empty() {
        remarks.push(format!("Priced, but in neither cell: {}.", quoted(&contributions.unused)));
    }
    remarks
}
