//! A declared figure weighed: the verdict in words, then what it rests on.

mod chance;
mod details;
mod list;
mod nearest;
mod words;

pub use chance::Chance;
pub use details::{
    BasisRow, ClaimDetails, ConventionRow, Digits, DigitsRow, HistogramAnswer, InformationRow, RequiredRow,
};
pub use list::{ClaimsAnswer, ConsistencyAnswer, DeclaredRow, RelationshipRow};
pub use nearest::{NearestAnswer, NearestRow};

use super::estimate::in_full;
use super::figure_writer::Figure;
use super::sentence::Sentence;
use crate::cautions::{Caution, cautions};
use details::{figure, holds_at_best, tidy};
use roulade::quantity::notation;
use roulade::quantity::units::Unit;
use roulade::study::claim::{
    CONTRADICTED, Check, On, PossibleReading, Required, SUPPORTED, Standing, Verdict, Where,
};
use roulade_stats::uncertain::Uncertain;
use serde::Serialize;
use words::{conventions, digits, remarks, sentence};

/// Answer about a claim.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ClaimAnswer {
    /// Version of this crate.
    pub roulade: &'static str,
    /// The cell it is about.
    pub cell: String,
    /// The cell it compares with.
    pub other: Option<String>,
    /// What becomes of the claim.
    pub verdict: Verdict,
    /// In words.
    pub answer: Sentence,
    /// The claim as it was understood.
    pub claim: ClaimDetails,
    /// The figure on the claim's basis.
    pub figure: Figure,
    /// Chance that the claim holds, by draws.
    pub chance: Chance,
    /// The same for a normal distribution of the first-order uncertainty.
    pub normal: Chance,
    /// The chances at which a claim counts as contradicted and as supported.
    pub thresholds: (f64, f64),
    /// What its digits leave open.
    pub rounding: Digits,
    /// On each basis.
    pub bases: Vec<BasisRow>,
    /// Other conventions under which it may have been declared.
    pub conventions: Vec<ConventionRow>,
    /// Under which conventions and on which bases the claim would stand otherwise, in a sentence.
    pub conventions_text: String,
    /// The most probable cell that just meets the claim; absent where nothing uncertain moves the figure.
    pub nearest: Option<NearestAnswer>,
    /// Whether `alone` says when the claim would hold ("hold"), or when it would fail ("fail").
    pub alone_to: &'static str,
    /// What each input alone would have to be, the nearest first.
    pub required: Vec<RequiredRow>,
    /// Readings that could settle it, the best first.
    pub information: Vec<InformationRow>,
    /// How the draws lie.
    pub histogram: HistogramAnswer,
    /// What to know of this answer.
    pub remarks: Vec<String>,
    /// What to keep in mind where a cell is opened for a reading.
    pub cautions: &'static [Caution],
}

impl ClaimAnswer {
    /// Puts a check in words.
    pub fn of(check: &Check) -> Self {
        let claim = check.claim();
        let unit = claim.shown_in();
        let size = unit.in_si();
        let shown =
            |(low, high): (f64, f64)| [low, high].map(|edge| edge.is_finite().then(|| tidy(edge / size)));
        let [low, high] = shown(check.holds);
        let value = figure(check.best, check.u, unit, claim.over.is_some());
        let other = check.other().map(|draft| draft.name().to_owned());
        Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cell: check.cell().name().to_owned(),
            verdict: check.verdict,
            answer: sentence(check, &value),
            claim: ClaimDetails {
                text: claim.text(),
                figure: claim.figure.id,
                label: claim.figure.label,
                relation: claim.relation,
                over: claim.over.is_some(),
                value: tidy(claim.value / size),
                low,
                high,
                unit: unit.symbol(),
                basis: claim.basis.name(),
                basis_text: On { figure: claim.figure, basis: claim.basis }.note(),
                rate: claim.rate.map(|rate| tidy(rate / Unit::PerHour.in_si())),
                window: (!claim.window.is_none()).then_some((claim.window.lower, claim.window.upper)),
                temperature: claim.temperature,
                standing: claim.standing.map(Standing::name),
            },
            figure: value,
            chance: Chance::of(check.chance),
            normal: Chance::of(check.normal),
            thresholds: (CONTRADICTED, SUPPORTED),
            rounding: digits(check, shown),
            bases: check
                .bases
                .iter()
                .map(|on| BasisRow {
                    basis: on.on.words(claim.figure),
                    text: on.on.note(),
                    figure: figure(on.best, on.u, unit, claim.over.is_some()),
                    chance: Chance::of(on.chance),
                    verdict: on.verdict,
                    main: on.on.basis == claim.basis && on.on.figure.id == claim.figure.id,
                })
                .collect(),
            conventions: check
                .conventions
                .iter()
                .map(|one| ConventionRow {
                    name: one.name.clone(),
                    text: one.note,
                    figure: figure(one.best, check.u * one.best / check.best, unit, false),
                    chance: Chance::of(one.chance),
                    verdict: one.verdict,
                })
                .collect(),
            conventions_text: conventions(check),
            nearest: nearest::of_check(check),
            alone_to: if holds_at_best(check) { "fail" } else { "hold" },
            required: check.required.iter().map(alone).collect(),
            information: check.information.iter().map(|reading| information(reading, unit)).collect(),
            histogram: HistogramAnswer {
                trials: check.histogram.over(size),
                draws: check.draws,
                held: check.held,
            },
            remarks: remarks(check),
            cautions: cautions(check.cell().ion()),
            other,
        }
    }
}

fn alone(alone: &Required) -> RequiredRow {
    let range = alone
        .plausible
        .map(|((low, high), _)| notation::print_brief(&Uncertain::range(low, high), alone.unit));
    RequiredRow {
        path: alone.path.clone(),
        label: in_full(alone.section, &alone.label, alone.cell.as_deref()),
        cell: alone.cell.clone(),
        prior: notation::print_brief(&alone.uncertain, alone.unit),
        plausible: range,
        source: alone.plausible.map(|(_, source)| source),
        needed: alone.needed.map(|needed| figure(needed, 0.0, alone.unit, false)),
        place: alone.place,
        implies: alone
            .implies
            .map(|(figure, value)| format!("{} {}", figure.label, notation::print(value, 0.0, figure.unit))),
        place_text: match alone.place {
            _ if alone.implies.is_some() => "would take another quantity beyond what is plausible",
            Where::Uncertain => "within its uncertainty",
            Where::Plausible => "plausible",
            Where::Beyond if alone.plausible.is_some() => "beyond what is plausible",
            Where::Beyond => "beyond its uncertainty",
            Where::Never => "cannot reach it alone",
        },
    }
}

fn information(reading: &PossibleReading, unit: Unit) -> InformationRow {
    InformationRow {
        path: reading.path.clone(),
        key: reading.key.clone(),
        label: in_full(reading.section, &reading.label, reading.cell.as_deref()),
        cell: reading.cell.clone(),
        how: reading.how,
        opens: reading.opens,
        now: spread(reading.now, reading.unit),
        reading: spread(reading.of_reading, reading.unit),
        takes: reading.takes,
        leaves: spread(reading.leaves, unit),
        settles: Chance::of(reading.settles),
        together: Chance::of(reading.together),
    }
}

/// A standard uncertainty by itself: "± 0.2 mg/cm²".
fn spread(u: f64, unit: Unit) -> String {
    let shown = notation::rounded(0.0, u / unit.in_si()).1.unwrap_or_else(|| "0".to_owned());
    format!("± {shown} {}", unit.symbol()).trim_end().to_owned()
}
