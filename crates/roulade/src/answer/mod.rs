//! Answers in words and tables: the same for the command line, for programs and for the page.
//!
//! Everything here is data that serialises to JSON; numbers are rounded for reading once, by their uncertainty.

mod change;
mod comparison;
mod drawing;
mod estimate;
mod materials;
mod pen;
mod sentence;
mod worth;

pub use change::Change;
pub use comparison::{Comparison, Differing, Freed, LedgerChange, Reclaim};
pub use drawing::{Block, Curve, FoilLook, Look, PlyLook, Roll, Section};
pub use estimate::{EstimateAnswer, InputRow, Ledger, LedgerLine, Row, Table, Total, figure_values};
pub use materials::{HalfRow, MaterialRow, Sourced, materials};
pub use pen::Figure;
pub use sentence::{Lean, Run, Sentence};
pub use worth::{
    Amount, CannotBe, Method, Move, NamedMoves, PairRow, Priced, WorthAnswer, WorthRow, WorthTable, grouping,
};

#[cfg(test)]
mod tests;
