//! Several figures of one cell at once, each under its own conditions, at any values of the cell's inputs.

use super::basis::On;
use super::case::{named_volume, without_curves};
use super::declared::Claim;
use crate::cell::design::Bounds;
use crate::cell::draft::Draft;
use crate::cell::evaluator::Evaluator;
use crate::cell::figures::{Definition, definition};
use crate::cell::held::Held;
use crate::quantity::problem::Problems;
use crate::quantity::units::Volume;
use crate::study::effort;
use roulade_stats::executor::Executor;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::propagation::conditioned::Steered;
use roulade_stats::propagation::deviate::Stream;
use roulade_stats::propagation::sample::Sampler;
use roulade_stats::uncertain::Uncertain;

/// What declared figures imply is told of these.
const IMPLIED: [&str; 12] = [
    "capacity",
    "energy",
    "mean_voltage",
    "volumetric",
    "gravimetric",
    "mass",
    "envelope",
    "balance.cathode_areal",
    "cathode.both",
    "balance.n_to_p",
    "resistance",
    "continuous_current",
];

/// Places of mean voltage and envelope volume among those.
pub(super) const VOLTAGE: usize = 2;
pub(super) const ENVELOPE: usize = 6;

/// The figures of several claims on one cell, and those that they imply.
#[derive(Debug)]
pub(super) struct Panel {
    pub(super) cell: Draft,
    pub(super) claims: Vec<Claim>,
    pub(super) implied: Vec<&'static Definition>,
    /// Conditions that claims have in common, as values of inputs, and which claims these are. The first has none.
    conditions: Vec<Conditions>,
    nominal: Volume,
    pub(super) bounds: Bounds,
    /// What was read of the cell.
    held: Held,
    uncertain: Vec<Uncertain>,
    pub(super) best: Vec<f64>,
    pub(super) spread: FirstOrder,
    sampler: Sampler,
    /// Slope of each output with each number behind a draw.
    pub(super) slopes: Vec<Vec<f64>>,
}

/// Values of inputs by their number, and the claims that are stated under them.
type Conditions = (Vec<(usize, f64)>, Vec<usize>);

/// Draws of all outputs.
#[derive(Debug, Default)]
pub(super) struct Trials {
    /// Outputs of one draw after another.
    pub(super) outputs: Vec<Vec<f64>>,
    /// What the straight line gives each claim's figure more than at the best values, by draw.
    pub(super) along: Vec<Vec<f64>>,
    /// How many were thrown for them: some have an input outside what it may be.
    pub(super) thrown: u32,
}

impl Trials {
    /// With more of them.
    pub(super) fn add(&mut self, more: Self) {
        self.outputs.extend(more.outputs);
        self.along.extend(more.along);
        self.thrown += more.thrown;
    }
}

/// Draws of one piece of work.
const PIECE: u32 = 500;

