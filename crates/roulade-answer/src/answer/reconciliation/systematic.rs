//! What many readings have in common: specimens of two kinds, and errors of a whole quantity.

use super::tables::{figure, signed, small};
use crate::answer::figure_writer::Figure;
use roulade::quantity::notation;
use roulade::quantity::problem::quoted;
use roulade::quantity::units::Unit;
use roulade::study::bench::{self, Reconciled, Scope, VariantsVerdict};
use roulade::study::readings::sheet::Bench;
use serde::Serialize;

/// A quantity is more likely off as a whole than not.
const LIKELIER: f64 = 0.5;

/// Two suspected variants in one quantity.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PopulationRow {
    /// Name of the quantity.
    pub key: String,
    /// In plain words.
    pub label: String,
    /// Whether the bench sheet tells the variants apart; otherwise they were split by their values.
    pub labelled: bool,
    /// Both, the design's first: a name and the specimens.
    pub groups: [(String, Vec<String>); 2],
    /// The second less the first.
    pub difference: Figure,
    /// Probability of so large a difference if all were of one kind.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub probability: Option<f64>,
    /// What the data say: "two", "one", "open" or "untested".
    pub verdict: VariantsVerdict,
    /// In words.
    pub text: String,
}

/// A quantity whose readings are more likely off as a whole than not.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct OffsetRow {
    /// Name of the quantity.
    pub key: String,
    /// In plain words.
    pub label: String,
    /// Probability that they are.
    pub chance: f64,
    /// By how much, if they are.
    pub off: Figure,
    /// In words.
    pub text: String,
}

/// Specimens of one of two kinds, where their values alone tell them apart: nobody else says which they are.
fn listed(population: &bench::Population, kind: usize) -> String {
    let mut members = population.groups.get(kind).map_or_else(Vec::new, |(_, members)| members.clone());
    members.sort_unstable();
    if population.labelled { String::new() } else { format!(" ({})", quoted(&members)) }
}

/// "0.24 ± 0.02 g (1.2 %)".
fn size(population: &bench::Population, unit: Unit) -> String {
    let u = if population.u.is_finite() { population.u } else { 0.0 };
    let by = population.difference.abs();
    let text = figure(by, u, unit).text;
    let part = 100.0 * by / population.of.abs();
    if part < 1e3 { format!("{text} ({} %)", notation::rounded(part, 0.05 * part).0) } else { text }
}

pub(super) fn population_rows(found: &Reconciled) -> Vec<PopulationRow> {
    let row = |population: &bench::Population| {
        let asked = found.asked.get(population.asked)?;
        let unit = asked.quantity.unit;
        let u = if population.u.is_finite() { population.u } else { 0.0 };
        let difference = signed(population.difference, u, unit);
        let [(first, _), (second, members)] = &population.groups;
        let chance = population
            .probability
            .map_or_else(String::new, |p| format!(" (probability by chance {})", small(p)));
        let margin = notation::print(population.margin, 0.0, unit);
        let text = match population.verdict {
            VariantsVerdict::Two => format!(
                "{}: the specimens are of two kinds; those of \"{second}\"{} lie {} {} those of \"{first}\"{}{chance}. The \
                 design is \"{first}\".",
                asked.label(),
                listed(population, 1),
                size(population, unit),
                if population.difference < 0.0 { "below" } else { "above" },
                listed(population, 0),
            ),
            VariantsVerdict::One if population.labelled => format!(
                "{}: one kind; \"{second}\" and \"{first}\" are less than {margin} apart, and are taken together.",
                asked.label()
            ),
            VariantsVerdict::One => format!("{}: no sign of two kinds{chance}.", asked.label()),
            VariantsVerdict::Open => format!(
                "{}: open whether \"{second}\" and \"{first}\" are of one kind: {}{chance}. They are kept apart; the design is \
                 \"{first}\".",
                asked.label(),
                difference.text
            ),
            VariantsVerdict::Untested => format!(
                "{}: too few specimens to tell{}.",
                asked.label(),
                if population.labelled && !members.is_empty() { "; the two are kept apart" } else { "" }
            ),
        };
        Some(PopulationRow {
            key: asked.key(),
            label: asked.label(),
            labelled: population.labelled,
            groups: population.groups.clone(),
            difference,
            probability: population.probability,
            verdict: population.verdict,
            text,
        })
    };
    found.populations.iter().filter_map(row).collect()
}

/// Quantities whose readings are more likely off as a whole than not, and that no test names: nothing that was read tells it beyond
/// chance.
pub(super) fn offset_rows(readings: &Bench, found: &Reconciled) -> Vec<OffsetRow> {
    let named = |offset: &bench::Offset| {
        let of_it = |outlier: &&bench::SuspectReading| outlier.scope == Scope::Quantity;
        let asked = |i: usize| readings.readings.get(i).map(|reading| &reading.asked);
        let mut all = found.outliers.iter().filter(of_it);
        all.any(|outlier| {
            std::iter::once(&outlier.reading)
                .chain(&outlier.or)
                .any(|i| asked(*i) == found.asked.get(offset.asked))
        })
    };
    let row = |offset: &bench::Offset| {
        let asked = found.asked.get(offset.asked)?;
        let unit = asked.quantity.unit;
        let by = signed(offset.size.value, offset.size.u(), unit);
        let text = format!(
            "{}: all readings are off by {} with a probability of {:.0} %: an offset of the instrument ({}), which the other \
             readings suggest and do not prove. The uncertainties allow for it.",
            asked.label(),
            by.text,
            100.0 * offset.chance,
            asked.quantity.typical.instrument
        );
        Some(OffsetRow { key: asked.key(), label: asked.label(), chance: offset.chance, off: by, text })
    };
    let likely = found.offsets.iter().filter(|offset| offset.chance > LIKELIER && !named(offset));
    likely.filter_map(row).collect()
}
