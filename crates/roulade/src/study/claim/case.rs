//! The cells of a claim, as they are known for it, and its figure at any values of their inputs.

use super::basis::{Basis, On, nominal};
use super::declared::{Claim, ComparedAs};
use crate::cell::design::Bounds;
use crate::cell::draft::{Draft, Input};
use crate::cell::figures::Worked;
use crate::cell::held::Held;
use crate::quantity::problem::{Problem, Problems};
use crate::quantity::units::Volume;
use crate::study::compare::{Joint, Kinship};
use roulade_stats::executor::Executor;
use roulade_stats::order;
use roulade_stats::propagation::deviate::Stream;
use roulade_stats::uncertain::{Correlation, Uncertain};

/// The cells of a claim as they are known for it.
#[derive(Debug)]
pub(super) struct Case {
    pub(super) cell: Draft,
    pub(super) other: Option<(Draft, Joint)>,
    /// Whether the joint list begins with the other cell's inputs.
    pub(super) reversed: bool,
    pub(super) claim: Claim,
    pub(super) bases: Vec<On>,
    /// Which of these the claim is about.
    pub(super) own: usize,
    /// Volume of the size by which each cell is named.
    nominal: [Volume; 2],
    /// What inputs may be that a draw can move beyond it.
    pub(super) bounds: Bounds,
    /// What was read of the cell, and of the other one.
    held: [Held; 2],
}

impl Case {
    /// Inputs as they are known, those of both cells once where they share them.
    pub(super) fn uncertain(&self) -> Vec<Uncertain> {
        match &self.other {
            Some((_, joint)) => joint.uncertain().to_vec(),
            None => self.cell.inputs().iter().map(|input| input.uncertain).collect(),
        }
    }

    /// Which of them move together.
    pub(super) fn correlation(&self) -> Correlation {
        match &self.other {
            Some((_, joint)) => joint.correlation().clone(),
            None => self.cell.correlation().clone(),
        }
    }

    /// An input, and the cell it belongs to where there are two and they do not share it.
    pub(super) fn input(&self, i: usize) -> Option<(&Input, Option<&str>)> {
        let Some((other, joint)) = &self.other else { return Some((self.cell.inputs().get(i)?, None)) };
        let (first, second) = if self.reversed { (other, &self.cell) } else { (&self.cell, other) };
        let (input, shared) = joint.input(first, second, i)?;
        let whose = if joint.is_of_first(i) { first } else { second };
        Some((input, (!shared).then(|| whose.name())))
    }

    /// Outer diameter of the can whose input it is, m; of the first that has it where both do.
    pub(super) fn diameter(&self, i: usize) -> f64 {
        let whose = match &self.other {
            Some((other, joint)) if joint.is_of_first(i) == self.reversed => other,
            _ => &self.cell,
        };
        whose.diameter()
    }

    /// The cell it is about at some values of the inputs, and the other one.
    ///
    /// # Errors
    /// Where a cell does not hold together there.
    pub(super) fn worked(&self, values: &[f64]) -> Result<(Worked, Option<Worked>), Problems> {
        self.worked_by(values, |_, _, values| values)
    }

    fn worked_by(
        &self,
        values: &[f64],
        by: impl Fn(&Held, &Draft, Vec<f64>) -> Vec<f64>,
    ) -> Result<(Worked, Option<Worked>), Problems> {
        let [held, held_other] = &self.held;
        let Some((other, joint)) = &self.other else {
            let own = by(held, &self.cell, values.to_vec());
            return Ok((Worked::at(&self.cell, &own).map_err(|problems| problems.within("sheet"))?, None));
        };
        let (first, second) = joint.split(values);
        let (own, others) = if self.reversed { (second, first) } else { (first, second) };
        let (own, others) = (by(held, &self.cell, own), by(held_other, other, others));
        let own = Worked::at(&self.cell, &own).map_err(|problems| problems.within("sheet"))?;
        let other = Worked::at(other, &others).map_err(|problems| problems.within("other"))?;
        Ok((own, Some(other)))
    }

    /// The figure on each basis at some values of the inputs.
    ///
    /// # Errors
    /// Where a cell does not hold together there.
    pub(super) fn outputs(&self, values: &[f64]) -> Result<Vec<f64>, Problems> {
        Ok(self.on_all(self.worked(values)?))
    }

    fn on_all(&self, (own, other): (Worked, Option<Worked>)) -> Vec<f64> {
        self.bases.iter().map(|on| self.value(*on, &own, other.as_ref())).collect()
    }

    /// The same for a draw; `None` where an input is not what it may be, or the cells do not hold together.
    pub(super) fn drawn(&self, values: &[f64]) -> Option<Vec<f64>> {
        let cells = self.bounds.hold(values).then(|| self.worked_by(values, Held::alone).ok())??;
        let outputs = self.on_all(cells);
        outputs.iter().all(|value| value.is_finite()).then_some(outputs)
    }

