//! What was found, row by row.

use super::tables::{
    CONTRADICTED, FitRow, FurthestRow, InstrumentRow, OutlierRow, ParameterRow, ReadingRow, ScatterRow,
    SpecimenRow, brief, figure, of, signed,
};
use crate::answer::estimate::named as named_input;
use crate::answer::figure_writer::Figure;
use roulade::cell::draft::Draft;
use roulade::quantity::notation;
use roulade::quantity::units::Unit;
use roulade::study::bench::{
    self, Fate, Furthest, Moved, Reconciled, Scope, SuspectReading, UncertaintySource, Used,
};
use roulade::study::readings::Reading;
use roulade::study::readings::sheet::Bench;
use roulade_stats::least_squares::{Ending, Loss};
use roulade_stats::uncertain::Uncertain;

/// Name of a loss.
fn loss_name(loss: Loss) -> &'static str {
    match loss {
        Loss::Normal => "normal",
        Loss::Huber { .. } => "huber",
        Loss::Student { .. } => "student",
    }
}

pub(super) fn fit_row(found: &Reconciled, loss: Loss) -> FitRow {
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

pub(super) fn verdict(found: &Reconciled, fit: &FitRow, outliers: &[OutlierRow]) -> &'static str {
    // A corner is an end too: from there the sum of squares falls to no side.
    if matches!(found.outcome.ending, Ending::Iterations(_)) && !fit.converged {
        "unfinished"
    } else if !outliers.is_empty() || fit.probability.is_some_and(|p| p < CONTRADICTED) {
        "contradicted"
    } else {
        "agree"
    }
}

