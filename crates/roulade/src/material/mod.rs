//! Materials of a cell: density, capacity, first-cycle efficiency and half-cell potential, each with its source.
//!
//! A [`Form`] is a half-cell potential as its paper prints it; a [`Curve`] is the table made from it or from a user's
//! points; a [`Blend`] is the potential of one or several [`Hosts`] in a coating; a [`Material`] is a row of the table
//! [`MATERIALS`].

mod anode;
mod blend;
mod cathode;
mod curve;
mod curve_cache;
mod figure;
mod form;
mod formula;
mod inactive;
mod layered;
mod points;
mod table;
mod tabulate;

pub use blend::{Blend, Hosts};
pub use curve::{Curve, Place};
pub use curve_cache::CurveCache;
pub use figure::{Figure, Status, cited};
pub use form::Form;
pub use formula::{COUNT, ELEMENTS, Element, FARADAY, Formula, Fractions};
pub use inactive::{SALT, mixture};
pub use layered::{Layered, METALS};
pub use table::{Conduction, Expansion, Grade, Half, MATERIALS, Material, Role, find, nearest};
