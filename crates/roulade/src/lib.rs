//! Estimates wound cylindrical lithium-ion cells from what a bench reads off them.
#![forbid(unsafe_code)]
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

pub mod answer;
pub mod ask;
pub mod balance;
pub mod cautions;
pub mod compare;
pub mod design;
pub mod estimate;
pub mod known;
pub mod ledger;
pub mod material;
pub mod maths;
pub mod notation;
pub mod problem;
pub mod spread;
pub mod units;
pub mod vary;
pub mod winding;
pub mod without;
