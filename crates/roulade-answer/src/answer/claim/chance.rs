//! A chance as it is read.

use serde::Serialize;

/// A chance.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Chance {
    /// 0 to 1.
    pub value: f64,
    /// In per cent, as it is read.
    pub text: String,
}

impl Chance {
    pub(in crate::answer) fn of(value: f64) -> Self {
        let text = match 100.0 * value {
            percent if percent < 1.0 => "less than 1 %".to_owned(),
            percent if percent > 99.0 => "more than 99 %".to_owned(),
            percent => format!("{percent:.0} %"),
        };
        Self { value, text }
    }
}
