//! Estimates wound cylindrical lithium-ion cells: from a design sheet to the jelly roll, the energy density, and what
//! removing a part buys.
//!
//! ```
//! use roulade::cell::draft::Draft;
//! use roulade::cell::estimate::Estimate;
//!
//! let sheet = r#"{
//!     "cell": "a 21 mm cell",
//!     "can": { "diameter": "21.0 mm", "height": "70.0 mm" },
//!     "cathode": { "mix": [{ "material": "NMC811" }, { "material": "PVDF", "share": "2 %" }],
//!                  "loading": "22.5 ± 0.3 mg/cm2" },
//!     "anode": { "mix": [{ "material": "graphite" }, { "material": "CMC", "share": "3 %" }] }
//! }"#;
//! let draft = Draft::parse(sheet)?;
//! assert!(draft.assumed() > 30, "what the sheet leaves out has a stated default");
//!
//! let design = draft.design()?;
//! let estimate = Estimate::of(&design)?;
//! let amp_hours = estimate.balance.capacity.value / 3600.0;
//! assert!((4.0..6.0).contains(&amp_hours));
//! # Ok::<(), roulade::quantity::problem::Problems>(())
//! ```
//!
//! # Scope
//!
//! Geometry, lithium balance, open-circuit energy and mass of one wound cell, and the difference between two. Not
//! kinetics, not ageing, not heat: nothing here depends on time. No input or output, no clock, no global state, no
//! `unsafe`, and no panic on input; the same bits natively and in WebAssembly.
#![forbid(unsafe_code)]
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

pub mod cell;
pub mod material;
pub mod quantity;
pub mod sheet;
pub mod study;
#[cfg(any(test, feature = "test-support"))]
pub mod test_support;
