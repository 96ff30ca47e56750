//! What is told of changes beside the two sheets: their names, and what things cost.

use crate::quantity::problem::{Problem, Problems, shortened};
use crate::section;
use crate::sheet::{Shape, read, shape};
use roulade_stats::order;
use serde::ser::{Serialize, Serializer};

section! {
    /// Changes by name.
    Changes {
        /// Anything worth keeping.
        remark: String,
        /// The changes.
        changes: Vec<NamedChange>,
    }
}

section! {
    /// Entries of the sheet that move together.
    NamedChange {
        /// What it is called.
        name: String,
        /// Keys of the sheet, names in the place of list indices, or beginnings of keys: `parts[lid]`, `cathode.mix`.
        keys: Vec<String>,
    }
}

section! {
    /// What things cost.
    Prices {
        /// Anything worth keeping.
        remark: String,
        /// Price of a kilogram, by the name of the material; "electrolyte" for the electrolyte.
        per_kg: PriceList,
        /// Price of one part, by its name; it then stands for the part's material too.
        per_part: PriceList,
        /// As it is written after a price.
        currency: String,
    }
}

/// Prices by name.
#[derive(Clone, Debug, Default, PartialEq)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PriceList(
    #[cfg_attr(feature = "schema", schemars(with = "std::collections::BTreeMap<String, f64>"))]
    pub  Vec<(String, f64)>,
);

/// Every cell between two is priced from the whole list.
const MOST_PRICES: usize = 500;

impl Shape for PriceList {
    fn read(value: shape::Json<'_>, place: shape::Trail<'_>, problems: &mut Problems) -> Option<Self> {
        let mut entries = shape::object(value, place, &["the names of what is priced"], problems)?;
        if entries.len() > MOST_PRICES {
            let found = format!("{} prices", entries.len());
            problems.push(Problem::new(place.to_string(), found, format!("at most {MOST_PRICES} prices")));
            return None;
        }
        order::by(&mut entries, |(a, _), (b, _)| a.cmp(b));
        let mut list = Vec::with_capacity(entries.len());
        for (name, value) in entries {
            let key = shortened(&name);
            let place = shape::Trail::Key(&place, &key);
            match f64::read(value, place, problems) {
                Some(price) if price >= 0.0 => list.push((name.into_owned(), price)),
                Some(price) => {
                    problems.push(Problem::new(
                        place.to_string(),
                        format!("{price}"),
                        "a price that is zero or more",
                    ));
                }
                None => {}
            }
        }
        Some(Self(list))
    }
}

impl Serialize for PriceList {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(name, price)| (name, price)))
    }
}

impl Changes {
    /// Reads a list of changes from JSON text: `{"changes": [{"name": "…", "keys": ["…", …]}, …]}`.
    ///
    /// # Errors
    /// Where the text is no JSON, with line and column; or every place where its shape is not that of such a list.
    pub fn parse(json: &str) -> Result<Self, Problems> {
        read::text(json, "changes: {\"changes\": [{\"name\": …, \"keys\": […]}]}")
    }
}

impl Prices {
    /// Reads prices from JSON text: `{"per_kg": {"copper": 9.5}, "per_part": {"lid": 0.2}, "currency": "EUR"}`.
    ///
    /// # Errors
    /// Where the text is no JSON, with line and column; or every place where its shape is not that of prices.
    pub fn parse(json: &str) -> Result<Self, Problems> {
        read::text(json, "prices: {\"per_kg\": {…}, \"per_part\": {…}, \"currency\": …}")
    }
}
