//! Writes figures down, in the same order whether their uncertainties are being found or shown.

use crate::notation;
use crate::units::Unit;
use serde::Serialize;

/// One number as people read it and as programs do.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// In `unit`, unrounded.
    pub value: f64,
    /// Standard uncertainty in `unit`; absent where nothing uncertain reaches it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub u: Option<f64>,
    /// Unit of the trade.
    pub unit: &'static str,
    /// Rounded by its uncertainty, with its unit.
    pub text: String,
}

impl Figure {
    /// Its text, rounded as before, without the uncertainty.
    pub(super) fn without_u(&self) -> String {
        match (self.text.split_once(" ± "), self.text.rsplit_once(' ')) {
            (Some((value, _)), Some((_, unit))) => format!("{value} {unit}"),
            _ => self.text.clone(),
        }
    }
}

/// Every figure of an answer passes through one pen. First it only notes the values, once for each moved input; then,
/// with the uncertainties known, the same code writes the answer itself.
#[derive(Debug)]
pub(super) enum Pen<'a> {
    /// Notes the values.
    Noting(Vec<f64>),
    /// Writes the figures, each with the next uncertainty.
    Writing {
        /// Uncertainties in the order of the values, SI.
        u: &'a [f64],
        /// How many were written.
        next: usize,
    },
}

impl Pen<'_> {
    pub(super) fn noting() -> Self {
        Self::Noting(Vec::with_capacity(256))
    }

    /// The values noted.
    pub(super) fn noted(self) -> Vec<f64> {
        match self {
            Self::Noting(values) => values,
            Self::Writing { .. } => Vec::new(),
        }
    }

    /// How many figures have passed.
    pub(super) fn count(&self) -> usize {
        match self {
            Self::Noting(values) => values.len(),
            Self::Writing { next, .. } => *next,
        }
    }

    /// Words beside a figure; none while values are only noted.
    pub(super) fn words(&self, text: &str) -> String {
        match self {
            Self::Noting(_) => String::new(),
            Self::Writing { .. } => text.to_owned(),
        }
    }

    /// A figure.
    pub(super) fn figure(&mut self, si: f64, unit: Unit) -> Figure {
        self.write(si, unit, notation::print)
    }

    /// What rounding leaves: a figure whose own uncertainty says nothing.
    pub(super) fn rounding(&mut self, si: f64, unit: Unit) -> Figure {
        let figure = self.figure(si, unit);
        Figure { u: None, text: notation::print(si, 0.0, unit), ..figure }
    }

    /// A difference, with its sign.
    pub(super) fn difference(&mut self, si: f64, unit: Unit) -> Figure {
        self.write(si, unit, notation::print_signed)
    }

    fn write(&mut self, si: f64, unit: Unit, print: impl Fn(f64, f64, Unit) -> String) -> Figure {
        match self {
            Self::Noting(values) => {
                values.push(si);
                Figure { value: si, u: None, unit: "", text: String::new() }
            }
            Self::Writing { u, next } => {
                let u = u.get(*next).copied().unwrap_or(0.0);
                *next += 1;
                let size = unit.in_si();
                Figure {
                    value: si / size,
                    // Below the rounding of the differences it is taken from, an uncertainty is none.
                    u: (u > 1e-12 * si.abs()).then_some(u / size),
                    unit: unit.symbol(),
                    text: whole(print(si, u, unit), unit),
                }
            }
        }
    }
}

/// A count is written without decimals: "5", not "5.000".
fn whole(text: String, unit: Unit) -> String {
    if unit != Unit::One || text.contains('±') {
        return text;
    }
    match text.strip_suffix(".000") {
        Some(count) => count.to_owned(),
        None => text,
    }
}
