//! Rows of an answer about a claim.

use super::super::figure_writer::Figure;
use super::chance::Chance;
use roulade::quantity::notation;
use roulade::quantity::units::Unit;
use roulade::study::claim::{Check, Histogram, Relation, Verdict, Where};
use roulade_stats::decimal;
use roulade_stats::propagation::interval::Interval;
use serde::Serialize;

/// The claim as it was understood.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ClaimDetails {
    /// In its shortest clear form.
    pub text: String,
    /// Id of the figure.
    pub figure: &'static str,
    /// What the figure is called.
    pub label: &'static str,
    /// How it stands to the value.
    pub relation: Relation,
    /// Whether it is a change over the other cell.
    pub over: bool,
    /// The value, in `unit`.
    pub value: f64,
    /// Lower end of the interval in which the claim holds, rounding allowed for; absent where there is none.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
    /// Unit in which all figures of this answer are shown.
    pub unit: &'static str,
    /// What the figure is taken over.
    pub basis: &'static str,
    /// The same in words.
    pub basis_text: &'static str,
    /// The rate, 1/h, where the claim states one.
    pub rate: Option<f64>,
    /// Lower and upper voltage limit, V, where the claim states one.
    pub window: Option<(Option<f64>, Option<f64>)>,
    /// The temperature, °C, where the claim states one.
    pub temperature: Option<f64>,
    /// "minimum" or "typical", where the claim says so.
    pub standing: Option<&'static str>,
}

/// What the digits of the claim leave open.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Digits {
    /// Whether the verdict is another one by another reading of the digits.
    pub decides: bool,
    /// In a sentence.
    pub text: String,
    /// Each reading.
    pub readings: Vec<DigitsRow>,
}

/// One way to read the digits.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DigitsRow {
    /// In words.
    pub text: String,
    /// Lower end of the interval in which the claim then holds.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
    /// Chance of that.
    pub chance: Chance,
    /// What becomes of the claim.
    pub verdict: Verdict,
    /// Whether this reading decides.
    pub main: bool,
}

/// The claim on one basis.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BasisRow {
    /// Which: "cell", "roll", "cell, under load".
    pub basis: String,
    /// In words.
    pub text: &'static str,
    /// The figure on it.
    pub figure: Figure,
    /// Chance that the claim holds on it.
    pub chance: Chance,
    /// What becomes of it.
    pub verdict: Verdict,
    /// Whether it is the claim's own.
    pub main: bool,
}

/// The claim under another convention.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ConventionRow {
    /// Which: "rated at 0.2 It".
    pub name: String,
    /// What it means.
    pub text: &'static str,
    /// The figure under it.
    pub figure: Figure,
    /// Chance that the claim holds under it.
    pub chance: Chance,
    /// What becomes of it.
    pub verdict: Verdict,
}

/// What one input alone would have to be.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RequiredRow {
    /// Its path in the sheet.
    pub path: String,
    /// What it is called, in full.
    pub label: String,
    /// Its cell, where there are two and they do not share it.
    pub cell: Option<String>,
    /// As it is known.
    pub prior: String,
    /// Its plausible range; absent where none is stated.
    pub plausible: Option<String>,
    /// Where that comes from.
    pub source: Option<&'static str>,
    /// The value that would do; absent where none does.
    pub needed: Option<Figure>,
    /// Where it lies: "uncertain", "plausible", "beyond" or "never".
    pub place: Where,
    /// The same in words.
    pub place_text: &'static str,
    /// What that value would make of another quantity, where that is not plausible: "cathode porosity 8.2 %".
    #[serde(skip_serializing_if = "Option::is_none")]
    pub implies: Option<String>,
}

/// A reading that could settle the claim.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct InformationRow {
    /// Path of the input.
    pub path: String,
    /// Its name in a bench sheet.
    pub key: String,
    /// What it is called, in full.
    pub label: String,
    /// Its cell, where there are two and they do not share it.
    pub cell: Option<String>,
    /// How it would be read.
    pub how: &'static str,
    /// Whether the cell must be opened for it.
    pub opens: bool,
    /// Standard uncertainty now.
    pub now: String,
    /// That of the reading: common practice, no source.
    pub reading: String,
    /// Share of the figure's variance that it takes away.
    pub takes: f64,
    /// The figure's standard uncertainty after it.
    pub leaves: String,
    /// Chance that the claim is supported or contradicted after it.
    pub settles: Chance,
    /// The same after this one and all above it.
    pub together: Chance,
}

/// How the draws lie, in the unit of the claim.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct HistogramAnswer {
    /// The draws.
    #[serde(flatten)]
    pub trials: Histogram,
    /// Draws asked for.
    pub draws: u32,
    /// Those whose cell held together.
    pub held: u32,
}

/// Without the trace of a unit's conversion.
pub(super) fn tidy(x: f64) -> f64 {
    decimal::number(&format!("{x:.11e}")).unwrap_or(x)
}

pub(super) fn figure(si: f64, u: f64, unit: Unit, change: bool) -> Figure {
    let print = if change { notation::print_signed } else { notation::print };
    Figure::of(si, u, Interval::about(si, u), unit, print)
}

/// Whether the claim holds at the best values.
pub(super) fn holds_at_best(check: &Check) -> bool {
    check.holds.0 <= check.best && check.best <= check.holds.1
}
