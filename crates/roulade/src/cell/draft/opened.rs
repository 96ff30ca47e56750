//! What an opened cell shows otherwise than the cell as built: entries of a sheet whose readings were taken so.

use super::read::{Reader, Slot};
use crate::cell::design::Opened;
use crate::sheet::{self, Entry, Sheet};
use roulade_stats::uncertain::Uncertain;

/// Keys of the section.
const KEYS: [&str; 6] = [
    "opened.cathode_spring_back",
    "opened.anode_spring_back",
    "opened.swelling",
    "opened.film",
    "opened.residue",
    "opened.evaporated",
];

/// One input for each.
#[derive(Debug)]
pub(super) struct OpenedSlots([Slot<f64>; KEYS.len()]);

impl OpenedSlots {
    /// Of a sheet that has the section or whose readings were taken of an opened cell; the others have no such inputs.
    pub(super) fn read(r: &mut Reader, sheet: &Sheet) -> Option<Self> {
        if sheet.opened.is_none() && sheet.readings_state.is_none() {
            return None;
        }
        let empty = sheet::Opened::default();
        let o = sheet.opened.as_ref().unwrap_or(&empty);
        let given: [&Option<Entry>; KEYS.len()] =
            [&o.cathode_spring_back, &o.anode_spring_back, &o.swelling, &o.film, &o.residue, &o.evaporated];
        let mut given = given.into_iter();
        Some(Self(KEYS.map(|key| r.entry(key, given.next().and_then(Option::as_ref)))))
    }

    /// At some values of the inputs.
    pub(super) fn at(&self, v: &[f64]) -> Opened {
        let [cathode_spring_back, anode_spring_back, swelling, film, residue, evaporated] =
            self.0.map(|slot| Uncertain::exact(slot.of(v)));
        Opened { cathode_spring_back, anode_spring_back, swelling, film, residue, evaporated }
    }

    /// Numbers of the inputs.
    pub(super) fn numbers(&self) -> [usize; KEYS.len()] {
        self.0.map(Slot::number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::notation;
    use crate::sheet::defaults::field;

    /// The numbers stand once as texts, for people, and once as numbers, for cells whose sheet says nothing of them.
    #[test]
    fn the_sheet_says_what_the_model_takes() {
        let Opened { cathode_spring_back, anode_spring_back, swelling, film, residue, evaporated } =
            Opened::USUAL;
        let usual = [cathode_spring_back, anode_spring_back, swelling, film, residue, evaporated];
        for (key, usual) in KEYS.iter().zip(usual) {
            let row = field(key).expect(key);
            let read = notation::read(row.default.expect(key).text, row.unit.dimension()).unwrap();
            assert!((read.value - usual.value).abs() <= 1e-12 * usual.value, "{key}: {read:?} {usual:?}");
            assert!((read.u() - usual.u()).abs() <= 1e-12 * usual.u(), "{key}: {read:?} {usual:?}");
        }
    }
}
