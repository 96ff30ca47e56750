//! Entries that were read off an opened cell, as they are of the cell as built.

use super::Draft;
use super::opened::OpenedSlots;
use super::read::Input;
use crate::cell::balance::{Balance, Side};
use crate::cell::design::Design;
use crate::cell::state::{Changes, State};
use crate::quantity::problem::Problems;
use crate::sheet::shape::digits;
use crate::sheet::{Edit, Sheet, all_applied, write};
use roulade_stats::uncertain::{Correlation, Origin, Uncertain};
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
    pub(crate) fn sheet_as_built(sheet: &Sheet) -> Result<Cow<'_, Sheet>, Problems> {
        if sheet.readings_state.is_none() {
            return Ok(Cow::Borrowed(sheet));
        }
        let draft = Self::read(sheet)?;
        let mut edits = draft.edits_to_as_built();
        edits.extend(draft.together_as_built(sheet));
        Ok(Cow::Owned(all_applied(sheet, &edits)?))
    }

    /// With the measured entries as they were before formation, opening and washing, of readings taken in a state.
    ///
    /// # Formula
    /// What was read is `r = b + c(b, p)`, b as built and c what the state adds to it ([`State::change`]), p the entries of
    /// `opened`; b is found by iteration `b ← r − c(b, p)`. With `s = ∂b/∂p`, by a step of an uncertainty, its variance is
    /// `u² = u(r)² + Σ s²·u(p)²`, and it moves with each p by the coefficient of correlation `s·u(p)/u`: so do the entries of
    /// another cell that was opened alike, and what they have in common is no difference between the two.
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
        let read = self.values();
        let found = THINNER.iter().find_map(|thinner| self.as_built(state, &own, *thinner, &read));
        let Some((built, left)) = found else { return self };
        let opened: Vec<(usize, f64)> =
            self.opened.iter().flat_map(OpenedSlots::numbers).map(|c| (c, self.u(c))).collect();
        // What each entry as built moves by with an uncertainty of each p.
        let moved: Vec<Vec<f64>> = opened
            .iter()
            .map(|(c, u)| {
                let mut values = read.clone();
                if let Some(slot) = values.get_mut(*c) {
                    *slot += u;
                }
                let other = (*u > 0.0).then(|| self.as_built(state, &own, 1.0, &values)).flatten();
                let by = |i: usize| other.as_ref().and_then(|(other, _)| Some(other.get(i)? - built.get(i)?));
                own.iter().map(|(i, _)| by(*i).unwrap_or(0.0)).collect()
            })
            .collect();
        let mut loadings = Vec::new();
        for (k, ((i, _), left)) in own.iter().zip(&left).enumerate() {
            let (Some(value), Some(was)) = (built.get(*i).copied(), read.get(*i)) else { continue };
            let by: Vec<f64> = moved.iter().map(|moved| moved.get(k).copied().unwrap_or(0.0)).collect();
            let square: f64 = by.iter().map(|by| by * by).sum();
            // Where a state changes nothing, what was written stays.
            #[allow(clippy::float_cmp, reason = "a change of any size is one")]
            if value == *was && square == 0.0 {
                continue;
            }
            let own_u = self.u(*i);
            let u = (own_u * own_u + left * left + square).sqrt();
            if let Some(input) = self.inputs.get_mut(*i) {
                let source = format!("read as {} ({state}), and changed to the cell as built", input.text());
                input.replace(Uncertain::standard(value, u), source);
                self.restored.push(*i);
                loadings.push((*i, by.into_iter().map(|by| by / u).collect()));
            }
        }
        let together = together(&opened, &loadings);
        self.correlation = self.correlation.joined(&together);
        self
    }

    fn u(&self, input: usize) -> f64 {
        self.inputs.get(input).map_or(0.0, |input| input.uncertain.u())
    }

    fn as_built(
        &self,
        state: &State,
        own: &[(usize, Changes)],
        thinner: f64,
        read: &[f64],
    ) -> Option<(Vec<f64>, Vec<f64>)> {
        let mut built = read.to_vec();
        for (i, _) in own.iter().filter(|(_, changes)| matches!(changes, Changes::Thickness(..))) {
            *built.get_mut(*i)? *= thinner;
        }
        let mut left = vec![0.0; own.len()];
        for _ in 0..ROUNDS {
            let design: Design = self.design_at(&built).ok()?;
            let balance = Balance::of(&design).ok()?;
            for ((i, changes), left) in own.iter().zip(&mut left) {
                let change = state.change(*changes, &design, &balance, self.ion)?;
                *built.get_mut(*i)? = *read.get(*i)? - change.by;
                *left = change.uncertainty();
            }
        }
        Some((built, left))
    }

    /// What makes its sheet one of the cell as built.
    pub(crate) fn edits_to_as_built(&self) -> Vec<Edit> {
        let entry = |i: &usize| {
            let input = self.inputs.get(*i)?;
            let value = write::number(&input.uncertain, input.unit);
            let to = json!({ "value": value, "from": input.origin, "remark": input.source() });
            Some(Edit::Set { key: input.key.to_string(), to })
        };
        let clear = Edit::Clear { key: STATE.to_owned() };
        let opened = self.opened.iter().flat_map(OpenedSlots::numbers).filter_map(|c| {
            let input = self.inputs.get(c)?;
            Some(Edit::Set { key: input.key.to_string(), to: json!(input.text()) })
        });
        std::iter::once(clear).chain(opened).chain(self.restored.iter().filter_map(entry)).collect()
    }

    /// What of the sheet moves together, with what the entries as built have in common.
    fn together_as_built(&self, sheet: &Sheet) -> Option<Edit> {
        let said = sheet.correlated.as_ref();
        let paths = said.and_then(|said| said.paths.as_deref()).unwrap_or(&[]);
        let of_sheet =
            |path: &String| self.inputs.iter().position(|input| input.path == *path || input.key == *path);
        let opened = self.opened.iter().flat_map(OpenedSlots::numbers).filter(|c| self.u(*c) > 0.0);
        let mut all: Vec<usize> = paths.iter().filter_map(of_sheet).collect();
        for i in opened.chain(self.restored.iter().copied()) {
            if !all.contains(&i) {
                all.push(i);
            }
        }
        if self.restored.is_empty() || all.len() < 2 {
            return None;
        }
        let row = |(k, i): (usize, &usize)| -> Vec<f64> {
            all.iter().take(k).map(|j| digits(self.correlation.between(*i, *j))).collect()
        };
        let mut section = said.cloned().unwrap_or_default();
        section.paths = Some(all.iter().filter_map(|i| Some(self.inputs.get(*i)?.key.to_string())).collect());
        section.coefficients = Some(all.iter().enumerate().skip(1).map(row).collect());
        // Plain data become JSON.
        Some(Edit::Set { key: "correlated".to_owned(), to: serde_json::to_value(section).ok()? })
    }
}

