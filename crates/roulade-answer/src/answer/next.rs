//! What to read next, in words.

use super::figure_writer::{Figure, FigureWriter, Writing};
use super::hazards::cautioned;
use super::reconciliation::brief;
use super::sentence::{Sentence, Words};
use roulade::cell::draft::Draft;
use roulade::cell::figures::Definition;
use roulade::study::bench::UncertaintySource;
use roulade::study::bench::next::{Choice, Next};
use roulade_stats::least_squares::next::Gain;
use serde::Serialize;

/// A reading that could be taken.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ChoiceRow {
    /// Name of the cell.
    pub cell: String,
    /// Name of the quantity, as in a bench sheet.
    pub key: String,
    /// Under which conditions, where it needs some.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// In plain words.
    pub label: String,
    /// Standard uncertainty of one reading, as "± 0.1 mm".
    pub instrument_u: Figure,
    /// With which instrument.
    pub instrument: String,
    /// Where its uncertainty comes from: "instrument" or "typical".
    pub uncertainty_from: UncertaintySource,
    /// What the sheet predicts for it.
    pub predicted: f64,
    /// Share of the figure's variance that it takes off, 0 to 1.
    pub removed: f64,
    /// The figure's standard uncertainty afterwards, in the figure's unit.
    pub after: Figure,
}

/// What to read next for a figure.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct NextAnswer {
    /// Version of this crate.
    pub roulade: &'static str,
    /// Names of the cells: one, or the two whose difference is asked for.
    pub cells: Vec<String>,
    /// In one sentence.
    pub answer: Sentence,
    /// Id of the figure.
    pub figure: &'static str,
    /// What it is called.
    pub label: &'static str,
    /// The figure, or its difference, as it is known now.
    pub now: Figure,
    /// Every reading by what it alone would do, the best first.
    pub alone: Vec<ChoiceRow>,
    /// The best to take one after another, each knowing those before it.
    pub in_turn: Vec<ChoiceRow>,
    /// What to know of this answer.
    pub remarks: Vec<String>,
}

/// What a ranking to first order rests on.
const FIRST_ORDER: [&str; 3] = [
    "First order: the variance that a reading removes does not depend on the value it finds. The instrument's uncertainty is that \
                 of one reading with an ordinary instrument (common practice, no source) unless the instrument file has one of \
                 its name.",
    "Half of the variance of an ordinary instrument's reading is what all its readings of one quantity share (common \
                 practice, no source): reading a quantity again with the same instrument removes less than the first reading did.",
    "An exact entry has no variance to remove: give it its uncertainty.",
];

impl NextAnswer {
    /// Puts it into words.
    pub fn of(drafts: &[&Draft], figure: &'static Definition, found: &Next) -> Self {
        let names: &[String] = &drafts.iter().map(|draft| draft.name().to_owned()).collect::<Vec<_>>();
        let writer = |si: f64, u: f64, unit| Writing::with(&[u]).figure(si, unit);
        let variance = found.u * found.u;
        let row = |choice: &Choice, gain: &Gain| ChoiceRow {
            cell: names.get(choice.cell).cloned().unwrap_or_default(),
            key: choice.asked.key(),
            at: Some(choice.asked.under.to_string()).filter(|at| !at.is_empty()),
            label: choice.asked.label(),
            instrument_u: brief(choice.u, choice.asked.quantity.unit),
            instrument: choice.instrument.clone(),
            uncertainty_from: choice.uncertainty_from,
            predicted: choice.predicted / choice.asked.quantity.unit.in_si(),
            removed: if variance > 0.0 { gain.removed / variance } else { 0.0 },
            after: brief(gain.u, figure.unit),
        };
        let rows = |gains: &[Gain]| -> Vec<ChoiceRow> {
            gains.iter().filter_map(|gain| Some(row(found.choices.get(gain.candidate)?, gain))).collect()
        };
        let (alone, in_turn) = (rows(&found.alone), rows(&found.in_turn));
        let now = match names.len() {
            1 => writer(found.value, found.u, figure.unit),
            _ => Writing::with(&[found.u]).difference(found.value, figure.unit),
        };
        let mut remarks = cautioned(drafts);
        remarks.extend(FIRST_ORDER.map(str::to_owned));
        Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cells: names.to_vec(),
            answer: sentence(figure, &now, names, alone.first()),
            figure: figure.id,
            label: figure.label,
            now,
            alone,
            in_turn,
            remarks,
        }
    }
}

fn sentence(figure: &Definition, now: &Figure, names: &[String], best: Option<&ChoiceRow>) -> Sentence {
    let what =
        if names.len() > 1 { format!("The difference in {}", figure.name()) } else { capital(figure.name()) };
    let words = Words::default().say(format!("{what} is ")).number(now);
    let words = match best.filter(|best| best.removed > 0.0) {
        None => words.say("; no reading would reduce its uncertainty."),
        Some(best) => words
            .say(format!(
                ". Most informative next measurement: {}{}, to {} ({}); it alone leaves ",
                best.label,
                if names.len() > 1 { format!(" of {}", best.cell) } else { String::new() },
                best.instrument_u.text,
                best.instrument,
            ))
            .number(&Figure { text: format!("± {}", best.after.text), ..best.after.clone() })
            .say(format!(" and removes {:.0} % of the variance.", 100.0 * best.removed)),
    };
    words.done(Vec::new(), String::new())
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
