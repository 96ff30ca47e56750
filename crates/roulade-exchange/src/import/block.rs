//! One block of a parameter set, whose numbers are read by name and remembered as read.

use roulade::quantity::problem::{Problem, Problems, shortened};
use roulade_stats::uncertain::Uncertain;
use serde_json::{Map, Value};
use std::cell::RefCell;
use std::collections::BTreeSet;

/// What the standard calls the capacity.
pub(super) const CAPACITY: &str = "Nominal cell capacity [A.h]";

/// A block; empty where the parameter set has none.
pub(super) struct Block<'a> {
    place: String,
    map: Option<&'a Map<String, Value>>,
    taken: RefCell<BTreeSet<String>>,
}

impl<'a> Block<'a> {
    pub(super) fn new(place: String, map: Option<&'a Map<String, Value>>) -> Self {
        Self { place, map, taken: RefCell::default() }
    }

    /// Where a name stands.
    pub(super) fn place(&self, name: &str) -> String {
        if self.place.is_empty() { name.to_owned() } else { format!("{}.{}", self.place, shortened(name)) }
    }

    /// A block within it.
    pub(super) fn inner(&self, name: &str, problems: &mut Problems) -> Block<'a> {
        let map = match self.value(name) {
            Some(Value::Object(map)) => Some(map),
            Some(other) => {
                let found = shortened(&other.to_string());
                problems.push(Problem::new(self.place(name), found, "a JSON object"));
                None
            }
            None => None,
        };
        Block::new(self.place(name), map)
    }

    /// The names in it.
    pub(super) fn names(&self) -> impl Iterator<Item = &'a str> {
        self.map.into_iter().flat_map(|map| map.keys().map(String::as_str))
    }

    /// Whether it has anything.
    pub(super) fn is_empty(&self) -> bool {
        self.map.is_none_or(Map::is_empty)
    }

    /// Whether something stands under a name.
    pub(super) fn has(&self, name: &str) -> bool {
        self.map.is_some_and(|map| map.contains_key(name))
    }

    /// What stands under a name.
    pub(super) fn value(&self, name: &str) -> Option<&'a Value> {
        let value = self.map?.get(name).filter(|value| !value.is_null())?;
        self.taken.borrow_mut().insert(name.to_owned());
        Some(value)
    }

    /// A number, where one stands under that name.
    pub(super) fn number(&self, name: &str) -> Option<f64> {
        self.value(name).and_then(Value::as_f64)
    }

    /// A number above zero; anything else is a problem.
    pub(super) fn positive(&self, name: &str, problems: &mut Problems) -> Option<f64> {
        self.within(name, f64::MIN_POSITIVE..=1e12, "a number greater than zero", problems)
    }

    /// A number from 0 to 1; anything else is a problem.
    pub(super) fn share(&self, name: &str, problems: &mut Problems) -> Option<f64> {
        self.within(name, 0.0..=1.0, "a number from 0 to 1", problems)
    }

    fn within(
        &self,
        name: &str,
        bounds: std::ops::RangeInclusive<f64>,
        expected: &str,
        problems: &mut Problems,
    ) -> Option<f64> {
        let value = self.value(name)?;
        match value.as_f64() {
            Some(number) if bounds.contains(&number) => Some(number),
            _ => {
                problems.push(Problem::new(self.place(name), shortened(&value.to_string()), expected));
                None
            }
        }
    }

    /// A number with its standard uncertainty, where one stands beside it.
    pub(super) fn uncertain(&self, name: &str, problems: &mut Problems) -> Option<Uncertain> {
        let value = self.within(name, -1e12..=1e12, "a number", problems)?;
        let beside = crate::rows::beside(name, crate::rows::U);
        Some(match self.within(&beside, 0.0..=1e12, "a number of at least zero", problems) {
            Some(u) if u > 0.0 => Uncertain::standard(value, u),
            _ => Uncertain::exact(value),
        })
    }

    /// Names that nobody asked for.
    pub(super) fn untaken(&self) -> Vec<String> {
        let taken = self.taken.borrow();
        self.names().filter(|name| !taken.contains(*name)).map(|name| self.place(name)).collect()
    }
}
