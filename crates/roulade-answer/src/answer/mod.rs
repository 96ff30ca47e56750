//! Answers in words and tables: the same for the command line, for programs and for the page.
//!
//! Everything here is data that serialises to JSON; numbers are rounded for reading once, by their uncertainty.

mod amount;
mod before_after;
mod change;
mod claim;
mod comparison;
mod diagnostic;
mod drawing;
mod edit;
mod elements;
mod estimate;
mod figure_writer;
mod hazards;
mod leaning;
mod materials;
mod next;
mod path;
mod plain;
mod plan;
mod quantities;
mod reconciliation;
mod row;
mod sampled;
mod sentence;
mod sizes;
mod subject;
mod worth;

pub use amount::Amount;
pub use before_after::BeforeAfter;
pub use change::FigureChange;
pub use claim::{
    AloneRow, BasisRow, Chance, ClaimAnswer, ClaimDetails, ClaimsAnswer, ConsistencyAnswer, ConventionRow,
    DeclaredRow, Digits, DigitsRow, HistogramAnswer, NearestAnswer, NearestRow, RelationshipRow, SettleRow,
};
pub use comparison::{Comparison, Differing, Freed, LedgerChange, Reclaim};
pub use diagnostic::Diagnostic;
pub use drawing::{Block, CurveDrawing, FoilLook, Look, PlyLook, RollDrawing, Section};
pub use edit::EditAnswer;
pub use elements::{CompositionAnswer, ElementChange, ElementLedger, ElementRow};
pub use estimate::{EstimateAnswer, InputRow, Ledger, LedgerLine, Table, Total, figure_values};
pub use figure_writer::Figure;
pub use hazards::cautioned;
pub use leaning::{LeaningAnswer, LeaningRow, SobolIndex, SobolIndices};
pub use materials::{HalfRow, MaterialRow, Sourced, materials};
pub use next::{ChoiceRow, NextAnswer};
pub use path::{PathChange, PathLine, PathTable};
pub use plain::{Plain, column, plain};
pub use quantities::{QuantityRow, quantities};
pub(crate) use reconciliation::as_read;
pub use reconciliation::{
    FitRow, InstrumentRow, OffsetRow, OutlierRow, ParameterRow, PopulationRow, ReadingRow, Reconciliation,
    ScatterRow, SpecimenRow,
};
pub use row::Row;
pub use sampled::{DrawnFigure, ImpossibleTrials, SampledAnswer};
pub(crate) use sentence::slips;
pub use sentence::{Lean, Run, Sentence};
pub use sizes::{AxisRow, BlankRow, Contour, GridAnswer, GridFigure, SizeRow};
pub use subject::WhichCell;
pub use worth::{
    CannotBe, Method, Move, NamedMoves, PairRow, Priced, WorthAnswer, WorthRow, WorthTable, grouping,
};

#[cfg(test)]
mod tests;