    /// The figure on the claim's basis.
    pub(super) fn figure(&self, values: &[f64]) -> Option<f64> {
        let (own, other) = self.worked(values).ok()?;
        let value = self.value(*self.bases.get(self.own)?, &own, other.as_ref());
        value.is_finite().then_some(value)
    }

    /// A figure as it is declared, or its change over another cell.
    pub(super) fn value(&self, on: On, own: &Worked, other: Option<&Worked>) -> f64 {
        let [nominal, others] = self.nominal;
        let of = |w, nominal| on.value(w, nominal).unwrap_or(f64::NAN);
        match (self.claim.over, other) {
            (Some(ComparedAs::Share), Some(other)) => of(own, nominal) / of(other, others) - 1.0,
            (Some(ComparedAs::Difference), Some(other)) => of(own, nominal) - of(other, others),
            _ => self.claim.factor() * of(own, nominal),
        }
    }
}

/// Volume of the size that a cell is named by: its can at the best values, in whole millimetres.
pub(super) fn named_volume(draft: &Draft) -> Volume {
    nominal(&draft.blueprint_at(&draft.values()).can)
}

/// Voltage limits where a sheet has no curves that they could cut.
pub(super) fn without_curves(claim: &Claim, cell: &Draft) -> Option<Problem> {
    (!claim.window.is_none() && cell.inputs().iter().any(|input| input.path == "voltage.nominal")).then(
        || {
            Problem::new(
                "claim.window",
                "voltage limits, where the sheet gives a nominal voltage in place of curves",
                "a sheet that has half-cell curves, or a claim without limits",
            )
        },
    )
}

/// The cells as they are known for a claim.
pub(super) fn case(claim: Claim, cell: Draft, other: Option<Draft>) -> Result<Case, Problems> {
    let limits = |input: &Input| claim.sets(&input.path).map(Uncertain::exact);
    if let Some(problem) = without_curves(&claim, &cell) {
        return Err(problem.into());
    }
    let for_it = |draft: Draft| draft.known_as(limits);
    let cell = for_it(cell);
    let mut reversed = false;
    let other = other.map(for_it).map(|other| {
        // What a sheet was made from comes first, so that what the two have in common is one quantity.
        reversed = cell.made_from() == Some(other.name());
        let (first, second) = if reversed { (&other, &cell) } else { (&cell, &other) };
        let joint = Joint::of(first, second, Kinship::of(first, second));
        (other, joint)
    });
    let mut bases = On::all(claim.figure);
    // Without a sleeve is what the cell is anyhow, unless one counts.
    if claim.basis != Basis::Bare && cell.blueprint_at(&cell.values()).counted_sleeve().is_none() {
        bases.retain(|on| on.basis != Basis::Bare);
    }
    let own = bases.iter().position(|on| on.basis == claim.basis).unwrap_or(0);
    let held = [
        Held::of(&cell).map_err(|problems| problems.within("sheet"))?,
        other
            .as_ref()
            .map_or(Ok(Held::default()), |(other, _)| Held::of(other))
            .map_err(|p| p.within("other"))?,
    ];
    let nominal =
        [named_volume(&cell), other.as_ref().map_or_else(Volume::default, |(other, _)| named_volume(other))];
    let mut case =
        Case { cell, other, reversed, claim, bases, own, nominal, bounds: Bounds::default(), held };
    case.bounds = match &case.other {
        Some((other, joint)) if case.reversed => joint.bounds(other, &case.cell),
        Some((other, joint)) => joint.bounds(&case.cell, other),
        None => case.cell.bounds(),
    };
    Ok(case)
}

/// Draws of one piece of work.
const PIECE: u32 = 500;

/// The figure on each basis at every draw whose cells hold together, sorted.
pub(super) fn draw(
    case: &Case,
    uncertain: &[Uncertain],
    draws: u32,
    seed: u64,
    executor: &impl Executor,
) -> Vec<Vec<f64>> {
    let sampler = case.bounds.sampler(uncertain, &case.correlation());
    let pieces = draws.div_ceil(PIECE);
    let each = executor.each(pieces as usize, |piece| {
        let piece = u32::try_from(piece).unwrap_or(u32::MAX);
        let own = PIECE.min(draws - piece * PIECE);
        // Each piece draws from its own stream, so that it does not matter who does it.
        let mut stream = Stream::of(seed, u64::from(piece));
        let mut values = sampler.best().to_vec();
        let mut outputs = Vec::new();
        for _ in 0..own {
            sampler.draw(&mut stream, &mut values);
            outputs.extend(case.drawn(&values));
        }
        outputs
    });
    let mut drawn = vec![Vec::new(); case.bases.len()];
    for outputs in each.into_iter().flatten() {
        for (column, value) in drawn.iter_mut().zip(outputs) {
            column.push(value);
        }
    }
    for column in &mut drawn {
        order::ascending(column);
    }
    drawn
}
