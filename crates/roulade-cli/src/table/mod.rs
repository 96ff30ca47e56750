//! Answers as files for spreadsheets: the ending of the file's name says which.

mod csvw;
mod growing;
mod rows;
pub(crate) mod workbook;

use crate::args::TableArgs;
use crate::files;
use crate::report::Report;
use roulade::quantity::problem::{Problem, Problems};
use std::path::Path;

pub(crate) use growing::Growing;
pub(crate) use rows::Table;

/// Writes the file that was asked for beside an answer.
///
/// # Errors
/// As [`write`].
pub(crate) fn beside(asked: &TableArgs, report: &Report) -> Result<(), Problems> {
    let Some(path) = &asked.table else { return Ok(()) };
    let tables = [Table::of_figures(&[("", report.json.clone())]), Table::of_texts("table", &report.rows)];
    write(path, &tables, asked.replace_table)
}

/// Writes an answer to a file: figures as CSV with CSVW metadata beside it (FILE.csv-metadata.json), or everything as a
/// workbook.
///
/// # Errors
/// Where the name ends in neither, or a file cannot be written.
pub(crate) fn write(path: &Path, tables: &[Table], replace: bool) -> Result<(), Problems> {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase());
    match (ending.as_deref(), tables) {
        (Some("csv"), [table, ..]) => {
            let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
            let mut beside = path.as_os_str().to_owned();
            beside.push("-metadata.json");
            let metadata = csvw::metadata(&name, "Figures of an answer of roulade", table);
            // Both or neither, as far as can be seen beforehand.
            for path in [path, Path::new(&beside)] {
                free(path, replace)?;
            }
            files::write_bytes(path, table.csv().as_bytes(), replace)?;
            Ok(files::write_bytes(Path::new(&beside), metadata.as_bytes(), replace)?)
        }
        (Some("xlsx"), _) => {
            free(path, replace)?;
            Ok(files::write_bytes(path, &workbook::bytes(tables)?, replace)?)
        }
        _ => {
            let found = path.display().to_string();
            Err(Problem::new("", found, "a name that ends in .csv or .xlsx").into())
        }
    }
}

/// Refuses a name that is taken, before the first of several files is written.
fn free(path: &Path, replace: bool) -> Result<(), Problem> {
    if replace || !path.exists() {
        return Ok(());
    }
    let found = format!("{}, a file that is there already", path.display());
    Err(Problem::new("", found, "another name, or --replace-table to replace it"))
}
