//! Entries that were read off an opened cell, as they are of the cell as built.

use super::Draft;
use super::read::Input;
use crate::cell::balance::{Balance, Side};
use crate::cell::design::Design;
use crate::cell::state::{Changes, State};
use crate::quantity::problem::Problems;
use crate::sheet::{Edit, Sheet, all_applied, write};
use roulade_stats::uncertain::{Origin, Uncertain};
use serde_json::json;
use std::borrow::Cow;

/// The key of the sheet.
const STATE: &str = "readings_state";

/// Entries that a state changes, where they are measured.
const ENTRIES: [(&str, Changes); 9] = [
    ("cathode.thickness", Changes::Thickness(Side::Cathode, 1.0)),
    ("anode.thickness", Changes::Thickness(Side::Anode, 1.0)),
    ("cathode.loading", Changes::Loading(Side::Cathode)),
    ("anode.loading", Changes::Loading(Side::Anode)),
    ("cathode.porosity", Changes::Porosity(Side::Cathode)),
    ("anode.porosity", Changes::Porosity(Side::Anode)),
    ("winding.radial_clearance", Changes::Diameter(-0.5)),
    ("electrolyte.mass", Changes::Electrolyte),
    ("cell_mass", Changes::Cell),
];

/// A change depends on the cell as built, which it leads to: so many rounds leave less than a millionth of it.
const ROUNDS: usize = 8;
/// Thicknesses that the first round tries, over those read: swollen coatings may not fit into the can.
const THINNER: [f64; 4] = [1.0, 0.94, 0.9, 0.8];

