//! A sheet with some entries changed.

use super::Diagnostic;
use roulade::cell::draft::Draft;
use roulade::quantity::problem::Problems;
use roulade::sheet::{Edited, Sheet};
use roulade::study::edit::{self, SheetChange};
use serde::Serialize;

/// The new sheet, and the way back.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct EditAnswer {
    /// The new sheet.
    pub sheet: Sheet,
    /// Edits that lead back from it to the old one.
    pub inverse: Vec<SheetChange>,
    /// Everything wrong with the new sheet as a cell; none where it holds together.
    pub problems: Vec<Diagnostic>,
}

impl EditAnswer {
    /// Makes the changes.
    ///
    /// # Errors
    /// What is wrong with the changes themselves.
    pub fn of(sheet: &Sheet, edits: &[SheetChange]) -> Result<Self, Problems> {
        let Edited { sheet, inverse } = edit::edited(sheet, edits)?;
        let problems = Draft::read(&sheet).and_then(|draft| draft.design()).err().unwrap_or_default();
        let inverse = inverse.into_iter().map(SheetChange::Edit).collect();
        Ok(Self { sheet, inverse, problems: problems.listed().iter().map(Diagnostic::from).collect() })
    }
}
