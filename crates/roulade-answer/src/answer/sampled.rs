//! How far the figures spread, drawn at random and held against first order.

mod apart;

use super::estimate::{unmoved, variance_shares};
use super::figure_writer::Figure;
use super::hazards::cautioned;
use super::plan::{entries, plan};
use super::sensitivity::SensitivityAnswer;
use super::sentence::{Sentence, Words, assumed};
use super::subject::{Subject, WhichCell};
use roulade::cell::draft::Draft;
use roulade::cell::figures::Definition;
use roulade::quantity::notation;
use roulade::quantity::problem::{Problem, Problems};
use roulade_stats::executor::Executor;
use roulade_stats::propagation::interval::{Interval, IntervalVerdict, Validation, tolerance};
use roulade_stats::propagation::sample::{Drawn, Sampled, sample};
use roulade_stats::uncertain::Spread;
use serde::Serialize;

/// One figure, drawn and to first order.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DrawnFigure {
    /// Stable name.
    pub id: &'static str,
    /// What it is.
    pub label: &'static str,
    /// Which cell it is of.
    pub of: WhichCell,
    /// Mean, standard deviation and probabilistically symmetric 95 % interval of the draws.
    pub drawn: Figure,
    /// That interval as it is read.
    pub interval: String,
    /// Standard errors of these four, from how the pieces of the draws differ, in the figure's unit: mean, u, low, high.
    pub errors: [f64; 4],
    /// The best value, its standard uncertainty to first order, and 1.96 of it either way.
    pub first_order: Figure,
    /// That interval as it is read.
    pub first_order_interval: String,
    /// Shares of the draws and the value they lie below, in the figure's unit: the shape of the distribution. Empty where
    /// all draws gave the same.
    pub quantiles: Vec<[f64; 2]>,
    /// Whether the two intervals agree (JCGM 101:2008, clause 8).
    pub verdict: IntervalVerdict,
    /// In words, where they do not.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub remark: String,
    /// How far the ends may lie apart: half of the last place that the uncertainty is shown to.
    pub tolerance: f64,
    /// How far they do: lower and upper end of the draws less that of first order.
    pub apart: [f64; 2],
}

/// Draws in which the cell does not hold together.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ImpossibleTrials {
    /// The place in the sheet where that shows.
    pub place: String,
    /// Their share of all draws.
    pub share: f64,
}

/// Answer about how far figures spread.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SampledAnswer {
    /// Version of this crate.
    pub roulade: &'static str,
    /// Names of the cells.
    pub cells: Vec<String>,
    /// In a sentence.
    pub answer: Sentence,
    /// How many draws.
    pub draws: u32,
    /// Their seed.
    pub seed: u64,
    /// Share of the draws in which an input is no longer what it may be.
    pub impossible: f64,
    /// Share of the draws in which the cell does not hold together, by the place in the sheet where that shows.
    pub apart: Vec<ImpossibleTrials>,
    /// Each figure.
    pub figures: Vec<DrawnFigure>,
    /// What to know of this answer.
    pub remarks: Vec<String>,
    /// The sensitivity of the main figure, where that was asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sensitivity: Option<SensitivityAnswer>,
}

/// Steps of a distribution that is told by its quantiles: as many bars as a histogram of some thousand draws bears.
const STEPS: u32 = 40;
/// Share of trials without an answer beyond which the answer says which entry to state.
const MANY: f64 = 0.01;

