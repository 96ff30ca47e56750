//! The design sheet as it is written: one JSON file per cell, every quantity a text with its unit.
//!
//! [`schema`] has its sections and keys, [`read`] turns JSON text into them, [`defaults`] says what stands in for a
//! quantity that is left out, and [`plausible`] how far cells at large reach.

mod build;
pub(crate) mod carried;
mod choices;
pub mod defaults;
mod diff;
mod edit;
mod entry;
pub mod former;
mod json;
mod key;
pub mod overlay;
pub mod plausible;
#[cfg(test)]
mod properties;
pub mod read;
mod rename;
pub mod schema;
mod section;
pub mod shape;
pub(crate) mod stand_in;
pub(crate) mod tree;
pub mod write;

pub use choices::{Collection, Counts, FeedKind, NegativeAt, Place, Welded};
pub use diff::diff;
pub use edit::apply::all_applied;
pub use edit::kind::{Edit, EditEntries};
pub use edit::{Edited, edit};
pub(crate) use entry::REST;
pub use entry::{Entry, Noted};
pub use json::{Json, parse};
pub use schema::{
    Anode, Can, Cathode, Correlated, CurrentCollection, CurrentPath, Electrolyte, Foil, Material, Metals,
    Mixed, Model, Opened, Part, Prelithiation, Separator, Sheet, Sleeve, Tab, Voltage, Winding,
};
pub use shape::{Shape, Trail, Unknown, unknown_keys};
