//! What goes to other programs and comes from them: parameter sets, tables.

use clap::Args;
use std::path::PathBuf;

pub(super) const EXPORT_EXAMPLE: &str =
    "Example:\n  roulade export-parameters demo/marram-a.json > parameters.json";
pub(super) const IMPORT_EXAMPLE: &str = "Examples:\n  \
    roulade import-parameters demo/marram-parameters.json --can \"24 mm\" \"65 mm\"\n  \
    roulade import-parameters demo/marram-parameters.json --into demo/marram-small.json";
pub(super) const IMPORT_STATUS: &str = "\
Exit status:
  0  answered
  1  answered, and the new sheet does not hold together: every reason stands on standard error
  2  could not be answered: every reason stands on standard error";

/// A sheet as a parameter set.
#[derive(Debug, Args)]
pub(crate) struct ExportArgs {
    /// Design sheet of the cell
    #[arg(value_name = "SHEET.json")]
    pub(crate) sheet: PathBuf,
    /// Write the parameter set to this file, not to standard output
    #[arg(long, value_name = "PARAMETERS.json")]
    pub(crate) write: Option<PathBuf>,
    /// Let --write replace a file that is there
    #[arg(long, requires = "write")]
    pub(crate) overwrite: bool,
}

/// A parameter set as a sheet.
#[derive(Debug, Args)]
pub(crate) struct ImportArgs {
    /// Parameter set
    #[arg(value_name = "PARAMETERS.json")]
    pub(crate) parameters: PathBuf,
    /// Outer diameter and height of the can, for which the standard has no place
    #[arg(long, num_args = 2, value_names = ["DIAMETER", "HEIGHT"])]
    pub(crate) can: Option<Vec<String>>,
    /// Design sheet whose can, hardware and other entries are kept where the parameter set says nothing
    #[arg(long, value_name = "SHEET.json")]
    pub(crate) into: Option<PathBuf>,
    /// Print remarks on the sheet, and the parameters that have no place in it, instead of the sheet
    #[arg(long)]
    pub(crate) remarks: bool,
    /// Write the sheet to this file, not to standard output
    #[arg(long, value_name = "NEW.json")]
    pub(crate) write: Option<PathBuf>,
    /// Let --write replace a file that is there
    #[arg(long, requires = "write")]
    pub(crate) overwrite: bool,
}

/// A file for a spreadsheet beside the answer.
#[derive(Clone, Debug, Default, Args)]
#[group(skip)]
pub(crate) struct TableArgs {
    /// Write every figure of the answer to this file too: .csv, with metadata after the W3C's CSVW beside it, or .xlsx
    #[arg(long, value_name = "FILE")]
    pub(crate) table: Option<PathBuf>,
    /// Let --table replace files that are there
    #[arg(long, requires = "table")]
    pub(crate) replace_table: bool,
}
