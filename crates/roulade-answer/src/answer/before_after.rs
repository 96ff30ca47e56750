//! A figure before more was known of the cell, and after.

use super::figure_writer::Figure;
use serde::Serialize;

/// A figure of the cell before and after.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct BeforeAfter {
    /// Stable name.
    pub id: &'static str,
    /// What it is called.
    pub label: &'static str,
    /// By the sheet alone.
    pub before: Figure,
    /// By the reconciled sheet, or with all declared figures.
    pub after: Figure,
}
