//! Answers in words and tables: the same for the command line, for programs and for the page.
//!
//! Everything here is data that serialises to JSON; numbers are rounded for reading once, by their uncertainty.

mod change;
mod comparison;
mod drawing;
mod elements;
mod estimate;
mod leaning;
mod materials;
mod path;
mod pen;
mod quantities;
mod sampled;
mod sentence;
mod sizes;
mod subject;

pub use change::Change;
pub use comparison::{Comparison, Differing, Freed, LedgerChange, Reclaim};
pub use drawing::{Block, Curve, FoilLook, Look, PlyLook, Roll, Section};
pub use elements::{CompositionAnswer, ElementChange, ElementLedger, ElementRow};
pub use estimate::{EstimateAnswer, InputRow, Ledger, LedgerLine, Row, Table, Total, figure_values};
pub use leaning::{Indices, LeaningAnswer, LeaningRow, Shared};
pub use materials::{HalfRow, MaterialRow, Sourced, materials};
pub use path::{PathChange, PathLine, PathTable};
pub use pen::Figure;
pub use quantities::{QuantityRow, quantities};
pub use sampled::{Apart, DrawnFigure, SampledAnswer};
pub use sentence::{Lean, Run, Sentence};
pub use sizes::{AxisRow, BlankRow, Contour, GridAnswer, GridFigure, SizeRow};
pub use subject::Of;

#[cfg(test)]
mod tests;
