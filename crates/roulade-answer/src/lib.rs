//! Questions in, answers out: what the model found, as words, tables and drawings.
//!
//! [`ask`] takes a question as JSON text and gives the answer as JSON text: one door for every face of the model. The same
//! answers are there as types in [`answer`], the questions in [`question`].
//!
//! ```
//! let sheet = r#"{
//!     "can": { "diameter": "21 mm", "height": "70 mm" },
//!     "cathode": { "mix": [{ "material": "NMC811" }], "loading": "20 mg/cm²" },
//!     "anode": { "mix": [{ "material": "graphite" }] }
//! }"#;
//! assert!(roulade_answer::ask::estimate(sheet).starts_with("{\"ok\":"));
//! ```
#![forbid(unsafe_code)]
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

pub mod answer;
pub mod ask;
pub mod cautions;
pub mod digest;
pub mod long;
pub mod question;
#[cfg(test)]
mod test_support;
