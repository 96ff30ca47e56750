//! What stands in where a sheet has no figure of its own.

use super::read::Said;
use crate::material::Figure;
use crate::quantity::notation;
use crate::quantity::units::Unit;
use roulade_stats::uncertain::{Spread, Uncertain};

/// What stands in where a sheet has no figure of its own.
#[derive(Clone, Debug)]
pub(super) struct FilledIn {
    pub(super) uncertain: Uncertain,
    pub(super) said: Said,
}

impl FilledIn {
    pub(super) fn new(uncertain: Uncertain, unit: Unit, source: String) -> Self {
        let text = match uncertain.spread {
            Spread::Standard(u) => notation::print(uncertain.value, u, unit),
            _ => notation::print_brief(&uncertain, unit),
        };
        Self { uncertain, said: Said::WorkedOut(text, source) }
    }

    /// A figure of the table.
    pub(super) fn of(figure: &'static Figure) -> Self {
        Self { uncertain: figure.uncertain, said: Said::Figure(figure, None) }
    }

    /// A figure of the table, lent by another material.
    pub(super) fn lent(figure: &'static Figure, lender: &'static str) -> Self {
        Self { uncertain: figure.uncertain, said: Said::Figure(figure, Some(lender)) }
    }

    /// In the place of what would follow from an entry that was refused.
    pub(super) fn missed() -> Self {
        Self { uncertain: Uncertain::exact(f64::NAN), said: Said::WorkedOut(String::new(), String::new()) }
    }
}