pub(super) fn parameter_row(draft: &Draft, moved: &Moved) -> Option<ParameterRow> {
    let input = draft.inputs().get(moved.input)?;
    Some(ParameterRow {
        path: input.path.to_string(),
        section: input.section,
        label: named_input(input, None),
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
        uncertainty_from: reading.u.map(|_| UncertaintySource::Stated),
        predicted: None,
        difference: None,
        residual: None,
        z: None,
        counted: None,
        weight: None,
        outlier: false,
        population: reading.population.clone(),
        other_variant: false,
        instrument: reading.instrument.clone(),
        remark: reading.remark.clone(),
        date: reading.date.clone(),
    }
}

pub(super) fn reading_rows(bench: &Bench, found: &Reconciled) -> Vec<ReadingRow> {
    let row = |(i, (reading, fate)): (usize, (&Reading, &Option<Fate>))| {
        let plain = as_read(reading);
        match fate {
            None => ReadingRow { fate: "other", ..plain },
            Some(Fate::Unfit(_)) => plain,
            Some(Fate::Unreadable(why)) => ReadingRow { fate: "unreadable", why: Some(why.clone()), ..plain },
            Some(Fate::Used(used)) => {
                let outlier =
                    found.outliers.iter().any(|outlier| outlier.reading == i || outlier.also.contains(&i));
                // One statistic for a reading everywhere: that of the test for outliers, where it names it.
                let tested =
                    found.outliers.iter().find(|outlier| outlier.reading == i).map(|outlier| outlier.z);
                let far = found.furthest.iter().find(|far| far.reading == i).map(|far| far.z);
                ReadingRow { outlier, z: tested.or(far).or(used.z), ..used_row(plain, reading, used) }
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
        fate: if used.left_out { "left out" } else { "used" },
        uncertainty_from: Some(used.uncertainty_from),
        predicted: Some(figure(used.predicted, used.predicted_u, unit)),
        // A reading that is what is predicted is off by nothing, whatever its uncertainty.
        difference: Some(signed(
            difference,
            if used.residual == 0.0 { used.u } else { (difference / used.residual).abs() },
            unit,
        )),
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

pub(super) fn outlier_row(bench: &Bench, found: &Reconciled, outlier: &SuspectReading) -> Option<OutlierRow> {
    let reading = bench.readings.get(outlier.reading)?;
    let lines =
        |of: &[usize]| -> Vec<u64> { of.iter().filter_map(|i| Some(bench.readings.get(*i)?.line)).collect() };
    let (or, also) = (lines(&outlier.or), lines(&outlier.also));
    let Some(Some(Fate::Used(used))) = found.fates.get(outlier.reading) else { return None };
    let unit = reading.unit();
    let expected = of(outlier.expected, unit);
    // A slip leaves the digits that were written.
    let meant =
        outlier.meant.filter(|_| outlier.scope != Scope::Exchange).map(|(_, value)| exact(value, unit));
    Some(OutlierRow {
        line: reading.line,
        label: named(reading),
        z: outlier.z,
        probability: outlier.probability,
        limit: outlier.limit,
        text: outlier_text(bench, outlier, used, &expected, meant.as_ref()),
        scope: outlier.scope,
        off: signed(outlier.z * outlier.expected.u(), outlier.expected.u(), unit),
        expected,
        slip: outlier.meant.map(|(slip, _)| slip.words),
        meant,
        left_out: outlier.left_out,
        or,
        also,
    })
}

/// With the digits that it has.
fn exact(si: f64, unit: Unit) -> Figure {
    let text = notation::print_uncertain(&Uncertain::exact(si), unit);
    Figure { value: si / unit.in_si(), u: None, low: None, high: None, unit: unit.symbol(), text }
}

fn outlier_text(
    bench: &Bench,
    outlier: &SuspectReading,
    used: &Used,
    expected: &Figure,
    meant: Option<&Figure>,
) -> String {
    let Some(reading) = bench.readings.get(outlier.reading) else { return String::new() };
    let lines = |of: &[usize]| -> String {
        let all: Vec<String> =
            of.iter().filter_map(|i| Some(bench.readings.get(*i)?.line.to_string())).collect();
        all.join(", ")
    };
    let unit = reading.unit();
    let off =
        if outlier.z.abs() < 1e3 { format!("{:.1}", outlier.z.abs()) } else { "over a thousand".to_owned() };
    let beside = || beside(outlier, used.u, unit);
    let also = outlier.also.iter().filter_map(|i| bench.readings.get(*i));
    let first = also.map(|reading| reading.line).fold(reading.line, u64::min);
    let mut text = match outlier.scope {
        Scope::Quantity => format!(
            "{}, all {} readings (first on line {}): they lie {} the {} that the rest determines ({off} standard deviations)",
            reading.asked.label(),
            1 + outlier.also.len(),
            first,
            beside(),
            expected.text,
        ),
        Scope::Cell => format!(
            "specimen {} is another cell: its {} readings differ from those of the others by more than specimens scatter, most of \
             all {}, which lies {} the {} of the others ({off} standard deviations)",
            reading.specimen,
            1 + outlier.also.len(),
            named(reading),
            beside(),
            expected.text,
        ),
        Scope::Reading | Scope::Specimen | Scope::Exchange => {
            let what = match outlier.scope {
                Scope::Exchange => format!("{}, and line {}", named(reading), lines(&outlier.also)),
                Scope::Specimen if !outlier.also.is_empty() => {
                    format!("{}, with lines {}", named(reading), lines(&outlier.also))
                }
                _ => named(reading),
            };
            format!(
                "{what}: {} is {off} standard deviations from the {} that the others leave",
                notation::print(reading.value, used.u, unit),
                expected.text,
            )
        }
    };
    let guess = match (outlier.meant, meant) {
        (Some((slip, _)), Some(meant)) => format!("; {} if {}?", meant.text, slip.words),
        (Some(_), None) => "; exchanged with one another?".to_owned(),
        (None, _) if outlier.scope == Scope::Quantity => format!(
            "; an offset of the instrument ({}), or another thing was read than the sheet means",
            reading.asked.quantity.typical.instrument
        ),
        (None, _) if outlier.scope == Scope::Cell => "; or it was made or treated otherwise".to_owned(),
        (None, _) => String::new(),
    };
    text.push_str(&guess);
    if !outlier.or.is_empty() {
        let which = if outlier.or.len() == 1 { "line" } else { "one of the lines" };
        text.extend(["; or else ", which, " ", &lines(&outlier.or), " is wrong"]);
    }
    text
}

/// "0.62 ± 0.12 mm (0.8 %, 4.1 u of one reading) above": how far what was read lies from what is expected.
fn beside(outlier: &SuspectReading, u: f64, unit: Unit) -> String {
    let off = outlier.z * outlier.expected.u();
    let side = if off < 0.0 { "below" } else { "above" };
    let size = figure(off.abs(), outlier.expected.u(), unit).text;
    let two_digits = |x: f64| notation::rounded(x, 0.05 * x).0;
    let part = 100.0 * off.abs() / outlier.expected.value.abs();
    let part = if part < 1e3 { format!("{} %, ", two_digits(part)) } else { String::new() };
    format!("{size} ({part}{} u of one reading) {side}", two_digits(off.abs() / u))
}

pub(super) fn furthest_row(bench: &Bench, found: &Reconciled, far: &Furthest) -> Option<FurthestRow> {
    let reading = bench.readings.get(far.reading)?;
    let Some(Some(Fate::Used(used))) = found.fates.get(far.reading) else { return None };
    Some(FurthestRow {
        line: reading.line,
        label: named(reading),
        z: far.z,
        probability: far.probability,
        chance: far.chance,
        text: format!(
            "{}: {} has a normalised residual of {:.1} against the other readings; of a hundred sheets without a fault {:.0} have \
             one as large",
            named(reading),
            notation::print(reading.value, used.u, reading.unit()),
            far.z.abs(),
            100.0 * far.chance,
        ),
    })
}

pub(super) fn scatter_rows(found: &Reconciled) -> Vec<ScatterRow> {
    let row = |(asked, scatter): (&roulade::study::readings::quantity::Asked, &bench::Scatter)| {
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

pub(super) fn instrument_rows(found: &Reconciled) -> Vec<InstrumentRow> {
    let row = |drift: &bench::Drift| {
        let error = |uncertain: Uncertain, unit: Unit| signed(uncertain.value, uncertain.u(), unit);
        InstrumentRow {
            instrument: drift.name.clone(),
            supposed: drift.supposed.map(|u| brief(u, drift.unit)),
            readings: drift.readings,
            zero: drift.zero.map(|uncertain| error(uncertain, drift.unit)),
            scale: drift.scale.map(|uncertain| error(uncertain, Unit::Percent)),
        }
    };
    found.drifts.iter().map(row).collect()
}