/// The coefficients of entries as built with what they were changed by, and so with one another: `Σ lᵢ·lⱼ`, l the part that each
/// p has in the uncertainty of each.
fn together(opened: &[(usize, f64)], loadings: &[(usize, Vec<f64>)]) -> Correlation {
    let inputs = opened.iter().enumerate().filter(|(_, (_, u))| *u > 0.0);
    let mut rows: Vec<(usize, Vec<f64>)> = inputs
        .map(|(k, (c, _))| (*c, (0..opened.len()).map(|j| f64::from(u8::from(j == k))).collect()))
        .collect();
    rows.extend(loadings.iter().cloned());
    let between = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let below: Vec<Vec<f64>> = rows
        .iter()
        .enumerate()
        .skip(1)
        .map(|(k, (_, own))| rows.iter().take(k).map(|(_, other)| between(own, other)).collect())
        .collect();
    Correlation::new(rows.iter().map(|(i, _)| *i).collect(), &below).unwrap_or_default()
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
            let value = built.inputs().iter().find(|input| input.path == path).unwrap().uncertain.value;
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
            assert_relative_eq!(was.uncertain.value, is.uncertain.value, max_relative = 1e-8);
            let restored = is.origin == Origin::Measured;
            assert_eq!(is.uncertain.u() > was.uncertain.u(), restored, "{}", is.path);
            assert_eq!(is.source().is_some_and(|source| source.contains("charged, dried")), restored);
        }
        // Written as a sheet of the cell as built it says the same, once and for all.
        let sheet = Sheet::parse(&with(&changes).to_string()).unwrap();
        let written = Draft::sheet_as_built(&sheet).unwrap();
        assert!(written.readings_state.is_none());
        let again = Draft::read(&written).unwrap();
        for (one, other) in back.inputs().iter().zip(again.inputs()) {
            assert_relative_eq!(one.uncertain.value, other.uncertain.value, max_relative = 1e-12);
            assert_relative_eq!(one.uncertain.u(), other.uncertain.u(), max_relative = 1e-12);
        }
        // A supposition is of the cell as built.
        changes.truncate(2);
        changes.push(("cathode/thickness", json!("51 µm")));
        let supposed = draft(&changes);
        assert!(supposed.restored.is_empty());
        assert!(
            Draft::sheet_as_built(&Sheet::parse(&with(&changes).to_string()).unwrap())
                .unwrap()
                .readings_state
                .is_none()
        );
    }

    /// Two cells that were opened alike: what is not known of spring-back is no difference between them.
    #[test]
    fn what_opening_does_to_two_cells_is_one_supposition() {
        use crate::study::compare::{Joint, Kinship};
        let cell = |name: &str, thickness: &str, more: &[(&str, Value)]| {
            let mut changes = vec![
                ("cell", json!(name)),
                ("readings_state", json!("after formation, discharged, washed")),
                ("cathode/thickness", measured(thickness)),
            ];
            changes.extend(more.iter().cloned());
            draft(&changes)
        };
        let u_of_difference = |a: &Draft, b: &Draft| {
            let joint = Joint::of(a, b, Kinship::of(a, b));
            let at = |draft: &Draft, own: bool| {
                (0..joint.uncertain().len()).find(|i| {
                    let (input, _) = joint.input(a, b, *i).unwrap();
                    input.path == "cathode.thickness"
                        && joint.is_of_first(*i) == own
                        && !draft.name().is_empty()
                })
            };
            let (i, j) = (at(a, true).unwrap(), at(b, false).unwrap());
            let (u, w) = (joint.uncertain()[i].u(), joint.uncertain()[j].u());
            ((u * u + w * w - 2.0 * u * w * joint.correlation().between(i, j)).sqrt(), u)
        };
        let (difference, each) =
            u_of_difference(&cell("one", "51.0 ± 0.2 µm", &[]), &cell("other", "53.0 ± 0.2 µm", &[]));
        // 1.5 % of 50 µm each, of which hardly more than the readings' 0.2 µm · √2 is left.
        assert!(each > 0.7e-6 && difference < 0.3e-6, "{each} {difference}");
        // A cell whose spring-back is said to be another is another matter.
        let own = [("opened", json!({ "cathode_spring_back": "3 ± 1.5 %" }))];
        let (apart, _) =
            u_of_difference(&cell("one", "51.0 ± 0.2 µm", &[]), &cell("other", "53.0 ± 0.2 µm", &own));
        assert!(apart > 3.0 * difference, "{apart}");
    }

    #[test]
    fn what_is_no_state_is_refused_in_its_place() {
        let diagnostics = refused(&[("readings_state", json!("after formation, washd"))]);
        assert!(diagnostics[0].starts_with("readings_state: found \"washd\""), "{diagnostics:?}");
        assert!(diagnostics[0].contains("perhaps \"washed\""), "{diagnostics:?}");
    }
}
