//! Columns that Python and Rust hand one another: record batches behind the Arrow C interface.

use arrow_array::cast::AsArray;
use arrow_array::ffi_stream::{FFI_ArrowArrayStream, RecordBatchStreamReader};
use arrow_array::types::Float64Type;
use arrow_array::{ArrayRef, Float64Array, RecordBatch, RecordBatchIterator, RecordBatchReader, StringArray};
use arrow_pyarrow::FromPyArrow;
use arrow_schema::{DataType, Schema, SchemaRef};
use pyo3::exceptions::{PyKeyError, PyTypeError, PyValueError};
use pyo3::prelude::*;
use pyo3::types::{PyBytes, PyCapsule, PyList};
use roulade::quantity::problem::Problems;
use roulade::sheet::Sheet;
use roulade_answer::ask;
use roulade_columns::arrow;
use roulade_columns::head::Head;
use roulade_columns::pieces::Plausibility;
use roulade_columns::plan::{Plan, Refused};
use std::sync::Arc;

/// Columns of one length: doubles and texts. Any library that takes the Arrow C interface takes them without a copy.
#[pyclass(frozen, module = "roulade._roulade")]
pub(crate) struct Columns {
    schema: SchemaRef,
    batches: Vec<RecordBatch>,
    /// Number, counted from 0, and reason of every row without figures.
    #[pyo3(get)]
    refused: Vec<(u64, String)>,
    /// What looks wrong with the entries, each in a sentence or two: the first row that it is so with, counted from 0, or None
    /// where it is the base sheet.
    #[pyo3(get)]
    plausibility: Vec<(Option<u64>, String)>,
}

#[pymethods]
impl Columns {
    /// Columns by name: the bytes of doubles, or a list of texts and None.
    #[new]
    fn new(columns: Vec<(String, Bound<'_, PyAny>)>) -> PyResult<Self> {
        let mut named: Vec<(String, ArrayRef, bool)> = Vec::with_capacity(columns.len());
        for (name, values) in columns {
            let array: ArrayRef = if let Ok(bytes) = values.cast::<PyBytes>() {
                let (doubles, rest) = bytes.as_bytes().as_chunks::<8>();
                if !rest.is_empty() {
                    return Err(PyValueError::new_err(format!("{name}: bytes that are no doubles")));
                }
                let number =
                    |bytes: &[u8; 8]| Some(f64::from_ne_bytes(*bytes)).filter(|value| !value.is_nan());
                Arc::new(doubles.iter().map(number).collect::<Float64Array>())
            } else {
                let texts: Vec<Option<String>> = values.extract().map_err(|_| {
                    PyTypeError::new_err(format!("{name}: expected the bytes of doubles or a list of texts"))
                })?;
                Arc::new(StringArray::from(texts))
            };
            named.push((name, array, true));
        }
        let batch = RecordBatch::try_from_iter_with_nullable(named)
            .map_err(|error| PyValueError::new_err(error.to_string()))?;
        Ok(Self {
            schema: batch.schema(),
            batches: vec![batch],
            refused: Vec::new(),
            plausibility: Vec::new(),
        })
    }

    /// What the columns are called, in their order.
    #[getter]
    fn names(&self) -> Vec<String> {
        self.schema.fields().iter().map(|field| field.name().clone()).collect()
    }

    fn __len__(&self) -> usize {
        self.batches.iter().map(RecordBatch::num_rows).sum()
    }

    /// The doubles of a column as bytes, NaN where there is none.
    fn doubles<'py>(&self, py: Python<'py>, name: &str) -> PyResult<Bound<'py, PyBytes>> {
        let at = self.at(name)?;
        if self.schema.field(at).data_type() != &DataType::Float64 {
            return Err(PyTypeError::new_err(format!("{name}: a column of texts")));
        }
        let mut bytes = Vec::with_capacity(8 * self.__len__());
        for batch in &self.batches {
            let column = batch.column(at).as_primitive::<Float64Type>();
            let values = column.iter().map(|value| value.unwrap_or(f64::NAN));
            bytes.extend(values.flat_map(f64::to_ne_bytes));
        }
        Ok(PyBytes::new(py, &bytes))
    }

    /// The texts of a column, None where there is none.
    #[pyo3(signature = (name) -> "list[str | None]")]
    fn texts<'py>(&self, py: Python<'py>, name: &str) -> PyResult<Bound<'py, PyList>> {
        let at = self.at(name)?;
        if self.schema.field(at).data_type() != &DataType::Utf8 {
            return Err(PyTypeError::new_err(format!("{name}: a column of numbers")));
        }
        PyList::new(
            py,
            self.batches
                .iter()
                .flat_map(|batch| batch.column(at).as_string::<i32>().iter())
                .collect::<Vec<_>>(),
        )
    }

    /// The Arrow C interface: <https://arrow.apache.org/docs/format/CDataInterface/PyCapsuleInterface.html>.
    // The type of a capsule has a name from Python 3.13 on only.
    #[pyo3(signature = (requested_schema: "object | None" = None) -> "object")]
    fn __arrow_c_stream__<'py>(
        &self,
        py: Python<'py>,
        requested_schema: Option<&Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyCapsule>> {
        // A wish that may be passed over by the interface's own words.
        let _ = requested_schema;
        let batches = self.batches.clone().into_iter().map(Ok);
        let reader = RecordBatchIterator::new(batches, Arc::clone(&self.schema));
        let stream = FFI_ArrowArrayStream::new(Box::new(reader));
        PyCapsule::new_with_value(py, stream, c"arrow_array_stream")
    }
}

