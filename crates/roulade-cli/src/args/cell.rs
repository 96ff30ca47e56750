//! One cell or two, and what is changed in one.

use super::form::FormArgs;
use clap::Args;
use std::path::PathBuf;

/// One cell to estimate.
#[derive(Debug, Args)]
pub(crate) struct EstimateArgs {
    /// Design sheet of the cell
    #[arg(value_name = "SHEET.json")]
    pub(crate) sheet: PathBuf,
    /// Show every line of the ledger, not only its groups
    #[arg(long)]
    pub(crate) ledger: bool,
    /// Show every element, not only the metals; with --csv, the elements instead of the ledger
    #[arg(long)]
    pub(crate) elements: bool,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// Two cells to compare.
#[derive(Debug, Args)]
pub(crate) struct CompareArgs {
    /// Design sheet of the first cell
    #[arg(value_name = "FIRST.json")]
    pub(crate) first: PathBuf,
    /// Design sheet of the second
    #[arg(value_name = "SECOND.json")]
    pub(crate) second: PathBuf,
    /// Show every element, not only the metals; with --csv, the elements instead of the ledger
    #[arg(long)]
    pub(crate) elements: bool,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// Parts to remove from a cell.
#[derive(Debug, Args)]
pub(crate) struct WithoutArgs {
    /// Design sheet of the cell
    #[arg(value_name = "SHEET.json")]
    pub(crate) sheet: PathBuf,
    /// Name of the part to remove; several are removed at once
    #[arg(value_name = "PART", required = true)]
    pub(crate) parts: Vec<String>,
    /// Part to put in its place: a JSON object as it would stand in the sheet's parts
    #[arg(long, value_name = "PART.json")]
    pub(crate) instead: Option<PathBuf>,
    /// Share of the freed height that becomes coated width, 0 to 1 or "85 %"; all of it by default
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    pub(crate) reclaim: Option<String>,
    /// Write the new sheet to this file
    #[arg(long, value_name = "NEW.json")]
    pub(crate) write: Option<PathBuf>,
    /// Let --write replace a file that is there
    #[arg(long, requires = "write")]
    pub(crate) overwrite: bool,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// The little that is known of a cell, and where its sheet goes.
#[derive(Debug, Args)]
pub(crate) struct SheetArgs {
    /// Size of the can, diameter × height in whole millimetres
    #[arg(value_name = "SIZE")]
    pub(crate) size: String,
    /// Active material of the cathode
    #[arg(value_name = "CATHODE")]
    pub(crate) cathode: String,
    /// Active material of the anode
    #[arg(value_name = "ANODE")]
    pub(crate) anode: String,
    /// Write the sheet to this file, not to standard output
    #[arg(long, value_name = "NEW.json")]
    pub(crate) write: Option<PathBuf>,
    /// Let --write replace a file that is there
    #[arg(long, requires = "write")]
    pub(crate) overwrite: bool,
}

/// What is to be changed, and where it goes.
#[derive(Debug, Args)]
pub(crate) struct EditArgs {
    /// Design sheet of the cell
    #[arg(value_name = "SHEET.json")]
    pub(crate) sheet: PathBuf,
    /// Entry to write: a key and its value
    #[arg(value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
    /// A list of changes as JSON: [{"set": KEY, "to": VALUE}, {"remove": ITEM}, ...]
    #[arg(long, value_name = "EDITS.json")]
    pub(crate) edits: Option<PathBuf>,
    /// Take an item out of its list: "parts[lid]"
    #[arg(long, value_name = "ITEM")]
    pub(crate) remove: Vec<String>,
    /// Rename a part or a material, wherever the sheet names it
    #[arg(long, value_name = "ITEM=NAME")]
    pub(crate) rename: Vec<String>,
    /// Make a quantity exact: as it stands, or at a value
    #[arg(long, value_name = "KEY[=VALUE]")]
    pub(crate) fix: Vec<String>,
    /// Multiply a quantity and its uncertainty
    #[arg(long, value_name = "KEY=FACTOR")]
    pub(crate) scale: Vec<String>,
    /// The same electrodes in a can of another outer diameter and height
    #[arg(long, num_args = 2, value_names = ["DIAMETER", "HEIGHT"])]
    pub(crate) resize: Option<Vec<String>>,
    /// Write the inverse changes to this file, for --edits
    #[arg(long, value_name = "BACK.json")]
    pub(crate) inverse: Option<PathBuf>,
    /// Write the new sheet to this file, not to standard output
    #[arg(long, value_name = "NEW.json")]
    pub(crate) write: Option<PathBuf>,
    /// Let --write and --inverse replace a file that is there
    #[arg(long)]
    pub(crate) overwrite: bool,
    /// The whole answer as JSON: sheet, inverse, problems
    #[arg(long)]
    pub(crate) json: bool,
}
