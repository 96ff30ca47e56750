//! The question of a sheet with some entries changed.

use roulade::section;
use roulade::sheet::Sheet;
use roulade::study::edit::SheetChange;

section! {
    /// A sheet, and what is to be changed in it.
    EditQuestion {
        /// The sheet.
        sheet: Sheet,
        /// Changes, made in turn.
        edits: Vec<SheetChange>,
    }
}
