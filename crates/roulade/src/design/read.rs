//! From the entries of a sheet to numbered inputs, with every complaint on the way.

use super::defaults::{self, Field};
use super::sheet::{Entry, Unknown};
use crate::known::{Known, Origin};
use crate::notation;
use crate::problem::{Problem, Problems, nearest, shortened};
use crate::units::Unit;
use std::marker::PhantomData;
use uom::si::{Quantity, SI};

/// One number of a sheet, whether written by the user or filled in.
#[derive(Clone, Debug)]
pub struct Input {
    /// Where it stands in the sheet: `parts[1].mass`.
    pub path: String,
    /// The same with names in the place of indices, so that two sheets can be laid side by side.
    pub key: String,
    /// Heading it stands under.
    pub section: &'static str,
    /// What it is called.
    pub label: String,
    /// As it was written, or the default as one would write it.
    pub text: String,
    /// Unit of the trade.
    pub unit: Unit,
    /// Where it comes from.
    pub origin: Origin,
    /// The user's remark.
    pub remark: Option<String>,
    /// Source of a default.
    pub source: Option<String>,
    /// The number.
    pub known: Known,
}

/// The number of an input, and the quantity it holds.
#[derive(Debug)]
pub(super) struct Slot<Q>(usize, PhantomData<Q>);

impl<Q> Clone for Slot<Q> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<Q> Copy for Slot<Q> {}

/// What a slot's number becomes.
pub(super) trait FromSi {
    fn from_si(value: f64) -> Self;
}

impl FromSi for f64 {
    fn from_si(value: f64) -> Self {
        value
    }
}

impl<D: uom::si::Dimension + ?Sized> FromSi for Quantity<D, SI<f64>, f64> {
    fn from_si(value: f64) -> Self {
        Self { dimension: PhantomData, units: PhantomData, value }
    }
}

impl<Q> Slot<Q> {
    /// The number of its input.
    pub(super) fn number(self) -> usize {
        self.0
    }
}

impl<Q: FromSi> Slot<Q> {
    pub(super) fn of(self, values: &[f64]) -> Q {
        // A slot is made only together with its input, so the number is always there; NaN would be refused later.
        Q::from_si(values.get(self.0).copied().unwrap_or(f64::NAN))
    }
}

/// Collects inputs and problems.
#[derive(Debug, Default)]
pub(super) struct Reader {
    pub(super) inputs: Vec<Input>,
    pub(super) problems: Problems,
}

/// How an input is named in the three ways it is met.
pub(super) struct Name<'a> {
    /// Path in the sheet.
    pub(super) path: &'a str,
    /// Path with names for indices; empty for the same as the path.
    pub(super) key: &'a str,
    /// Put before the label; empty for none.
    pub(super) of: &'a str,
}

impl<'a> From<&'a str> for Name<'a> {
    fn from(path: &'a str) -> Self {
        Self { path, key: path, of: "" }
    }
}

