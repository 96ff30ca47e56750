//! For spreadsheets: numbers unrounded, units in the header.

use super::form::{Form, Out, Report, visible};
use std::borrow::Cow;

/// Comma-separated values, as RFC 4180 has them, with plain line ends.
pub(crate) struct Csv;

impl Form for Csv {
    fn answer(&self, report: &Report) -> Out {
        let mut writer = csv::Writer::from_writer(Vec::new());
        for row in &report.rows {
            // Writing to memory does not fail, and the rows of a table are of one length.
            let _ = writer.write_record(row.iter().map(|cell| disarmed(visible(cell)).into_owned()));
        }
        let bytes = writer.into_inner().unwrap_or_default();
        Out::Exact(String::from_utf8(bytes).unwrap_or_default())
    }
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
