//! What may be asked, each question one JSON object.

mod bench;
mod claim;
mod drawn;
mod edit;
mod remove;
mod sizes;
mod work;
mod worth;

pub use bench::{NextQuestion, ReconcileQuestion};
pub use claim::ClaimAsked;
pub use drawn::{SampledQuestion, SensitivityQuestion};
pub use edit::EditQuestion;
pub use remove::{Reclaimed, Without};
pub use sizes::{MapQuestion, ResizeQuestion, Span, SweepQuestion};
pub use work::{BenchWork, SizesWork, Work, sheet};
pub use worth::WorthQuestion;
