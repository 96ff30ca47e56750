//! For spreadsheets: numbers unrounded, units in the header.

use super::form::{Form, Out, Report, visible};
use roulade::quantity::spreadsheet::disarmed;

/// Comma-separated values, as RFC 4180 has them, with plain line ends.
pub(crate) struct Csv;

impl Form for Csv {
    fn answer(&self, report: &Report) -> Out {
        Out::Exact(csv_text(report.rows.iter().map(Vec::as_slice)))
    }
}

/// Rows of one length as text: nothing in them that a spreadsheet or a terminal would obey.
pub(crate) fn csv_text<'a>(rows: impl Iterator<Item = &'a [String]>) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        // Writing to memory does not fail, and the rows of a table are of one length.
        let _ = writer.write_record(row.iter().map(|cell| disarmed(&visible(cell)).into_owned()));
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}
