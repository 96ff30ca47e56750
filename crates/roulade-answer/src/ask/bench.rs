//! Questions about the bench: what a bench sheet holds, which design it speaks of, what to read next.

use super::answer;
use crate::answer::{Diagnostic, NextAnswer, ReadingRow, Reconciliation, as_read, slips};
use crate::question;
use roulade::cell::draft::Draft;
use roulade::cell::figures;
use roulade::quantity::problem::{Problem, Problems, shortened};
use roulade::quantity::spreadsheet::disarmed;
use roulade::sheet::unknown_keys;
use roulade::sheet::{Sheet, Unknown, read};
use roulade::study::bench::next::{KnownFromReadings, next as ranked};
use roulade::study::bench::{Options, Reconciled, SharedError, reconcile as held_against};
use roulade::study::readings::instrument::{self, Instrument};
use roulade::study::readings::quantity::{self, Asked};
use roulade::study::readings::sheet::Bench;
use roulade_stats::least_squares::Loss;
use serde::Serialize;

/// A bench sheet as it was read.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BenchAnswer {
    /// Names of the cells.
    pub cells: Vec<String>,
    /// Every reading.
    pub readings: Vec<ReadingRow>,
    /// Everything wrong with the other rows.
    pub problems: Vec<Diagnostic>,
}

/// What is asked beside the sheets, as it was written.
#[derive(Clone, Copy, Debug, Default)]
pub struct BenchQuestion<'a> {
    /// The uncertainties of the instruments: CSV text or JSON text.
    pub instruments: Option<&'a str>,
    /// Name of the cell whose readings are used; that of the design sheet where left out.
    pub cell: Option<&'a str>,
    /// How dear a residual is.
    pub loss: Option<&'a str>,
    /// Readings of one ordinary instrument have no error in common.
    pub independent: bool,
    /// Quantities in which specimens may be of two kinds.
    pub populations: &'a [String],
}

/// What a bench can read: every quantity by its name.
pub fn readable() -> String {
    answer(Ok(quantity::listed()))
}

/// Checks a bench sheet: CSV text in; its readings out, and everything wrong with the other rows.
pub fn readings(text: &str) -> String {
    answer(readings_of(text))
}

/// A bench sheet, before the answer becomes text.
///
/// # Errors
/// Where nothing in it can be used.
pub fn readings_of(text: &str) -> Result<BenchAnswer, Problems> {
    let bench = bench(text)?;
    Ok(BenchAnswer {
        cells: bench.cells().into_iter().map(str::to_owned).collect(),
        readings: bench.readings.iter().map(as_read).collect(),
        problems: bench.problems.listed().iter().map(Diagnostic::from).collect(),
    })
}

/// An empty bench sheet for the cell of a design sheet: a row for each quantity that a bench can read off it and that its
/// energy density hangs on, the one that says most first, then the others; twice, for two specimens.
///
/// # Errors
/// Where the sheet's cell does not hold together.
pub fn template(sheet: &Sheet) -> Result<String, Problems> {
    let found = next_after(sheet, None, "volumetric", None, None)?;
    let mut text =
        String::from("cell,specimen,state,quantity,at,value,unit,uncertainty,instrument,fit,remark,date\n");
    let quoted = |cell: &str| {
        // The reader of bench sheets takes the apostrophe off again.
        let cell = &disarmed(cell);
        if cell.contains([',', '"', '\n']) {
            format!("\"{}\"", cell.replace('"', "\"\""))
        } else {
            cell.to_string()
        }
    };
    for row in &found.alone {
        for specimen in ["A", "B"] {
            let cells = [
                &row.cell,
                specimen,
                "as built",
                &row.key,
                row.at.as_deref().unwrap_or_default(),
                "",
                row.instrument_u.unit,
                "",
                &row.instrument,
                "fit",
                "",
                "",
            ];
            text += &cells.map(quoted).join(",");
            text.push('\n');
        }
    }
    Ok(text)
}

/// The same for the JSON text of a sheet; the answer holds the CSV text.
pub fn template_text(sheet: &str) -> String {
    answer(Sheet::parse(sheet).and_then(|sheet| template(&sheet)))
}

