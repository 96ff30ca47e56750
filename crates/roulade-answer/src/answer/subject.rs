//! Whose figures are drawn: those of one cell, or of two and what lies between them.

use super::change::between;
use super::comparison::words::only_hardware;
use roulade::cell::design::Bounds;
use roulade::cell::draft::Draft;
use roulade::cell::draft::Input;
use roulade::cell::evaluator::Evaluator;
use roulade::cell::figures::{self, Definition, Worked};
use roulade::cell::held::Held;
use roulade::quantity::problem::{Problem, Problems};
use roulade::study::compare::{HardwareChange, Joint, Kinship};
use roulade_stats::propagation::FirstOrder;
use roulade_stats::propagation::sample::{Missing, Sampler};
use roulade_stats::uncertain::{Correlation, Uncertain};
use serde::Serialize;

/// Which cell a figure is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum WhichCell {
    /// The cell, or the first of two.
    First,
    /// The second.
    Second,
    /// Second less first.
    Change,
    /// The first cell with the second's hardware, as much of the freed height coated as there, less the first.
    Hardware,
}

/// One or two drafts and the outputs asked for.
#[derive(Debug)]
pub(super) struct Subject<'a> {
    first: &'a Draft,
    second: Option<Second<'a>>,
    uncertain: Vec<Uncertain>,
    correlation: Correlation,
    bounds: Bounds,
    kept: Held,
    pub(super) outputs: Vec<(&'static Definition, WhichCell)>,
    pub(super) at_best: Vec<f64>,
}

#[derive(Debug)]
struct Second<'a> {
    draft: &'a Draft,
    joint: Joint,
    separate: bool,
    /// Share of the freed height that was chosen, where nothing but hardware differs; see [`super::Comparison`].
    held: Option<f64>,
    bounds: Bounds,
    kept: Held,
}

/// What one piece of work keeps from draw to draw: its own cells, and room for the values of one.
#[derive(Debug)]
pub(super) struct Evaluators<'a> {
    first: Evaluator<'a>,
    second: Option<Evaluator<'a>>,
    room: Vec<f64>,
}

impl<'a> Subject<'a> {
    /// The cell, or both, and the figures asked for by their ids.
    ///
    /// # Errors
    /// Figures nobody knows, at `place`; and where a cell does not hold together at its best values.
    pub(super) fn of(
        first: &'a Draft,
        second: Option<&'a Draft>,
        (place, ids): (&str, &[String]),
        of: &[WhichCell],
    ) -> Result<Self, Problems> {
        let wanted = figures::wanted(ids, place)?;
        let mut subject = Self {
            first,
            second: None,
            uncertain: first.inputs().iter().map(|input| input.uncertain).collect(),
            correlation: first.correlation().clone(),
            bounds: first.bounds(),
            kept: Held::of(first).map_err(|problems| problems.within("sheet"))?,
            outputs: Vec::new(),
            at_best: Vec::new(),
        };
        let best = Worked::at(first, &first.values()).map_err(|problems| problems.within("sheet"))?;
        let Some(draft) = second else {
            let all = wanted.into_iter().map(|figure| (figure, WhichCell::First));
            subject.outputs = all.filter(|(figure, _)| (figure.of)(&best).is_some()).collect();
            subject.at_best = subject.outputs.iter().filter_map(|(figure, _)| (figure.of)(&best)).collect();
            return Ok(subject);
        };
        let other = Worked::at(draft, &draft.values()).map_err(|problems| problems.within("second"))?;
        let kinship = Kinship::of(first, draft);
        let joint = Joint::of(first, draft, kinship);
        let chosen = kinship == Kinship::Derived && only_hardware(first, draft);
        let hardware = HardwareChange::between(&best.design, &other.design);
        let held = hardware.as_ref().filter(|_| chosen).map(|hardware| hardware.share);
        // Where nothing else differs, the whole change is that of the hardware.
        let apart = hardware.as_ref().is_some_and(|hardware| held.is_none() && hardware.is_stated());
        subject.uncertain = joint.uncertain().to_vec();
        subject.correlation = joint.correlation().clone();
        subject.second = Some(Second {
            draft,
            joint,
            separate: kinship == Kinship::Separate,
            held,
            bounds: draft.bounds(),
            kept: Held::of(draft).map_err(|problems| problems.within("second"))?,
        });
        let both = |figure: &&Definition| (figure.of)(&best).is_some() && (figure.of)(&other).is_some();
        let each = wanted.into_iter().filter(both);
        let of: Vec<WhichCell> =
            of.iter().copied().filter(|of| *of != WhichCell::Hardware || apart).collect();
        subject.outputs = each.flat_map(|figure| of.iter().map(move |of| (figure, *of))).collect();
        let mut at_best = vec![0.0; subject.outputs.len()];
        // What holds together is answered; the share that is held was taken from these very designs.
        if subject.at(&mut subject.evaluators(), &subject.best(), &mut at_best).is_err() {
            return Err(Problem::new(
                "second",
                "a cell that is the first with other hardware, and does not hold together so",
                "a second cell whose hardware fits the electrodes of the first",
            )
            .into());
        }
        subject.at_best = at_best;
        Ok(subject)
    }

    /// All inputs, those that both cells share once.
    pub(super) fn uncertain(&self) -> &[Uncertain] {
        &self.uncertain
    }

