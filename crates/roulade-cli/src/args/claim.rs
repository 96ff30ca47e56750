//! Declared figures, and a report of all that an answer rests on.

use super::exchange::TableArgs;
use super::form::FormArgs;
use clap::Args;
use std::path::PathBuf;

/// Declared figures and the cell they are about.
#[derive(Debug, Args)]
pub(crate) struct ClaimArgs {
    /// The claims, and before or after them the design sheet of the cell they are about
    #[arg(value_name = "CLAIM ... SHEET.json", num_args = 1.., required = true)]
    pub(crate) claims: Vec<String>,
    /// Design sheet of the other cell, where the claim compares
    #[arg(long, value_name = "OTHER.json")]
    pub(crate) over: Option<PathBuf>,
    /// Number of Monte Carlo trials
    #[arg(long = "trials", alias = "draws", value_name = "N")]
    pub(crate) draws: Option<u32>,
    /// Seed of the trials; the same seed gives the same trials
    #[arg(long, value_name = "SEED")]
    pub(crate) seed: Option<u32>,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// What a report is about.
#[derive(Debug, Args)]
pub(crate) struct ReportArgs {
    /// Design sheet of the cell, or of the first of two
    #[arg(value_name = "FIRST.json")]
    pub(crate) first: PathBuf,
    /// Design sheet of the second
    #[arg(value_name = "SECOND.json")]
    pub(crate) second: Option<PathBuf>,
    /// A declared figure, as for `roulade claim`; with two cells, of the second over the first
    #[arg(long, value_name = "CLAIM")]
    pub(crate) claim: Option<String>,
    /// Bench sheet: its readings are compared with the sheets
    #[arg(long, value_name = "BENCH.csv")]
    pub(crate) bench: Option<PathBuf>,
    /// Instrument uncertainties
    #[arg(long, value_name = "FILE", requires = "bench")]
    pub(crate) instruments: Option<PathBuf>,
    /// Number of Monte Carlo trials for the claim
    #[arg(long = "trials", alias = "draws", value_name = "N", requires = "claim")]
    pub(crate) draws: Option<u32>,
    /// Seed of the trials
    #[arg(long, value_name = "SEED", requires = "claim")]
    pub(crate) seed: Option<u32>,
    /// The date as it is printed; today (UTC) by default
    #[arg(long, value_name = "TEXT")]
    pub(crate) date: Option<String>,
    /// Write the page to this file, not to standard output
    #[arg(long, value_name = "FILE.html")]
    pub(crate) write: Option<PathBuf>,
    /// Let --write replace a file that is there
    #[arg(long, requires = "write")]
    pub(crate) overwrite: bool,
    #[command(flatten)]
    pub(crate) table: TableArgs,
}
