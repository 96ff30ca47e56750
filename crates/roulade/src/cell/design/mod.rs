//! One cell as it is built: every number present, every part consistent with the rest.
//!
//! A [`Blueprint`] is a set of numbers; a [`Design`] is one that holds together. There is no other way to a
//! `Design` than [`Design::new`], so nothing downstream checks again.

mod assembly;
mod bare_ends;
mod blueprint;
mod bounds;
mod can;
mod coated;
mod collection;
mod filling;
mod opened;
mod room;
mod stack;
mod swelling;
mod whole;

pub use bare_ends::BareEnds;
pub use blueprint::{
    Blueprint, Component, Electrode, Electrolyte, Fill, Fit, Label, Part, Potential, Prelithiation,
    Separator, VoltageWindow, Winding,
};
pub use bounds::Bounds;
pub use can::{Can, Sleeve};
pub use collection::{
    CurrentCollection, CurrentPath, Electrochemical, Feed, Join, Kinetics, Metal, Plate, Ring, Tab, Transport,
};
pub use opened::Opened;
pub use room::{Room, Space};
pub use stack::{Band, BandKind, Stack};
pub use swelling::{Silicon, Swelling};
pub use whole::{Design, Side};

#[cfg(test)]
mod tests;