    /// Which of them move together.
    pub(super) fn correlation(&self) -> &Correlation {
        &self.correlation
    }

    /// Draws all inputs, each within what it may be.
    pub(super) fn sampler(&self) -> Sampler {
        let joint = self.second.as_ref().map(|second| second.joint.bounds(self.first, second.draft));
        joint.as_ref().unwrap_or(&self.bounds).sampler(&self.uncertain, &self.correlation)
    }

    fn best(&self) -> Vec<f64> {
        self.uncertain.iter().map(|uncertain| uncertain.value).collect()
    }

    /// An input, and the name of its cell where that must be said.
    pub(super) fn input(&self, i: usize) -> Option<(&'a Input, Option<&'a str>)> {
        let Some(second) = &self.second else { return Some((self.first.inputs().get(i)?, None)) };
        let (input, shared) = second.joint.input(self.first, second.draft, i)?;
        let whose = if second.joint.is_of_first(i) { self.first } else { second.draft };
        Some((input, (!shared && second.separate).then(|| whose.name())))
    }

    /// The cells.
    pub(super) fn drafts(&self) -> Vec<&'a Draft> {
        std::iter::once(self.first).chain(self.second.as_ref().map(|second| second.draft)).collect()
    }

    /// Names of the cells.
    pub(super) fn cells(&self) -> Vec<String> {
        self.drafts().into_iter().map(|draft| draft.name().to_owned()).collect()
    }

    /// What one piece of work has of its own.
    pub(super) fn evaluators(&self) -> Evaluators<'a> {
        Evaluators {
            first: Evaluator::of(self.first),
            second: self.second.as_ref().map(|second| Evaluator::of(second.draft)),
            room: Vec::new(),
        }
    }

    /// All outputs at some values of the inputs.
    ///
    /// # Errors
    /// Why there are none.
    pub(super) fn at(&self, by: &mut Evaluators<'_>, values: &[f64], out: &mut [f64]) -> Result<(), Missing> {
        self.worked_out(by, values, true, out)
    }

    fn worked_out(
        &self,
        Evaluators { first: of_first, second: of_second, room }: &mut Evaluators<'_>,
        values: &[f64],
        bounded: bool,
        out: &mut [f64],
    ) -> Result<(), Missing> {
        let within = bounded.then_some((&self.bounds, &self.kept));
        let (Some(second), Some(of_second)) = (&self.second, of_second) else {
            let worked = worked((of_first, room), within, values)?;
            for (slot, (figure, _)) in out.iter_mut().zip(&self.outputs) {
                *slot = (figure.of)(worked).ok_or_else(|| apart(figure.id))?;
            }
            return Ok(());
        };
        let (a, b) = second.joint.split(values);
        let first = worked((of_first, room), within, &a)?;
        let mut other = worked((of_second, room), bounded.then_some((&second.bounds, &second.kept)), &b)?;
        let mut with_hardware = None;
        if second.held.is_some() || self.outputs.iter().any(|(_, of)| *of == WhichCell::Hardware) {
            let hardware = HardwareChange::of(&first.design, &other.design).ok_or_else(|| apart("parts"))?;
            let share = second.held.unwrap_or(hardware.share);
            let applied = hardware.apply(&first.design, share).and_then(Worked::of).map_err(first_of)?;
            with_hardware = Some(applied);
            if let (Some(_), Some(applied)) = (second.held, &with_hardware) {
                other = applied;
            }
        }
        for (slot, (figure, of)) in out.iter_mut().zip(&self.outputs) {
            let value = |of: &Worked| (figure.of)(of).ok_or_else(|| apart(figure.id));
            *slot = match of {
                WhichCell::First => value(first)?,
                WhichCell::Second => value(other)?,
                WhichCell::Change => between(value(first)?, value(other)?),
                WhichCell::Hardware => {
                    between(value(first)?, value(with_hardware.as_ref().ok_or_else(|| apart("parts"))?)?)
                }
            };
        }
        Ok(())
    }

    /// To first order.
    pub(super) fn first_order(&self) -> FirstOrder {
        let mut by = self.evaluators();
        FirstOrder::of(&self.uncertain, &self.correlation, &self.at_best, |values| {
            let mut out = vec![0.0; self.outputs.len()];
            // A straight line knows no bounds: an input may leave what it may be.
            self.worked_out(&mut by, values, false, &mut out).ok().map(|()| out)
        })
    }
}

/// A draw within its bounds, and by what was read of the cell; or any values as they are.
fn worked<'e>(
    (evaluator, room): (&'e mut Evaluator<'_>, &mut Vec<f64>),
    drawn: Option<(&Bounds, &Held)>,
    values: &[f64],
) -> Result<&'e Worked, Missing> {
    let Some((bounds, held)) = drawn else { return evaluator.at(values).map_err(first_of) };
    if !bounds.hold(values) {
        return Err(Missing::Impossible);
    }
    room.clear();
    room.extend_from_slice(values);
    *room = held.hold(evaluator, std::mem::take(room));
    if *room != *values && !bounds.hold(room) {
        return Err(Missing::Impossible);
    }
    evaluator.at(room).map_err(first_of)
}

fn first_of(problems: Problems) -> Missing {
    Missing::Apart(problems.0.into_iter().next().map_or(String::new(), |problem| problem.place))
}

fn apart(place: &str) -> Missing {
    Missing::Apart(place.to_owned())
}