impl Draft {
    /// A sheet whose entries are those of the cell as built: itself, where it says of no other state.
    ///
    /// # Errors
    /// Everything wrong with one that does.
    pub fn sheet_as_built(sheet: &Sheet) -> Result<Cow<'_, Sheet>, Problems> {
        Ok(match &sheet.readings_state {
            None => Cow::Borrowed(sheet),
            Some(_) => Cow::Owned(all_applied(sheet, &Self::read(sheet)?.edits_to_as_built())?),
        })
    }

    /// With the measured entries as they were before formation, opening and washing, of readings taken in a state.
    ///
    /// # Formula
    /// What was read is `r = b + c(b)`, b as built and c what the state adds to it ([`State::change`]); b is found by
    /// iteration `b ← r − c(b)`. Its variance is that of r and that of c together.
    pub(super) fn restored(mut self, state: &State) -> Self {
        if state.as_built() {
            return self;
        }
        let changes = |input: &Input| {
            let measured = input.origin == Origin::Measured;
            ENTRIES.iter().find(|(path, _)| measured && *path == input.path).map(|(_, changes)| *changes)
        };
        let own: Vec<(usize, Changes)> =
            self.inputs.iter().enumerate().filter_map(|(i, input)| Some((i, changes(input)?))).collect();
        // A sheet that does not hold together anyhow is complained of elsewhere.
        let found = THINNER.iter().find_map(|thinner| self.as_built(state, &own, *thinner));
        for (i, known) in found.unwrap_or_default() {
            if let Some(input) = self.inputs.get_mut(i) {
                let source = format!("read as {} ({state}), and changed to the cell as built", input.text());
                input.restore(known, source);
                self.restored.push(i);
            }
        }
        self
    }

    fn as_built(
        &self,
        state: &State,
        own: &[(usize, Changes)],
        thinner: f64,
    ) -> Option<Vec<(usize, Uncertain)>> {
        let read = self.values();
        let mut built = read.clone();
        for (i, _) in own.iter().filter(|(_, changes)| matches!(changes, Changes::Thickness(..))) {
            *built.get_mut(*i)? *= thinner;
        }
        let mut found = Vec::new();
        for _ in 0..ROUNDS {
            let design: Design = self.design_at(&built).ok()?;
            let balance = Balance::of(&design).ok()?;
            found.clear();
            for (i, changes) in own {
                let change = state.change(*changes, &design, &balance, self.ion)?;
                let (was, u) = (*read.get(*i)?, self.inputs.get(*i)?.known.u());
                let known = Uncertain::standard(
                    was - change.by,
                    (u * u + change.uncertainty() * change.uncertainty()).sqrt(),
                );
                // Where a state changes nothing, what was written stays.
                if change.by != 0.0 || change.uncertainty() > 0.0 {
                    *built.get_mut(*i)? = known.value;
                    found.push((*i, known));
                } else {
                    *built.get_mut(*i)? = was;
                }
            }
        }
        Some(found)
    }

    /// What makes its sheet one of the cell as built.
    pub fn edits_to_as_built(&self) -> Vec<Edit> {
        let entry = |i: &usize| {
            let input = self.inputs.get(*i)?;
            let value = write::number(&input.known, input.unit);
            let to = json!({ "value": value, "from": input.origin, "remark": input.source() });
            Some(Edit::Set { key: input.key.to_string(), to })
        };
        let clear = Edit::Clear { key: STATE.to_owned() };
        std::iter::once(clear).chain(self.restored.iter().filter_map(entry)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::figures::Worked;
    use crate::test_support::{draft, refused, with};
    use approx::assert_relative_eq;
    use serde_json::Value;

    fn measured(text: &str) -> Value {
        json!({ "value": text, "from": "measured" })
    }

    /// What a design predicts for an opened cell, put into its sheet as read in that state, leads back to the design.
    #[test]
    fn there_and_back() {
        let built = draft(&[("anode/swelling", json!("5 %"))]);
        let worked = Worked::at(&built, &built.values()).unwrap();
        let state = State::read("after formation, charged, dried").unwrap();
        let read = |path: &str, unit: f64| {
            let changes = ENTRIES.iter().find(|(other, _)| *other == path).unwrap().1;
            let change =
                state.change(changes, &worked.design, &worked.estimate.balance, built.ion()).unwrap();
            let value = built.inputs().iter().find(|input| input.path == path).unwrap().known.value;
            (value + change.by) / unit
        };
        let entry = |path: &str, unit: f64, name: &str| measured(&format!("{:.12} {name}", read(path, unit)));
        let mut changes = vec![
            ("anode/swelling", json!("5 %")),
            ("readings_state", json!("charged, dried")),
            ("cathode/thickness", entry("cathode.thickness", 1e-6, "µm")),
            ("anode/thickness", entry("anode.thickness", 1e-6, "µm")),
            ("cathode/loading", entry("cathode.loading", 1e-2, "mg/cm2")),
            ("anode/loading", entry("anode.loading", 1e-2, "mg/cm2")),
        ];
        let back = draft(&changes);
        for (was, is) in built.inputs().iter().zip(back.inputs()) {
            assert_relative_eq!(was.known.value, is.known.value, max_relative = 1e-8);
            let restored = is.origin == Origin::Measured;
            assert_eq!(is.known.u() > was.known.u(), restored, "{}", is.path);
            assert_eq!(is.source().is_some_and(|source| source.contains("charged, dried")), restored);
        }
        // Written as a sheet of the cell as built it says the same, once and for all.
        let sheet = Sheet::parse(&with(&changes).to_string()).unwrap();
        let written = Draft::sheet_as_built(&sheet).unwrap();
        assert!(written.readings_state.is_none());
        let again = Draft::read(&written).unwrap();
        for (one, other) in back.inputs().iter().zip(again.inputs()) {
            assert_relative_eq!(one.known.value, other.known.value, max_relative = 1e-12);
            assert_relative_eq!(one.known.u(), other.known.u(), max_relative = 1e-12);
        }
        // A supposition is of the cell as built.
        changes.truncate(2);
        changes.push(("cathode/thickness", json!("51 µm")));
        let supposed = draft(&changes);
        assert_eq!(supposed.edits_to_as_built().len(), 1);
        assert!(
            Draft::sheet_as_built(&Sheet::parse(&with(&changes).to_string()).unwrap())
                .unwrap()
                .readings_state
                .is_none()
        );
    }

    #[test]
    fn what_is_no_state_is_refused_in_its_place() {
        let told = refused(&[("readings_state", json!("after formation, washd"))]);
        assert!(told[0].starts_with("readings_state: found \"washd\""), "{told:?}");
        assert!(told[0].contains("perhaps \"washed\""), "{told:?}");
    }
}
