//! What may be asked on the command line, and the words of its help.

use clap::builder::Styles;
use clap::builder::styling::Style;
use clap::{Args, CommandFactory, FromArgMatches, Parser, Subcommand};
use std::path::PathBuf;

const STATUS: &str = "\
Exit status:
  0  answered
  1  answered, and the answer is no (kept for verbs that check a claim; none of these does)
  2  could not be answered: every reason stands on standard error, or on standard output with --json";

const HAZARD: &str = "\
Readings from an opened cell are hazardous to take. Opening cells is work for trained people with a \
written risk assessment; local codes and licensed practice decide. `roulade cautions` lists what to keep \
in mind, with sources.";

/// Estimates wound cylindrical lithium-ion cells from what a bench reads off them.
///
/// A design sheet is one JSON file per cell; every quantity is a text with its unit, such as "68 ± 1 µm". Whatever a
/// sheet leaves out is filled in, and said. Where a file is asked for, - means standard input.
#[derive(Debug, Parser)]
#[command(name = "roulade", version, after_help = EXAMPLES, max_term_width = 100)]
#[command(subcommand_required = true, arg_required_else_help = true, disable_help_subcommand = true)]
pub(crate) struct Asked {
    #[command(subcommand)]
    pub(crate) verb: Verb,
}

const EXAMPLES: &str = "\
Examples:
  roulade estimate demo/series-1.json
  roulade compare demo/series-1.json demo/series-2.json
  roulade without demo/series-1.json \"lower collector plate\"

Exit status:
  0  answered
  1  answered, and the answer is no (kept for verbs that check a claim; none of these does)
  2  could not be answered";

/// One question each.
#[derive(Debug, Subcommand)]
pub(crate) enum Verb {
    /// What one cell must give
    #[command(after_help = "Example:\n  roulade estimate demo/series-1.json --ledger")]
    #[command(after_long_help = format!("Examples:\n  roulade estimate demo/series-1.json --ledger\n  \
        roulade estimate demo/series-1.json --csv > ledger.csv\n  \
        roulade estimate demo/series-1.json --elements --csv > elements.csv\n\n{STATUS}\n\n{HAZARD}"))]
    Estimate {
        /// Design sheet of the cell
        #[arg(value_name = "SHEET.json")]
        sheet: PathBuf,
        /// Show every line of the ledger, not its groups alone
        #[arg(long)]
        ledger: bool,
        /// Show every element, not the metals alone; as --csv, the elements in the place of the ledger
        #[arg(long)]
        elements: bool,
        #[command(flatten)]
        form: FormArgs,
    },

    /// What lies between two cells, and what their hardware alone is worth
    #[command(after_help = "Example:\n  roulade compare demo/series-1.json demo/series-2.json")]
    #[command(after_long_help = format!("Example:\n  roulade compare demo/series-1.json demo/series-2.json\n\n\
        {STATUS}\n\n{HAZARD}"))]
    Compare {
        /// Design sheet of the first cell
        #[arg(value_name = "FIRST.json")]
        first: PathBuf,
        /// Design sheet of the second
        #[arg(value_name = "SECOND.json")]
        second: PathBuf,
        /// Show every element, not the metals alone; as --csv, the elements in the place of the ledger
        #[arg(long)]
        elements: bool,
        #[command(flatten)]
        form: FormArgs,
    },

