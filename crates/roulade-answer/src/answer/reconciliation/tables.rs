//! The rows of its tables, and how their numbers are written.

use crate::answer::figure_writer::{Figure, FigureWriter, Writing};
use roulade::quantity::notation;
use roulade::quantity::units::Unit;
use roulade::study::bench::{Scope, UncertaintySource};
use roulade_stats::uncertain::{Origin, Uncertain};
use serde::Serialize;

/// Probability of a χ² below which the readings contradict one another or the sheet.
pub(super) const CONTRADICTED: f64 = 0.01;

/// How the fit went.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FitRow {
    /// Whether the parameters are the best there are nearby.
    pub converged: bool,
    /// Where it ended: "settled", "at the edge" of what designs are possible, "at a corner" of a prediction, or
    /// "out of steps".
    pub stopped: &'static str,
    /// Why it ended, in words.
    pub ending: String,
    /// Steps taken.
    pub steps: usize,
    /// By how much the sum of squares could still fall, by its slopes; none to speak of where it converged.
    pub left: f64,
    /// How dear a residual was: "normal", "huber" or "student".
    pub loss: &'static str,
    /// Squares of all normalised residuals, of readings and of what was known beforehand.
    pub chi_square: f64,
    /// Degrees of freedom.
    pub degrees: usize,
    /// χ² per degree of freedom.
    pub reduced: Option<f64>,
    /// Probability of a χ² at least as large if all uncertainties are right.
    pub probability: Option<f64>,
    /// How far the readings see: singular values of the sensitivities in units of what was known beforehand and of the
    /// readings' uncertainties, the largest first.
    pub singular: Vec<f64>,
}

/// An entry of the sheet before and after.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ParameterRow {
    /// Path in the sheet.
    pub path: String,
    /// Heading.
    pub section: &'static str,
    /// What it is called.
    pub label: String,
    /// As it was written, or the default.
    pub text: String,
    /// Where it came from.
    pub origin: Origin,
    /// What was known beforehand, as it went into the fit.
    pub before: Figure,
    /// After the readings.
    pub after: Figure,
    /// How far it moved, in standard uncertainties from before.
    pub moved: f64,
    /// Share of its variance that the readings took off, 0 to 1.
    pub read: f64,
    /// Whether the readings say anything of it.
    pub determined: bool,
    /// "lower" or "upper" where a bound of its range stopped it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stopped: Option<&'static str>,
    /// It stood as exact, and moves because it was read.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub freed: bool,
}

/// A reading and what became of it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ReadingRow {
    /// Line of the bench sheet.
    pub line: u64,
    /// Cell, where it was named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub cell: Option<String>,
    /// Specimen; may be empty.
    pub specimen: String,
    /// Name of the quantity.
    pub key: String,
    /// The same in plain words.
    pub label: String,
    /// As it was written.
    pub text: String,
    /// In the trade's unit; its uncertainty is the one that was taken, where it was used.
    pub reading: Figure,
    /// "used", "left out", "unfit", "unreadable", or "other" for one of another cell; "read" where nothing was held against it yet.
    pub fate: &'static str,
    /// Why it was not used.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
    /// Where its uncertainty comes from: "stated", "instrument" or "typical".
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uncertainty_from: Option<UncertaintySource>,
    /// What the reconciled design predicts.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub predicted: Option<Figure>,
    /// Reading less prediction.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub difference: Option<Figure>,
    /// That over the reading's uncertainty, scatter between specimens and shared errors included.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub residual: Option<f64>,
    /// That over the standard deviation of the difference after the fit; absent for one nothing else speaks of.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub z: Option<f64>,
    /// How far the design follows it, 0 to 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counted: Option<f64>,
    /// Weight under a robust loss; absent where it is one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub weight: Option<f64>,
    /// Whether it is among the readings that are suspect.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub outlier: bool,
    /// Its variant.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub population: Option<String>,
    /// Whether it is of a variant that the design is not.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub other_variant: bool,
    /// The instrument.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
    /// The remark.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub remark: Option<String>,
    /// The date.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
}

