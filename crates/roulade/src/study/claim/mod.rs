//! Checking a declared figure: the chance that it holds given what is known, whether rounding decides it, what each
//! quantity alone would have to be, and the reading that would settle it soonest.
//!
//! A claim is a [`Claim`]; [`Check::of`] works it out over one draft, or two where it compares. Several of one cell are a
//! [`List`]; [`Together::of`] holds them against one another and against the cell.

mod basis;
mod case;
mod chance;
mod check;
mod consistency;
mod conventions;
mod declared;
mod evidence;
mod information;
mod list;
mod nearest;
mod panel;
mod phrases;
mod required;
mod rounding;
mod said;
mod together;
mod whole;
mod words;

pub use basis::{Basis, On};
pub use chance::Histogram;
pub use check::{Check, OnBasis, ReadAs};
pub use consistency::{Agreement, Consistency, Relationship};
pub use conventions::Convention;
pub use declared::{
    CONTRADICTED, Claim, ComparedAs, LIKELY, Limits, Relation, SUPPORTED, Standing, UNLIKELY, Verdict,
};
pub use information::PossibleReading;
pub use list::List;
pub use nearest::Nearest;
pub use required::{Required, Where};
pub use rounding::Rounding;
pub use said::{Claimed, Said};
pub use together::{Declared, FEWEST, Implied, Known, Together, Way};
pub use words::Parts;

use crate::cell::draft::Draft;
use crate::quantity::problem::Problems;

/// Checks a declared figure, `"at least 290 Wh/kg"`, against a cell, by [`DRAWS`] Monte Carlo trials; `other` is the cell that
/// the claim compares with, where it does.
///
/// # Errors
/// Everything wrong with the claim or a cell; places begin with `claim`, `sheet.` or `other.`.
pub fn claim(text: &str, cell: Draft, other: Option<Draft>) -> Result<Check, Problems> {
    Check::of(Claim::read(&Said::parse(text)?)?, cell, other, (DRAWS, 1), &roulade_stats::executor::alone())
}

/// Draws where none are asked for.
pub const DRAWS: u32 = 10_000;
/// Most draws that may be asked for.
pub const MOST_DRAWS: u32 = 500_000;

#[cfg(test)]
mod calibration;
#[cfg(test)]
mod tests;
