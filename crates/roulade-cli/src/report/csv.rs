//! For spreadsheets: numbers unrounded, units in the header.

use super::{Form, Out, Report, visible};

/// Comma-separated values, as RFC 4180 has them, with plain line ends.
pub(crate) struct Csv;

impl Form for Csv {
    fn answer(&self, report: &Report) -> Out {
        let mut writer = csv::Writer::from_writer(Vec::new());
        for row in &report.rows {
            // Writing to memory does not fail, and the rows of a table are of one length.
            let _ = writer.write_record(row.iter().map(|cell| visible(cell).into_owned()));
        }
        let bytes = writer.into_inner().unwrap_or_default();
        Out::Exact(String::from_utf8(bytes).unwrap_or_default())
    }
}
