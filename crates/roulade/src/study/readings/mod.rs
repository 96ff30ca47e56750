//! Readings of a bench: what was read, off which specimen, how well, and whether it may be used.
//!
//! A bench sheet is CSV text, one reading a row ([`sheet`]). What can be read stands in one table ([`quantity`]); what
//! an instrument is worth stands in a file of its own ([`instrument`]).

pub mod conditions;
pub mod instrument;
mod marks;
pub mod quantity;
pub mod sheet;
mod table;

use crate::quantity::units::Unit;
use quantity::Asked;

/// One reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// Line of the bench sheet.
    pub line: u64,
    /// Which cell, as in the sheet's `cell`; `None` where the bench sheet has but one.
    pub cell: Option<String>,
    /// Which specimen of it.
    pub specimen: String,
    /// What was read.
    pub asked: Asked,
    /// As it was written, unit and all.
    pub text: String,
    /// Best value, SI base units.
    pub value: f64,
    /// Standard uncertainty that was written beside it, SI base units: all of it, the instrument's included.
    pub u: Option<f64>,
    /// The instrument's name.
    pub instrument: Option<String>,
    /// Why the specimen is not fit for this reading; `None` where it is.
    pub unfit: Option<String>,
    /// It was read again and stands: it is used however far it is off.
    pub checked: bool,
    /// Which of several suspected variants the specimen is one of.
    pub population: Option<String>,
    /// Anything worth keeping.
    pub remark: Option<String>,
    /// When.
    pub date: Option<String>,
}

impl Reading {
    /// Unit of the trade for it.
    pub fn unit(&self) -> Unit {
        self.asked.quantity.unit
    }
}
