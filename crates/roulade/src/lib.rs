//! Estimates wound cylindrical lithium-ion cells from what a bench reads off them.
#![forbid(unsafe_code)]
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

pub mod known;
pub mod material;
pub mod maths;
pub mod notation;
pub mod problem;
pub mod units;
pub mod winding;
