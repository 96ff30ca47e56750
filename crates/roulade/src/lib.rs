//! Estimates wound cylindrical lithium-ion cells: from a design sheet to the jelly roll, the energy density, and what
//! removing a part buys.
//!
//! ```
//! use roulade::quantity::units::Unit;
//! use roulade::sheet::Place;
//! use roulade::{Draft, Part, Problems, Sheet};
//!
//! let sheet = Sheet::new("a 21 mm cell")
//!     .can("21.0 mm", "70.0 mm")
//!     .part(Part::new("collector plate", Place::BelowRoll).height("0.4 mm").mass("0.8 g").material("steel"))
//!     .cathode(&[("NMC811", ""), ("PVDF", "2 %")], "22.5 ± 0.3 mg/cm²")
//!     .anode(&[("graphite", ""), ("CMC", "3 %")]);
//! let draft = Draft::read(&sheet)?;
//! assert!(draft.assumed() > 30, "what the sheet leaves out has a stated default");
//! let given = draft.headline()?;
//! println!("{}", given.volumetric.text(Unit::WattHourPerLitre));
//! # assert!((500.0..900.0).contains(&(given.volumetric.value.value / Unit::WattHourPerLitre.in_si())));
//! # assert!(given.volumetric.u.value > 0.0);
//!
//! // What does the collector plate cost?
//! let without = Draft::read(&roulade::remove(&sheet, "collector plate")?)?;
//! let bought = roulade::compare(&draft, &without)?.change;
//! assert!(bought.volumetric.value.value > 0.0 && bought.volumetric.u < given.volumetric.u);
//! println!("{}", bought.volumetric.text(Unit::WattHourPerLitre));
//! # Ok::<(), Problems>(())
//! ```
//!
//! # The front
//!
//! [`Sheet`] is what is known of a cell, as text or quantities with their uncertainties; [`Draft`] is a sheet with every
//! number read and every gap filled; [`Design`] is a cell that holds together; [`Estimate`] is what one design gives, and
//! [`Headline`] the figures that come first with their uncertainties ([`UncertainQuantity`]). [`compare`], [`remove`],
//! [`attribute`], [`claim`] and [`reconcile`] are what one asks of cells. [`Problems`] is everything wrong with an input.
//! Quantities are [`uom`] types; all else is in the modules below.
//!
//! # Scope
//!
//! Geometry, lithium balance, open-circuit energy and mass of one wound cell, what a steady load leaves of them, and the
//! difference between two. Not ageing, not heat: nothing here depends on time. No input or output, no clock, no global
//! state, no `unsafe`, and no panic on input; the same bits natively and in WebAssembly.
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

pub use cell::design::Design;
pub use cell::draft::Draft;
pub use cell::estimate::Estimate;
pub use quantity::problem::Problems;
pub use quantity::uncertain::UncertainQuantity;
pub use sheet::{Part, Sheet};
pub use study::attribute::attribute;
pub use study::bench::reconcile;
pub use study::claim::claim;
pub use study::headline::{Compared, Headline, compare};
pub use study::remove::remove;
