//! A row of the table: one quantity, and what stands in for it.

use super::bound::Bound;
use crate::quantity::notation;
use crate::quantity::units::Unit;

/// One quantity of the sheet.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Its path, list indices left out: `parts[].height`.
    pub path: &'static str,
    /// Heading it stands under.
    pub section: &'static str,
    /// What it is called.
    pub label: &'static str,
    /// Unit of the trade; decides the dimension.
    pub unit: Unit,
    /// What it may be.
    pub bound: Bound,
    /// What stands in for it, and why that.
    pub default: Option<Default>,
}

impl Field {
    /// A quantity of its dimension, as it may be written.
    pub fn example(&self) -> &'static str {
        notation::dimension_words(self.unit.dimension()).1
    }
}

/// What stands in for a quantity that was left out.
#[derive(Clone, Copy, Debug)]
pub struct Default {
    /// As a user would write it.
    pub text: &'static str,
    /// Why that.
    pub source: &'static str,
}

pub(super) const PRACTICE: &str = "common practice, no source";
pub(super) const MEMORY: &str = "common practice, from memory";

pub(super) const fn given(
    path: &'static str,
    section: &'static str,
    label: &'static str,
    unit: Unit,
    bound: Bound,
) -> Field {
    Field { path, section, label, unit, bound, default: None }
}

pub(super) const fn or(field: Field, text: &'static str, source: &'static str) -> Field {
    Field { default: Some(Default { text, source }), ..field }
}