    /// What a cell gains without one of its parts
    #[command(
        after_help = "Example:\n  roulade without demo/series-1.json \"lower collector plate\" --reclaim 0.85"
    )]
    #[command(after_long_help = format!("Examples:\n  \
        roulade without demo/series-1.json \"lower collector plate\" --reclaim 0.85\n  \
        roulade without demo/series-1.json \"lower collector plate\" --instead ring.json --write new.json\n\n\
        {STATUS}\n\n{HAZARD}"))]
    Without {
        /// Design sheet of the cell
        #[arg(value_name = "SHEET.json")]
        sheet: PathBuf,
        /// Name of the part that goes
        #[arg(value_name = "PART")]
        part: String,
        /// Part that comes in its place: a JSON object as it would stand in the sheet's parts
        #[arg(long, value_name = "PART.json")]
        instead: Option<PathBuf>,
        /// Share of the freed height that becomes coated width, 0 to 1; all of it where left out
        #[arg(long, value_name = "SHARE", allow_negative_numbers = true)]
        reclaim: Option<f64>,
        /// Write the new sheet to this file
        #[arg(long, value_name = "NEW.json")]
        write: Option<PathBuf>,
        /// Let --write replace a file that is there
        #[arg(long, requires = "write")]
        overwrite: bool,
        #[command(flatten)]
        form: FormArgs,
    },

    /// How far the figures spread when every uncertain entry is drawn at random; whether first order is enough
    #[command(after_help = "Example:\n  roulade spread demo/series-1.json --draws 1000000")]
    #[command(after_long_help = format!("Examples:\n  roulade spread demo/series-1.json --draws 1000000\n  \
        roulade spread demo/series-1.json demo/series-2.json --figure volumetric --shares\n\n{STATUS}\n\n{HAZARD}"))]
    Spread {
        /// Design sheet of the cell
        #[arg(value_name = "SHEET.json")]
        sheet: PathBuf,
        /// Design sheet of a second cell: figures of both, and what lies between
        #[arg(value_name = "SECOND.json")]
        second: Option<PathBuf>,
        /// How many draws; 100 000 where left out
        #[arg(long, value_name = "N")]
        draws: Option<u32>,
        /// Seed: the same gives the same draws, on every machine; 1 where left out
        #[arg(long, value_name = "S")]
        seed: Option<u64>,
        /// A figure by its id, as --json names it; may be given again. Those that come first where left out
        #[arg(long, value_name = "ID")]
        figure: Vec<String>,
        /// Show too what the first of the figures (per outer volume where none is named) leans on: shares of first order, and
        /// Sobol's indices from about as many draws again
        #[arg(long)]
        shares: bool,
        #[command(flatten)]
        form: FormArgs,
    },

    /// The table of materials, with sources and grades
    #[command(after_help = "Examples:\n  roulade materials\n  roulade materials NMC811")]
    Materials {
        /// One material in full
        name: Option<String>,
        #[command(flatten)]
        form: FormArgs,
    },

    /// Every quantity of a design sheet: key, unit, bound, and what is taken where it is left out
    #[command(after_help = "Example:\n  roulade quantities --csv > quantities.csv")]
    Quantities {
        #[command(flatten)]
        form: FormArgs,
    },

    /// The JSON Schema of a design sheet (draft 2020-12), for editors and validators
    #[command(after_help = "Example:\n  roulade schema > sheet.schema.json")]
    Schema,

    /// What to keep in mind where readings come from an opened cell
    #[command(after_help = "Example:\n  roulade cautions")]
    Cautions {
        #[command(flatten)]
        form: FormArgs,
    },
}

/// The form of an answer; a text for people where none is named.
#[derive(Clone, Copy, Debug, Default, Args)]
#[group(multiple = false)]
pub(crate) struct FormArgs {
    /// Answer as JSON, problems too
    #[arg(long)]
    pub(crate) json: bool,
    /// Answer as comma-separated values, unrounded: the ledger, or the table
    #[arg(long)]
    pub(crate) csv: bool,
    /// Answer as Markdown
    #[arg(long)]
    pub(crate) markdown: bool,
}

/// The arguments of this process; on help or misuse it says so and ends here.
pub(crate) fn read() -> Asked {
    let bold = Style::new().bold();
    let styles = Styles::plain().header(bold).usage(bold).literal(bold).error(bold);
    let colour =
        if crate::files::plain_terminal() { clap::ColorChoice::Never } else { clap::ColorChoice::Auto };
    let matches = Asked::command().styles(styles).color(colour).get_matches();
    Asked::from_arg_matches(&matches).unwrap_or_else(|error| error.exit())
}
