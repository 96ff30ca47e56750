//! Answers in words and tables: the same for the command line, for programs and for the page.
//!
//! Everything here is data that serialises to JSON; numbers are rounded for reading once, by their uncertainty.

mod amount;
mod attribution;
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
mod materials;
mod next;
mod path;
mod plain;
mod plan;
mod quantities;
mod reconciliation;
mod row;
mod sampled;
mod sensitivity;
mod sentence;
mod sizes;
mod subject;

pub use amount::Amount;
pub use attribution::{
    AttributionAnswer, CannotBe, ContributionRow, ContributionTable, Method, Move, NamedMoves, PairRow,
    Priced, grouping,
};
pub use before_after::BeforeAfter;
pub use change::FigureChange;
pub use claim::{
    BasisRow, Chance, ClaimAnswer, ClaimDetails, ClaimsAnswer, ConsistencyAnswer, ConventionRow, DeclaredRow,
    Digits, DigitsRow, HistogramAnswer, InformationRow, NearestAnswer, NearestRow, RelationshipRow,
    RequiredRow,
};
pub use comparison::{Comparison, Differing, Freed, LedgerChange, Reclaim};
pub use diagnostic::Diagnostic;
pub use drawing::{Block, CurveDrawing, FoilLook, Look, PlyLook, RollDrawing, Section};
pub use edit::EditAnswer;
pub use elements::{CompositionAnswer, ElementChange, ElementLedger, ElementRow};
pub use estimate::{EstimateAnswer, InputRow, Ledger, LedgerLine, Table, Total, figure_values};
pub use figure_writer::Figure;
pub use hazards::cautioned;
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
pub use sensitivity::{SensitivityAnswer, SensitivityRow, SobolIndex, SobolIndices};
pub(crate) use sentence::slips;
pub use sentence::{Run, Sentence, VarianceShare};
pub use sizes::{AxisRow, BlankRow, Contour, GridAnswer, GridFigure, SizeRow};
pub use subject::WhichCell;

#[cfg(test)]
mod tests;
