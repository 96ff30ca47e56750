//! A bench sheet held against a design sheet: before and after, every reading, and what is to be doubted.

use super::estimate::EstimateAnswer;
use super::pen::{Figure, Pen};
use super::sentence::{Sentence, Words};
use super::told::Told;
use crate::bench::{self, Doubt, Fate, Furthest, Moved, Reconciled, Used, Verdict, Worth};
use crate::cautions::{CAUTIONS, Caution};
use crate::design::Draft;
use crate::design::sheet::Sheet;
use crate::known::{Known, Origin, Spread};
use crate::notation;
use crate::problem::Problems;
use crate::readings::Reading;
use crate::readings::instrument::Instrument;
use crate::readings::sheet::Bench;
use crate::reconcile::{Ending, Loss};
use crate::units::Unit;
use serde::Serialize;

/// Probability of a χ² below which the readings contradict one another or the sheet.
pub(super) const CONTRADICTED: f64 = 0.01;

/// A figure of the cell before and after.
#[derive(Clone, Debug, Serialize)]
pub struct BeforeAfter {
    /// Stable name.
    pub id: &'static str,
    /// What it is.
    pub label: &'static str,
    /// By the sheet as it was.
    pub before: Figure,
    /// By the reconciled sheet.
    pub after: Figure,
}

/// How the fit went.
#[derive(Clone, Debug, Serialize)]
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
    /// "used", "unfit", "unreadable", or "other" for one of another cell; "read" where nothing was held against it yet.
    pub fate: &'static str,
    /// Why it was not used.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
    /// Where its uncertainty comes from: "stated", "instrument" or "typical".
    #[serde(skip_serializing_if = "Option::is_none")]
    pub worth: Option<Worth>,
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
    /// Whether it is among the readings to doubt.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub doubted: bool,
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

/// A reading to doubt.
#[derive(Clone, Debug, Serialize)]
pub struct DoubtRow {
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
    /// Lines of readings that could be wrong in its place.
    pub or: Vec<u64>,
    /// In words.
    pub text: String,
}

/// A reading that is further off than the others, but not beyond chance.
#[derive(Clone, Debug, Serialize)]
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

/// Two suspected variants in one quantity.
#[derive(Clone, Debug, Serialize)]
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
    pub verdict: Verdict,
    /// In words.
    pub text: String,
}

/// An instrument's shared error, as the readings show it.
#[derive(Clone, Debug, Serialize)]
pub struct InstrumentRow {
    /// Its name.
    pub instrument: String,
    /// How many readings share it.
    pub readings: usize,
    /// Error of its zero.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub zero: Option<Figure>,
    /// Relative error of its scale.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub scale: Option<Figure>,
}

/// A bench sheet held against a design sheet.
#[derive(Clone, Debug, Serialize)]
pub struct Reconciliation {
    /// Version of this crate.
    pub roulade: &'static str,
    /// Name of the cell.
    pub cell: String,
    /// In one sentence.
    pub answer: Sentence,
    /// "agree", "contradicted", or "unfinished" where the fit did not come to its end.
    pub verdict: &'static str,
    /// How the fit went.
    pub fit: FitRow,
    /// Figures of the cell before and after.
    pub figures: Vec<BeforeAfter>,
    /// Every entry that could move.
    pub parameters: Vec<ParameterRow>,
    /// Every reading.
    pub readings: Vec<ReadingRow>,
    /// Readings to doubt, the worst first.
    pub doubts: Vec<DoubtRow>,
    /// Up to three readings that are furthest off of those not in doubt: within chance, and worth a second look.
    pub furthest: Vec<FurthestRow>,
    /// How many tests the limit of the doubts allows for, in words.
    pub correction: String,
    /// Scatter between specimens.
    pub scatter: Vec<ScatterRow>,
    /// Suspected variants.
    pub populations: Vec<PopulationRow>,
    /// Shared errors of instruments.
    pub instruments: Vec<InstrumentRow>,
    /// Labels of entries that the readings say nothing of.
    pub undetermined: Vec<String>,
    /// The reconciled sheet.
    pub sheet: Sheet,
    /// Rows of the bench sheet that could not be read.
    pub problems: Vec<Told>,
    /// What to know of this answer.
    pub remarks: Vec<String>,
    /// What to keep in mind where readings come from an opened cell.
    pub cautions: &'static [Caution],
}

fn figure(si: f64, u: f64, unit: Unit) -> Figure {
    Pen::Writing { u: &[u], next: 0 }.figure(si, unit)
}

