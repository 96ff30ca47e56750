//! Columns of what varies as Arrow record batches in, columns of figures out.

use crate::head::Head;
use crate::pieces::{self, Plausibility};
use crate::plan::{Cell, Plan, Refused, Rows};
use arrow_array::cast::AsArray;
use arrow_array::types::{
    Float32Type, Float64Type, Int8Type, Int16Type, Int32Type, Int64Type, UInt8Type, UInt16Type, UInt32Type,
    UInt64Type,
};
use arrow_array::{Array, ArrayRef, Float64Array, PrimitiveArray, RecordBatch, StringArray};
use arrow_array::{LargeStringArray, StringViewArray};
use arrow_schema::{DataType, Field, Schema, SchemaRef};
use roulade::quantity::problem::{Problem, Problems, shortened};
use std::sync::Arc;

/// A column as it can be read.
enum Column<'a> {
    Float64(&'a Float64Array),
    Float32(&'a PrimitiveArray<Float32Type>),
    Int64(&'a PrimitiveArray<Int64Type>),
    /// Of smaller whole numbers, which are all doubles.
    Widened(Float64Array),
    Text(&'a StringArray),
    LargeText(&'a LargeStringArray),
    TextView(&'a StringViewArray),
}

impl<'a> Column<'a> {
    fn of(name: &str, array: &'a ArrayRef) -> Result<Self, Problem> {
        macro_rules! widened {
            ($kind:ty) => {
                Self::Widened(array.as_primitive::<$kind>().unary(f64::from))
            };
        }
        Ok(match array.data_type() {
            DataType::Float64 => Self::Float64(array.as_primitive::<Float64Type>()),
            DataType::Float32 => Self::Float32(array.as_primitive()),
            DataType::Int64 => Self::Int64(array.as_primitive()),
            DataType::UInt64 => Self::Widened(array.as_primitive::<UInt64Type>().unary(|value| value as f64)),
            DataType::Int8 => widened!(Int8Type),
            DataType::Int16 => widened!(Int16Type),
            DataType::Int32 => widened!(Int32Type),
            DataType::UInt8 => widened!(UInt8Type),
            DataType::UInt16 => widened!(UInt16Type),
            DataType::UInt32 => widened!(UInt32Type),
            DataType::Utf8 => Self::Text(array.as_string()),
            DataType::LargeUtf8 => Self::LargeText(array.as_string()),
            DataType::Utf8View => Self::TextView(array.as_string_view()),
            other => return Err(wrong(name, other)),
        })
    }

    fn cell(&self, row: usize) -> Cell<'_> {
        let array: &dyn Array = match self {
            Self::Float64(array) => *array,
            Self::Float32(array) => *array,
            Self::Int64(array) => *array,
            Self::Widened(array) => array,
            Self::Text(array) => *array,
            Self::LargeText(array) => *array,
            Self::TextView(array) => *array,
        };
        if row >= array.len() || array.is_null(row) {
            return Cell::Nothing;
        }
        match self {
            Self::Float64(array) => Cell::Number(array.value(row)),
            // As it would be written: the double that is nearest to its decimal, not to its bits.
            Self::Float32(array) => {
                Cell::Number(array.value(row).to_string().parse().unwrap_or(f64::from(array.value(row))))
            }
            Self::Int64(array) => Cell::Number(array.value(row) as f64),
            Self::Widened(array) => Cell::Number(array.value(row)),
            Self::Text(array) => text(array.value(row)),
            Self::LargeText(array) => text(array.value(row)),
            Self::TextView(array) => text(array.value(row)),
        }
    }
}

fn text(text: &str) -> Cell<'_> {
    if text.trim().is_empty() { Cell::Nothing } else { Cell::Text(text) }
}

fn wrong(name: &str, kind: &DataType) -> Problem {
    Problem::new(shortened(name), format!("a column of {kind}"), "numbers or texts")
}

struct Batch<'a> {
    rows: usize,
    columns: Vec<Column<'a>>,
}

impl Rows for Batch<'_> {
    fn count(&self) -> usize {
        self.rows
    }

    fn cell(&self, row: usize, column: usize) -> Cell<'_> {
        self.columns.get(column).map_or(Cell::Nothing, |column| column.cell(row))
    }
}

