//! Quantities: their units, how they are written and read, and what is wrong with an entry.

pub mod notation;
pub mod problem;
pub mod slip;
pub mod spreadsheet;
pub mod ucum;
pub mod uncertain;
pub mod units;
