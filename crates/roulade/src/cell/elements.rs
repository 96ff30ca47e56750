//! The mass of each element in a cell, from the ledger and the formulas of what it lists.

use crate::cell::design::Design;
use crate::cell::draft::Draft;
use crate::cell::ledger::{self, Group, Line, Thing};
use crate::material::{COUNT, Fractions};
use crate::quantity::units::Mass;
use std::borrow::Cow;

/// Mass of each element, and of what no formula resolves; together the mass of the cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elements {
    /// In the order of [`crate::material::ELEMENTS`].
    pub masses: [Mass; COUNT],
    /// Of lines without a formula.
    pub unresolved: Mass,
}

impl Elements {
    /// Resolves every line of the ledger of a design that `draft` gave at `values`: the sum of line masses, each times the
    /// mass fraction of the element in its formula. Lithium is counted where it was at assembly.
    pub fn of(draft: &Draft, values: &[f64], design: &Design) -> Self {
        let mut elements = Self { masses: [Mass::default(); COUNT], unresolved: Mass::default() };
        let electrolyte = draft.elements_of_electrolyte(values);
        ledger::lines(design, |line| {
            let fractions = match line.thing {
                Thing::Electrolyte => electrolyte.as_ref().map(Cow::Borrowed),
                _ => fractions(draft, values, &line),
            };
            match fractions {
                None => elements.unresolved += line.mass,
                Some(fractions) => {
                    for (mass, share) in elements.masses.iter_mut().zip(fractions.iter()) {
                        *mass += line.mass * *share;
                    }
                }
            }
        });
        elements
    }

    /// All of it: the mass of the cell.
    pub fn mass(&self) -> Mass {
        self.masses.iter().fold(self.unresolved, |sum, mass| sum + *mass)
    }
}

fn fractions<'a>(draft: &'a Draft, values: &[f64], line: &Line<'_>) -> Option<Cow<'a, Fractions>> {
    let place = match line.thing {
        Thing::Prelithiation => return draft.elements_of_prelithiation().map(Cow::Owned),
        Thing::Component => return draft.elements_of(line.what, values),
        Thing::Foil if line.group == Group::Anode => "anode.foil.material",
        Thing::Foil => "cathode.foil.material",
        Thing::Film => "separator.material",
        Thing::Ceramic => "separator.ceramic",
        Thing::Can => "can.material",
        Thing::Tape => "winding.tape_thickness",
        Thing::Part(i) => return draft.elements_at(&format!("parts[{i}].material"), values),
        Thing::Tabs(Group::Anode) => "current_path.anode.tabs[0].material",
        Thing::Tabs(_) => "current_path.cathode.tabs[0].material",
        Thing::TabTape => "current_path.tape",
        Thing::Sleeve => "sleeve.material",
        Thing::Electrolyte | Thing::Space => return None,
    };
    draft.elements_at(place, values)
}

#[cfg(test)]
mod tests;
