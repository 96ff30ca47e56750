//! Changes to a sheet: the one way in which a sheet becomes another.
//!
//! An edit names an entry by its key ([`find`](super::key)), carries what belongs to the entry along (correlation
//! coefficients, and the plate that a part was to an edge), and has an inverse: what [`diff`](super::diff()) finds between
//! the sheet it made and the sheet it was given.

pub(in crate::sheet) mod apply;
pub(in crate::sheet) mod kind;

use super::{Sheet, diff};
use crate::quantity::problem::Problems;
use apply::all_applied;

use kind::Edit;

/// A sheet after some edits, and the edits that lead back.
#[derive(Clone, Debug, PartialEq)]
pub struct Edited {
    /// The new sheet.
    pub sheet: Sheet,
    /// Edits that make the old sheet of the new one.
    pub inverse: Vec<Edit>,
}

/// Makes changes to a sheet, one after the other.
///
/// Nothing is said of whether the new sheet describes a cell: an entry may be left half-typed, and a reader of the sheet
/// says what is wrong with it.
///
/// # Errors
/// What is wrong with the edits, places beginning with `edits[0].`: a key that sheets do not have, an item that this sheet
/// does not have, a value of the wrong shape. Then nothing is changed.
///
/// # Examples
/// ```
/// use roulade::sheet::{Edit, Sheet, edit};
///
/// let sheet = Sheet::parse(r#"{"can": {"diameter": "21.0 ± 0.1 mm", "height": "70 mm"}}"#)?;
/// let wider = edit(&sheet, &[Edit::Fix { key: "can.diameter".to_owned(), at: Some("22 mm".to_owned()) }])?;
/// assert_eq!(wider.sheet.can.as_ref().unwrap().diameter.as_ref().unwrap().text(), "22 mm");
/// assert_eq!(edit(&wider.sheet, &wider.inverse)?.sheet, sheet);
/// # Ok::<(), roulade::quantity::problem::Problems>(())
/// ```
pub fn edit(sheet: &Sheet, edits: &[Edit]) -> Result<Edited, Problems> {
    let made = all_applied(sheet, edits)?;
    let inverse = diff(&made, sheet);
    Ok(Edited { sheet: made, inverse })
}

#[cfg(test)]
mod tests;
