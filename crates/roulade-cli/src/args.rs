//! What may be asked on the command line, and the words of its help.

mod bench;
mod cell;
mod claim;
mod exchange;
mod form;
mod study;
mod table;

pub(crate) use bench::{NextArgs, ReadingsArgs, ReconcileArgs, Robust};
pub(crate) use cell::{CompareArgs, EditArgs, EstimateArgs, SheetArgs, WithoutArgs};
pub(crate) use claim::{ClaimArgs, ReportArgs};
pub(crate) use exchange::{ExportArgs, ImportArgs, TableArgs};
pub(crate) use form::{FormArgs, PictureArgs};
pub(crate) use study::{AttributeArgs, BatchArgs, MapArgs, SearchArgs, SpreadArgs, SweepArgs};
pub(crate) use table::{MaterialsArgs, SchemaArgs};

use clap::builder::Styles;
use clap::builder::styling::Style;
use clap::{CommandFactory, FromArgMatches, Parser, Subcommand};
use exchange::{EXPORT_EXAMPLE, IMPORT_EXAMPLE, IMPORT_STATUS};
use roulade::quantity::problem::visible;
use std::borrow::Cow;
use std::ffi::OsString;

const STATUS: &str = "\
Exit status:
  0  answered
  2  could not be answered: every reason stands on standard error, or on standard output with --json";

/// Of lists that have no questions.
const LIST_STATUS: &str = "\
Exit status:
  0  printed
  2  could not be printed: every reason stands on standard error";

const SHEET_STATUS: &str = "\
Exit status:
  0  made
  2  could not be made: every reason stands on standard error";

const EDIT_STATUS: &str = "\
Exit status:
  0  changed
  1  changed, and the new sheet does not hold together: every reason stands on standard error
  2  could not be changed: every reason stands on standard error, or on standard output with --json";

const CLAIM_STATUS: &str = "\
Exit status:
  0  answered: the claim is supported, or open
  1  answered: the claim is contradicted
  2  could not be answered: every reason stands on standard error, or on standard output with --json";

const BENCH_STATUS: &str = "\
Exit status:
  0  answered
  1  answered, and the answer is no: rows that cannot be read, or readings that do not agree with each other or the sheet
  2  could not be answered: every reason stands on standard error, or on standard output with --json";

const DEMO_BENCH: &str = "demo/marram-a.json demo/bench.csv --instruments demo/instruments.csv";

const HAZARD: &str = "\
Readings from an opened cell are hazardous to take. Opening cells is work for trained people with a \
written risk assessment; local codes and licensed practice decide. `roulade cautions` lists what to keep \
in mind, with sources.";

/// Estimates wound cylindrical lithium-ion cells from tear-down readings or from a data sheet.
///
/// A design sheet is one JSON file per cell; every quantity is a text with its unit, such as "68 ± 1 µm". Whatever a
/// sheet leaves out is filled in with a stated default. Where a file is asked for, - means standard input, and - as a file to be
/// written standard output, in the place of the answer.
#[derive(Debug, Parser)]
#[command(name = "roulade", version, after_help = EXAMPLES, max_term_width = 100)]
#[command(subcommand_required = true, arg_required_else_help = true)]
pub(crate) struct Asked {
    #[command(subcommand)]
    pub(crate) verb: Verb,
}

const EXAMPLES: &str = "\
Examples:
  roulade estimate demo/marram-a.json
  roulade compare demo/marram-a.json demo/marram-b.json
  roulade remove demo/marram-a.json \"lower collector plate\"
  roulade claim \"at least 195 Wh/kg\" demo/marram-small.json

Exit status:
  0  answered
  1  answered, and the answer is no: a claim that is contradicted
  2  could not be answered

Compiled-in libraries and their notices: roulade --version --verbose

Where the terms of the field lead:
  energy density, specific energy, open-circuit voltage       estimate, compare
  jelly roll, current collector, areal loading, N/P ratio     estimate, quantities
  irreversible capacity, C-rate, internal resistance          estimate, quantities
  tabless or tabs, crimp, gasket, collector plate             remove, compare
  form factor                                                 form-factors, sweep
  tear-down, outlier, least squares                           readings, reconcile, next
  Monte Carlo, sensitivity                                    uncertainty
  Shapley value, contribution                                 attribute
  optimisation, Pareto front                                  optimise";