/// To two digits: what is itself known roughly.
pub(super) fn brief(si: f64, unit: Unit) -> Figure {
    let value = si / unit.in_si();
    let text = format!("{} {}", notation::rounded(value, 0.3 * value).0, unit.symbol());
    Figure { value, u: None, low: None, high: None, unit: unit.symbol(), text: text.trim_end().to_owned() }
}

fn signed(si: f64, u: f64, unit: Unit) -> Figure {
    Pen::Writing { u: &[u], next: 0 }.difference(si, unit)
}

fn of(known: Known, unit: Unit) -> Figure {
    figure(known.value, known.u(), unit)
}

/// Name of a loss.
fn loss_name(loss: Loss) -> &'static str {
    match loss {
        Loss::Normal => "normal",
        Loss::Huber { .. } => "huber",
        Loss::Student { .. } => "student",
    }
}

impl Reconciliation {
    /// Puts it into words.
    ///
    /// # Errors
    /// Where the reconciled sheet's cell does not hold together.
    pub fn of(
        draft: &Draft,
        bench: &Bench,
        instruments: &[Instrument],
        loss: Loss,
        found: Reconciled,
    ) -> Result<Self, Problems> {
        let after = Draft::read(&found.sheet)?;
        let before = EstimateAnswer::of(draft)?.headline;
        let figures = before.into_iter().zip(EstimateAnswer::of(&after)?.headline);
        let figures = figures
            .map(|(a, b)| BeforeAfter { id: a.id, label: a.label, before: a.figure, after: b.figure })
            .collect();
        let fit = fit_row(&found, loss);
        let readings = reading_rows(bench, &found);
        let doubts: Vec<DoubtRow> =
            found.doubts.iter().filter_map(|doubt| doubt_row(bench, &found, doubt)).collect();
        let parameters: Vec<ParameterRow> =
            found.moved.iter().filter_map(|moved| parameter_row(draft, moved)).collect();
        let undetermined =
            parameters.iter().filter(|row| !row.determined).map(|row| row.label.clone()).collect();
        let verdict = verdict(&found, &fit, &doubts);
        let tests = readings.iter().filter(|row| row.z.is_some()).count();
        let mut remarks = found.remarks.clone();
        remarks.extend(remarked(draft, &found, &fit));
        let furthest: Vec<FurthestRow> =
            found.furthest.iter().filter_map(|far| furthest_row(bench, &found, far)).collect();
        // The worst of many is far off as a rule: only what is less likely than not is worth a word.
        if let Some(far) = furthest.first().filter(|far| far.chance < 0.5) {
            remarks.push(format!(
                "Furthest off, but not beyond chance: {}. Read it again if you can.",
                far.text
            ));
        }
        Ok(Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cell: draft.name().to_owned(),
            answer: sentence(draft, &fit, &readings, &doubts, verdict),
            verdict,
            figures,
            parameters,
            correction: format!(
                "Of {tests} readings that others speak of, the worst is named where its probability is below 1 − 0.95^(1/m), m \
                 the readings still in the fit; then it is left out, and the rest tested again. One sheet in twenty without \
                 fault has a reading named. How far specimens scatter is taken from all quantities of the sheet together, and from what is ordinary."
            ),
            readings,
            doubts,
            furthest,
            scatter: scatter_rows(&found),
            populations: population_rows(&found),
            instruments: instrument_rows(&found, instruments),
            undetermined,
            sheet: found.sheet,
            problems: bench.problems.0.iter().map(Told::from).collect(),
            remarks,
            cautions: CAUTIONS,
            fit,
        })
    }
}

fn fit_row(found: &Reconciled, loss: Loss) -> FitRow {
    let outcome = &found.outcome;
    let (stopped, ending) = match outcome.ending {
        Ending::Lowest => ("settled", "the sum of squares is the lowest there is nearby".to_owned()),
        Ending::Stuck | Ending::Edge | Ending::Iterations(_) if found.is_settled() => (
            "settled",
            "no step lowers the sum of squares further; what its slopes promise does not show".to_owned(),
        ),
        Ending::Edge => (
            "at the edge",
            "the sum of squares falls only towards cells that do not hold together: the readings ask for more than a design \
             can be, and what is shown is the last one that is possible"
                .to_owned(),
        ),
        Ending::Stuck => (
            "at a corner",
            "no shorter step lowers the sum of squares although its slope says one should: a prediction has a corner there; \
             what is shown is the last state"
                .to_owned(),
        ),
        Ending::Iterations(count) => (
            "out of steps",
            format!("the sum of squares was still falling after {count} steps; what is shown is the last state"),
        ),
    };
    FitRow {
        converged: found.is_settled(),
        stopped,
        ending,
        steps: outcome.iterations,
        left: found.left,
        loss: loss_name(loss),
        chi_square: found.agreement.chi_square,
        degrees: found.agreement.degrees,
        reduced: found.agreement.reduced,
        probability: found.agreement.probability,
        singular: outcome.singular(),
    }
}

