//! The questions about a declared figure, and for a report.

use super::{Shape, Sheet, Unknown, shape};
use serde::ser::{Serialize, SerializeMap, Serializer};

section! {
    /// A declared figure in its parts; [`crate::study::claim::Claim::read`] reads the same from a line of text.
    Claimed {
        /// The figure: "per volume", "capacity", or the id of any figure. The value's unit says it where it can.
        figure: String,
        /// "at least", "at most" or "about".
        relation: String,
        /// The value with its unit; per cent where it is a share of the other cell's.
        value: String,
        /// "the other cell", where it is a change over that.
        over: String,
        /// "cell", "nominal size", "inside of the can" or "roll".
        basis: String,
        /// "open circuit", "under load" (at the sheet's rate), or a rate: "0.2 C".
        rate: String,
        /// Voltage limits it is stated for: "2.5 .. 4.2 V".
        window: String,
    }
}

/// A claim as it is given: a line of text, or its parts.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum Said {
    /// "at least 290 Wh/kg"
    Words(String),
    /// The same in parts.
    Parts(Box<Claimed>),
}

section! {
    /// The question whether a declared figure can be true.
    ClaimAsked {
        /// The claim.
        claim: Said,
        /// The sheet of the cell it is about.
        sheet: Sheet,
        /// That of the other cell, where it compares.
        other: Sheet,
        /// How many draws.
        draws: u32,
        /// Where the draws begin.
        seed: u32,
    }
}

section! {
    /// The question for a report.
    ReportAsked {
        /// The sheet of the cell, or of the first of two.
        first: Sheet,
        /// The second.
        second: Sheet,
        /// A declared figure: of the second cell over the first where there are two.
        claim: Said,
        /// How many draws for it.
        draws: u32,
        /// Where they begin.
        seed: u32,
        /// A bench sheet, CSV text: readings to be held against the sheets.
        readings: String,
        /// What the instruments are worth, CSV or JSON text.
        instruments: String,
        /// As it is to be printed.
        date: String,
    }
}
