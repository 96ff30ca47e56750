//! From the entries of a sheet to numbered inputs, with every complaint on the way.

use super::decided::Decided;
pub use super::input::Input;
pub(super) use super::input::Said;
use crate::cell::population::{self, Setting};
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, shortened};
use crate::quantity::units::Unit;
use crate::sheet::defaults::{self, Field};
use crate::sheet::{Entry, Unknown, former, unknown_keys};
use roulade_stats::uncertain::{Correlation, Origin, Spread, Uncertain};
use std::borrow::Cow;
use std::fmt::Display;
use std::marker::PhantomData;
use uom::si::{Quantity, SI};

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
#[derive(Debug)]
pub(super) struct Reader {
    pub(super) inputs: Vec<Input>,
    pub(super) problems: Problems,
    /// On former names of keys.
    pub(super) remarks: Vec<String>,
    /// What is known of the cell before anything in it is.
    setting: Setting,
    decided: Decided,
    /// Inputs that move with the purpose, and their coefficients of correlation with it.
    moving: Vec<(usize, f64)>,
}

/// How an input is named in the ways it is met.
#[derive(Clone, Copy)]
pub(super) struct Name<'a> {
    /// Path in the sheet, list indices left out: `parts[].height`.
    field: &'a str,
    /// What stands between the brackets of its path; nothing for a name, or where there are none.
    index: Option<usize>,
    /// What stands between the brackets of its key; nothing for the same as in its path.
    item: &'a str,
    /// Put before the label; empty for none.
    of: &'a str,
}

impl<'a> From<&'a str> for Name<'a> {
    fn from(path: &'a str) -> Self {
        Self { field: path, index: None, item: "", of: "" }
    }
}

impl<'a> Name<'a> {
    /// Of something that has a name.
    pub(super) fn of(field: &'a str, of: &'a str) -> Self {
        Self { field, index: None, item: "", of }
    }

    /// In the item of that number of a list whose items have no names.
    pub(super) fn numbered(field: &'a str, i: usize, of: &'a str) -> Self {
        Self { field, index: Some(i), item: "", of }
    }

    /// In an item of a list: by its number in the path where it stands in the sheet, by its name in the key.
    pub(super) fn item(field: &'a str, index: Option<usize>, name: &'a str) -> Self {
        Self { field, index, item: name, of: name }
    }

    /// Path in the sheet.
    pub(super) fn path(&self) -> Cow<'a, str> {
        self.index.map_or_else(|| self.between(self.item), |i| self.between(&i.to_string()))
    }

    /// Path with names for indices.
    fn key(&self) -> Cow<'a, str> {
        if self.item.is_empty() { self.path() } else { self.between(self.item) }
    }

    fn between(&self, brackets: &str) -> Cow<'a, str> {
        match self.field.split_once("[]") {
            Some((list, key)) => [list, "[", brackets, "]", key].concat().into(),
            None => self.field.into(),
        }
    }
}

impl Reader {
    /// With nothing read yet, and room for what a sheet usually holds.
    pub(super) fn new(setting: Setting) -> Self {
        Self {
            inputs: Vec::with_capacity(128),
            problems: Problems::default(),
            remarks: Vec::new(),
            setting,
            decided: Decided::default(),
            moving: Vec::with_capacity(20),
        }
    }

    /// The purpose of the cell, said or not: an input that nothing hangs on but the laws of the population.
    pub(super) fn purpose(&mut self, entry: Option<&Entry>) {
        let place = "purpose";
        let text = entry.map(|entry| match entry {
            Entry::Text(text) => text.as_str(),
            Entry::Noted(noted) => noted.value.as_str(),
        });
        let name = Name::from(place);
        let slot: Slot<f64> = match text.map(|text| (text, population::Purpose::of_class(text))) {
            None => {
                let uncertain = self.setting.purpose.uncertain();
                self.filled_in(
                    &name,
                    uncertain,
                    Said::Population(
                        "not said: a mixture of cells for energy, for power and between; more of them for energy with \
                         silicon in the anode and in large cans: common practice, no source",
                    ),
                )
            }
            Some((text, Some(purpose))) => {
                self.setting.purpose = purpose;
                let slot = self.filled_in(&name, purpose.uncertain(), Said::Written(text.trim().to_owned()));
                self.said_of(slot, entry);
                slot
            }
            Some((text, None)) if !text.contains(|c: char| c.is_ascii_digit()) => {
                self.problems.push(Problem::new(
                    place,
                    format!("\"{}\", a purpose that is not known", shortened(text)),
                    "\"energy\", \"middle\" or \"power\"; leave it out where it is not known",
                ));
                self.filled_in(&name, Uncertain::exact(0.0), Said::Written(text.to_owned()))
            }
            Some(_) => {
                let slot = self.entry(place, entry);
                self.setting.purpose = population::Purpose::of(&self.uncertain(slot));
                slot
            }
        };
        if self.setting.purpose.deviation > 0.0 {
            self.moving.push((slot.number(), 1.0));
        }
    }

