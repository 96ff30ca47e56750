//! A claim as it is given.

use crate::quantity::problem::Problems;
use crate::section;
use crate::sheet::read;
use crate::sheet::shape::{Json, Shape, Trail, wrong};

section! {
    /// A declared figure in its parts; [`Claim::read`](super::Claim::read) reads the same from a line of text.
    Claimed {
        /// The figure: "per volume", "capacity", or the id of any figure. The value's unit says it where it can.
        figure: String,
        /// "at least", "at most" or "about".
        relation: String,
        /// The value with its unit; per cent where it is a share of the other cell's.
        value: String,
        /// "the other cell", where it is a change over that.
        over: String,
        /// "cell", "with sleeve", "without sleeve", "nominal size", "inside of the can" or "roll".
        basis: String,
        /// "open circuit", "under load" (at the sheet's rate), or a rate: "0.2 C".
        rate: String,
        /// Voltage limits it is stated for: "2.5 .. 4.2 V".
        window: String,
        /// What it is charged to, alone: "4.2 V".
        charged_to: String,
        /// What it is discharged to, alone: "2.5 V".
        down_to: String,
        /// The temperature it is stated for: "25 °C".
        temperature: String,
        /// "minimum" or "typical".
        standing: String,
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

impl Shape for Said {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        match value {
            Json::Text(text) => Some(Self::Words(text.into_owned())),
            Json::Object(_) => {
                Claimed::read(value, place, problems).map(|parts| Self::Parts(Box::new(parts)))
            }
            other => {
                wrong(other, place, "a text, \"at least 290 Wh/kg\", or its parts, {\"value\": …}", problems)
            }
        }
    }
}

impl Said {
    /// Reads a claim: a line of plain words, or JSON text with its parts.
    ///
    /// # Errors
    /// Where the text begins like JSON and is none, or its shape is wrong; places begin with `claim`.
    pub fn parse(text: &str) -> Result<Self, Problems> {
        let text = text.trim();
        if text.starts_with(['{', '"', '[']) && !text.starts_with("\"\"") {
            return read::text(text, "a claim: a text, or an object with \"value\"")
                .map_err(|p| p.within("claim"));
        }
        Ok(Self::Words(text.to_owned()))
    }
}
