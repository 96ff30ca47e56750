//! The question for a report.

use roulade::quantity::problem::Problems;
use roulade::section;
use roulade::sheet::{Sheet, read};
use roulade::study::claim::Said;

section! {
    /// The question for a report.
    ReportQuestion {
        /// The sheet of the cell, or of the first of two.
        first: Sheet,
        /// The second.
        second: Sheet,
        /// A declared figure: of the second cell over the first where there are two.
        claim: Said,
        /// How many draws for it.
        draws: u32,
        /// Where they begin.
        seed: u32,
        /// A bench sheet, CSV text: readings to be held against the sheets.
        readings: String,
        /// The uncertainties of the instruments, CSV or JSON text.
        instruments: String,
        /// As it is to be printed.
        date: String,
    }
}

impl ReportQuestion {
    /// Reads the question for a report from JSON text.
    ///
    /// # Errors
    /// Where the text is no JSON, with line and column; or every place where its shape is wrong.
    pub fn parse(json: &str) -> Result<Self, Problems> {
        read::text(
            json,
            "a question, {\"first\": …}, with \"second\", \"claim\" and \"date\" where they are wanted",
        )
    }
}