/// One question each.
#[derive(Debug, Subcommand)]
pub(crate) enum Verb {
    /// Capacity, energy and energy density of one cell, and what they are calculated from
    #[command(after_help = "Example:\n  roulade estimate demo/marram-a.json --ledger")]
    #[command(after_long_help = format!("Examples:\n  roulade estimate demo/marram-a.json --ledger\n  \
        roulade estimate demo/marram-a.json --csv > ledger.csv\n  \
        roulade estimate demo/marram-a.json --elements --csv > elements.csv\n\n{STATUS}\n\n{HAZARD}"))]
    Estimate(EstimateArgs),

    /// Two cells side by side, and what the changed parts alone contribute
    #[command(after_help = "Example:\n  roulade compare demo/marram-a.json demo/marram-b.json")]
    #[command(after_long_help = format!("Example:\n  roulade compare demo/marram-a.json demo/marram-b.json\n\n\
        {STATUS}\n\n{HAZARD}"))]
    Compare(CompareArgs),

    /// What removing a part gains in energy density
    #[command(
        name = "remove",
        aliases = ["without", "take-out", "remove-part"],
        after_help = "Example:\n  roulade remove demo/marram-a.json \"lower collector plate\" --reclaim 0.85"
    )]
    #[command(after_long_help = format!("Examples:\n  \
        roulade remove demo/marram-a.json \"lower collector plate\" --reclaim 0.85\n  \
        roulade remove demo/marram-a.json \"lower collector plate\" --instead ring.json --write new.json\n\n\
        {STATUS}\n\n{HAZARD}"))]
    Without(WithoutArgs),

    /// A design sheet to begin with: the size and both active materials, and all else left to the model
    ///
    /// Whatever such a sheet leaves out is taken from the population of cells of its size, purpose and chemistry, and what it is
    /// expected to give has the interval that comes of that. SIZE is diameter × height, "46 × 80", or the digits, "4680".
    /// `roulade materials` lists the active materials.
    #[command(
        aliases = ["new", "start", "begin"],
        after_help = "Example:\n  roulade sheet \"21 × 70\" NMC811 graphite --write cell.json"
    )]
    #[command(after_long_help = format!("Examples:\n  \
        roulade sheet \"21 × 70\" NMC811 graphite --write cell.json\n  \
        roulade sheet 21700 NMC811 graphite | roulade claim - \"5 Ah, 70 g, 260 Wh/kg\"\n  \
        roulade sheet 4680 NMC811 graphite | roulade edit - \"cell_mass=355 ± 5 g\" | roulade estimate -\n\n{SHEET_STATUS}"))]
    Sheet(SheetArgs),

    /// A sheet with some entries changed
    ///
    /// KEY=VALUE writes an entry as a text with its unit, or as JSON where it begins with {, [ or "; KEY= leaves it out. Items
    /// are called by their names: "parts[lid].mass=12 g", "cathode.mix[PVDF].share=2 %"; one entry of a quantity by .value,
    /// .from or .remark. Correlations follow their entries. Changes are made in the order of this help: those of --edits
    /// first, then KEY=VALUE as they stand, then the options.
    #[command(
        after_help = "Example:\n  roulade edit demo/marram-a.json \"can.wall=0.3 mm\" --write new.json"
    )]
    #[command(after_long_help = format!("Examples:\n  \
        roulade edit demo/marram-a.json \"can.wall=0.3 mm\" electrolyte.excess= --write new.json\n  \
        roulade edit demo/marram-a.json --fix can.diameter --resize \"46 mm\" \"80 mm\"\n  \
        roulade edit demo/marram-a.json --edits changes.json --inverse back.json\n  \
        roulade edit demo/marram-a.json \"cell=Thinner wall\" \"made_from=Marram A\" \"can.wall=0.3 mm\"\n\n{EDIT_STATUS}"))]
    Edit(EditArgs),

    /// Whether declared figures are supported, open or contradicted; several are checked against one another first
    ///
    /// Several claims may stand one after another, or in one text between commas, semicolons or line breaks, as a data sheet lists
    /// them, with the size among them: "46 × 80, 26 Ah, 355 g, 300 Wh/kg". Each is then checked given all the others. A claim is one line in plain words, in any order: a relation (at least, at most, about), a value with its unit,
    /// and where they are needed the figure (volumetric or gravimetric energy density, specific energy, capacity, mass, or the name or id of any figure),
    /// "over the other cell" after a percentage or a difference, a basis (cell, with sleeve, nominal size, inside of the can, jelly roll),
    /// cut-off voltages (between 2.5 and 4.2 V, charged to 4.2 V, down to 2.5 V), a rate (at 0.2 It), a temperature (25 °C), minimum
    /// or typical. Or it is a JSON object with these parts, or the name of a .json file that
    /// holds either, or a list of them. What a sheet leaves out is taken from the population of cells of its size, purpose and chemistry: see `roulade quantities`.
    #[command(after_help = "Examples:\n  roulade claim \"at least 195 Wh/kg\" demo/marram-small.json\n  \
        roulade claim demo/marram-small.json \"4.6 Ah\" \"16.6 Wh\" \"72 g\"\n  \
        roulade claim \"18 % over the other cell per volume\" demo/marram-b.json --over demo/marram-a.json")]
    #[command(after_long_help = format!("Examples:\n  roulade claim \"at least 195 Wh/kg\" demo/marram-small.json\n  \
        roulade claim \"18 % over the other cell per volume\" demo/marram-b.json \\\n      --over demo/marram-a.json\n  \
        roulade claim demo/marram-small.json \"4.6 Ah, 72 g, 230 Wh/kg, 640 Wh/L\"\n  \
        roulade claim \"about 610 ± 20 Wh/L, jelly roll, between 2.7 and 4.15 V\" demo/marram-small.json\n\n{CLAIM_STATUS}\n\n{HAZARD}"))]
    Claim(ClaimArgs),

    /// Form factors: the same electrodes in cans of other diameters and heights, common sizes marked
    #[command(name = "form-factors", aliases = ["map", "form-factor", "sizes", "cans"])]
    #[command(
        after_help = "Example:\n  roulade form-factors demo/marram-a.json --hold \"wall=with the diameter\""
    )]
    #[command(after_long_help = format!("Examples:\n  \
        roulade form-factors demo/marram-a.json --diameter \"18 mm\" \"50 mm\" --steps 32\n  \
        roulade form-factors demo/marram-a.json --figure gravimetric --picture map.svg\n  \
        roulade form-factors demo/marram-small.json --hold \"wall=with the diameter\" --hold \"core_diameter=3 mm\" --csv > map.csv\n\n\
        {STATUS}\n\n{HAZARD}"))]
    Map(MapArgs),

    /// Contribution of each change between two cells (Shapley value); all contributions add to the difference
    #[command(name = "attribute", aliases = ["worth", "contribution", "contributions", "shapley"])]
    #[command(after_help = "Example:\n  roulade attribute demo/marram-a.json demo/marram-b.json")]
    #[command(after_long_help = format!("Examples:\n  \
        roulade attribute demo/marram-a.json demo/marram-b.json --prices demo/prices.json\n  \
        roulade attribute demo/marram-a.json demo/marram-b.json --write-changes changes.json\n  \
        roulade attribute demo/marram-a.json demo/marram-b.json --changes changes.json\n\n{STATUS}\n\n{HAZARD}"))]
    Attribute(AttributeArgs),

    /// Figures of a cell as one of its inputs changes, or two of them
    #[command(
        aliases = ["scan", "vary"],
        after_help = "Example:\n  roulade sweep demo/marram-small.json separator.thickness \"8 µm\" \"20 µm\" --steps 6"
    )]
    #[command(after_long_help = format!("Examples:\n  \
        roulade sweep demo/marram-small.json separator.thickness \"8 µm\" \"20 µm\" --steps 6\n  \
        roulade sweep demo/marram-a.json can.wall \"0.3 mm\" \"0.8 mm\" --and can.height \"80 mm\" \"120 mm\" --csv > sweep.csv\n\n\
        Where the size of the can changes, radial clearance and void height are held; `roulade form-factors` says more.\n\n{STATUS}\n\n{HAZARD}"))]
    Sweep(SweepArgs),

    /// Optimisation: the best design within ranges and constraints, and the Pareto front of two figures
    #[command(name = "optimise", aliases = ["search", "optimize", "optimisation", "optimization", "pareto"])]
    #[command(after_help = "Example:\n  roulade optimise demo/marram-a.json demo/marram-a.search")]
    #[command(after_long_help = "Examples:\n  roulade optimise demo/marram-a.json demo/marram-a.search\n  \
        roulade optimise demo/marram-a.json demo/marram-a.search --csv > trade-off.csv\n\n\
        The question is a JSON object:\n  \
        \"free\"     inputs that may change: {\"key\", \"from\", \"to\"}\n  \
        \"keep\"     figures to keep within bounds: {\"figure\", \"at_least\", \"at_most\"}\n  \
        \"best\"     the id of a figure to maximise, or \"least mass\"\n  \
        \"against\"  the id of a second figure, for the Pareto front of the two\n  \
        \"hold\"     what is held where the can changes its size, as for `roulade form-factors`\n  \
        \"seed\", \"trials\"  a seed, and the number of designs to try (20000); the same seed gives the same designs\n\n\
        Exit status:\n  0  answered\n  1  answered: no design within the ranges meets every constraint\n  \
        2  could not be answered: every reason stands on standard error, or on standard output with --json")]
    Search(SearchArgs),

    /// Many cells: one sheet in each line of input, one line of figures for each, on all cores and in order
    #[command(after_help = "Example:\n  roulade batch demo/cells.jsonl --figures capacity,volumetric")]
    #[command(
        after_long_help = "Examples:\n  roulade batch demo/cells.jsonl --figures capacity,volumetric\n  \
        roulade batch demo/cells.jsonl --csv --spread > figures.csv\n  \
        roulade batch --base demo/marram-a.json --vary demo/loadings.csv --keep remark > figures.csv\n  \
        roulade batch --base demo/marram-a.json --vary demo/loadings.csv --keep remark --table figures.xlsx\n\n\
        Each line of the input is a design sheet as JSON (JSON Lines); empty lines are skipped. Each line of the \
        output carries the number of its line and the name of its cell, and under each figure's id and unit its value, \
        unrounded. A line that cannot be answered is reported on standard error with its number, and left out. The memory does not \
        grow with the input.\n\n\
        With --base and --vary one sheet is read once, and every row of a table is that sheet with the row's entries in it: \
        thirty times as many cells a second. Figures are comma-separated columns with names that programs take, after the \
        number of the row. A row that cannot be answered is reported with row and column, and its figures stay empty.\n\n\
        With --table the figures fill a sheet of a workbook, rows waiting in a temporary file. A sheet holds 1,048,576 rows; \
        where there are more, or none can be answered, no file is written.\n\n\
        Exit status:\n  0  every line or row is answered\n  1  answered, except for the lines or rows that are reported\n  2  none could be answered"
    )]
    Batch(BatchArgs),

    /// Uncertainty of the figures by Monte Carlo trials and to first order; sensitivity with --sensitivity
    #[command(name = "uncertainty", aliases = ["spread", "montecarlo", "monte-carlo", "propagate"])]
    #[command(after_help = "Example:\n  roulade uncertainty demo/marram-a.json --trials 20000")]
    #[command(after_long_help = format!("Examples:\n  roulade uncertainty demo/marram-a.json --trials 20000\n  \
        roulade uncertainty demo/marram-a.json demo/marram-b.json --figure volumetric --sensitivity\n\n{STATUS}\n\n{HAZARD}"))]
    Spread(SpreadArgs),

    /// Quantities that a tear-down can read; with a bench sheet, its readings and every error in them
    #[command(
        after_help = "Examples:\n  roulade readings\n  roulade readings --template demo/marram-a.json\n  roulade readings demo/bench.csv"
    )]
    #[command(after_long_help = format!("Examples:\n  roulade readings\n  \
        roulade readings demo/bench.csv\n\n{BENCH_STATUS}\n\n{HAZARD}"))]
    Readings(ReadingsArgs),

    /// Least-squares fit of the design to a bench sheet, with its outliers
    #[command(aliases = ["outliers", "least-squares", "fit"])]
    #[command(after_help = format!("Example:\n  roulade reconcile {DEMO_BENCH}"))]
    #[command(after_long_help = format!("Examples:\n  roulade reconcile {DEMO_BENCH}\n  \
        roulade reconcile demo/marram-a.json demo/bench.csv --robust huber --write new.json\n\n{BENCH_STATUS}\n\n{HAZARD}"))]
    Reconcile(ReconcileArgs),

    /// The most informative next measurement for a figure
    #[command(aliases = ["measure", "next-measurement"])]
    #[command(after_help = "Example:\n  roulade next demo/marram-a.json --for volumetric")]
    #[command(after_long_help = format!("Examples:\n  roulade next demo/marram-a.json --for volumetric\n  \
        roulade next demo/marram-a.json demo/bench.csv --for gravimetric\n  \
        roulade next demo/marram-a.json --second demo/marram-b.json --for volumetric\n\n{STATUS}\n\n{HAZARD}"))]
    Next(NextArgs),

    /// The answer, and what it is calculated from, as one HTML page for the screen and for paper
    #[command(after_help = "Example:\n  roulade report demo/marram-a.json demo/marram-b.json > report.html")]
    #[command(after_long_help = format!("Examples:\n  \
        roulade report demo/marram-a.json demo/marram-b.json --write report.html\n  \
        roulade report demo/marram-a.json --bench demo/bench.csv --write report.html\n  \
        roulade report demo/marram-small.json --claim \"at least 195 Wh/kg\" > report.html\n\n\
        The page has no scripts and loads nothing from elsewhere. It is written whatever the verdict on the claim.\n\n{STATUS}\n\n{HAZARD}"))]
    Report(ReportArgs),

    /// A partial parameter set of the open Battery Parameter eXchange standard (BPX, JSON) from a design sheet
    #[command(name = "export-parameters", aliases = ["export", "bpx"], after_help = EXPORT_EXAMPLE)]
    #[command(after_long_help = format!("{EXPORT_EXAMPLE}\n\n{LIST_STATUS}"))]
    Export(ExportArgs),

    /// A design sheet from a parameter set of that standard: coatings, porosities, areas, cut-off voltages, potentials
    #[command(name = "import-parameters", aliases = ["import"], after_help = IMPORT_EXAMPLE)]
    #[command(after_long_help = format!("{IMPORT_EXAMPLE}\n\n{IMPORT_STATUS}"))]
    Import(ImportArgs),

    /// The table of materials: half-cell curves, capacities, densities, with sources and grades
    #[command(after_help = "Examples:\n  roulade materials\n  roulade materials NMC811")]
    #[command(after_long_help = format!("Examples:\n  roulade materials\n  roulade materials NMC811\n\n{STATUS}"))]
    Materials(MaterialsArgs),

    /// Every quantity of a design sheet: key, unit, bound, and default
    #[command(after_help = "Example:\n  roulade quantities --csv > quantities.csv")]
    #[command(after_long_help = format!("Example:\n  roulade quantities --csv > quantities.csv\n\n{LIST_STATUS}"))]
    Quantities {
        #[command(flatten)]
        form: FormArgs,
    },

    /// The JSON Schema of a design sheet or of a question (draft 2020-12), for editors and validators
    #[command(
        after_help = "Example:\n  roulade schema > sheet.schema.json\n  roulade schema claim > claim.schema.json"
    )]
    #[command(after_long_help = format!("Example:\n  roulade schema > sheet.schema.json\n  \
        roulade schema claim > claim.schema.json\n\n{LIST_STATUS}"))]
    Schema(SchemaArgs),

    /// Hazards of opening cells and of what is inside, with sources
    #[command(after_help = "Example:\n  roulade cautions")]
    #[command(after_long_help = format!("Example:\n  roulade cautions\n\n{LIST_STATUS}"))]
    Cautions {
        #[command(flatten)]
        form: FormArgs,
    },
}