impl SampledAnswer {
    /// Draws a cell, or two, and the figures asked for by their ids; those that come first where none is.
    ///
    /// # Errors
    /// Where a cell does not hold together, a figure is not known, or the number of draws is out of bounds; places begin
    /// with `sheet`, `second`, `figures` and `draws`.
    pub fn of(
        first: &Draft,
        second: Option<&Draft>,
        figures: &[String],
        (draws, seed): (Option<u32>, Option<u64>),
        executor: &impl Executor,
    ) -> Result<Self, Problems> {
        let plan = plan(draws, seed, entries(first, second))?;
        let subject = Subject::of(
            first,
            second,
            ("figures", figures),
            &[WhichCell::First, WhichCell::Second, WhichCell::Hardware, WhichCell::Change],
        )?;
        let sampler = subject.sampler();
        let sampled = sample(&sampler, subject.outputs.len(), plan, executor, || {
            let mut by = subject.evaluators();
            let subject = &subject;
            move |values: &[f64], out: &mut [f64]| subject.at(&mut by, values, out)
        });
        if sampled.outputs.iter().any(|drawn| drawn.tally.count() < 2) {
            return Err(Problem::new(
                "sheet",
                format!("{} trials without an answer", plan.draws),
                "uncertainties small enough that the cell holds together in some of the trials",
            )
            .into());
        }
        let spread = subject.first_order();
        let mut all = Vec::with_capacity(subject.outputs.len());
        for (i, ((definition, of), drawn)) in subject.outputs.iter().zip(&sampled.outputs).enumerate() {
            let best = subject.at_best.get(i).copied().unwrap_or(f64::NAN);
            all.push(figure(definition, *of, drawn, best, spread.u(i)));
        }
        let main = |figure: &DrawnFigure| {
            figure.id == "volumetric" && (figure.of == WhichCell::Change || second.is_none())
        };
        let sensitivity = all
            .iter()
            .position(main)
            .map_or_else(Vec::new, |at| variance_shares(&spread, at, |i| subject.input(i)));
        let mut remarks = cautioned(&subject.drafts());
        remarks.extend(self::remarks(&subject, &sampled, &all, plan.seed));
        remarks.extend(spread.unmoved().iter().filter_map(|i| Some(unmoved(subject.input(*i)?.0))));
        let words = sentence(&subject, &sampled, &all);
        Ok(Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cells: subject.cells(),
            answer: words.done(sensitivity, assumed(&subject.drafts())),
            draws: plan.draws,
            seed: plan.seed,
            impossible: sampled.impossible as f64 / f64::from(plan.draws),
            apart: sampled
                .apart
                .iter()
                .map(|(place, count)| ImpossibleTrials {
                    place: place.clone(),
                    share: *count as f64 / f64::from(plan.draws),
                })
                .collect(),
            figures: all,
            remarks,
            sensitivity: None,
        })
    }
}

fn figure(definition: &'static Definition, of: WhichCell, drawn: &Drawn, best: f64, u: f64) -> DrawnFigure {
    let size = definition.unit.in_si();
    let write = |value, u, interval| {
        let print = if matches!(of, WhichCell::Change | WhichCell::Hardware) {
            notation::print_signed
        } else {
            notation::print
        };
        Figure::of(value, u, interval, definition.unit, print)
    };
    // Below the rounding of what it is taken from, an uncertainty is none.
    let noise = |u: f64| if u > 1e-12 * best.abs() { u } else { 0.0 };
    let (u, drawn_u) = (noise(u), noise(drawn.u));
    let about = Interval::about(best, u);
    let (shown, first_order) = (write(drawn.mean, drawn_u, drawn.interval), write(best, u, about));
    let within = size * tolerance(u / size, notation::digits(u / size));
    let validation = if drawn_u == 0.0 && u == 0.0 {
        Validation { verdict: IntervalVerdict::Agrees, tolerance: 0.0, low: 0.0, high: 0.0 }
    } else {
        Validation::of(about, drawn.interval, drawn.interval_error, within)
    };
    let interval = if drawn_u > 0.0 { shown.interval() } else { shown.text.clone() };
    let first_order_interval = if u > 0.0 { first_order.interval() } else { first_order.text.clone() };
    let remark = match validation.verdict {
        IntervalVerdict::Agrees => String::new(),
        IntervalVerdict::Differs => format!(
            "first order is not enough: it gives {first_order_interval}, Monte Carlo {interval}, and Monte Carlo holds"
        ),
        IntervalVerdict::Open => "too few trials to tell whether first order is enough".to_owned(),
    };
    let quantiles = if drawn_u > 0.0 {
        let shares = (0..=STEPS).map(|step| f64::from(step) / f64::from(STEPS));
        shares.map(|share| [share, drawn.tally.quantile(share) / size]).collect()
    } else {
        Vec::new()
    };
    DrawnFigure {
        quantiles,
        id: definition.id,
        label: definition.label,
        of,
        errors: [drawn.mean_error, drawn.u_error, drawn.interval_error.low, drawn.interval_error.high]
            .map(|error| error / size),
        drawn: shown,
        interval,
        first_order,
        first_order_interval,
        verdict: validation.verdict,
        remark,
        tolerance: validation.tolerance / size,
        apart: [validation.low / size, validation.high / size],
    }
}