impl Columns {
    fn at(&self, name: &str) -> PyResult<usize> {
        self.schema.index_of(name).map_err(|_| PyKeyError::new_err(name.to_owned()))
    }
}

/// Figures of a base sheet for every row of what varies; `answer` is empty, or the problems as JSON text where there are no
/// figures at all.
#[pyfunction]
#[pyo3(signature = (sheet, rows, figures, uncertainties))]
#[allow(clippy::needless_pass_by_value, reason = "a list of Python becomes one of Rust")]
pub(crate) fn batch(
    py: Python<'_>,
    sheet: &str,
    rows: &Bound<'_, PyAny>,
    figures: Vec<String>,
    uncertainties: bool,
) -> PyResult<(Option<Columns>, String)> {
    let mut reader = RecordBatchStreamReader::from_pyarrow_bound(rows)?;
    let done = py.detach(|| worked_out(sheet, &mut reader, &figures, uncertainties));
    Ok(match done {
        Ok(columns) => (Some(columns), String::new()),
        Err(problems) => (None, ask::answer::<()>(Err(problems))),
    })
}

fn worked_out(
    sheet: &str,
    reader: &mut RecordBatchStreamReader,
    ids: &[String],
    uncertainties: bool,
) -> Result<Columns, Problems> {
    let sheet = Sheet::parse(sheet)?;
    let heads = heads(&reader.schema())?;
    let plan = Plan::new(sheet, heads, ids, uncertainties)?;
    let of_base = plan.plausibility_of_base().into_iter().map(|remark| (None, remark)).collect();
    let mut columns = Columns {
        schema: arrow::schema(&plan),
        batches: Vec::new(),
        refused: Vec::new(),
        plausibility: of_base,
    };
    let (mut before, mut of_rows) = (0, Plausibility::default());
    for batch in reader {
        let batch = batch.map_err(|error| {
            let found = format!("columns that cannot be read: {error}");
            roulade::quantity::problem::Problem::new("", found, "columns by the Arrow C interface")
        })?;
        let figures = arrow::figures(&plan, &batch, before)?;
        let refusal = |refused: Refused| {
            let all: Vec<String> = refused.problems.0.iter().map(ToString::to_string).collect();
            (refused.row - 1, all.join("; also "))
        };
        columns.refused.extend(figures.refused.into_iter().map(refusal));
        of_rows.join(figures.plausibility);
        before += batch.num_rows() as u64;
        columns.batches.push(figures.batch);
    }
    columns.plausibility.extend(of_rows.of_columns().map(|(row, remark)| (Some(row - 1), remark)));
    Ok(columns)
}

/// Numbers without a unit are in the trade's: a data frame's columns are named by keys alone.
fn heads(schema: &Schema) -> Result<Vec<Head>, Problems> {
    let numbers = |i: usize| !schema.field(i).data_type().is_string();
    let heads = arrow::heads(schema)?;
    let in_unit = |(i, head): (usize, Head)| if numbers(i) { head.in_unit_of_the_trade() } else { head };
    Ok(heads.into_iter().enumerate().map(in_unit).collect())
}
