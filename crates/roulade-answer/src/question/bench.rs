//! Questions about the bench.

use roulade::section;
use roulade::sheet::Sheet;

section! {
    /// A bench sheet to hold against a design sheet.
    ReconcileQuestion {
        /// The design sheet to start from.
        sheet: Sheet,
        /// The bench sheet: CSV text.
        readings: String,
        /// The uncertainties of the instruments: CSV text or JSON text.
        instruments: String,
        /// Name of the cell whose readings are used; that of the sheet where left out.
        cell: String,
        /// "normal", "huber" or "student"; normal where left out.
        loss: String,
        /// What readings of an instrument that no file describes have in common: "ordinary" (what ordinary ones have) or
        /// "none"; ordinary where left out.
        shared: String,
        /// Quantities in which specimens may be of two kinds.
        populations: Vec<String>,
    }
}

section! {
    /// The question of what to read next.
    NextQuestion {
        /// The design sheet.
        sheet: Sheet,
        /// A second one, where the difference between two cells is asked for.
        second: Sheet,
        /// Id of the figure.
        figure: String,
        /// Readings there are already: CSV text.
        readings: String,
        /// The uncertainties of the instruments: CSV text or JSON text.
        instruments: String,
    }
}
