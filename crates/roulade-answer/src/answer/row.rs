//! A figure with its name, as tables show it.

use super::figure_writer::Figure;
use serde::Serialize;

/// A figure with a name.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "Row"))]
pub struct Row<F = Figure> {
    /// Stable name.
    pub id: &'static str,
    /// What it is.
    pub label: &'static str,
    /// The figure.
    pub figure: F,
    /// What is meant, on which basis.
    #[serde(skip_serializing_if = "str::is_empty")]
    pub note: &'static str,
}
