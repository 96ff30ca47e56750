//! The best of a cell's designs within ranges and constraints, and the trade-off between two figures.
//!
//! ```
//! let question = roulade_search::SearchQuestion::parse(r#"{
//!     "free": [{ "key": "cathode.loading", "from": "15 mg/cm²", "to": "30 mg/cm²" }],
//!     "keep": [{ "figure": "balance.n_to_p", "at_least": "1.05" }],
//!     "best": "volumetric",
//!     "sheet": {
//!         "can": { "diameter": "21 mm", "height": "70 mm" },
//!         "cathode": { "mix": [{ "material": "NMC811" }], "loading": "20 mg/cm²" },
//!         "anode": { "mix": [{ "material": "graphite" }] }
//!     }
//! }"#)?;
//! let found = roulade_search::search(question)?;
//! assert!(found.holds);
//! # Ok::<(), roulade::quantity::problem::Problems>(())
//! ```
//!
//! The search is by trial: a design costs about a microsecond, so that tens of thousands are no matter, and neither the
//! figures nor the edge of what holds together need be smooth. Trials depend on the seed alone.
#![forbid(unsafe_code)]

mod answer;
mod asked;
mod engine;
mod question;

pub use answer::{Chosen, FigureBounds, Found, FreeRow, KeepRow, Point, Value};
pub use engine::{Trial, best, front};
pub use question::{Free, Keep, SearchQuestion};

use roulade::cell::draft::Draft;
use roulade::quantity::problem::{Problem, Problems};

/// Searches.
///
/// # Errors
/// Everything wrong with the question; places of the sheet begin with `sheet.`.
pub fn search(mut question: SearchQuestion) -> Result<Found, Problems> {
    let mut problems = Problems::default();
    let draft = match question.sheet.take() {
        None => Err(Problem::new("sheet", "nothing", "the question to have a sheet").into()),
        Some(sheet) => Draft::read(&sheet).map_err(|problems| problems.within("sheet")),
    };
    let draft = match draft {
        Ok(draft) => draft,
        Err(more) => {
            problems.0.extend(more.0);
            return Err(problems);
        }
    };
    let asked = asked::Asked::read(question, &draft, problems)?;
    answer::found(&asked, &draft)
}

#[cfg(test)]
mod tests;
