//! A design sheet to and from a parameter set of the open Battery Parameter eXchange standard (BPX, JSON).
//!
//! ```
//! use roulade::Sheet;
//!
//! let sheet = Sheet::new("a 21 mm cell")
//!     .can("21.0 mm", "70.0 mm")
//!     .cathode(&[("NMC811", ""), ("PVDF", "2 %")], "22.5 ± 0.3 mg/cm²")
//!     .anode(&[("graphite", ""), ("CMC", "3 %")]);
//! let text = roulade_exchange::to_parameters(&sheet)?;
//! assert!(text.contains("\"Model\": \"Partial\""));
//!
//! let again = roulade_exchange::from_parameters(&text, &roulade_exchange::Beside::default())?;
//! assert!(again.problems.0.is_empty(), "{}", again.problems);
//! # Ok::<(), roulade::Problems>(())
//! ```
//!
//! # What a parameter set says of a cell
//!
//! The standard's blocks for electrodes ask for diffusivities, rate constants and particle radii, which no tear-down gives:
//! a sheet leaves as a *partial* parameter set, with the cell's block, the separator's, and all that is known of foils,
//! coatings, hardware and can in the block for user-defined parameters, each number with its standard uncertainty. What
//! was assumed is listed in the description. A parameter set comes in with its coatings, porosities, areas, cut-off
//! voltages and open-circuit potentials, whoever wrote it; the standard has no place for the size of the can.
#![forbid(unsafe_code)]
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

mod export;
mod formula;
mod import;
mod rows;

pub use export::to_parameters;
pub use formula::Formula;
pub use import::{Beside, Imported, from_parameters};

#[cfg(test)]
mod tests;
