//! Materials of a cell: density, capacity, initial coulombic efficiency and half-cell potential, each with its source.
//!
//! A [`Half`] is a half-cell potential: its shape, in a paper's closed form or by measured points, its window, its
//! continuation and its error; a [`Curve`] is the table made from it or from a user's points; a [`Blend`] is the potential of one or several [`Hosts`] in a coating; a [`Material`] is a row of the table
//! [`MATERIALS`].

mod anode;
mod blend;
mod cathode;
mod curve;
mod curve_cache;
mod figure;
mod form;
mod formula;
mod half;
mod inactive;
mod layered;
mod metal;
mod nmc;
mod points;
mod prelithiation;
mod row;
mod silicon;
mod sodium;
mod table;
mod tabulate;

pub use blend::{Blend, Hosts};
pub use curve::{Curve, Place};
pub use curve_cache::CurveCache;
pub use figure::{Figure, Status, cited};
pub use form::Form;
pub use formula::{COUNT, ELEMENTS, Element, FARADAY, Formula, Fractions, SALT};
pub use half::{Grade, Half, Ion, Shape, borrowed_error};
pub use inactive::mixture;
pub use layered::{Layered, METALS};
pub(crate) use prelithiation::LITHIUM_SOURCES;
pub use prelithiation::{LithiumSource, lithium_source};
pub use row::{Conduction, Expansion, Material, Role};
pub use table::{MATERIALS, find, nearest};
