//! Answers as files for spreadsheets: the ending of the file's name says which.

mod csvw;
pub(crate) mod workbook;

use crate::args::TableArgs;
use crate::files;
use crate::report::{Report, disarmed, visible};
use roulade::quantity::problem::{Problem, Problems};
use roulade_answer::long::{COLUMNS, Cell, lines};
use std::path::Path;

/// One table: named columns, and rows of as many cells.
#[derive(Clone, Debug, Default)]
pub(crate) struct Table {
    /// What it is called.
    pub(crate) name: String,
    pub(crate) columns: Vec<Column>,
    pub(crate) rows: Vec<Vec<Cell>>,
}

/// A column.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Column {
    pub(crate) name: String,
    /// What it holds, in words.
    pub(crate) about: String,
    pub(crate) number: bool,
}

impl Table {
    /// Every figure of an answer's JSON, those of several answers after one another, each part with its answer's name before it.
    pub(crate) fn of_figures(answers: &[(&str, String)]) -> Self {
        let columns = COLUMNS.map(|(name, about, number)| Column {
            name: name.to_owned(),
            about: about.to_owned(),
            number,
        });
        let mut rows = Vec::new();
        for (answer, json) in answers {
            for mut line in lines(json) {
                if !answer.is_empty() {
                    let part = format!("{answer}.{}", line.part);
                    part.trim_end_matches('.').clone_into(&mut line.part);
                }
                rows.push(line.cells().to_vec());
            }
        }
        Self { name: "figures".to_owned(), columns: columns.to_vec(), rows }
    }

    /// A table of texts, in which what reads as a number is one.
    pub(crate) fn of_texts(name: &str, rows: &[Vec<String>]) -> Self {
        let (head, rows) = rows.split_first().map_or((&[][..], rows), |(head, rows)| (head.as_slice(), rows));
        let cell = |text: &String| match text.parse::<f64>() {
            Ok(number) if number.is_finite() => Cell::Number(Some(number)),
            _ => Cell::Text(text.clone()),
        };
        let rows: Vec<Vec<Cell>> = rows.iter().map(|row| row.iter().map(cell).collect()).collect();
        let column = |(i, name): (usize, &String)| Column {
            name: name.clone(),
            about: String::new(),
            number: rows.iter().all(|row| matches!(row.get(i), Some(Cell::Number(_)))),
        };
        let columns = head.iter().enumerate().map(column).collect();
        Self { name: name.to_owned(), columns, rows }
    }

    /// As comma-separated values (RFC 4180, plain line ends): numbers unrounded, texts that no spreadsheet takes for formulas.
    fn csv(&self) -> String {
        let mut writer = csv::Writer::from_writer(Vec::new());
        // Writing to memory does not fail, and the rows of a table are of one length.
        let _ = writer.write_record(self.columns.iter().map(|column| &column.name));
        for row in &self.rows {
            let _ = writer.write_record(row.iter().map(|cell| match cell {
                Cell::Text(text) => disarmed(visible(text)).into_owned(),
                Cell::Number(number) => number.map_or(String::new(), |number| number.to_string()),
            }));
        }
        String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
    }
}

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
            Err(Problem::new("", found, "expected a name that ends in .csv or .xlsx").into())
        }
    }
}

/// Refuses a name that is taken, before the first of several files is written.
fn free(path: &Path, replace: bool) -> Result<(), Problem> {
    if replace || !path.exists() {
        return Ok(());
    }
    let found = format!("{}, a file that is there already", path.display());
    Err(Problem::new("", found, "expected another name, or --replace-table to replace it"))
}
