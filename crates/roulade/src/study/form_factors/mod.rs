//! The same recipe in other cans, and a cell along one of its inputs or over two.
//!
//! A recipe is everything of a cell but the size of its can. What it holds is stated by [`Recipe::held`]; a sheet whose
//! roll is given by lengths holds the gap that they leave in its own can, and one whose coated width is given holds the
//! void height that it leaves.

pub mod asked;
pub mod common;
mod grid;
mod recipe;
mod resized;
mod source;

pub use grid::{Axis, Blank, Grid};
pub use recipe::{Hardware, HeldItem, Hold, Parts, Recipe, Wall};
pub use resized::resized;
pub use source::CellSource;

#[cfg(test)]
mod tests;
