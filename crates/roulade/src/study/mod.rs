//! What one asks of cells: two compared, a part removed, what each change contributes, whether a claim can be true, other
//! form factors, and readings from the bench.

pub mod attribute;
pub mod bench;
pub mod claim;
pub mod compare;
pub mod edit;
pub mod effort;
pub mod form_factors;
pub mod headline;
pub mod readings;
pub mod remove;