impl Panel {
    /// # Errors
    /// Where the cell does not hold together at its best values under the conditions of a claim.
    pub(super) fn of(claims: Vec<Claim>, cell: Draft) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        problems.0.extend(claims.iter().find_map(|claim| without_curves(claim, &cell)));
        let mut conditions: Vec<Conditions> = vec![(Vec::new(), Vec::new())];
        for (k, claim) in claims.iter().enumerate() {
            let inputs = cell.inputs().iter().enumerate();
            let own: Vec<(usize, f64)> =
                inputs.filter_map(|(i, input)| Some((i, claim.sets(&input.path)?))).collect();
            match conditions.iter_mut().find(|(uncertain, _)| *uncertain == own) {
                Some((_, of)) => of.push(k),
                None => conditions.push((own, vec![k])),
            }
        }
        let uncertain: Vec<Uncertain> = cell.inputs().iter().map(|input| input.uncertain).collect();
        let bounds = cell.bounds();
        let sampler = bounds.sampler(&uncertain, cell.correlation());
        let mut panel = Self {
            nominal: named_volume(&cell),
            implied: IMPLIED.iter().filter_map(|id| definition(id)).collect(),
            claims,
            conditions,
            bounds,
            held: Held::of(&cell).map_err(|problems| problems.within("sheet"))?,
            uncertain,
            best: Vec::new(),
            spread: FirstOrder::of(&[], cell.correlation(), &[], |_| None),
            sampler,
            slopes: Vec::new(),
            cell,
        };
        problems.or_else_ok(())?;
        let values: Vec<f64> = panel.uncertain.iter().map(|uncertain| uncertain.value).collect();
        panel.best = panel
            .outputs(&mut Evaluator::of(&panel.cell), &values)
            .map_err(|problems| problems.within("sheet"))?;
        let mut evaluator = Evaluator::of(&panel.cell);
        panel.spread = FirstOrder::of(&panel.uncertain, panel.cell.correlation(), &panel.best, |values| {
            panel.outputs(&mut evaluator, values).ok()
        });
        panel.slopes = (0..panel.best.len())
            .map(|output| panel.sampler.slopes(|input| panel.spread.contribution(output, input)))
            .collect();
        Ok(panel)
    }

    /// As many trials, of so many that are asked for, as one answer holds: those of the prior, and those that are drawn around
    /// what figures say, `steered` times as many for each figure and for all of them; each under all conditions.
    pub(super) fn trials(&self, asked: u32, steered: f64) -> u32 {
        let times = 1.0 + steered * (self.claims.len() + 1) as f64;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some dozens")]
        let each = (times * self.conditions.len() as f64).ceil() as usize;
        effort::trials(
            asked,
            effort::cells(self.uncertain.len(), self.cell.correlation().inputs().len()),
            each,
        )
    }

    /// Place of an implied figure among the outputs.
    pub(super) fn implied_at(&self, i: usize) -> usize {
        self.claims.len() + i
    }

    /// Figures of all claims, and what they imply, at some values of the inputs.
    fn outputs(&self, evaluator: &mut Evaluator<'_>, values: &[f64]) -> Result<Vec<f64>, Problems> {
        let mut outputs = vec![f64::NAN; self.claims.len() + self.implied.len()];
        let mut set = |at: usize, value: Option<f64>| {
            if let (Some(slot), Some(value)) = (outputs.get_mut(at), value) {
                *slot = value;
            }
        };
        for (i, (conditions, of)) in self.conditions.iter().enumerate() {
            let mut values = values.to_vec();
            for (input, value) in conditions {
                values.get_mut(*input).into_iter().for_each(|slot| *slot = *value);
            }
            let worked = evaluator.at(&values)?;
            for k in of {
                let figure = self.claims.get(*k).and_then(|claim| {
                    let on = On { figure: claim.figure, basis: claim.basis };
                    Some(claim.factor() * on.value(worked, self.nominal)?)
                });
                set(*k, figure);
            }
            if i == 0 {
                for (k, figure) in self.implied.iter().enumerate() {
                    set(self.claims.len() + k, (figure.of)(worked));
                }
            }
        }
        Ok(outputs)
    }

    /// The same for one claim at a draw; `None` where the cell does not hold together.
    pub(super) fn figure(&self, claim: usize, values: &[f64]) -> Option<f64> {
        self.outputs(&mut Evaluator::of(&self.cell), values)
            .ok()?
            .get(claim)
            .copied()
            .filter(|value| value.is_finite())
    }

    /// Inputs as they are known.
    pub(super) fn uncertain(&self) -> &[Uncertain] {
        &self.uncertain
    }

    /// Draws of the prior, or steered ones; the streams of a seed from `first` on are theirs.
    pub(super) fn drawn(
        &self,
        steered: Option<&Steered>,
        draws: u32,
        (seed, first): (u64, u64),
        executor: &impl Executor,
    ) -> Trials {
        let claims = self.claims.len();
        let pieces = executor.each(draws.div_ceil(PIECE) as usize, |piece| {
            let piece = u32::try_from(piece).unwrap_or(u32::MAX);
            let own = PIECE.min(draws - piece * PIECE);
            let mut stream = Stream::of(seed, first + u64::from(piece));
            let mut values = self.sampler.best().to_vec();
            let mut trials = Trials::default();
            let mut evaluator = Evaluator::of(&self.cell);
            for _ in 0..own {
                let most = own * THROWS - trials.thrown;
                let Some(latent) = self.thrown(steered, &mut stream, (&mut values, most), &mut trials.thrown)
                else {
                    // Hardly any cell lies where the figures point: fewer draws tell as much.
                    break;
                };
                let kept = self.held.hold(&mut evaluator, values.clone());
                let Ok(outputs) = self.outputs(&mut evaluator, &kept) else { continue };
                if outputs.iter().take(claims).any(|value| !value.is_finite()) {
                    continue;
                }
                let along = self.slopes.iter().take(claims);
                trials.along.push(along.map(|slopes| dot(slopes, &latent)).collect());
                trials.outputs.push(outputs);
            }
            trials
        });
        let mut all = Trials::default();
        for piece in pieces {
            all.add(piece);
        }
        all
    }
}

/// So many times as often as draws are wanted, on the mean, one is thrown until all inputs are what they may be.
const THROWS: u32 = 20;

impl Panel {
    /// The numbers behind one draw, its inputs in `values`, and the throws counted.
    fn thrown(
        &self,
        steered: Option<&Steered>,
        stream: &mut Stream,
        (values, most): (&mut [f64], u32),
        count: &mut u32,
    ) -> Option<Vec<f64>> {
        (0..most).find_map(|_| {
            *count += 1;
            let latent = match steered {
                Some(steered) => steered.draw(stream),
                None => (0..self.sampler.latent()).map(|_| stream.normal()).collect(),
            };
            self.sampler.at(&latent, values);
            self.bounds.hold(values).then_some(latent)
        })
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
