//! Many cells around one sheet: a table of what varies in, a table of figures out.

use crate::args::{BatchArgs, FormArgs};
use crate::files;
use crate::report::{Delivery, Out, Sources, form, lines, visible};
use crate::table::Growing;
use roulade::quantity::problem::{Problem, Problems};
use roulade::sheet::Sheet;
#[cfg(feature = "arrow")]
use roulade_columns::arrow::files as arrow;
use roulade_columns::csv::{self, Count};
use roulade_columns::plan::Refused;
#[cfg(feature = "arrow")]
use std::fs::File;
use std::io::{self, BufWriter, Write};
use std::path::Path;

/// Works out a table; what is left to deliver is the summary.
pub(crate) fn run(base: &Path, table: &Path, asked: &BatchArgs) -> Delivery {
    let name = files::name(table);
    let sheet = files::read(base).map_err(Problems::from).and_then(|text| Sheet::parse(&text));
    let sheet = match sheet {
        Ok(sheet) => sheet,
        Err(problems) => {
            return form(&FormArgs::default())
                .problems(&problems, &Sources { file: files::name(base), begins: Vec::new() });
        }
    };
    let report = |refused: &Refused| {
        // Nothing is left to be done where even this cannot be said.
        let _ = writeln!(io::stderr().lock(), "{name}: {}", visible(&refused.to_string()));
    };
    match worked_out(sheet, table, asked, report) {
        Ok(Count { answered, refused, plausibility }) => {
            let rows = |n: u64| if n == 1 { "1 row".to_owned() } else { format!("{n} rows") };
            let err = match (answered, refused) {
                (0, 0) => format!("{name}: found no row below the head\n"),
                (_, 0) => String::new(),
                _ => format!("{name}: {} answered, {} not\n", rows(answered), rows(refused)),
            };
            let plausibility = lines(&name, &plausibility);
            let err = plausibility + &err;
            let status = match (answered, refused) {
                (0, _) => 2,
                (_, 0) => 0,
                _ => 1,
            };
            Delivery { out: Out::Exact(String::new()), err, status }
        }
        Err(problems) => {
            let begins = ["figures", "keep", "table"].map(|word| (word, format!("--{word}"))).to_vec();
            form(&FormArgs::default()).problems(&problems, &Sources { file: name, begins })
        }
    }
}

fn worked_out(
    sheet: Sheet,
    table: &Path,
    asked: &BatchArgs,
    report: impl FnMut(&Refused),
) -> Result<Count, Problems> {
    let wanted =
        csv::Asked { figures: asked.figures.clone(), spread: asked.spread, kept: asked.keep.clone() };
    #[cfg(feature = "arrow")]
    if let Some((file, form)) = batches(table)? {
        if let Some(path) = &asked.table {
            let expected =
                "a table as CSV where a workbook is wanted; record batches can only give record batches";
            return Err(Problem::new("table", path.display().to_string(), expected).into());
        }
        let out = BufWriter::new(io::stdout());
        return arrow::run(sheet, file, out, form, &wanted, report);
    }
    let Some(path) = &asked.table else {
        let out = BufWriter::new(io::stdout().lock());
        return csv::run(sheet, files::open(table)?, out, &wanted, report);
    };
    let mut book = Growing::new(path, asked.replace_table)?;
    let count = csv::run_into(sheet, files::open(table)?, &mut book, &wanted, report)?;
    if count.answered > 0 {
        book.save().map_err(|problem| Problem { place: "table".to_owned(), ..problem })?;
    }
    Ok(count)
}

/// A file of record batches, and the form of its answer: its own.
#[cfg(feature = "arrow")]
fn batches(table: &Path) -> Result<Option<(File, arrow::Form)>, Problems> {
    if table == Path::new("-") {
        return Ok(None);
    }
    let mut file = File::open(table).map_err(|error| files::refused(&error))?;
    let form = arrow::Form::of_file(&mut file).map_err(|error| files::refused(&error))?;
    Ok(form.map(|form| (file, form)))
}
