//! What may be asked, each question one JSON object.

mod attribution;
mod bench;
mod claim;
mod drawn;
mod edit;
mod remove;
mod sizes;
mod work;

pub use attribution::AttributionQuestion;
pub use bench::{NextQuestion, ReconcileQuestion};
pub use claim::ClaimAsked;
pub use drawn::{SampledQuestion, SensitivityQuestion};
pub use edit::EditQuestion;
pub use remove::{Reclaimed, Without};
pub use sizes::{MapQuestion, ResizeQuestion, Span, SweepQuestion};
pub use work::{BenchWork, SizesWork, Work, sheet};
