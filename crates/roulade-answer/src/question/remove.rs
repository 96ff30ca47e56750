//! The question of what a part costs.

use roulade::quantity::notation;
use roulade::quantity::problem::{Problem, Problems, shortened};
use roulade::quantity::units::Dimension;
use roulade::section;
use roulade::sheet::shape::{Json, Shape, Trail};
use roulade::sheet::{Part, Sheet};
use roulade_stats::uncertain::{Spread, Uncertain};

section! {
    /// The question of what parts cost: a sheet, and the part or parts to take out of it.
    Without {
        /// The sheet.
        sheet: Sheet,
        /// Name of the part to take out.
        part: String,
        /// Names of several parts to take out at once; those beside `part`.
        parts: Vec<String>,
        /// What comes in the place of the first.
        instead: Part,
        /// Share of the freed height that becomes coated width, 0 to 1 or a text such as "85 %"; all of it where left out.
        reclaim: Reclaimed,
    }
}

/// A share of the freed height.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reclaimed(#[cfg_attr(feature = "schema", schemars(with = "NumberOrText"))] pub f64);

impl Reclaimed {
    /// Reads a share as it stands on a command line: "0.85" or "85 %".
    ///
    /// # Errors
    /// Where it is none, or has an uncertainty.
    pub fn parse(text: &str) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        let place = Trail::Key(&Trail::Start, "reclaim");
        match Self::read(Json::Text(text.into()), place, &mut problems) {
            Some(share) => Ok(share),
            None => Err(problems),
        }
    }
}

/// What a share may be written as.
#[cfg(feature = "schema")]
#[derive(schemars::JsonSchema)]
#[schemars(untagged)]
#[allow(dead_code, reason = "its schema is what is wanted of it")]
enum NumberOrText {
    Number(f64),
    Text(String),
}

/// A number, or a text that says its unit.
impl Shape for Reclaimed {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        let Json::Text(text) = value else { return f64::read(value, place, problems).map(Self) };
        match notation::read(&text, Dimension::Fraction) {
            Ok(Uncertain { value, spread: Spread::Exact }) => Some(Self(value)),
            Ok(_) => {
                let found = format!("\"{}\", with an uncertainty", shortened(&text));
                problems.push(Problem::new(
                    place.to_string(),
                    found,
                    "one share without an uncertainty, such as \"85 %\"",
                ));
                None
            }
            Err(complaint) => {
                problems.push(complaint.at(place.to_string()));
                None
            }
        }
    }
}