fn verdict(found: &Reconciled, fit: &FitRow, doubts: &[DoubtRow]) -> &'static str {
    // A corner is an end too: from there the sum of squares falls to no side.
    if matches!(found.outcome.ending, Ending::Iterations(_)) && !fit.converged {
        "unfinished"
    } else if !doubts.is_empty() || fit.probability.is_some_and(|p| p < CONTRADICTED) {
        "contradicted"
    } else {
        "agree"
    }
}

fn parameter_row(draft: &Draft, moved: &Moved) -> Option<ParameterRow> {
    let input = draft.inputs().get(moved.input)?;
    Some(ParameterRow {
        path: input.path.to_string(),
        section: input.section,
        label: if input.path.starts_with("parts[") || input.path.starts_with("materials[") {
            input.label.to_string()
        } else {
            format!("{}: {}", input.section, input.label)
        },
        text: input.text().into_owned(),
        origin: input.origin,
        before: of(moved.before, input.unit),
        after: of(moved.after, input.unit),
        moved: (moved.after.value - moved.before.value) / moved.before.u(),
        read: moved.share(),
        determined: moved.after.u() < 0.99 * moved.before.u(),
        stopped: match moved.stopped {
            -1 => Some("lower"),
            1 => Some("upper"),
            _ => None,
        },
        freed: moved.freed,
    })
}

/// Readings as they were written, nothing held against them yet.
pub(crate) fn as_read(reading: &Reading) -> ReadingRow {
    ReadingRow {
        line: reading.line,
        cell: reading.cell.clone(),
        specimen: reading.specimen.clone(),
        key: reading.asked.key(),
        label: reading.asked.label(),
        text: reading.text.clone(),
        reading: figure(reading.value, reading.u.unwrap_or(0.0), reading.unit()),
        fate: if reading.unfit.is_some() { "unfit" } else { "read" },
        why: reading.unfit.clone(),
        worth: reading.u.map(|_| Worth::Stated),
        predicted: None,
        difference: None,
        residual: None,
        z: None,
        counted: None,
        weight: None,
        doubted: false,
        population: reading.population.clone(),
        other_variant: false,
        instrument: reading.instrument.clone(),
        remark: reading.remark.clone(),
        date: reading.date.clone(),
    }
}

fn reading_rows(bench: &Bench, found: &Reconciled) -> Vec<ReadingRow> {
    let row = |(i, (reading, fate)): (usize, (&Reading, &Option<Fate>))| {
        let plain = as_read(reading);
        match fate {
            None => ReadingRow { fate: "other", ..plain },
            Some(Fate::Unfit(_)) => plain,
            Some(Fate::Unreadable(why)) => ReadingRow { fate: "unreadable", why: Some(why.clone()), ..plain },
            Some(Fate::Used(used)) => {
                let doubted = found.doubts.iter().any(|doubt| doubt.reading == i);
                ReadingRow { doubted, ..used_row(plain, reading, used) }
            }
        }
    };
    bench.readings.iter().zip(&found.fates).enumerate().map(row).collect()
}

fn used_row(plain: ReadingRow, reading: &Reading, used: &Used) -> ReadingRow {
    let unit = reading.unit();
    let difference = reading.value - used.predicted;
    ReadingRow {
        reading: figure(reading.value, used.u, unit),
        fate: "used",
        worth: Some(used.worth),
        predicted: Some(figure(used.predicted, used.predicted_u, unit)),
        difference: Some(signed(difference, (difference / used.residual).abs(), unit)),
        residual: Some(used.residual),
        z: used.z,
        counted: Some(used.counted),
        weight: (used.weight < 1.0).then_some(used.weight),
        other_variant: used.other_variant,
        ..plain
    }
}

/// "cathode width of specimen B (line 12)".
fn named(reading: &Reading) -> String {
    let specimen =
        if reading.specimen.is_empty() { String::new() } else { format!(", specimen {}", reading.specimen) };
    format!("{}{specimen} (line {})", reading.asked.label(), reading.line)
}

