//! The forms an answer can take: one file each, behind one trait.

mod csv;
mod form;
mod json;
mod markdown;
mod text;

pub(crate) use csv::csv_text;
pub(crate) use form::{Delivery, Form, Out, Report, Sources, visible};

use crate::args::FormArgs;

/// The form that was asked for.
pub(crate) fn form(asked: &FormArgs) -> Box<dyn Form> {
    match asked {
        FormArgs { json: true, .. } => Box::new(json::Json),
        FormArgs { csv: true, .. } => Box::new(csv::Csv),
        FormArgs { markdown: true, .. } => Box::new(markdown::Markdown),
        _ => Box::new(text::Text { width: crate::files::width() }),
    }
}

/// Remarks on a file, a line each.
pub(crate) fn lines(name: &str, remarks: &[String]) -> String {
    remarks.iter().flat_map(|remark| [name, ": ", &*visible(remark), "\n"].map(str::to_owned)).collect()
}
