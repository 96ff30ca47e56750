//! Answers in words and tables: the same for the command line, for programs and for the page.
//!
//! Everything here is data that serialises to JSON; numbers are rounded for reading once, by their uncertainty.

mod change;
mod comparison;
mod drawing;
mod estimate;
mod materials;
mod next;
mod path;
mod pen;
mod reconciliation;
mod sentence;
mod sizes;
mod told;

pub use change::Change;
pub use comparison::{Comparison, Differing, Freed, LedgerChange, Reclaim};
pub use drawing::{Block, Curve, FoilLook, Look, PlyLook, Roll, Section};
pub use estimate::{EstimateAnswer, InputRow, Ledger, LedgerLine, Row, Table, Total, figure_values};
pub use materials::{HalfRow, MaterialRow, Sourced, materials};
pub use next::{ChoiceRow, NextAnswer};
pub use path::{PathChange, PathLine, PathTable};
pub use pen::Figure;
pub(crate) use reconciliation::as_read;
pub use reconciliation::{
    BeforeAfter, DoubtRow, FitRow, InstrumentRow, ParameterRow, PopulationRow, ReadingRow, Reconciliation,
    ScatterRow, SpecimenRow,
};
pub use sentence::{Lean, Run, Sentence};
pub use sizes::{AxisRow, BlankRow, Contour, GridAnswer, GridFigure, SizeRow};
pub use told::Told;

#[cfg(test)]
mod tests;