fn doubt_row(bench: &Bench, found: &Reconciled, doubt: &Doubt) -> Option<DoubtRow> {
    let reading = bench.readings.get(doubt.reading)?;
    let lines: Vec<u64> = doubt.or.iter().filter_map(|i| Some(bench.readings.get(*i)?.line)).collect();
    let Some(Some(Fate::Used(used))) = found.fates.get(doubt.reading) else { return None };
    let or = match lines.as_slice() {
        [] => String::new(),
        [line] => format!("; or else line {line} is wrong"),
        lines => {
            let all: Vec<String> = lines.iter().map(u64::to_string).collect();
            format!("; or else one of the lines {} is wrong", all.join(", "))
        }
    };
    let unit = reading.unit();
    Some(DoubtRow {
        line: reading.line,
        label: named(reading),
        z: doubt.z,
        probability: doubt.probability,
        limit: doubt.limit,
        text: format!(
            "{}: {} is {:.1} standard deviations from what the others leave; with it in the fit they leave {}{or}",
            named(reading),
            notation::print(reading.value, used.u, unit),
            doubt.z.abs(),
            notation::print(used.predicted, used.predicted_u, unit),
        ),
        or: lines,
    })
}

fn furthest_row(bench: &Bench, found: &Reconciled, far: &Furthest) -> Option<FurthestRow> {
    let reading = bench.readings.get(far.reading)?;
    let Some(Some(Fate::Used(used))) = found.fates.get(far.reading) else { return None };
    Some(FurthestRow {
        line: reading.line,
        label: named(reading),
        z: far.z,
        probability: far.probability,
        chance: far.chance,
        text: format!(
            "{}: {} is {:.1} standard deviations from what the others leave; of a hundred sheets without fault {} have a \
             reading as far off",
            named(reading),
            notation::print(reading.value, used.u, reading.unit()),
            far.z.abs(),
            notation::rounded(100.0 * far.chance, 1.0).0,
        ),
    })
}

fn scatter_rows(found: &Reconciled) -> Vec<ScatterRow> {
    let row = |(asked, scatter): (&crate::readings::quantity::Asked, &bench::Scatter)| {
        let unit = asked.quantity.unit;
        let between = scatter.between.map(|between| brief(between, unit));
        let at_most = scatter.high.map(|high| brief(high, unit));
        let count = scatter.members.len();
        let text = match (&between, &at_most) {
            (Some(between), Some(most)) if between.value > 0.0 => format!(
                "{count} specimens scatter by {} beyond what the instrument explains (not above {})",
                between.text, most.text
            ),
            (Some(_), Some(most)) => {
                format!(
                    "{count} specimens scatter no more than the instrument explains (not above {})",
                    most.text
                )
            }
            (Some(_), _) => format!("{count} specimens scatter no more than the instrument explains"),
            _ => "one specimen of a kind: the scatter between specimens is not known, and none is supposed"
                .to_owned(),
        };
        ScatterRow {
            key: asked.key(),
            label: asked.label(),
            specimens: scatter
                .members
                .iter()
                .map(|member| SpecimenRow {
                    specimen: member.name.clone(),
                    population: member.variant.clone(),
                    mean: figure(member.value, member.u, unit),
                    readings: member.count(),
                })
                .collect(),
            between,
            at_most,
            text,
        }
    };
    found.asked.iter().zip(&found.scatter).map(row).collect()
}

