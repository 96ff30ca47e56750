//! A workbook of one sheet that grows row by row, as long as a sheet can be. Rows wait in a temporary file: memory stays as it
//! is.

use super::workbook::{MOST_COLUMNS, MOST_ROWS, WIDEST, unwritten};
use crate::files;
use roulade::quantity::problem::{Problem, Problems};
use roulade_answer::long::Cell;
use roulade_columns::output::{Output, Row};
use rust_xlsxwriter::{Format, Workbook, XlsxError};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

/// A workbook that is not yet a file.
pub(crate) struct Growing {
    workbook: Workbook,
    path: PathBuf,
    replace: bool,
    /// The row that comes next, the head being row 0.
    next: u32,
}

impl Growing {
    /// A workbook of a head alone, for a file of this name.
    ///
    /// # Errors
    /// Where the name does not end in .xlsx, or is taken and not to be replaced.
    pub(crate) fn new(path: &Path, replace: bool) -> Result<Self, Problem> {
        if !path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("xlsx")) {
            let expected = "a name that ends in .xlsx; figures as CSV go to standard output";
            return Err(Problem::new("table", path.display().to_string(), expected));
        }
        super::free(path, replace).map_err(|problem| Problem { place: "table".to_owned(), ..problem })?;
        let mut workbook = Workbook::new();
        workbook.add_worksheet_with_constant_memory().map_err(|error| unwritten(&error))?;
        Ok(Self { workbook, path: path.to_owned(), replace, next: 0 })
    }

    /// The first row.
    ///
    /// # Errors
    /// Where there are more names than a sheet has columns.
    pub(crate) fn name(&mut self, names: &[String]) -> Result<(), Problem> {
        if names.len() > MOST_COLUMNS {
            return Err(Problem::new(
                "",
                format!("{} columns", names.len()),
                format!("at most {MOST_COLUMNS}, which a workbook can hold; CSV has no such limit"),
            ));
        }
        let sheet = self.workbook.worksheet_from_index(0).map_err(|error| unwritten(&error))?;
        let mut head = || -> Result<(), XlsxError> {
            sheet.set_name("figures")?;
            sheet.set_freeze_panes(1, 0)?;
            for (name, at) in names.iter().zip(0_u16..) {
                let width = name.chars().count().clamp(10, WIDEST);
                sheet.set_column_width(at, width as f64)?;
                sheet.write_string_with_format(0, at, name, &Format::new().set_bold())?;
            }
            Ok(())
        };
        head().map_err(|error| unwritten(&error))?;
        self.next = 1;
        Ok(())
    }

    /// Another row.
    ///
    /// # Errors
    /// Where the sheet is full.
    pub(crate) fn push(&mut self, cells: &[Cell]) -> Result<(), Problem> {
        if self.next as usize >= MOST_ROWS {
            return Err(Problem::new(
                "",
                format!("more than {} rows", MOST_ROWS - 1),
                format!(
                    "no more with --table, since a sheet of a workbook ends with row {MOST_ROWS}, of which the \
                     head is one; CSV has no such limit"
                ),
            ));
        }
        let sheet = self.workbook.worksheet_from_index(0).map_err(|error| unwritten(&error))?;
        for (cell, column) in cells.iter().zip(0_u16..) {
            super::workbook::cell(sheet, self.next, column, cell).map_err(|error| unwritten(&error))?;
        }
        self.next += 1;
        Ok(())
    }

    /// Writes the file, whole or not at all.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub(crate) fn save(mut self) -> Result<(), Problem> {
        files::write_with(&self.path, self.replace, |file| {
            let mut out = BufWriter::new(file);
            self.workbook.save_to_writer(&mut out).map_err(io::Error::other)?;
            out.flush()
        })
    }
}

impl Output for Growing {
    type Piece = Vec<Vec<Cell>>;

    fn head(&mut self, names: &[String]) -> Result<bool, Problems> {
        Ok(self.name(names).map(|()| true)?)
    }

    fn add(row: &Row<'_>, piece: &mut Self::Piece) {
        let kept = row.kept.iter().map(|text| plain(text));
        let figures = row.figures.iter().map(|figure| Cell::Number(Some(*figure)));
        let number = Cell::Number(Some(row.number as f64));
        piece.push(std::iter::once(number).chain(kept).chain(figures).collect());
    }

    fn put(&mut self, piece: Self::Piece) -> Result<bool, Problems> {
        for row in piece {
            self.push(&row)?;
        }
        Ok(true)
    }
}

/// A number where a text is one, not where it looks like the number of a part: "0012", or with more digits than a cell keeps.
fn plain(text: &str) -> Cell {
    let digits = text.trim_start_matches('-');
    let of_a_part =
        digits.len() > 15 || (digits.starts_with('0') && digits.len() > 1 && !digits.starts_with("0."));
    let number = digits.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    match text.parse::<f64>() {
        Ok(value) if number && !of_a_part => Cell::Number(Some(value)),
        _ => Cell::Text(text.to_owned()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_is_filled_to_its_last_row_and_no_further() {
        let mut book = Growing::new(Path::new("no/such/folder.xlsx"), false).unwrap();
        book.name(&["row".to_owned()]).unwrap();
        for row in 1..MOST_ROWS {
            book.push(&[Cell::Number(Some(row as f64))]).unwrap();
        }
        let full = book.push(&[Cell::Number(None)]).unwrap_err().to_string();
        assert!(full.contains("more than 1048575 rows") && full.contains("CSV has no such limit"), "{full}");
        assert!(
            book.name(&vec![String::new(); MOST_COLUMNS + 1]).unwrap_err().found.contains("16385 columns")
        );
        assert!(book.save().unwrap_err().found.contains("no such folder"));
    }

    #[test]
    fn numbers_of_parts_stay_texts() {
        for text in ["0012", "12 mm", "1e5", "", "-", "1234567890123456", "=1+1", "nan"] {
            assert_eq!(plain(text), Cell::Text(text.to_owned()), "{text}");
        }
        for (text, value) in [("12", 12.0), ("-0.5", -0.5), ("0", 0.0), ("1.50", 1.5)] {
            assert_eq!(plain(text), Cell::Number(Some(value)), "{text}");
        }
    }
}