/// The arguments of this process; on help or misuse it says so and ends here.
pub(crate) fn read() -> Asked {
    let bold = Style::new().bold();
    let styles = Styles::plain().header(bold).usage(bold).literal(bold).error(bold);
    let colour =
        if crate::files::plain_terminal() { clap::ColorChoice::Never } else { clap::ColorChoice::Auto };
    let matches =
        Asked::command().styles(styles).color(colour).try_get_matches_from(called(std::env::args_os()));
    let matches = matches.unwrap_or_else(|error| refused(&error));
    Asked::from_arg_matches(&matches).unwrap_or_else(|error| error.exit())
}

/// Help, or what is wrong with the arguments; these may hold what a terminal would obey.
fn refused(error: &clap::Error) -> ! {
    let text = error.render().to_string();
    let shown: Vec<_> = text.lines().map(visible).collect();
    if shown.iter().all(|line| matches!(line, Cow::Borrowed(_))) {
        error.exit();
    }
    let said = crate::report::Delivery {
        out: crate::report::Out::Exact(String::new()),
        err: shown.join("\n") + "\n",
        status: 2,
    };
    crate::files::deliver(said);
    std::process::exit(error.exit_code())
}

/// The arguments as they are parsed: "sensitivity" is the uncertainty with its option of that name.
fn called(arguments: impl Iterator<Item = OsString>) -> Vec<OsString> {
    let mut arguments: Vec<OsString> = arguments.collect();
    if arguments.get(1).is_some_and(|verb| verb == "sensitivity") {
        arguments.splice(1..2, ["uncertainty".into(), "--sensitivity".into()]);
    }
    arguments
}