/// Holds a bench sheet against a design sheet.
///
/// The question is `{"sheet": …, "readings": "CSV text"}`, with `"instruments"` (CSV or JSON text), `"cell"` (a name),
/// `"loss"` ("normal", "huber" or "student"), `"shared"` ("ordinary" or "none") and `"populations"` (a list of quantities) where they are wanted.
pub fn reconcile(question: &str) -> String {
    answer(
        read::text::<question::ReconcileQuestion>(
            question,
            "a question, {\"sheet\": …, \"readings\": \"…\"}",
        )
        .and_then(|question| {
            only_keys(&question.unknown, question::ReconcileQuestion::KEYS)?;
            let sheet = question.sheet.ok_or_else(|| missing("sheet"))?;
            let readings = question.readings.ok_or_else(|| missing("readings"))?;
            let asked = BenchQuestion {
                instruments: question.instruments.as_deref(),
                cell: question.cell.as_deref(),
                loss: question.loss.as_deref(),
                independent: independent(question.shared.as_deref())?,
                populations: question.populations.as_deref().unwrap_or(&[]),
            };
            reconciled(&sheet, &readings, asked)
        }),
    )
}

/// Holds a bench sheet against a design sheet, before the answer becomes text.
///
/// # Errors
/// Everything wrong with either; places in the bench sheet begin with `readings.`, in the instrument file with
/// `instruments.`.
pub fn reconciled(
    sheet: &Sheet,
    readings: &str,
    asked: BenchQuestion<'_>,
) -> Result<Reconciliation, Problems> {
    reconciled_and_left(sheet, readings, asked).map(|(answer, _)| answer)
}

/// What a bench sheet leaves known of a cell, for whoever asks what to read next.
#[derive(Debug)]
pub struct Left {
    sheet: Sheet,
    scatter: Vec<(Asked, f64)>,
    errors: Vec<SharedError>,
}

impl Left {
    fn by(found: &Reconciled) -> Self {
        let scattered = found.asked.iter().zip(&found.scatter);
        Self {
            sheet: found.sheet.clone(),
            scatter: scattered.filter_map(|(asked, s)| Some((asked.clone(), s.between?))).collect(),
            errors: found.shared.clone(),
        }
    }
}

/// The same, with what it leaves known.
///
/// # Errors
/// As [`reconciled`].
pub fn reconciled_and_left(
    sheet: &Sheet,
    readings: &str,
    asked: BenchQuestion<'_>,
) -> Result<(Reconciliation, Left), Problems> {
    let draft = Draft::read(sheet).map_err(|problems| problems.within("sheet"));
    let bench = bench(readings).map_err(|problems| problems.within("readings"));
    let instruments = instruments(asked.instruments);
    let loss = asked.loss.map_or(Ok(Loss::Normal), loss);
    let suspected = suspected(asked.populations);
    match (draft, bench, instruments, loss, suspected) {
        (Ok(draft), Ok(bench), Ok(instruments), Ok(loss), Ok(suspected)) => {
            let options = Options {
                instruments: &instruments,
                cell: asked.cell,
                loss,
                independent: asked.independent,
                suspected: &suspected,
            };
            let found = held_against(sheet, &draft, &bench.readings, &options)?;
            let left = Left::by(&found);
            Ok((Reconciliation::of(&draft, &bench, loss, found)?, left))
        }
        (draft, bench, instruments, loss, suspected) => {
            let all = [
                draft.err(),
                bench.err(),
                instruments.err(),
                loss.err().map(Problems::from),
                suspected.err(),
            ];
            Err(Problems(all.into_iter().flatten().flat_map(|problems| problems.0).collect()))
        }
    }
}

/// Ranks readings by what they would do for a figure.
///
/// The question is `{"sheet": …, "figure": "volumetric"}`, with `"second"`, a sheet, for the difference between two cells,
/// `"readings"` (CSV text, of either cell) and `"instruments"` where there are.
pub fn next(question: &str) -> String {
    answer(
        read::text::<question::NextQuestion>(
            question,
            "a question, {\"sheet\": …, \"figure\": \"volumetric\"}",
        )
        .and_then(|question| {
            only_keys(&question.unknown, question::NextQuestion::KEYS)?;
            let sheet = question.sheet.ok_or_else(|| missing("sheet"))?;
            let figure = question.figure.ok_or_else(|| missing("figure"))?;
            let (readings, instruments) = (question.readings.as_deref(), question.instruments.as_deref());
            next_after(&sheet, question.second.as_ref(), &figure, readings, instruments)
        }),
    )
}

/// Ranks readings by what they would do for a figure, before the answer becomes text; readings there are already are held
/// against the sheets first.
///
/// # Errors
/// Everything wrong with the question.
pub fn next_after(
    sheet: &Sheet,
    second: Option<&Sheet>,
    wanted: &str,
    readings: Option<&str>,
    instruments: Option<&str>,
) -> Result<NextAnswer, Problems> {
    next_left((sheet, second), wanted, (readings, instruments), [None, None])
}