/// A suspect reading.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct OutlierRow {
    /// Line of the bench sheet.
    pub line: u64,
    /// What was read, off what.
    pub label: String,
    /// How far it is off, in standard deviations of the difference to what the others leave.
    pub z: f64,
    /// Probability of so much by chance, of one reading.
    pub probability: f64,
    /// What that may be for the worst of so many readings.
    pub limit: f64,
    /// Lines of readings that are suspect with it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub also: Vec<u64>,
    /// How much is suspect: "reading", all readings of a "specimen" or of the "quantity", two in "exchange", or
    /// all readings of a specimen that is another "cell".
    pub scope: Scope,
    /// Lines of readings that could be wrong in its place.
    pub or: Vec<u64>,
    /// What all others expect of it.
    pub expected: Figure,
    /// What was read less that; of a whole quantity the mean of what was read.
    pub off: Figure,
    /// A typical slip that would explain it, in words.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub slip: Option<&'static str>,
    /// The value that it would then have.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub meant: Option<Figure>,
    /// It was left out of the fit.
    pub left_out: bool,
    /// In words.
    pub text: String,
}

/// A reading that is further off than the others, but not beyond chance.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FurthestRow {
    /// Line of the bench sheet.
    pub line: u64,
    /// What was read, off what.
    pub label: String,
    /// How far it is off, in standard deviations of the difference to what the others leave.
    pub z: f64,
    /// Probability of so much by chance, of one reading.
    pub probability: f64,
    /// Probability that the worst of so many readings is as far off by chance.
    pub chance: f64,
    /// In words.
    pub text: String,
}

/// A specimen in one quantity.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SpecimenRow {
    /// Its name.
    pub specimen: String,
    /// Its variant, where variants are kept apart.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub population: Option<String>,
    /// Mean of its readings.
    pub mean: Figure,
    /// How many.
    pub readings: usize,
}

/// Scatter between specimens in one quantity.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ScatterRow {
    /// Name of the quantity.
    pub key: String,
    /// In plain words.
    pub label: String,
    /// The specimens.
    pub specimens: Vec<SpecimenRow>,
    /// Standard deviation between them; absent from one specimen, which says nothing of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub between: Option<Figure>,
    /// What that is not above, with a probability of 95 %.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_most: Option<Figure>,
    /// In words.
    pub text: String,
}

/// An instrument's shared error, as the readings show it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct InstrumentRow {
    /// Its name; of an ordinary one with what it read.
    pub instrument: String,
    /// Standard uncertainty of the error that an ordinary instrument's readings of this quantity were supposed to share,
    /// where no instrument file says it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub supposed: Option<Figure>,
    /// How many readings share it.
    pub readings: usize,
    /// Error of its zero.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub zero: Option<Figure>,
    /// Relative error of its scale.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub scale: Option<Figure>,
}

pub(super) fn figure(si: f64, u: f64, unit: Unit) -> Figure {
    Writing::with(&[u]).figure(si, unit)
}

/// To two digits: what is itself known roughly.
pub(in crate::answer) fn brief(si: f64, unit: Unit) -> Figure {
    let value = si / unit.in_si();
    let text = format!("{} {}", notation::rounded(value, 0.3 * value).0, unit.symbol());
    Figure { value, u: None, low: None, high: None, unit: unit.symbol(), text: text.trim_end().to_owned() }
}

pub(super) fn signed(si: f64, u: f64, unit: Unit) -> Figure {
    Writing::with(&[u]).difference(si, unit)
}

pub(super) fn of(uncertain: Uncertain, unit: Unit) -> Figure {
    figure(uncertain.value, uncertain.u(), unit)
}

/// A probability as it is read.
pub(super) fn small(p: f64) -> String {
    if p < 1e-4 { "below 0.0001".to_owned() } else { notation::rounded(p, 0.05 * p).0 }
}
