//! A bench sheet held against a design sheet: before and after, every reading, and what is to be doubted.

mod rows;
mod systematic;
mod tables;
mod words;

pub(crate) use rows::as_read;
pub use systematic::{OffsetRow, PopulationRow};
pub(super) use tables::brief;
pub use tables::{FitRow, InstrumentRow, OutlierRow, ParameterRow, ReadingRow, ScatterRow, SpecimenRow};

use tables::FurthestRow;

use rows::{
    fit_row, furthest_row, instrument_rows, outlier_row, parameter_row, reading_rows, scatter_rows, verdict,
};
use systematic::{offset_rows, population_rows};
use words::{remarked, sentence};

use super::before_after::BeforeAfter;
use super::diagnostic::Diagnostic;
use super::estimate::EstimateAnswer;
use super::hazards::cautioned;
use super::sentence::Sentence;
use crate::cautions::{Caution, cautions};
use roulade::cell::draft::Draft;
use roulade::quantity::problem::Problems;
use roulade::sheet::Sheet;
use roulade::study::bench::Reconciled;
use roulade::study::readings::sheet::Bench;
use roulade_stats::least_squares::Loss;
use serde::Serialize;

/// A bench sheet held against a design sheet.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reconciliation {
    /// Version of this crate.
    pub roulade: &'static str,
    /// Name of the cell.
    pub cell: String,
    /// In one sentence.
    pub answer: Sentence,
    /// "agree"; "contradicted" by χ² or by an outlier; or "unfinished" where the fit did not come to its end.
    pub verdict: &'static str,
    /// How the fit went.
    pub fit: FitRow,
    /// Figures of the cell before and after.
    pub figures: Vec<BeforeAfter>,
    /// Every entry that could move.
    pub parameters: Vec<ParameterRow>,
    /// Every reading.
    pub readings: Vec<ReadingRow>,
    /// Readings that are suspect, the worst first.
    pub outliers: Vec<OutlierRow>,
    /// Up to three readings that are furthest off of those not in doubt: within chance, and worth a second look.
    pub furthest: Vec<FurthestRow>,
    /// How many tests the limit of the outliers allows for, in words.
    pub correction: String,
    /// Scatter between specimens.
    pub scatter: Vec<ScatterRow>,
    /// Suspected variants.
    pub populations: Vec<PopulationRow>,
    /// Quantities whose readings are more likely off as a whole than not, though no test names them.
    pub offsets: Vec<OffsetRow>,
    /// Shared errors of instruments.
    pub instruments: Vec<InstrumentRow>,
    /// Labels of entries that the readings say nothing of.
    pub undetermined: Vec<String>,
    /// The reconciled sheet.
    pub sheet: Sheet,
    /// Rows of the bench sheet that could not be read.
    pub problems: Vec<Diagnostic>,
    /// What to know of this answer.
    pub remarks: Vec<String>,
    /// What to keep in mind where readings come from an opened cell.
    pub cautions: &'static [Caution],
}

impl Reconciliation {
    /// Puts it into words.
    ///
    /// # Errors
    /// Where the reconciled sheet's cell does not hold together.
    pub fn of(draft: &Draft, bench: &Bench, loss: Loss, found: Reconciled) -> Result<Self, Problems> {
        let after = Draft::read(&found.sheet)?;
        let before = EstimateAnswer::of(draft)?.headline;
        let figures = before.into_iter().zip(EstimateAnswer::of(&after)?.headline);
        let figures = figures
            .map(|(a, b)| BeforeAfter { id: a.id, label: a.label, before: a.figure, after: b.figure })
            .collect();
        let fit = fit_row(&found, loss);
        let readings = reading_rows(bench, &found);
        let outliers: Vec<OutlierRow> =
            found.outliers.iter().filter_map(|outlier| outlier_row(bench, &found, outlier)).collect();
        let parameters: Vec<ParameterRow> =
            found.moved.iter().filter_map(|moved| parameter_row(draft, moved)).collect();
        let undetermined =
            parameters.iter().filter(|row| !row.determined).map(|row| row.label.clone()).collect();
        let verdict = verdict(&found, &fit, &outliers);
        let tested = match readings.iter().filter(|row| row.z.is_some()).count() {
            1 => "1 reading is".to_owned(),
            many => format!("{many} readings are"),
        };
        let mut remarks = cautioned(&[&after]);
        remarks.extend(found.remarks.iter().cloned());
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
        let (populations, offsets) = (population_rows(&found), offset_rows(bench, &found));
        remarks.extend(offsets.iter().map(|row| row.text.clone()));
        Ok(Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cell: draft.name().to_owned(),
            answer: sentence(draft, &fit, &readings, (&outliers, &populations), verdict),
            verdict,
            figures,
            parameters,
            correction: format!(
                "{tested} tested against the others. Of a hundred sheets without a fault at most five have anything named: \
                 half of that risk is for single readings, half for what many have in common (an offset of a quantity, another \
                 cell, two kinds of specimens). An outlier has a probability below 1 − 0.95^(w/m), w its share and m the tests \
                 of its kind; it is then left out, and the rest are tested again. The specimen-to-specimen standard deviation is \
                 estimated from all quantities of the sheet together, and from what is ordinary."
            ),
            readings,
            outliers,
            furthest,
            scatter: scatter_rows(&found),
            populations,
            offsets,
            instruments: instrument_rows(&found),
            undetermined,
            sheet: found.sheet,
            problems: bench.problems.listed().iter().map(Diagnostic::from).collect(),
            remarks,
            cautions: cautions(draft.ion()),
            fit,
        })
    }
}