/// The same where the readings were held against the first or the second sheet before.
///
/// # Errors
/// As [`next_after`].
pub fn next_left(
    (sheet, second): (&Sheet, Option<&Sheet>),
    wanted: &str,
    (readings, instruments): (Option<&str>, Option<&str>),
    before: [Option<Left>; 2],
) -> Result<NextAnswer, Problems> {
    let mut problems = Problems::default();
    let mut keep = |more: Problems| problems.0.extend(more.0);
    let figure = figures::find(wanted, "figure").map_err(|problem| keep(problem.into())).ok();
    let bench = readings.map(|text| bench(text).map_err(|p| keep(p.within("readings"))));
    let instruments = self::instruments(instruments).map_err(&mut keep).ok();
    let mut drafts = Vec::new();
    for (place, sheet) in [("sheet", Some(sheet)), ("second", second)] {
        let Some(sheet) = sheet else { continue };
        drafts.extend(
            Draft::read(sheet).map_err(|p| keep(p.within(place))).ok().map(|draft| (place, sheet, draft)),
        );
    }
    let (Some(figure), Some(instruments)) = (figure, instruments) else { return Err(problems) };
    if !problems.0.is_empty() {
        return Err(problems);
    }
    let mut already = KnownFromReadings::default();
    if let Some(Ok(bench)) = bench {
        let cells = bench.cells();
        for ((i, (place, sheet, draft)), before) in drafts.iter_mut().enumerate().zip(before) {
            // With two cells, one of them may have no readings yet.
            if second.is_some()
                && !cells.is_empty()
                && !cells.iter().any(|cell| instrument::same(cell, draft.name()))
            {
                continue;
            }
            let options = Options {
                instruments: &instruments,
                cell: None,
                loss: Loss::Normal,
                independent: false,
                suspected: &[],
            };
            let left = match before {
                Some(left) => left,
                None => Left::by(&held_against(sheet, draft, &bench.readings, &options)?),
            };
            already.scatter.extend(left.scatter.into_iter().map(|(asked, s)| (i, asked, s)));
            already.errors.extend(left.errors.into_iter().map(|error| (i, error)));
            *draft = Draft::read(&left.sheet).map_err(|p| p.within(place))?;
        }
    }
    let drafts: Vec<&Draft> = drafts.iter().map(|(_, _, draft)| draft).collect();
    let Some(first) = drafts.first() else { return Err(problems) };
    let found = ranked(first, drafts.get(1).copied(), figure, &instruments, &already)?;
    let mut answer = NextAnswer::of(&drafts, figure, &found);
    answer.answer.assumed = slips(&drafts);
    Ok(answer)
}

/// Whether readings of one ordinary instrument have no error in common.
fn independent(shared: Option<&str>) -> Result<bool, Problem> {
    match shared {
        None | Some("ordinary") => Ok(false),
        Some("none") => Ok(true),
        Some(other) => {
            Err(Problem::new("shared", format!("\"{}\"", shortened(other)), "\"ordinary\" or \"none\""))
        }
    }
}

/// A loss by its name.
///
/// # Errors
/// Where there is none of that name.
pub fn loss(name: &str) -> Result<Loss, Problem> {
    match name {
        "normal" => Ok(Loss::Normal),
        "huber" => Ok(Loss::Huber { k: 1.345 }),
        "student" => Ok(Loss::Student { nu: 4.0 }),
        other => Err(Problem::new(
            "loss",
            format!("\"{}\"", shortened(other)),
            "\"normal\", \"huber\" or \"student\", which says how much a reading far from the others counts",
        )),
    }
}

fn bench(text: &str) -> Result<Bench, Problems> {
    if text.len() > read::LARGEST {
        return Err(read::too_large(text.len() as u64).into());
    }
    Bench::read(text)
}

fn instruments(text: Option<&str>) -> Result<Vec<Instrument>, Problems> {
    let Some(text) = text else { return Ok(Vec::new()) };
    if text.len() > read::LARGEST {
        return Err(Problems::from(read::too_large(text.len() as u64)).within("instruments"));
    }
    let (instruments, problems) = instrument::read(text);
    problems.within("instruments").or_else_ok(instruments)
}

fn suspected(names: &[String]) -> Result<Vec<Asked>, Problems> {
    let (mut found, mut problems) = (Vec::new(), Problems::default());
    for (i, name) in names.iter().enumerate() {
        match quantity::find(name, None) {
            Ok(asked) => found.push(asked),
            Err(problem) => problems.push(Problem { place: format!("populations[{i}]"), ..problem }),
        }
    }
    problems.or_else_ok(found)
}

fn missing(what: &str) -> Problem {
    Problem::new(what, "nothing", format!("the question to have a {what}"))
}

fn only_keys(unknown: &Unknown, keys: &[&str]) -> Result<(), Problems> {
    let mut problems = Problems::default();
    unknown_keys(&mut problems, "", unknown, keys);
    problems.or_else_ok(())
}
