//! For programs: the model's own text and a newline, the same bytes as the page is given.

use super::form::{Delivery, Form, Out, Report, Sources};
use roulade::quantity::problem::Problems;
use roulade_answer::ask;

/// One line of JSON.
pub(crate) struct Json;

impl Form for Json {
    fn answer(&self, report: &Report) -> Out {
        Out::Exact(format!("{}\n", report.json))
    }

    fn problems(&self, problems: &Problems, _: &Sources) -> Delivery {
        let text = ask::answer::<()>(Err(problems.clone()));
        Delivery { out: Out::Exact(format!("{text}\n")), err: String::new(), status: 2 }
    }
}
