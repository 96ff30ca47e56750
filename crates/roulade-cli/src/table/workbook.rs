//! Tables as a workbook (Office Open XML, ECMA-376), a sheet for each. A text is a text there, whatever it begins with.

use super::rows::Table;
use roulade::quantity::problem::Problem;
use roulade_answer::long::Cell;
use rust_xlsxwriter::{Format, Workbook, Worksheet, XlsxError};

/// Rows and columns of a sheet at most: the format's own limits.
pub(crate) const MOST_ROWS: usize = 1_048_576;
pub(super) const MOST_COLUMNS: usize = 16_384;
/// Widest column, in characters.
pub(super) const WIDEST: usize = 60;

/// The workbook's bytes.
///
/// # Errors
/// Where a table has more rows or columns than a sheet can hold.
pub(crate) fn bytes(tables: &[Table]) -> Result<Vec<u8>, Problem> {
    let mut workbook = Workbook::new();
    for table in tables.iter().filter(|table| !table.columns.is_empty()) {
        let (rows, columns) = (table.rows.len() + 1, table.columns.len());
        if rows > MOST_ROWS || columns > MOST_COLUMNS {
            return Err(Problem::new(
                "",
                format!("a table of {rows} rows and {columns} columns"),
                format!(
                    "at most {MOST_ROWS} rows and {MOST_COLUMNS} columns, which a workbook can hold; CSV has no such limit"
                ),
            ));
        }
        sheet(workbook.add_worksheet(), table).map_err(|error| unwritten(&error))?;
    }
    workbook.save_to_buffer().map_err(|error| unwritten(&error))
}

pub(super) fn unwritten(error: &XlsxError) -> Problem {
    Problem::new("", format!("a workbook that could not be made: {error}"), "tables that fit into a workbook")
}

fn sheet(sheet: &mut Worksheet, table: &Table) -> Result<(), XlsxError> {
    let head = Format::new().set_bold();
    sheet.set_name(&table.name)?;
    sheet.set_freeze_panes(1, 0)?;
    for (column, at) in table.columns.iter().zip(0_u16..) {
        sheet.write_string_with_format(0, at, &column.name, &head)?;
        let texts = table.rows.iter().filter_map(|row| match row.get(usize::from(at)) {
            Some(Cell::Text(text)) => Some(text.chars().count()),
            _ => None,
        });
        let width = texts.chain([column.name.chars().count(), 10]).max().unwrap_or(10).min(WIDEST);
        sheet.set_column_width(at, width as f64)?;
    }
    for (row, at) in table.rows.iter().zip(1_u32..) {
        for (cell, column) in row.iter().zip(0_u16..) {
            self::cell(sheet, at, column, cell)?;
        }
    }
    if let (Ok(rows), Ok(columns)) = (u32::try_from(table.rows.len()), u16::try_from(table.columns.len())) {
        sheet.autofilter(0, 0, rows, columns.saturating_sub(1))?;
    }
    Ok(())
}

/// One cell; an empty one where there is nothing to be written.
pub(super) fn cell(sheet: &mut Worksheet, row: u32, column: u16, cell: &Cell) -> Result<(), XlsxError> {
    match cell {
        Cell::Text(text) if !text.is_empty() => sheet.write_string(row, column, text).map(|_| ()),
        Cell::Number(Some(number)) if number.is_finite() => {
            sheet.write_number(row, column, *number).map(|_| ())
        }
        _ => Ok(()),
    }
}
