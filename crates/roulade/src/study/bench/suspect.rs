//! What may be wrong, and how far it is off.

use super::groups::Expected;

/// How much is suspect at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Scope {
    /// One reading.
    Reading,
    /// All readings of one quantity off one specimen.
    Specimen,
    /// All readings of one quantity.
    Quantity,
    /// Two readings that stand in one another's place.
    Exchange,
    /// All readings of one specimen: it is another cell.
    Cell,
}

/// Rows that may be wrong together.
#[derive(Clone)]
pub(super) struct Suspect {
    pub(super) row: usize,
    pub(super) also: Vec<usize>,
    pub(super) scope: Scope,
    pub(super) z: f64,
    pub(super) probability: f64,
    pub(super) expected: Expected,
    pub(super) or: Vec<usize>,
}
