//! The cell of a draft at some values of its inputs.

use super::Draft;
use crate::cell::design::{Blueprint, Design, Opened};
use crate::quantity::problem::Problems;
use std::sync::Arc;

impl Draft {
    /// The design at the best values.
    ///
    /// # Errors
    /// Where the cell does not hold together: see [`Design::new`].
    pub fn design(&self) -> Result<Design, Problems> {
        self.design_at(&self.values())
    }

    /// The design at other values of the inputs, in their order, SI base units.
    ///
    /// # Errors
    /// Where the cell does not hold together at those values.
    pub fn design_at(&self, values: &[f64]) -> Result<Design, Problems> {
        Design::new(self.blueprint_at(values)).map_err(|problems| self.explained_at(values, problems))
    }

    /// What the sheet itself says is explained; a trial is not.
    pub(crate) fn explained_at(&self, values: &[f64], problems: Problems) -> Problems {
        if *values == *self.values() { self.explained(problems) } else { problems }
    }

    /// The blueprint at some values, in the order of the inputs; it need not hold together.
    pub(crate) fn blueprint_at(&self, v: &[f64]) -> Blueprint {
        self.blueprint_in(None, v)
    }

    /// The same in the room of a former blueprint of this draft; one of another is let go. What no value changes stays as it is
    /// there, so that nothing is allocated, and no thread waits for another that counts owners of the same names.
    pub(crate) fn blueprint_in(&self, former: Option<Blueprint>, v: &[f64]) -> Blueprint {
        // Each draft has its own copy of its name, and its blueprints share that.
        let former = former.filter(|b| Arc::ptr_eq(&b.name, &self.name));
        let (name, parts, cathode, anode, path) = match former {
            Some(b) => (b.name, Some(b.parts), Some(b.cathode), Some(b.anode), Some(b.path)),
            None => (Arc::clone(&self.name), None, None, None, None),
        };
        let can = self.can.at(v);
        let overhang = self.overhang.of(v);
        let margin = self.separator.margin.of(v);
        let mut cathode = self.cathode.at(v, overhang + margin, None, cathode);
        let mut anode = self.anode.at(v, margin, Some(&cathode), anode);
        let [of_cathode, of_anode] = &self.ends;
        (cathode.bare_ends, anode.bare_ends) = (of_cathode.of(v), of_anode.of(v));
        [cathode.tortuosity, anode.tortuosity] = self.tortuosity.map(|read| read.map(|slot| slot.of(v)));
        let swelling = self.anode.swelling(v, &anode);
        Blueprint {
            name,
            parts: self.hardware.at(v, can.bore_area(), parts),
            can,
            sleeve: self.sleeve.as_ref().map(|sleeve| sleeve.at(v)),
            fit: self.fit.at(v),
            winding: self.winding.at(v),
            cathode,
            anode,
            overhang,
            prelithiation: self.prelithiation.as_ref().map(|slots| slots.at(v)),
            separator: self.separator.at(v),
            electrolyte: self.electrolyte.at(v),
            salt: self.electrolyte.salt.of(v),
            window: self.window.at(v),
            path: self.path.at(v, path),
            swelling,
            weighed: self.weighed.map(|slot| slot.of(v)),
            discrepancy: self.discrepancy.of(v),
            opened: self.opened.as_ref().map_or(Opened::USUAL, |slots| slots.at(v)),
        }
    }
}