fn population_rows(found: &Reconciled) -> Vec<PopulationRow> {
    let row = |population: &bench::Population| {
        let asked = found.asked.get(population.asked)?;
        let unit = asked.quantity.unit;
        let difference = signed(population.difference, population.u, unit);
        let [(first, _), (second, members)] = &population.groups;
        let chance = population
            .probability
            .map_or_else(String::new, |p| format!(" (probability by chance {})", small(p)));
        let margin = notation::print(population.margin, 0.0, unit);
        let text = match population.verdict {
            Verdict::Two => format!(
                "{}: two kinds; \"{second}\" is {} against \"{first}\"{chance}. The design is \"{first}\".",
                asked.label(),
                difference.text
            ),
            Verdict::One if population.labelled => format!(
                "{}: one kind; \"{second}\" and \"{first}\" are less than {margin} apart, and are taken together.",
                asked.label()
            ),
            Verdict::One => format!("{}: no sign of two kinds{chance}.", asked.label()),
            Verdict::Open => format!(
                "{}: open whether \"{second}\" and \"{first}\" are of one kind: {}{chance}. They are kept apart; the design is \
                 \"{first}\".",
                asked.label(),
                difference.text
            ),
            Verdict::Untested => format!(
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

fn instrument_rows(found: &Reconciled, instruments: &[Instrument]) -> Vec<InstrumentRow> {
    let row = |drift: &bench::Drift| {
        let instrument = instruments.get(drift.instrument)?;
        let error = |known: Known, unit: Unit| signed(known.value, known.u(), unit);
        Some(InstrumentRow {
            instrument: instrument.name.clone(),
            readings: drift.readings,
            zero: drift.zero.map(|known| error(known, drift.unit)),
            scale: drift.scale.map(|known| error(known, Unit::Percent)),
        })
    };
    found.drifts.iter().filter_map(row).collect()
}

/// A probability as it is read.
fn small(p: f64) -> String {
    if p < 1e-4 { "below 0.0001".to_owned() } else { notation::rounded(p, 0.05 * p).0 }
}

fn sentence(
    draft: &Draft,
    fit: &FitRow,
    readings: &[ReadingRow],
    doubts: &[DoubtRow],
    verdict: &str,
) -> Sentence {
    let count = |fate: &str| readings.iter().filter(|row| row.fate == fate).count();
    let plural = |n: usize| if n == 1 { "reading".to_owned() } else { "readings".to_owned() };
    let used = count("used");
    let does = match (verdict, used) {
        ("agree", 1) => "agrees with the design sheet",
        ("agree", _) => "agree with one another and with the design sheet",
        ("unfinished", _) => "were held against the design sheet, and the fit did not come to its end",
        (_, 1) => "contradicts the design sheet",
        _ => "contradict one another or the design sheet",
    };
    let chance = fit.probability.map_or_else(String::new, |p| format!(", probability {}", small(p)));
    let mut words = Words::default().say(format!(
        "{used} {} of {} {does}: χ² {} for {} degrees of freedom{chance}.",
        plural(used),
        draft.name(),
        notation::rounded(fit.chi_square, 0.05 * fit.chi_square.max(0.1)).0,
        fit.degrees
    ));
    if let Some(worst) = doubts.first() {
        words = words.say(format!(" To doubt first: {}.", worst.text));
    }
    let aside = [
        ("unfit", "is unfit", "are unfit"),
        ("unreadable", "does not fit the sheet", "do not fit the sheet"),
    ];
    let aside: Vec<String> = aside
        .iter()
        .filter_map(|(fate, one, many)| match count(fate) {
            0 => None,
            1 => Some(format!("1 reading {one} and was not used.")),
            n => Some(format!("{n} readings {many} and were not used.")),
        })
        .collect();
    words.done(Vec::new(), aside.join(" "))
}

/// What follows from how it came about.
fn remarked(draft: &Draft, found: &Reconciled, fit: &FitRow) -> Vec<String> {
    let mut remarks = vec![
        "Before the readings, an entry with an uncertainty is normal with it; a range is normal with the standard uncertainty \
         of a rectangle, and keeps its ends as bounds where the sheet gives them; exact entries stay, unless they are read."
            .to_owned(),
    ];
    let freed: Vec<&str> = found
        .moved
        .iter()
        .filter(|moved| moved.freed)
        .filter_map(|moved| Some(draft.inputs().get(moved.input)?.path.as_ref()))
        .collect();
    if !freed.is_empty() {
        remarks.push(format!(
            "Exact in the sheet and read all the same, so known beforehand to a tenth of their value: {}.",
            freed.join(", ")
        ));
    }
    if fit.probability.is_some_and(|p| p > 1.0 - CONTRADICTED) {
        remarks.push(
            "The readings agree better than their uncertainties allow: these may be stated too large."
                .to_owned(),
        );
    }
    if !found.doubts.is_empty() {
        remarks.push(
            "Readings in doubt were used all the same: none is left out silently. Mark one as unfit in the bench sheet to \
             leave it out, or ask for a robust fit."
                .to_owned(),
        );
    }
    if draft.inputs().iter().any(|input| input.path == "cell_mass") {
        remarks.push(
            "The mass of the whole cell in the design sheet is no part of the design: give it as a reading."
                .to_owned(),
        );
    }
    let exact = |input: &&crate::design::Input| matches!(input.known.spread, Spread::Exact);
    let stay = draft.inputs().iter().filter(exact).count() - freed.len();
    if !fit.converged {
        remarks.push(format!("After {} steps {}.", fit.steps, fit.ending));
    }
    remarks.push(format!("{stay} entries stand as exact and stay as they are."));
    remarks
}