/// The heads of a schema's fields.
///
/// # Errors
/// Every field whose name is no head, or that holds neither numbers nor texts.
pub fn heads(schema: &Schema) -> Result<Vec<Head>, Problems> {
    let mut problems = Problems::default();
    let mut heads = Vec::new();
    for field in schema.fields() {
        let kind = field.data_type();
        let readable =
            kind.is_integer() || matches!(kind, DataType::Float32 | DataType::Float64) || kind.is_string();
        match Head::read(field.name()) {
            _ if !readable => problems.push(wrong(field.name(), kind)),
            Ok(head) => heads.push(head),
            Err(problem) => problems.push(problem),
        }
    }
    problems.or_else_ok(heads)
}

/// The fields of the figures: doubles, null where a row has none.
pub fn schema(plan: &Plan) -> SchemaRef {
    let fields = plan.names().into_iter().map(|name| Field::new(name, DataType::Float64, true));
    Arc::new(Schema::new(fields.collect::<Vec<_>>()))
}

/// What becomes of a batch.
#[derive(Clone, Debug)]
pub struct Figures {
    /// As many rows in the same order: doubles, null where a row has none.
    pub batch: RecordBatch,
    /// Rows without an answer.
    pub refused: Vec<Refused>,
    /// What looks wrong with what rows say.
    pub plausibility: Plausibility,
}

/// The figures of a batch, `before` rows of which came in earlier batches.
///
/// # Errors
/// Where a column holds neither numbers nor texts.
///
/// # Panics
/// Never: columns of one length and type make a batch.
///
/// # Example
/// ```
/// use arrow_array::{ArrayRef, Float64Array, RecordBatch};
/// use roulade_columns::{arrow, plan::Plan};
/// use std::sync::Arc;
/// # let base = roulade::Sheet::new("a 21 mm cell").can("21 mm", "70 mm").cathode(&[("NMC811", "")], "22 mg/cm²")
/// #     .anode(&[("graphite", "")]);
/// let loading: ArrayRef = Arc::new(Float64Array::from(vec![Some(20.0), None, Some(22.0)]));
/// let batch = RecordBatch::try_from_iter_with_nullable([("cathode.loading (mg/cm²)", loading, true)]).unwrap();
/// let plan = Plan::new(base, arrow::heads(&batch.schema())?, &["mass".to_owned()], false)?;
/// let figures = arrow::figures(&plan, &batch, 0)?;
/// assert_eq!((figures.batch.num_rows(), figures.batch.column(0).null_count()), (3, 1));
/// assert_eq!(figures.refused[0].to_string(), "row 2: cathode.loading: found nothing; expected a number in mg/cm²");
/// # Ok::<(), roulade::Problems>(())
/// ```
pub fn figures(plan: &Plan, batch: &RecordBatch, before: u64) -> Result<Figures, Problems> {
    let mut problems = Problems::default();
    let schema_in = batch.schema();
    let named = schema_in.fields().iter().zip(batch.columns());
    let columns = named
        .filter_map(|(field, array)| Column::of(field.name(), array).map_err(|p| problems.push(p)).ok())
        .collect();
    problems.or_else_ok(())?;
    let rows = Batch { rows: batch.num_rows(), columns };
    let width = plan.width();
    let mut columns: Vec<Vec<f64>> = vec![Vec::with_capacity(rows.rows); width];
    let (mut refused, mut plausibility) = (Vec::new(), Plausibility::default());
    for piece in pieces::each(plan, &rows, before, |piece| piece) {
        for row in piece.figures.chunks(width.max(1)) {
            columns.iter_mut().zip(row).for_each(|(column, value)| column.push(*value));
        }
        refused.extend(piece.refused);
        plausibility.join(piece.plausibility);
    }
    let column = |values: Vec<f64>| -> ArrayRef {
        let there = values.iter().map(|value| !value.is_nan()).collect::<Vec<bool>>();
        let nulls = arrow_buffer_of(&there);
        Arc::new(Float64Array::new(values.into(), nulls))
    };
    let columns = columns.into_iter().map(column).collect();
    let batch = RecordBatch::try_new(schema(plan), columns)
        .map_err(|error| Problem::new("", error.to_string(), "columns of one length"))?;
    Ok(Figures { batch, refused, plausibility })
}

fn arrow_buffer_of(there: &[bool]) -> Option<arrow_buffer::NullBuffer> {
    there.contains(&false).then(|| arrow_buffer::NullBuffer::from(there))
}

#[cfg(feature = "arrow-files")]
pub mod files;

#[cfg(test)]
mod tests;
