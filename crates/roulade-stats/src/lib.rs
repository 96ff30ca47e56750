//! Statistics of uncertain numbers, which knows no cells: values with their uncertainties and correlations, the law of
//! propagation of uncertainty and Monte Carlo, sensitivities, least squares with priors, outliers and scatter, Shapley
//! values, contours.
//!
//! No input or output, no clock, no global state, no `unsafe`; the same bits natively and in WebAssembly.
//!
//! # Map
//!
//! Modules depend on one another in this order, never upwards:
//! [`maths`], [`order`], [`decimal`], [`uncertain`], [`executor`], [`contour`], [`shapley`], [`propagation`], [`least_squares`].
#![forbid(unsafe_code)]
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

pub mod contour;
pub mod decimal;
pub mod executor;
pub mod least_squares;
pub mod maths;
pub mod order;
pub mod propagation;
pub mod shapley;
pub mod uncertain;