    fn said_of<Q>(&mut self, slot: Slot<Q>, entry: Option<&Entry>) {
        if let (Some(input), Some(entry)) = (self.inputs.get_mut(slot.number()), entry) {
            (input.origin, input.remark) = match entry {
                Entry::Text(_) => (Origin::Assumed, None),
                Entry::Noted(noted) => (noted.from.unwrap_or_default(), noted.remark.clone()),
            };
        }
    }

    /// What stands in from the population, with its place among what moves with the purpose.
    pub(super) fn of_population<Q>(
        &mut self,
        name: &Name<'_>,
        (uncertain, with): (Uncertain, f64),
        source: &'static str,
    ) -> Slot<Q> {
        let slot = self.filled_in(name, uncertain, Said::Population(source));
        if with != 0.0 {
            self.moving.push((slot.number(), with));
        }
        slot
    }

    /// Which inputs move together through the purpose, but for those that the sheet says of itself.
    pub(super) fn together(&self, but: &Correlation) -> Correlation {
        let moving = self.moving.iter().filter(|(i, _)| !but.inputs().contains(i));
        Correlation::through_one(moving.copied().collect())
    }

    /// Reads an entry that may be left out, without a default.
    pub(super) fn optional<'a, Q>(
        &mut self,
        name: impl Into<Name<'a>>,
        entry: Option<&Entry>,
    ) -> Option<Slot<Q>> {
        let name = name.into();
        let field = defaults::field(name.field)?;
        entry.map(|entry| self.written(field, &name, entry))
    }

    /// Reads an entry that takes its default where it is left out; one without a default must be there.
    pub(super) fn entry<'a, Q>(&mut self, name: impl Into<Name<'a>>, entry: Option<&Entry>) -> Slot<Q> {
        let name = name.into();
        let Some(field) = defaults::field(name.field) else {
            return self.keep(Input::named(
                None,
                &name,
                Uncertain::exact(f64::NAN),
                Said::Written(String::new()),
            ));
        };
        match (entry, field.default) {
            (Some(entry), _) => self.written(field, &name, entry),
            (None, Some(default)) => {
                let uncertain = notation::read(default.text, field.unit.dimension())
                    .unwrap_or(Uncertain::exact(f64::NAN));
                self.keep(Input::named(Some(field), &name, uncertain, Said::Default(default)))
            }
            (None, None) if let Some(row) = population::row(field.path) => {
                let uncertain = row.uncertain(self.setting());
                self.of_population(&name, uncertain, row.source)
            }
            (None, None) => {
                self.problems.push(Problem::new(name.path(), "nothing", needed(field)));
                self.filled_in(&name, Uncertain::exact(f64::NAN), Said::Written(String::new()))
            }
        }
    }

    /// A number that this crate fills in.
    pub(super) fn filled_in<Q>(&mut self, name: &Name<'_>, uncertain: Uncertain, said: Said) -> Slot<Q> {
        self.keep(Input::named(defaults::field(name.field), name, uncertain, said))
    }

    fn written<Q>(&mut self, field: &'static Field, name: &Name<'_>, entry: &Entry) -> Slot<Q> {
        let (text, origin, remark) = match entry {
            Entry::Text(text) => (text, Origin::Assumed, None),
            Entry::Noted(noted) => (&noted.value, noted.from.unwrap_or_default(), noted.remark.clone()),
        };
        let uncertain = match notation::read(text, field.unit.dimension()) {
            Ok(uncertain) => {
                let (low, high) = match uncertain.spread {
                    Spread::Range { low, high } => (low, high),
                    _ => (uncertain.value, uncertain.value),
                };
                if !(field.bound.holds(low) && field.bound.holds(high)) {
                    self.problems.push(Problem::new(
                        name.path(),
                        format!("\"{}\"", shortened(text)),
                        field.bound.asks(field.label),
                    ));
                }
                uncertain
            }
            Err(complaint) => {
                self.problems.push(complaint.at(name.path()));
                Uncertain::exact(f64::NAN)
            }
        };
        let input = Input::named(Some(field), name, uncertain, Said::Written(text.clone()));
        self.keep(Input { origin, remark, ..input })
    }

    fn keep<Q>(&mut self, input: Input) -> Slot<Q> {
        self.inputs.push(input);
        Slot(self.inputs.len() - 1, PhantomData)
    }

    /// The best value of a slot, for decisions that do not depend on its spread.
    pub(super) fn value<Q>(&self, slot: Slot<Q>) -> f64 {
        self.uncertain(slot).value
    }

    /// The number behind a slot. From here on it decides more than itself: see [`Self::decided`].
    pub(super) fn uncertain<Q>(&self, slot: Slot<Q>) -> Uncertain {
        self.uncertain_at(slot.0)
    }

    /// The same by the number of its input.
    pub(super) fn uncertain_at(&self, input: usize) -> Uncertain {
        self.decided.looked_at(input);
        self.inputs.get(input).map_or(Uncertain::exact(f64::NAN), |input| input.uncertain)
    }

    /// The best value of a slot, for words alone.
    pub(super) fn shown<Q>(&self, slot: Slot<Q>) -> f64 {
        self.inputs.get(slot.0).map_or(f64::NAN, |input| input.uncertain.value)
    }

    /// What is known of the cell before anything in it is. From here on the entries it was found from decide more than
    /// themselves.
    pub(super) fn setting(&self) -> &Setting {
        self.decided.setting_looked_at();
        &self.setting
    }

    /// Every number decides something: for what looks at all of them.
    pub(super) fn all_decide(&self) {
        (0..self.inputs.len()).for_each(|input| self.decided.looked_at(input));
    }

    /// Whether the number of each input decided more than itself.
    pub(super) fn decided(&self) -> Vec<bool> {
        self.decided.of(self.inputs.iter().map(|input| &*input.path))
    }

    /// Complains of an entry beside another that says the same.
    pub(super) fn one_too_many(&mut self, place: &str, found: &str, expected: &str) {
        self.problems.push(Problem::new(place, found, format!("{expected}; leave this one out")));
    }

    /// Complains of keys nobody knows, and remarks on former names.
    pub(super) fn unknown(&mut self, place: impl Display, unknown: &Unknown, keys: &[&str]) {
        if !unknown.is_empty() {
            for (key, today) in unknown.keys().filter_map(|key| Some((key, former::name_today(key)?))) {
                let place = place.to_string();
                let dot = if place.is_empty() { "" } else { "." };
                self.remarks.push(format!(
                    "{place}{dot}{key} is the former name of {today}: it was read as that, and is written as that."
                ));
            }
            unknown_keys(&mut self.problems, &place.to_string(), unknown, keys);
        }
    }
}

impl Input {
    fn named(field: Option<&'static Field>, name: &Name<'_>, uncertain: Uncertain, said: Said) -> Self {
        let (section, label, unit) =
            field.map_or(("", "", Unit::One), |field| (field.section, field.label, field.unit));
        let (path, key) = match field {
            Some(field) if !name.field.contains('[') => (field.path.into(), field.path.into()),
            _ => (name.path().into_owned().into(), name.key().into_owned().into()),
        };
        Self {
            path,
            key,
            section,
            label: if name.of.is_empty() { label.into() } else { [name.of, ": ", label].concat().into() },
            unit,
            origin: Origin::Default,
            remark: None,
            uncertain,
            said,
        }
    }
}

/// What would be right where an entry without a default is missing.
fn needed(field: &Field) -> String {
    let of_can = |example: &str| {
        format!("{}, for example \"{example}\", or can.size, for example \"18 × 65\"", field.label)
    };
    match field.path {
        "can.diameter" => of_can("18.2 ± 0.1 mm"),
        "can.height" => of_can("65.1 ± 0.1 mm"),
        _ => format!("{}, for example \"{}\"", field.label, field.example()),
    }
}
