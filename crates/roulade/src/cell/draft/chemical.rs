//! What the materials of a draft consist of, by chemical element.

use super::Draft;
use crate::cell::draft::makeup::Composition;
use crate::material::{Fractions, Ion};
use std::borrow::Cow;
use std::sync::Arc;

impl Draft {
    /// Mass fractions of the elements in the material that a place of the sheet names, "can.material", at some values of
    /// the inputs; `None` where no formula says it.
    pub(crate) fn elements_at(&self, place: &str, values: &[f64]) -> Option<Cow<'_, Fractions>> {
        self.makeups.at(place).map(|makeup| makeup.fractions(values))
    }

    /// Mass fractions of the elements in a component of a coating, by its name.
    pub(crate) fn elements_of(&self, component: &str, values: &[f64]) -> Option<Cow<'_, Fractions>> {
        self.makeups.of(component).map(|makeup| makeup.fractions(values))
    }

    /// Mass fractions of the elements in the electrolyte: salt, and the solvent of the table.
    pub(crate) fn elements_of_electrolyte(&self, values: &[f64]) -> Option<Fractions> {
        let [salts, solvent] = self.dissolved.as_ref()?.each_ref().map(|part| part.fractions(values));
        let mut mixed = salts.into_owned();
        let salt = self.electrolyte.salt.of(values);
        for (share, other) in mixed.iter_mut().zip(solvent.iter()) {
            *share = salt * *share + (1.0 - salt) * other;
        }
        Some(mixed)
    }

    /// Whether there can be any of an element, by its number in [`ELEMENTS`](crate::material::ELEMENTS), whatever the values.
    pub fn may_hold(&self, element: usize) -> bool {
        let mut all = self.makeups.all().chain(self.dissolved.iter().flatten());
        all.any(|makeup| makeup.may_hold(element))
    }

    /// The ion that its electrodes store.
    pub fn ion(&self) -> Ion {
        self.ion
    }

    /// Mass fractions of the elements in what stays of the source of its prelithiation.
    pub(crate) fn elements_of_prelithiation(&self) -> Option<Fractions> {
        self.prelithiation.as_ref()?.elements()
    }

    /// The cathode active materials that the sheet gives by their metals.
    pub fn compositions(&self) -> &[Arc<Composition>] {
        &self.compositions
    }
}
