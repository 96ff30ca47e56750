//! A draft worked out at many values, one after another.

use super::design::{Blueprint, Design};
use super::draft::Draft;
use super::figures::Worked;
use super::population;
use crate::quantity::problem::Problems;

/// A draft that is worked out at many values, each in the room of the one before: none of them allocates, and none counts
/// owners that other threads count too. Each piece of work that others are done beside has its own.
///
/// # Example
/// ```
/// use roulade::{Draft, Sheet, cell::{evaluator::Evaluator, figures::Worked}};
/// let sheet = Sheet::new("a cell").can("21 mm", "70 mm").cathode(&[("NMC811", "")], "22 mg/cm²").anode(&[("graphite", "")]);
/// let draft = Draft::read(&sheet)?;
/// let (mut evaluator, values) = (Evaluator::of(&draft), draft.values());
/// assert_eq!(evaluator.at(&values)?.estimate, Worked::at(&draft, &values)?.estimate);
/// # Ok::<(), roulade::Problems>(())
/// ```
#[derive(Debug)]
pub struct Evaluator<'a> {
    draft: &'a Draft,
    room: Option<Blueprint>,
    last: Option<Worked>,
}

impl<'a> Evaluator<'a> {
    /// For one draft.
    pub fn of(draft: &'a Draft) -> Self {
        Self { draft, room: None, last: None }
    }

    /// The draft.
    pub fn draft(&self) -> &'a Draft {
        self.draft
    }

    /// The draft worked out at some values of its inputs, in their order, SI base units, as [`Worked::at`] does it.
    ///
    /// # Errors
    /// Where the cell does not hold together at those values, or its electrodes do not reach the voltage window.
    pub fn at(&mut self, values: &[f64]) -> Result<&Worked, Problems> {
        let blueprint = self.draft.blueprint_in(self.taken(), values);
        match Design::new(blueprint).and_then(Worked::of) {
            Ok(worked) => Ok(self.last.insert(worked)),
            Err(problems) => Err(self.draft.explained_at(values, problems)),
        }
    }

    /// What the highest tab with its tape stands out by at some values, m; the cell need not hold together.
    pub(crate) fn highest_tab(&mut self, values: &[f64]) -> f64 {
        let blueprint = self.draft.blueprint_in(self.taken(), values);
        population::highest_tab(self.room.insert(blueprint))
    }

    /// The room of the trial before.
    fn taken(&mut self) -> Option<Blueprint> {
        self.room.take().or_else(|| Some(self.last.take()?.design.into_blueprint()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::figures::FIGURES;
    use crate::cell::vary::varied;
    use crate::test_support::{demo, draft};
    use serde_json::json;

    /// Every figure of every trial has the bits that it has alone; so too after a trial that does not hold together.
    #[test]
    fn trials_in_one_room_are_those_of_one_alone() {
        let tabs = draft(&[("current_path/cathode/feed", json!("tabs"))]);
        for draft in [demo("marram a"), demo("marram b"), tabs] {
            // The room of another cell is none.
            let other = demo("marram small");
            let foreign = draft.blueprint_in(Some(other.blueprint_at(&other.values())), &draft.values());
            assert_eq!(foreign.parts.len(), draft.blueprint_at(&draft.values()).parts.len());
            assert_eq!(&*foreign.name, draft.name());
            let (mut evaluator, mut count) = (Evaluator::of(&draft), 0);
            let nothing = vec![0.0; draft.values().len()];
            varied(&draft, 40, 5, |values| {
                let figures = |worked: &Worked| -> Vec<Option<u64>> {
                    FIGURES.iter().map(|figure| (figure.of)(worked).map(f64::to_bits)).collect()
                };
                if let Ok(worked) = Worked::at(&draft, values) {
                    let alone = figures(&worked);
                    assert_eq!(figures(evaluator.at(values).unwrap()), alone);
                    if count % 3 == 0 {
                        assert!(evaluator.at(&nothing).is_err());
                    }
                    if count % 4 == 0 {
                        evaluator.highest_tab(&nothing);
                    }
                    count += 1;
                }
            });
            assert!(count > 20, "{count}");
        }
    }

    /// What no value changes is neither copied nor made anew.
    #[test]
    fn a_trial_keeps_the_room_of_the_one_before() {
        let draft = demo("marram b");
        let mut evaluator = Evaluator::of(&draft);
        let room = |worked: &Worked| {
            let b = worked.design.blueprint();
            (b.parts.as_ptr(), b.cathode.mix.as_ptr(), b.anode.mix.as_ptr(), std::sync::Arc::as_ptr(&b.path))
        };
        let values = draft.values();
        let first = room(evaluator.at(&values).unwrap());
        assert_eq!(room(evaluator.at(&values).unwrap()), first);
        // A cell that somebody keeps stays as it is.
        let kept = evaluator.at(&values).unwrap().clone();
        let mut thicker = values.clone();
        let loading = draft.inputs().iter().position(|input| input.path == "cathode.loading").unwrap();
        thicker[loading] *= 0.99;
        let other = evaluator.at(&thicker).unwrap();
        assert_ne!(room(other), first);
        assert_eq!(kept.estimate, Worked::at(&draft, &values).unwrap().estimate);
    }
}
