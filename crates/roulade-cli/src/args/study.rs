//! Many cells around one or between two.

use super::form::{FormArgs, PictureArgs};
use clap::Args;
use std::path::PathBuf;

/// Cans for the electrodes of a cell.
#[derive(Debug, Args)]
pub(crate) struct MapArgs {
    /// Design sheet of the cell
    #[arg(value_name = "SHEET.json")]
    pub(crate) sheet: PathBuf,
    /// Outer diameters
    #[arg(long, num_args = 2, value_names = ["FROM", "TO"], default_values = ["16 mm", "50 mm"], allow_hyphen_values = true)]
    pub(crate) diameter: Vec<String>,
    /// Outer heights
    #[arg(long, num_args = 2, value_names = ["FROM", "TO"], default_values = ["50 mm", "130 mm"], allow_hyphen_values = true)]
    pub(crate) height: Vec<String>,
    /// Steps along each
    #[arg(long, value_name = "STEPS", default_value_t = 40)]
    pub(crate) steps: u32,
    /// A figure, by its id in the answer of --json; may stand several times, the first is the one in the picture
    #[arg(long = "figure", value_name = "ID")]
    pub(crate) figures: Vec<String>,
    /// What is held where it differs from the sheet: wall, bottom, `core_diameter`, `radial_clearance` or `void_height` with a
    /// length; hardware="stays" for all of them at once, which otherwise grow with the diameter as from cell to cell;
    /// wall="with the diameter"; parts="with the inner diameter" or parts="as they are"
    #[arg(long, value_name = "WHAT=VALUE")]
    pub(crate) hold: Vec<String>,
    #[command(flatten)]
    pub(crate) picture: PictureArgs,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// Two cells, and how their difference is taken apart.
#[derive(Debug, Args)]
pub(crate) struct AttributeArgs {
    /// Design sheet of the cell the changes start from
    #[arg(value_name = "FIRST.json")]
    pub(crate) first: PathBuf,
    /// Design sheet of the cell they lead to
    #[arg(value_name = "SECOND.json")]
    pub(crate) second: PathBuf,
    /// Which entries belong to one change; what is not listed is grouped by part and by electrode
    #[arg(long, value_name = "CHANGES.json")]
    pub(crate) changes: Option<PathBuf>,
    /// What a kilogram of each material and a piece of each part costs
    #[arg(long, value_name = "PRICES.json")]
    pub(crate) prices: Option<PathBuf>,
    /// Number of Monte Carlo trials, each a pair of cells within the uncertainties of both sheets; 0 for first order
    #[arg(long = "trials", alias = "draws", value_name = "NUMBER", default_value_t = roulade::study::attribute::DRAWS)]
    pub(crate) draws: u32,
    /// Seed of the trials: the same seed gives the same answer
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    pub(crate) seed: u32,
    /// Write the changes to this file, to be edited and given back with --changes
    #[arg(long, value_name = "NEW.json")]
    pub(crate) write_changes: Option<PathBuf>,
    /// Let --write-changes replace a file that is there
    #[arg(long, requires = "write_changes")]
    pub(crate) overwrite: bool,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// A cell and the inputs to move.
#[derive(Debug, Args)]
pub(crate) struct SweepArgs {
    /// Design sheet of the cell
    #[arg(value_name = "SHEET.json")]
    pub(crate) sheet: PathBuf,
    /// Key of the input, as `roulade quantities` lists it
    #[arg(value_name = "KEY")]
    pub(crate) key: String,
    /// First value
    #[arg(value_name = "FROM", allow_hyphen_values = true)]
    pub(crate) from: String,
    /// Last value
    #[arg(value_name = "TO", allow_hyphen_values = true)]
    pub(crate) to: String,
    /// A second input
    #[arg(long, num_args = 3, value_names = ["KEY", "FROM", "TO"], allow_hyphen_values = true)]
    pub(crate) and: Vec<String>,
    /// Steps along each
    #[arg(long, value_name = "STEPS", default_value_t = 20)]
    pub(crate) steps: u32,
    /// A figure, by its id in the answer of --json; may stand several times
    #[arg(long = "figure", value_name = "ID")]
    pub(crate) figures: Vec<String>,
    /// What is held, as for `roulade form-factors`
    #[arg(long, value_name = "WHAT=VALUE")]
    pub(crate) hold: Vec<String>,
    #[command(flatten)]
    pub(crate) picture: PictureArgs,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// A cell and what is sought.
#[derive(Debug, Args)]
pub(crate) struct SearchArgs {
    /// Design sheet of the cell
    #[arg(value_name = "SHEET.json")]
    pub(crate) sheet: PathBuf,
    /// Free inputs, constraints and the figure to optimise, as JSON
    #[arg(value_name = "QUESTION.json")]
    pub(crate) question: PathBuf,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// Cells to draw trials of.
#[derive(Debug, Args)]
pub(crate) struct SpreadArgs {
    /// Design sheet of the cell
    #[arg(value_name = "SHEET.json")]
    pub(crate) sheet: PathBuf,
    /// Design sheet of a second cell: figures of both, and their difference
    #[arg(value_name = "SECOND.json")]
    pub(crate) second: Option<PathBuf>,
    /// Number of Monte Carlo trials; 100 000 by default
    #[arg(long = "trials", alias = "draws", value_name = "N")]
    pub(crate) draws: Option<u32>,
    /// Seed: the same seed gives the same trials on every machine; 1 by default
    #[arg(long, value_name = "S")]
    pub(crate) seed: Option<u32>,
    /// A figure by its id, as --json names it; may be given several times; the headline figures by default
    #[arg(long, value_name = "ID")]
    pub(crate) figure: Vec<String>,
    /// Show also the sensitivity of the first figure (volumetric energy density where none is named): contributions to its
    /// variance to first order, and Sobol indices from about as many trials again
    #[arg(long = "sensitivity", alias = "shares")]
    pub(crate) shares: bool,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// Many cells.
#[derive(Debug, Args)]
pub(crate) struct BatchArgs {
    /// Sheets, one on each line
    #[arg(value_name = "SHEETS.jsonl", default_value = "-")]
    pub(crate) sheets: PathBuf,
    /// Figures by their ids in the answer of `roulade estimate --json`; the headline figures by default
    #[arg(long, value_name = "IDS", value_delimiter = ',')]
    pub(crate) figures: Vec<String>,
    /// Standard uncertainties too, to first order, at about fifty times the work
    #[arg(long)]
    pub(crate) spread: bool,
    /// Comma-separated values instead of JSON
    #[arg(long)]
    pub(crate) csv: bool,
    /// One sheet for all rows of --vary
    #[arg(long, value_name = "SHEET.json", requires = "vary", conflicts_with = "sheets")]
    pub(crate) base: Option<PathBuf>,
    /// Table of what varies, with a column for each key and its unit in the head: "cathode.loading (mg/cm²)"; "-" for standard
    /// input
    #[arg(long, value_name = "TABLE.csv", requires = "base")]
    pub(crate) vary: Option<PathBuf>,
    /// Columns of --vary, by their heads, that are copied to the output before the figures
    #[arg(long, value_name = "HEADS", value_delimiter = ',', requires = "vary")]
    pub(crate) keep: Vec<String>,
    /// Write the figures to this workbook instead of standard output, up to 1,048,575 rows
    #[arg(long, value_name = "FILE.xlsx", conflicts_with = "csv")]
    pub(crate) table: Option<PathBuf>,
    /// Let --table replace a file that is there
    #[arg(long, requires = "table")]
    pub(crate) replace_table: bool,
}
