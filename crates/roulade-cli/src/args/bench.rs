//! Readings, and what they make of a cell.

use super::form::FormArgs;
use clap::Args;
use std::path::PathBuf;

/// A bench sheet to read, or an empty one to print.
#[derive(Debug, Args)]
pub(crate) struct ReadingsArgs {
    /// Bench sheet: CSV as any spreadsheet writes it, XLSX or ODS, one reading in each line
    #[arg(value_name = "BENCH.csv")]
    pub(crate) bench: Option<PathBuf>,
    /// Print an empty bench sheet for the cell of this design sheet, the most informative readings first
    #[arg(long, value_name = "SHEET.json", conflicts_with = "bench")]
    pub(crate) template: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// A design sheet and the readings it is fitted to.
#[derive(Debug, Args)]
pub(crate) struct ReconcileArgs {
    /// Design sheet to start from
    #[arg(value_name = "START.json")]
    pub(crate) sheet: PathBuf,
    /// Bench sheet: CSV, one reading in each line
    #[arg(value_name = "BENCH.csv")]
    pub(crate) bench: PathBuf,
    /// Instrument uncertainties: CSV or JSON with instrument, resolution, repeatability, calibration, relative
    #[arg(long, value_name = "FILE")]
    pub(crate) instruments: Option<PathBuf>,
    /// Cell whose readings are used, where its name differs from the design sheet's
    #[arg(long, value_name = "NAME")]
    pub(crate) cell: Option<String>,
    /// Robust fit, in which outliers weigh less
    #[arg(long, value_name = "LOSS")]
    pub(crate) robust: Option<Robust>,
    /// Take the readings of one instrument to share no error except what the instrument file states
    #[arg(long)]
    pub(crate) independent: bool,
    /// A quantity in which the specimens may be a mixture of two variants; may be given several times
    #[arg(long, value_name = "QUANTITY")]
    pub(crate) two: Vec<String>,
    /// Write the reconciled sheet to this file
    #[arg(long, value_name = "NEW.json")]
    pub(crate) write: Option<PathBuf>,
    /// Let --write replace a file that is there
    #[arg(long, requires = "write")]
    pub(crate) overwrite: bool,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// What a reading is sought for.
#[derive(Debug, Args)]
pub(crate) struct NextArgs {
    /// Design sheet of the cell
    #[arg(value_name = "SHEET.json")]
    pub(crate) sheet: PathBuf,
    /// Bench sheet with the readings taken so far
    #[arg(value_name = "BENCH.csv")]
    pub(crate) bench: Option<PathBuf>,
    /// The figure, by its id: volumetric, gravimetric, energy, capacity, mass ...
    #[arg(long = "for", value_name = "FIGURE")]
    pub(crate) figure: String,
    /// Second cell, where the difference between two is asked for
    #[arg(long, value_name = "SHEET.json")]
    pub(crate) second: Option<PathBuf>,
    /// Instrument uncertainties
    #[arg(long, value_name = "FILE")]
    pub(crate) instruments: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// How much an outlier weighs.
#[derive(Clone, Copy, Debug, clap::ValueEnum)]
pub(crate) enum Robust {
    /// The influence of a reading stops growing at 1.345 standard uncertainties
    Huber,
    /// A gross error loses all weight (Student's distribution, 4 degrees of freedom)
    Student,
}

impl Robust {
    /// As the model names it.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Huber => "huber",
            Self::Student => "student",
        }
    }
}
