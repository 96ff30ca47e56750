//! A bench sheet held against a design sheet: which design the readings speak of, how well they determine it, and where
//! they contradict it or one another.
//!
//! Slips first (`screen`), then the fit (`model`), then the tests of its readings (`outliers`): what is found wrong is
//! told, left out, and fitted without.

mod agreement;
mod apart;
mod finish;
mod found;
mod gather;
mod groups;
mod kinks;
mod linear;
mod model;
pub mod next;
mod offsets;
mod outliers;
mod parameters;
mod populations;
mod rewrite;
mod rows;
mod screen;
mod specimens;
mod straight;
mod suspect;

pub use agreement::Agreement;
pub use found::{Drift, Fate, Moved, Reconciled, SharedError, SharedErrorSource, Used};
pub use offsets::Offset;
pub use outliers::{Furthest, Scope, SuspectReading};
pub use populations::{Population, VariantsVerdict};
pub use rows::UncertaintySource;
pub use specimens::{Member, Scatter};

use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::quantity::problem::{Problem, Problems};
use crate::sheet::Sheet;
use crate::study::readings::Reading;
use crate::study::readings::instrument::Instrument;
use crate::study::readings::quantity::Asked;
use finish::{Gathered, Tested, finished};
use gather::{directly_read, fallen_apart, of_cell, unknown_instruments, unreadable, variants};
use model::{Fitted, Model, Scattered};
use parameters::Parameters;
use roulade_stats::least_squares::Loss;
use roulade_stats::least_squares::fit::FitError;
use rows::{ReadUncertainty, Row, Source, uncertainties};

/// What is asked beside the sheets.
#[derive(Clone, Debug)]
pub struct Options<'a> {
    /// The uncertainties of the instruments.
    pub instruments: &'a [Instrument],
    /// Name of the cell whose readings are used; that of the design sheet where left out.
    pub cell: Option<&'a str>,
    /// How dear a residual is.
    pub loss: Loss,
    /// Readings of one ordinary instrument have no error in common.
    pub independent: bool,
    /// Quantities in which specimens may be of two kinds.
    pub suspected: &'a [Asked],
}

/// A row that was left out before the fit comes back where the fit puts it within so many standard deviations.
const BACK: f64 = 2.0;

/// Holds readings against a sheet.
///
/// # Errors
/// Where the sheet's cell does not hold together, no reading is of it, or nothing can be predicted.
pub fn reconcile(
    sheet: &Sheet,
    draft: &Draft,
    readings: &[Reading],
    options: &Options<'_>,
) -> Result<Reconciled, Problems> {
    let worked = Worked::at(draft, &draft.values())?;
    let mut remarks = Vec::new();
    let own = of_cell(draft, readings, options.cell, &mut remarks)?;
    let mut fates: Vec<Option<Fate>> = vec![None; readings.len()];
    let (mut asked, mut rows, mut sources): (Vec<Asked>, Vec<Row>, Vec<Source>) = Default::default();
    for i in &own {
        let Some(reading) = readings.get(*i) else { continue };
        let fate = match &reading.unfit {
            Some(why) => Some(Fate::Unfit(why.clone())),
            None => unreadable(draft, &worked, reading).map(Fate::Unreadable),
        };
        if let Some(slot) = fates.get_mut(*i) {
            slot.clone_from(&fate);
        }
        if fate.is_some() {
            continue;
        }
        let at = place(&mut asked, reading.asked.clone());
        // An instrument is the same in whatever state the cell is.
        let alike = asked.iter().position(|asked| asked.alike(&reading.asked)).unwrap_or(at);
        let ReadUncertainty { uncertainty_from, own, rounding, u, source } =
            uncertainties(reading, alike, options.instruments, options.independent);
        rows.push(Row {
            reading: *i,
            asked: at,
            value: reading.value,
            own,
            rounding,
            u,
            uncertainty_from,
            source: place(&mut sources, source),
            specimen: reading.specimen.clone(),
            variant: reading.population.clone(),
            weight: 1.0,
            aside: false,
            checked: reading.checked,
        });
    }
    if rows.is_empty() {
        let expected = "at least one fit reading of this cell, of a quantity that the design has";
        return Err(Problem::new("readings", "no reading that can be used", expected).into());
    }
    unknown_instruments(readings, &own, options.instruments, &mut remarks);
    let (mut populations, first) = variants(&asked, &mut rows, options.suspected);
    let direct = directly_read(draft, &asked, &rows);
    let parameters = Parameters::of(draft, &direct);
    let parameters =
        parameters.clone().without_idle(|own| parameters::designed(draft, &parameters, &asked, own));
    let model = Model::new(draft, parameters, asked, (rows, sources), options.instruments, first, &worked);

    let mut guarded = model.scattered(Scattered::Guarded);
    let screened = screen::screened(&mut guarded, readings);
    let apart = fallen_apart(&guarded.asked, &mut guarded.rows, &mut guarded.first, &populations);
    guarded.regroup();
    populations.extend(apart);
    let refusal = |error: FitError| Problems::from(not_fitted(&error));
    let (mut model, plain, mut outliers) = fitted(&guarded, screened).map_err(refusal)?;
    let suspect = outliers::suspect(&mut model, &plain, readings).map_err(refusal)?;
    outliers.extend(suspect.outliers);
    let test = model.fit(options.loss, Some(&plain)).map_err(refusal)?;
    let wide = model.scattered(Scattered::Widened);
    let last = wide.fit(options.loss, Some(&test)).map_err(refusal)?;
    let tested = Tested::of(&model, &test, options.loss, outliers, suspect.furthest);
    finished(sheet, &wide, &last, tested, Gathered { fates, populations, remarks })
}

