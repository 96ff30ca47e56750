//! A sheet as a tree of keys, so that whoever edits or compares one need not know its sections by heart.
//!
//! The sections of [`super::schema`] say which keys they have; everything else here follows from the types of the keys.

use super::shape::{Json, Shape, Trail, Unknown};
use super::stand_in;
use super::{Collection, Counts, Entry, FeedKind, Material, Mixed, NegativeAt, Part, Place, Tab, Welded};
use crate::material::{self, Role};
use crate::quantity::problem::Problems;
use serde::Serialize;
use serde_json::Value;

/// What may stand under a key.
pub(crate) trait Held: Shape + Serialize {
    /// What lies within it.
    fn inner(&mut self) -> Inner<'_> {
        Inner::Leaf
    }

    /// What an entry within it is put into where there is none yet: what stands in for it, written out.
    fn empty() -> Option<Self> {
        None
    }
}

/// What lies within a value.
pub(crate) enum Inner<'a> {
    /// Nothing that has a key of its own.
    Leaf,
    /// A quantity with its origin and remark.
    Entry(&'a mut Entry),
    /// Keys.
    Section(&'a mut dyn Section),
    /// Items.
    List(&'a mut dyn List),
}

/// The place under a key, filled or not.
pub(crate) trait Slot {
    /// What stands there, as JSON.
    fn value(&self) -> Option<Value>;
    /// Puts a value there; what is wrong with its shape is told, and what was there stays.
    fn put(&mut self, value: Value, place: Trail<'_>, problems: &mut Problems);
    /// Takes it out.
    fn clear(&mut self);
    /// Makes room for an entry within.
    fn make(&mut self);
    /// What lies within what stands there.
    fn inner(&mut self) -> Option<Inner<'_>>;
}

impl<T: Held> Slot for Option<T> {
    fn value(&self) -> Option<Value> {
        // Plain data become JSON.
        self.as_ref().and_then(|held| serde_json::to_value(held).ok())
    }

    fn put(&mut self, value: Value, place: Trail<'_>, problems: &mut Problems) {
        if let Some(read) = T::read(Json::from(value), place, problems) {
            *self = Some(read);
        }
    }

    fn clear(&mut self) {
        *self = None;
    }

    fn make(&mut self) {
        if self.is_none() {
            *self = T::empty();
        }
    }

    fn inner(&mut self) -> Option<Inner<'_>> {
        self.as_mut().map(Held::inner)
    }
}

/// A section: places under its keys.
pub(crate) trait Section {
    /// The keys it knows.
    fn keys(&self) -> &'static [&'static str];
    /// The place under one of them.
    fn slot(&mut self, key: &str) -> Option<&mut dyn Slot>;
    /// What stands under keys that it does not know.
    fn unknown(&self) -> &Unknown;
    /// The same, to be changed.
    fn unknown_mut(&mut self) -> &mut Unknown;
}

/// A list of sections: parts, components, materials, tabs.
pub(crate) trait List {
    /// How many items it has.
    fn len(&self) -> usize;
    /// What an item is called; `None` where it has no name, or its items never do.
    fn name(&self, at: usize) -> Option<String>;
    /// The same name as the list spells names.
    fn spelled(&self, name: &str) -> String;
    /// The key that names an item; `None` where items are only counted.
    fn name_key(&self) -> Option<&'static str>;
    /// An item.
    fn item(&mut self, at: usize) -> Option<&mut dyn Section>;
    /// An item, as JSON.
    fn value(&self, at: usize) -> Option<Value>;
    /// Puts an item before the one at `at`; what is wrong with its shape is told.
    fn insert(&mut self, at: usize, item: Value, place: Trail<'_>, problems: &mut Problems);
    /// Takes an item out.
    fn remove(&mut self, at: usize);
    /// Moves an item to another place.
    fn reorder(&mut self, from: usize, to: usize);
}

/// An item of a list.
pub(crate) trait Item: Section + Shape + Serialize {
    /// Its key that names it; `None` where items are only counted.
    const NAME: Option<&'static str>;

    /// What it is called.
    fn name(&self) -> Option<&str>;

    /// What stands in for the list where it is left out.
    fn stand_in() -> Vec<Self> {
        Vec::new()
    }

    /// One name for all spellings of it.
    fn spelled(name: &str) -> String {
        name.trim().to_owned()
    }
}

/// One name for all spellings that the table of materials knows.
pub(crate) fn canonical(name: &str) -> String {
    material::find(name).map_or_else(|| name.trim().to_owned(), |found| found.name.to_owned())
}

impl Item for Part {
    const NAME: Option<&'static str> = Some("name");

    fn name(&self) -> Option<&str> {
        self.name.as_deref()
    }

    fn stand_in() -> Vec<Self> {
        stand_in::parts()
    }
}

impl Item for Material {
    const NAME: Option<&'static str> = Some("name");

    fn name(&self) -> Option<&str> {
        self.name.as_deref()
    }

    fn spelled(name: &str) -> String {
        canonical(name)
    }
}

impl Item for Mixed {
    const NAME: Option<&'static str> = Some("material");

    fn name(&self) -> Option<&str> {
        self.material.as_deref()
    }

    fn spelled(name: &str) -> String {
        canonical(name)
    }
}

impl Item for Tab {
    const NAME: Option<&'static str> = None;

    fn name(&self) -> Option<&str> {
        None
    }

    fn stand_in() -> Vec<Self> {
        vec![stand_in::tab()]
    }
}

impl<T: Item> List for Vec<T> {
    fn len(&self) -> usize {
        self.len()
    }

    fn name(&self, at: usize) -> Option<String> {
        self.get(at).and_then(Item::name).map(T::spelled).filter(|name| !name.is_empty())
    }

    fn spelled(&self, name: &str) -> String {
        T::spelled(name)
    }

    fn name_key(&self) -> Option<&'static str> {
        T::NAME
    }

    fn item(&mut self, at: usize) -> Option<&mut dyn Section> {
        self.get_mut(at).map(|item| item as &mut dyn Section)
    }

    fn value(&self, at: usize) -> Option<Value> {
        self.get(at).and_then(|item| serde_json::to_value(item).ok())
    }

    fn insert(&mut self, at: usize, item: Value, place: Trail<'_>, problems: &mut Problems) {
        if let Some(read) = T::read(Json::from(item), place, problems) {
            self.insert(at.min(self.len()), read);
        }
    }

    fn remove(&mut self, at: usize) {
        if at < self.len() {
            self.remove(at);
        }
    }

    fn reorder(&mut self, from: usize, to: usize) {
        if from < self.len() {
            let item = self.remove(from);
            self.insert(to.min(self.len()), item);
        }
    }
}

impl<T: Item> Held for Vec<T> {
    fn inner(&mut self) -> Inner<'_> {
        Inner::List(self)
    }

    fn empty() -> Option<Self> {
        Some(T::stand_in())
    }
}

impl Held for Entry {
    fn inner(&mut self) -> Inner<'_> {
        Inner::Entry(self)
    }

    fn empty() -> Option<Self> {
        Some(Self::Text(String::new()))
    }
}

impl Held for u32 {}
impl Held for String {}
impl Held for Vec<String> {}
impl Held for Vec<f64> {}
impl Held for Vec<Vec<f64>> {}
impl Held for Vec<(f64, f64)> {}
impl Held for Place {}
impl Held for Collection {}
impl Held for FeedKind {}
impl Held for Counts {}
impl Held for Welded {}
impl Held for NegativeAt {}
impl Held for Role {}
