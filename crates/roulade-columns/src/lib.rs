//! One base sheet and columns of what varies, to columns of figures.
//!
//! Every row is the base sheet with the row's entries in it, and gives what that sheet gives alone, to the bit. Reading a
//! sheet costs a hundred times what estimating a cell costs, and so it is done once: where the number of an entry decides
//! nothing but itself it is put into the cell as it was read, and only entries that decide more (a dimension that suppositions
//! go by, a material, a purpose) have their sheet read again, once for all rows that say the same.
//!
//! ```
//! use roulade::Sheet;
//! use roulade_columns::csv;
//!
//! let base = Sheet::new("a 21 mm cell")
//!     .can("21 mm", "70 mm")
//!     .cathode(&[("NMC811", "")], "22 mg/cm²")
//!     .anode(&[("graphite", "")]);
//! let rows = "cathode.loading (mg/cm²),cathode.foil.thickness (µm)\n20,12\n22,12\n24,thin\n";
//! let (mut figures, mut told) = (Vec::new(), Vec::new());
//! let asked = csv::Asked { figures: vec!["volumetric".to_owned()], ..csv::Asked::default() };
//! let count = csv::run(base, rows.as_bytes(), &mut figures, &asked, |refused| told.push(refused.to_string()))?;
//! let figures = String::from_utf8(figures).unwrap();
//! assert!(figures.starts_with("row,volumetric_energy_density_Wh_per_L\n1,"), "{figures}");
//! assert!(figures.ends_with("\n3,\n"), "a row that cannot be answered stays empty");
//! assert_eq!((count.answered, count.refused), (2, 1));
//! assert!(told[0].starts_with("row 3 (line 4): cathode.foil.thickness: found \"thin\""), "{told:?}");
//! # Ok::<(), roulade::Problems>(())
//! ```
#![forbid(unsafe_code)]
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

#[cfg(feature = "arrow")]
pub mod arrow;
mod cell;
pub mod csv;
pub mod head;
pub mod name;
pub mod output;
pub mod pieces;
pub mod plan;
mod ranges;