fn place<T: PartialEq>(all: &mut Vec<T>, one: T) -> usize {
    all.iter().position(|other| *other == one).unwrap_or_else(|| {
        all.push(one);
        all.len() - 1
    })
}

/// The first fit without the slips; those that it agrees with after all come back, since before it the design was taken for
/// the sheet's own.
fn fitted<'a>(
    guarded: &Model<'a>,
    screened: Vec<SuspectReading>,
) -> Result<(Model<'a>, Fitted, Vec<SuspectReading>), FitError> {
    let mut model = guarded.scattered(Scattered::Found);
    let straight = model.fit(Loss::Normal, None)?;
    let off = kinks::kinks(&model, &straight);
    let plain = if off.iter().any(Option::is_some) {
        model.kinked(off);
        model.fit(Loss::Normal, Some(&straight))?
    } else {
        straight
    };
    let z = outliers::all_z(&model, &plain);
    let mut back = Vec::new();
    let agrees = |outlier: &SuspectReading| {
        let all = std::iter::once(outlier.reading).chain(outlier.also.iter().copied());
        let mut rows = all.filter_map(|reading| model.rows.iter().position(|row| row.reading == reading));
        rows.all(|row| z.get(row).copied().flatten().is_some_and(|z| z.abs() < BACK))
    };
    let (agreed, wrong): (Vec<SuspectReading>, Vec<SuspectReading>) = screened.into_iter().partition(agrees);
    for outlier in &agreed {
        let all = std::iter::once(outlier.reading).chain(outlier.also.iter().copied());
        back.extend(all.filter_map(|reading| model.rows.iter().position(|row| row.reading == reading)));
    }
    if back.is_empty() {
        return Ok((model, plain, wrong));
    }
    model.set_aside(&back, false);
    let plain = model.fit(Loss::Normal, Some(&plain))?;
    Ok((model, plain, wrong))
}

/// Why there is no fit at all: the numbers themselves are beyond all sense.
fn not_fitted(error: &FitError) -> Problem {
    match error {
        FitError::Start { .. } => Problem::new(
            "sheet",
            "a design that does not hold together within the ranges it gives",
            "a starting sheet whose best values lie within its ranges",
        ),
        FitError::Prior { .. } => {
            Problem::new("sheet", error.to_string(), "an entry that has a finite value and uncertainty")
        }
        other => Problem::new(
            "readings",
            other.to_string(),
            "readings that have a finite value and an uncertainty above zero",
        ),
    }
}
