//! The model for Python: texts and columns in, texts and columns out, no arithmetic.
//!
//! What users see is in `python/roulade`; this module is behind it. Long work is done without the interpreter's lock and on
//! all cores.

mod columns;

use pyo3::exceptions::PyValueError;
use pyo3::prelude::*;
use rayon::prelude::*;
use roulade_answer::ask;
use roulade_stats::executor::Executor;

/// All cores, results in order.
struct AllCores;

impl Executor for AllCores {
    fn each<T: Send>(&self, count: usize, piece: impl Fn(usize) -> T + Sync) -> Vec<T> {
        (0..count).into_par_iter().map(&piece).collect()
    }
}

/// The answer to a question, both JSON texts: {"ok": …} or {"problems": […]}.
#[pyfunction]
#[pyo3(name = "ask")]
fn asked(py: Python<'_>, what: &str, question: &str) -> PyResult<String> {
    let executor = &AllCores;
    py.detach(|| {
        Ok(match what {
            "estimate" => ask::estimate(question),
            "without" => ask::without(question),
            "claim" => ask::claim(question, executor),
            "attribute" => ask::attribute(question, executor),
            "reconcile" => ask::reconcile(question),
            "next" => ask::next(question),
            "map" => ask::map(question, executor),
            "resize" => ask::resize(question),
            "sweep" => ask::sweep(question, executor),
            "sampled" => ask::sampled(question, executor),
            "sensitivity" => ask::sensitivity(question, executor),
            "edit" => ask::edit(question),
            "report" => roulade_report::report(question, executor),
            "materials" => ask::materials(),
            "quantities" => ask::quantities(),
            other => return Err(PyValueError::new_err(format!("{other}: a question that is not known"))),
        })
    })
}

/// Two sheets compared, all of it JSON text.
#[pyfunction]
fn compare(py: Python<'_>, first: &str, second: &str) -> String {
    py.detach(|| ask::compare(first, second))
}

/// What the columns of figures are called, and what is known of each: name, id, label, unit, note.
#[pyfunction]
fn figures() -> Vec<(String, &'static str, &'static str, &'static str, &'static str)> {
    roulade::cell::figures::FIGURES
        .iter()
        .map(|figure| {
            let name = roulade_columns::name::of(figure);
            (name, figure.id, figure.label, figure.unit.symbol(), figure.note)
        })
        .collect()
}

/// Behind the package `roulade`: texts and columns in, texts and columns out.
// Its stub, `_roulade.pyi`, is made from this and from what it lists.
#[pymodule]
mod _roulade {
    #[pymodule_export]
    use super::columns::{Columns, batch};
    #[pymodule_export]
    use super::{asked, compare, figures};

    #[pymodule_export]
    #[allow(non_upper_case_globals, reason = "a name that Python asks for")]
    const __version__: &str = env!("CARGO_PKG_VERSION");
}