fn sentence(subject: &Subject<'_>, sampled: &Sampled, all: &[DrawnFigure]) -> Words {
    let cells = subject.cells();
    let draws = sampled.draws;
    let (opening, of) = match cells.as_slice() {
        [first, second] => (
            format!("In {draws} Monte Carlo trials {second}, compared with {first}, gives "),
            WhichCell::Change,
        ),
        _ => (format!("In {draws} Monte Carlo trials {} gives ", cells.join(" and ")), WhichCell::First),
    };
    let words = named(Words::default().say(opening), all, of).say(".");
    if all.iter().any(|figure| figure.of == WhichCell::Hardware) {
        named(words.say(" Of that, the changed parts alone contribute "), all, WhichCell::Hardware).say(".")
    } else {
        words
    }
}

/// The figures that a cell is judged by, or the first of those asked for.
fn named(mut words: Words, all: &[DrawnFigure], of: WhichCell) -> Words {
    let wanted = ["volumetric", "gravimetric", "energy", "capacity"];
    let find = |id: &str| all.iter().find(|figure| figure.id == id && figure.of == of);
    let mut named: Vec<&DrawnFigure> = wanted.into_iter().filter_map(find).collect();
    if named.is_empty() {
        named.extend(all.iter().filter(|figure| figure.of == of).take(4));
    }
    for (i, figure) in named.iter().enumerate() {
        let before = match named.len() - i {
            _ if i == 0 => "",
            1 => " and ",
            _ => ", ",
        };
        words = words.say(before).number(&figure.drawn);
        if i == 0 && !figure.interval.is_empty() {
            words = words.say(format!(" (95 %: {})", figure.interval));
        }
    }
    words
}

fn remarks(subject: &Subject<'_>, sampled: &Sampled, all: &[DrawnFigure], seed: u64) -> Vec<String> {
    let mut remarks = Vec::new();
    if let Some(words) = without(sampled) {
        remarks.push(words);
        let missing = sampled.impossible + sampled.apart.iter().map(|(_, count)| count).sum::<u64>();
        if missing as f64 > MANY * f64::from(sampled.draws) {
            remarks.extend(apart::entry_to_state(subject, seed));
        }
    }
    for (verdict, words) in [
        (IntervalVerdict::Differs, "First order is not enough for"),
        (IntervalVerdict::Open, "Too few trials to tell whether first order is enough for"),
    ] {
        let of_it: Vec<&DrawnFigure> = all.iter().filter(|figure| figure.verdict == verdict).collect();
        if !of_it.is_empty() {
            let mut names: Vec<String> = of_it.iter().map(|figure| figure.label.to_owned()).collect();
            names.dedup();
            remarks.push(format!("{words} {}.", super::sentence::listed(&names)));
        }
    }
    let together = subject.correlation().inputs();
    let ranges = together.iter().filter_map(|i| subject.uncertain().get(*i));
    if ranges.into_iter().any(|uncertain| matches!(uncertain.spread, Spread::Range { .. })) {
        remarks.push(
            "Correlated ranges are sampled through a Gaussian copula: their coefficients come out up to 0.02 smaller.".to_owned(),
        );
    }
    remarks
}

/// How many draws have no answer, and why; nothing where all have one.
fn without(sampled: &Sampled) -> Option<String> {
    let share = |count: u64| match 100.0 * count as f64 / f64::from(sampled.draws) {
        percent if percent < 0.1 => "less than 0.1 %".to_owned(),
        percent => format!("{percent:.1} %"),
    };
    let apart: u64 = sampled.apart.iter().map(|(_, count)| count).sum();
    if apart + sampled.impossible == 0 {
        return None;
    }
    let mut why = Vec::new();
    if apart > 0 {
        let most = sampled.apart.iter().take(3).filter(|(place, _)| !place.is_empty());
        let places: Vec<String> = most.map(|(place, count)| format!("{place} {}", share(*count))).collect();
        let places = if places.is_empty() { String::new() } else { format!(" ({})", places.join(", ")) };
        why.push(format!("in {} the cell does not hold together{places}", share(apart)));
    }
    if sampled.impossible > 0 {
        why.push(format!(
            "in {} an entry is no longer what it may be, as a length below zero",
            share(sampled.impossible)
        ));
    }
    Some(format!(
        "{} of the trials have no answer: {}. All figures are of the other draws; where many have none, the entries \
         contradict one another or are given too wide.",
        share(apart + sampled.impossible),
        why.join(", and ")
    ))
}

#[cfg(test)]
mod tests;
