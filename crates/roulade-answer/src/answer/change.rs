//! One figure of two cells, and what lies between them.

use super::figure_writer::{Figure, FigureWriter, ROUNDINGS};
use roulade::quantity::units::Unit;
use serde::Serialize;

/// One figure of two cells.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(rename = "FigureChange"))]
pub struct FigureChange<F = Figure> {
    /// Stable name.
    pub id: &'static str,
    /// What it is.
    pub label: &'static str,
    /// Of the first cell.
    pub first: F,
    /// Of the second.
    pub second: F,
    /// Second less first.
    pub change: F,
    /// The change over the first; absent where the first is zero.
    pub percent: Option<F>,
}

impl<F> FigureChange<F> {
    pub(super) fn write(
        writer: &mut impl FigureWriter<Figure = F>,
        (id, label): (&'static str, &'static str),
        unit: Unit,
        first: f64,
        second: f64,
    ) -> Self {
        let scale = first.abs().max(second.abs());
        let apart = between(first, second);
        let relative = if first == 0.0 { 0.0 } else { apart / first };
        Self {
            id,
            label,
            first: writer.figure(first, unit),
            second: writer.figure(second, unit),
            change: writer.difference_of(apart, scale, unit),
            // The writer passes either way, so that the order of figures does not depend on their values.
            percent: Some(writer.difference_of(relative, 1.0, Unit::Percent)).filter(|_| first != 0.0),
        }
    }
}

/// The second less the first; below the rounding of the two, a difference is none.
pub(super) fn between(first: f64, second: f64) -> f64 {
    above_roundings(second - first, first.abs().max(second.abs()))
}

/// A difference of numbers of that scale; below their rounding, some steps of which add up, it is none.
pub(super) fn above_roundings(difference: f64, scale: f64) -> f64 {
    if difference.abs() > ROUNDINGS * scale { difference } else { 0.0 }
}
