//! Answers in words and tables: the same for the command line, for programs and for the page.
//!
//! Everything here is data that serialises to JSON; numbers are rounded for reading once, by their uncertainty.

mod change;
mod comparison;
mod drawing;
mod estimate;
mod materials;
mod pen;
mod plain;
mod sentence;
mod sizes;

pub use change::Change;
pub use comparison::{Comparison, Differing, Freed, LedgerChange, Reclaim};
pub use drawing::{Block, Curve, FoilLook, Look, PlyLook, Roll, Section};
pub use estimate::{EstimateAnswer, InputRow, Ledger, LedgerLine, Row, Table, Total, figure_values};
pub use materials::{HalfRow, MaterialRow, Sourced, materials};
pub use pen::Figure;
pub use plain::{Plain, column, plain};
pub use sentence::{Lean, Run, Sentence};
pub use sizes::{AxisRow, BlankRow, Contour, GridAnswer, GridFigure, SizeRow};

#[cfg(test)]
mod tests;
