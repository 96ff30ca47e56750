//! What comes out: contributions of changes, with their uncertainties.

use super::merit::Merit;
use crate::cell::draft::Draft;
use crate::quantity::problem::Problems;
use crate::sheet::overlay::DifferingEntry;
use crate::study::attribute::change::Change;

/// A difference and how well it is known, SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// At the best values.
    pub value: f64,
    /// Standard uncertainty.
    pub u: f64,
    /// Interval that holds 95 % of the draws, as many beyond it below as above (JCGM 101:2008, 7.7.2); to first order,
    /// 1.96 standard uncertainties either way.
    pub interval: [f64; 2],
}

/// The contribution of one change to one figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contribution {
    /// Averaged over all orders: the Shapley value.
    pub contribution: Difference,
    /// Made before all others; `None` where that cell cannot be built.
    pub first_in: Option<Difference>,
    /// Made after all others.
    pub last_in: Option<Difference>,
    /// Standard error from the orders having been drawn; `None` where all were taken.
    pub standard_error: Option<f64>,
}

/// Two changes that contribute more, or less, together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// One change.
    pub a: usize,
    /// The other.
    pub b: usize,
    /// How much more each contributes with the other: the Shapley interaction index.
    pub more: Difference,
}

/// One figure, shared among the changes.
#[derive(Clone, Debug)]
pub struct FigureContributions {
    /// The figure.
    pub merit: Merit,
    /// Of the first cell, SI.
    pub first: f64,
    /// Of the second.
    pub second: f64,
    /// The greatest among all cells between the two, without its sign: what differences of it are rounded by.
    pub scale: f64,
    /// Second less first.
    pub whole: Difference,
    /// For each change.
    pub contributions: Vec<Contribution>,
    /// The strongest interactions, the strongest first; those below a hundredth of all that moves are left out.
    pub pairs: Vec<Pair>,
}

/// A cell between the two that cannot be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Impossible {
    /// The changes made there, by their number.
    pub made: Vec<usize>,
    /// Why it cannot be.
    pub why: Problems,
}

/// The contribution of each change.
#[derive(Debug)]
pub struct Attribution {
    /// The changes.
    pub changes: Vec<Change>,
    /// All entries that differ.
    pub edits: Vec<DifferingEntry>,
    /// Each figure.
    pub figures: Vec<FigureContributions>,
    /// Cells that were worked out at the best values.
    pub corners: usize,
    /// Those that cannot be.
    pub impossible: Vec<Impossible>,
    /// Cells with N/P below 1, where both ends have more: they can be worked out, but nobody would build them.
    pub unbalanced: usize,
    /// Whether all orders were taken.
    pub exact: bool,
    /// Trials that were drawn; none where uncertainties are carried through to first order.
    pub draws: u32,
    /// Those that had an answer.
    pub answered: u32,
    /// Materials and parts that have no price, where prices were given.
    pub unpriced: Vec<String>,
    /// Prices that neither cell has a use for.
    pub unused: Vec<String>,
    /// Both sheets, read.
    pub drafts: [Draft; 2],
}