impl Reader {
    /// Reads an entry that may be left out, without a default.
    pub(super) fn optional<'a, Q>(
        &mut self,
        name: impl Into<Name<'a>>,
        entry: Option<&Entry>,
    ) -> Option<Slot<Q>> {
        let name = name.into();
        let field = defaults::field(name.path)?;
        entry.map(|entry| self.written(field, &name, entry))
    }

    /// Reads an entry that takes its default where it is left out; one without a default must be there.
    pub(super) fn entry<'a, Q>(&mut self, name: impl Into<Name<'a>>, entry: Option<&Entry>) -> Slot<Q> {
        let name = name.into();
        let Some(field) = defaults::field(name.path) else { return self.keep(blank(&name)) };
        match (entry, field.default) {
            (Some(entry), _) => self.written(field, &name, entry),
            (None, Some(default)) => {
                let known =
                    notation::read(default.text, field.unit.dimension()).unwrap_or(Known::exact(f64::NAN));
                self.filled_in(&name, known, default.text.to_owned(), default.source.to_owned())
            }
            (None, None) => {
                self.problems.push(Problem::new(
                    name.path,
                    "nothing",
                    format!("{} is needed, for example \"{}\"", field.label, example(field)),
                ));
                self.keep(blank(&name))
            }
        }
    }

    /// A number that this crate fills in.
    pub(super) fn filled_in<Q>(
        &mut self,
        name: &Name<'_>,
        known: Known,
        text: String,
        source: String,
    ) -> Slot<Q> {
        let mut input = blank(name);
        input.known = known;
        input.text = text;
        input.source = Some(source);
        self.keep(input)
    }

    fn written<Q>(&mut self, field: &Field, name: &Name<'_>, entry: &Entry) -> Slot<Q> {
        let mut input = blank(name);
        let text = match entry {
            Entry::Text(text) => {
                input.origin = Origin::Assumed;
                text
            }
            Entry::Noted(noted) => {
                input.origin = noted.from.unwrap_or_default();
                input.remark.clone_from(&noted.remark);
                &noted.value
            }
        };
        input.text.clone_from(text);
        match notation::read(text, field.unit.dimension()) {
            Ok(known) => {
                let (low, high) = match known.spread {
                    crate::known::Spread::Range { low, high } => (low, high),
                    _ => (known.value, known.value),
                };
                if !(field.bound.holds(low) && field.bound.holds(high)) {
                    self.problems.push(Problem::new(
                        name.path,
                        format!("\"{}\"", shortened(text)),
                        format!("{}: must be {}", field.label, field.bound.words()),
                    ));
                }
                input.known = known;
            }
            Err(complaint) => self.problems.push(complaint.at(name.path)),
        }
        self.keep(input)
    }

    fn keep<Q>(&mut self, input: Input) -> Slot<Q> {
        self.inputs.push(input);
        Slot(self.inputs.len() - 1, PhantomData)
    }

    /// The best value of a slot, for decisions that do not depend on its spread.
    pub(super) fn value<Q>(&self, slot: Slot<Q>) -> f64 {
        self.known(slot).value
    }

    /// The number behind a slot.
    pub(super) fn known<Q>(&self, slot: Slot<Q>) -> Known {
        self.inputs.get(slot.0).map_or(Known::exact(f64::NAN), |input| input.known)
    }

    /// Complains of keys nobody knows.
    pub(super) fn unknown(&mut self, place: &str, unknown: &Unknown, keys: &[&str]) {
        unknown_keys(&mut self.problems, place, unknown, keys);
    }
}

/// Complains of keys nobody knows.
pub fn unknown_keys(problems: &mut Problems, place: &str, unknown: &Unknown, keys: &[&str]) {
    for key in unknown.keys() {
        let expected = match nearest(key, keys.iter().copied()) {
            Some(near) => format!("perhaps \"{near}\" was meant"),
            None => format!("known here: {}", keys.join(", ")),
        };
        let path = if place.is_empty() { shortened(key) } else { format!("{place}.{}", shortened(key)) };
        problems.push(Problem::new(path, "a key that is not known here", expected));
    }
}

fn blank(name: &Name<'_>) -> Input {
    let (section, label, unit) = defaults::field(name.path)
        .map_or(("", "", Unit::One), |field| (field.section, field.label, field.unit));
    Input {
        path: name.path.to_owned(),
        key: if name.key.is_empty() { name.path.to_owned() } else { name.key.to_owned() },
        section,
        label: if name.of.is_empty() { label.to_owned() } else { format!("{}: {label}", name.of) },
        text: String::new(),
        unit,
        origin: Origin::Default,
        remark: None,
        source: None,
        known: Known::exact(f64::NAN),
    }
}

/// A quantity of the dimension of a field, as it may be written.
pub(super) fn example(field: &Field) -> &'static str {
    notation::dimension_words(field.unit.dimension()).1
}
