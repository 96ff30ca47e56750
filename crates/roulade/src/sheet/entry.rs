//! An entry of a sheet: a quantity as it is written, with where it comes from.

use super::defaults::field;
use super::shape::{Json, Shape, Trail, left, take, wrong};
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, shortened};
use crate::quantity::units::Dimension;
use roulade_stats::uncertain::Origin;

/// A quantity with its unit, or that with where it comes from and a remark.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum Entry {
    /// For example `"68 ± 1 µm"`, `"68 um"`, `"60 .. 75 µm"`, `"22.4 mg/cm2"`.
    Text(String),
    /// The same with its origin.
    Noted(Noted),
}

/// A quantity, where it comes from, and a remark.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
pub struct Noted {
    /// The quantity with its unit.
    pub value: String,
    /// Measured, assumed or stated by the maker; assumed where left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(with = "Option<WrittenOrigin>"))]
    pub from: Option<Origin>,
    /// Anything worth keeping beside it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub remark: Option<String>,
}

/// Where an entry comes from, as a sheet says it.
#[cfg(feature = "schema")]
#[derive(schemars::JsonSchema)]
#[schemars(rename_all = "lowercase")]
#[allow(dead_code, reason = "its schema is what is wanted of it")]
enum WrittenOrigin {
    /// Read off a specimen.
    Measured,
    /// Declared by the maker.
    Stated,
    /// Supposed by whoever wrote the sheet.
    Assumed,
}

/// What stands in the place of the share of a mix that takes what the others leave.
pub(crate) const REST: &str = "the rest";

impl Entry {
    /// The quantity as it is written.
    pub fn text(&self) -> &str {
        match self {
            Self::Text(text) => text,
            Self::Noted(noted) => &noted.value,
        }
    }

    /// Whether it is a length of more than exactly nothing: a fold of "0 mm" is none, one of "0 .. 1 mm" may be one. What is
    /// no length is complained of elsewhere.
    pub(crate) fn is_something(&self) -> bool {
        notation::read(self.text(), Dimension::Length)
            .map_or(true, |length| length.value.abs() > 0.0 || length.u() > 0.0)
    }

    /// With room for its origin and a remark.
    pub fn noted(self) -> Noted {
        match self {
            Self::Text(value) => Noted { value, from: None, remark: None },
            Self::Noted(noted) => noted,
        }
    }

    /// As short as it can be written.
    pub fn of(noted: Noted) -> Self {
        if noted.from.is_none() && noted.remark.is_none() {
            Self::Text(noted.value)
        } else {
            Self::Noted(noted)
        }
    }
}

impl Shape for Entry {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        match value {
            Json::Text(text) => Some(Self::Text(text.into_owned())),
            Json::Object(mut entries) => {
                let value = take(&mut entries, "value", place, problems);
                let from = take(&mut entries, "from", place, problems);
                let remark = take(&mut entries, "remark", place, problems);
                for key in left(entries).keys() {
                    let place = format!("{place}.{}", shortened(key));
                    problems.push(Problem::new(
                        place,
                        "a key that is not known here",
                        "one of the keys known here: value, from, remark",
                    ));
                }
                if let Some(value) = value {
                    return Some(Self::Noted(Noted { value, from, remark }));
                }
                problems.push(Problem::new(
                    place.to_string(),
                    "an entry without its \"value\"",
                    "an entry that has its value, {\"value\": \"…\", \"from\": …}",
                ));
                None
            }
            other => wrong(
                other,
                place,
                &format!(
                    "a text with its unit in quotes, for example \"{}\", or {{\"value\": \"…\", \"from\": …}}",
                    field(&place.to_string()).map_or("12 µm", super::defaults::Field::example)
                ),
                problems,
            ),
        }
    }
}
