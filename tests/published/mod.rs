//! How far the model is from published figures, source by source.
//!
//! One file per topic. Beside each assertion stands its margin and why it is that margin; every check prints what was
//! published, what was computed and the difference: `cargo test -p roulade-tests published -- --nocapture`. The
//! figures used are in `data/`, each with its source and whether it was read there or is from memory.

#![allow(clippy::print_stdout, reason = "a reader wants to see the differences, not only that they pass")]
#![allow(
    clippy::disallowed_methods,
    reason = "the other side of a comparison must not share the model's mathematics"
)]
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test that cannot go on stops there")]

mod accuracy;
mod alone;
mod attribution;
mod balance;
mod cells;
mod chen;
mod claims;
mod coatings;
mod curves;
mod definitions;
mod discharge;
mod discrepancy;
mod draws;
mod elements;
mod exchange;
mod foils;
mod formulas;
mod ions;
mod least_squares;
mod materials;
mod quadrature;
mod rates;
mod ratios;
mod reconciled;
mod reconciliation;
mod say;
mod search;
mod sensitivity;
mod sizes;
mod spiral;
mod swelling;
mod tabs;
mod trials;
mod uncertainty;
