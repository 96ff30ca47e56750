//! The question of what each change between two sheets is worth.

use super::{Shape, Sheet, Unknown, shape};
use crate::quantity::problem::{Problem, Problems, shortened};
use serde::ser::{Serialize, SerializeMap, Serializer};

section! {
    /// What each change between two sheets is worth.
    WorthQuestion {
        /// The sheet the changes start from.
        first: Sheet,
        /// The sheet they lead to.
        second: Sheet,
        /// What moves together; what is not listed is grouped by part and by recipe.
        changes: Changes,
        /// What things cost.
        prices: Prices,
        /// How many pairs of cells are drawn from the uncertainties of both sheets; 200 where left out.
        draws: u32,
        /// Seed of the draws; 1 where left out.
        seed: u32,
    }
}

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
pub struct PriceList(pub Vec<(String, f64)>);

impl Shape for PriceList {
    fn read(value: shape::Json<'_>, place: shape::Trail<'_>, problems: &mut Problems) -> Option<Self> {
        let mut entries = shape::object(value, place, &["the names of what is priced"], problems)?;
        entries.sort_by(|(a, _), (b, _)| a.cmp(b));
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
                        "a price is zero or more",
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
