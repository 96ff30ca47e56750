//! Trials that keep to what was read of a cell, and to what fits into what: see [`roulade_stats::propagation::held`].

use crate::cell::design::Bounds;
use crate::cell::draft::{Draft, Fits};
use crate::cell::evaluator::Evaluator;
use crate::cell::figures::{Definition, Worked, find};
use crate::quantity::problem::Problems;
use roulade_stats::propagation::held;
use roulade_stats::uncertain::Uncertain;

/// Figures of a draft that were read, how its inputs follow them, and what must fit in it.
#[derive(Clone, Debug, Default)]
pub struct Held {
    figures: Vec<&'static Definition>,
    to_figures: Option<held::Held>,
    fits: Fits,
    bounds: Bounds,
}

impl Held {
    /// By what a draft says was read; nothing, where it says nothing.
    ///
    /// # Errors
    /// Figures that nobody knows, by their places in the sheet.
    pub fn of(draft: &Draft) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        let (mut figures, mut u) = (Vec::new(), Vec::new());
        let best = if draft.held().is_empty() { None } else { Worked::at(draft, &draft.values()).ok() };
        for (i, (id, uncertain)) in draft.held().iter().enumerate() {
            match find(id, &format!("correlated.held[{i}]")) {
                // A cell that was edited since then may have no such figure any more.
                Ok(figure) if best.as_ref().is_some_and(|best| (figure.of)(best).is_some()) => {
                    figures.push(figure);
                    u.push(uncertain * figure.unit.in_si());
                }
                Ok(_) => {}
                Err(problem) => problems.push(problem),
            }
        }
        let inputs: Vec<Uncertain> = draft.inputs().iter().map(|input| input.uncertain).collect();
        let mut evaluator = Evaluator::of(draft);
        let to_figures =
            held::Held::of(&inputs, draft.correlation(), &u, |values| at(&figures, &mut evaluator, values));
        problems.or_else_ok(Self { figures, to_figures, fits: draft.fits(), bounds: draft.bounds() })
    }

    /// A draw of a draft's inputs, corrected.
    pub fn hold(&self, evaluator: &mut Evaluator<'_>, drawn: Vec<f64>) -> Vec<f64> {
        let drawn = self.fits.fitted(drawn, |values| evaluator.highest_tab(values));
        match &self.to_figures {
            // A straight line may take an input past an end: it stays there.
            Some(held) => {
                self.bounds.clamped(held.hold(&drawn, |values| at(&self.figures, evaluator, values)))
            }
            None => drawn,
        }
    }

    /// The same for one draw alone.
    pub(crate) fn alone(&self, draft: &Draft, drawn: Vec<f64>) -> Vec<f64> {
        self.hold(&mut Evaluator::of(draft), drawn)
    }
}

fn at(figures: &[&'static Definition], evaluator: &mut Evaluator<'_>, values: &[f64]) -> Option<Vec<f64>> {
    let worked = evaluator.at(values).ok()?;
    figures.iter().map(|figure| (figure.of)(worked)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::draft;
    use serde_json::json;

    #[test]
    fn a_capacity_that_was_read_stays_what_it_was() {
        let section = json!({
            "paths": ["cathode.loading", "cathode.width"], "coefficients": [[-0.999]], "held": ["capacity"], "held_u": [0.02]
        });
        let of = |section: serde_json::Value| {
            draft(&[
                ("cathode/loading", json!("20 ± 1 mg/cm2")),
                ("cathode/width", json!("80 ± 4 mm")),
                ("correlated", section),
            ])
        };
        let draft = of(section);
        let held = Held::of(&draft).unwrap();
        let figures = held.figures.clone();
        let capacity = |values: &[f64]| at(&figures, &mut Evaluator::of(&draft), values).unwrap()[0] / 3600.0;
        let (best, mut drawn) = (draft.values(), draft.values());
        let place = |path: &str| draft.inputs().iter().position(|input| input.path == path).unwrap();
        drawn[place("cathode.loading")] *= 1.04;
        drawn[place("cathode.width")] *= 0.96;
        // What the capacity would be if it were straight.
        let moved = |i: usize, share: f64| {
            let mut values = best.clone();
            values[i] += share * (drawn[i] - best[i]);
            capacity(&values)
        };
        let slope = |path: &str| (moved(place(path), 0.05) - moved(place(path), -0.05)) / 0.1;
        let straight = capacity(&best) + slope("cathode.loading") + slope("cathode.width");
        let kept = held.hold(&mut Evaluator::of(&draft), drawn.clone());
        let off = |values: &[f64]| (capacity(values) - straight).abs();
        assert!(off(&kept) < 0.3 * off(&drawn), "{} {}", off(&kept), off(&drawn));
        let wrong = of(json!({ "paths": [], "coefficients": [], "held": ["capacty"], "held_u": [1] }));
        let diagnostic = Held::of(&wrong).unwrap_err().to_string();
        assert!(
            diagnostic.contains("correlated.held[0]: found \"capacty\"") && diagnostic.contains("capacity"),
            "{diagnostic}"
        );
    }
}
