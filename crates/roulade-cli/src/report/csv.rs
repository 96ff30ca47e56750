//! For spreadsheets: numbers unrounded, units in the header.

use super::form::{Form, Out, Report, visible};
use std::borrow::Cow;

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
        let _ = writer.write_record(row.iter().map(|cell| disarmed(visible(cell)).into_owned()));
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

/// A text that a spreadsheet would take for a formula is given an apostrophe in front, which spreadsheets take for text;
/// a number stays one.
pub(crate) fn disarmed(cell: Cow<'_, str>) -> Cow<'_, str> {
    let number = || cell.parse::<f64>().is_ok_and(f64::is_finite);
    if cell.starts_with(['=', '+', '-', '@']) && !number() { Cow::Owned(format!("'{cell}")) } else { cell }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_become_text_and_numbers_stay() {
        for armed in ["=1+1", "+A1", "-A1", "@SUM(A1)", "-2+3", "+", "-", "-3.2 mm", "-inf"] {
            assert_eq!(disarmed(armed.into()), format!("'{armed}"));
        }
        for plain in ["-3.2", "+1e-5", "-0", "1+1", "lid", "", "a=b", "\u{2212}3.2 mm"] {
            assert_eq!(disarmed(plain.into()), plain);
        }
    }
}
