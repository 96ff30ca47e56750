//! Several declared figures of one cell together: whether they agree with one another, how each stands alone and given all
//! others, and what they imply.
//!
//! Each figure given the others: draws of the joint prior weighted by the likelihood of all other declared figures. Where too
//! few draws remain, more are drawn around what those figures say to first order, and weighted by the exact model all the
//! same ([`conditioned`](roulade_stats::propagation::conditioned)); where even these are too few, first order answers
//! alone, and says so.

use super::consistency::{Agreement, Consistency};
use super::declared::{Claim, Relation, Verdict};
use super::evidence::Evidence;
use super::list::List;
use super::nearest::{self, Nearest};
use super::panel::{ENVELOPE, Panel, Trials, VOLTAGE};
use crate::cell::draft::{Draft, Input};
use crate::cell::figures::Definition;
use crate::quantity::problem::{Problem, Problems};
use nalgebra::{DMatrix, DVector};
use roulade_stats::executor::Executor;
use roulade_stats::propagation::conditioned::{Steered, Weights};
use roulade_stats::propagation::deviate::Stream;

/// Fewest effective draws that answer.
pub const FEWEST: f64 = 50.0;
/// Effective draws beyond which no more are drawn.
const ENOUGH: f64 = 250.0;
/// Draws around what figures say, as shares of all: the second is added where the first leaves fewer than [`FEWEST`].
const STEERED: [f64; 2] = [0.3, 1.2];
/// What is added to the uncertainty of a reading where draws are steered, as a share of the figure's own spread: the
/// straight line is off by about that.
const BENT: f64 = 0.15;

/// Several declared figures worked out.
#[derive(Debug)]
pub struct Together {
    panel: Panel,
    /// The size that is declared beside them.
    pub size: Option<(u32, u32)>,
    /// Whether they agree with one another by arithmetic.
    pub consistency: Consistency,
    /// Each figure, in the order of the claims.
    pub figures: Vec<Declared>,
    /// What they imply together.
    pub implied: Vec<Implied>,
    /// Share of cells whose figures would lie as far out together.
    pub chance: f64,
    /// What becomes of all of them together.
    pub verdict: Verdict,
    /// Draws asked for.
    pub asked: u32,
    /// As many of them as one answer holds.
    pub draws: u32,
    /// Those whose cell holds together.
    pub held: u32,
    /// Place of the figure with the least chance, of those that strain where some do.
    pub weakest: usize,
    /// The most probable design at the edge of that one.
    pub nearest: Option<Nearest>,
}

/// How a figure given others was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// From the draws of the prior, weighted.
    Weighted,
    /// From these and draws around what the others say.
    Steered,
    /// To first order alone: too few draws meet the others.
    FirstOrder,
}

/// A figure, SI, and its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Known {
    /// Its mean.
    pub mean: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

/// A declared figure alone and given all others.
#[derive(Clone, Debug)]
pub struct Declared {
    /// The figure at the best values of all inputs, SI.
    pub at_best: f64,
    /// The figure from what the sheet says alone.
    pub expected: Known,
    /// Chance of the claim from that.
    pub chance: f64,
    /// What becomes of it.
    pub verdict: Verdict,
    /// The figure given the others.
    pub given: Known,
    /// Chance of the claim from that.
    pub given_chance: f64,
    /// What becomes of it.
    pub given_verdict: Verdict,
    /// Effective draws behind it.
    pub effective: f64,
    /// How it was found.
    pub way: Way,
}

/// A figure that follows.
#[derive(Clone, Copy, Debug)]
pub struct Implied {
    /// Which.
    pub figure: &'static Definition,
    /// From what the sheet says alone.
    pub before: Known,
    /// Given all declared figures.
    pub after: Known,
}

/// Draws with their weights given some declared figures.
struct Given<'a> {
    steered: Option<&'a Steered>,
    trials: [&'a Trials; 2],
    weights: Weights,
    way: Way,
}

impl Together {
    /// Works out a list of at least two claims over a cell.
    ///
    /// # Errors
    /// Where the size is not the cell's, the cell does not hold together, or hardly a draw does.
    pub fn of(
        list: &List,
        cell: Draft,
        (asked, seed): (u32, u64),
        executor: &impl Executor,
    ) -> Result<Self, Problems> {
        if let Some(problem) = list.other_size(&cell) {
            return Err(problem.into());
        }
        let size = list.size;
        let panel = Panel::of(list.claims.clone(), cell)?;
        for (claim, best) in panel.claims.iter().zip(&panel.best) {
            if !best.is_finite() {
                let found = format!("a cell without a figure of {}", claim.figure.label);
                return Err(Problem::new("claim", found, "a figure that the cell has").into());
            }
        }
        let evidence: Vec<Evidence> = panel.claims.iter().map(Evidence::of).collect();
        let draws = panel.trials(asked, STEERED.iter().sum());
        let prior = panel.drawn(None, draws, (seed, 0), executor);
        let held = prior.outputs.len();
        if held < 2 {
            let found = format!("fewer than two cells that hold together in {draws} trials");
            return Err(Problem::new(
                "sheet",
                found,
                "narrower ranges, or more trials, so that some cells hold together",
            )
            .into());
        }
        let study =
            Study { panel: &panel, evidence: &evidence, prior: &prior, plan: (draws, seed), executor };
        let figures: Vec<Declared> = (0..panel.claims.len()).filter_map(|i| study.figure(i)).collect();
        let implied = study.implied();
        let stand = |at: usize| {
            let output = panel.implied_at(at);
            (panel.best.get(output).copied().unwrap_or(f64::NAN), panel.spread.u(output))
        };
        let consistency = Consistency::of(list, stand(VOLTAGE), stand(ENVELOPE));
        let chance = study.as_far_out(seed);
        let verdict = match (consistency.agreement, Verdict::of(chance)) {
            (Agreement::Disagree, _) => Verdict::Contradicted,
            (Agreement::Strained, Verdict::Supported | Verdict::Likely | Verdict::Open) => Verdict::Unlikely,
            (_, verdict) => verdict,
        };
        let weak = |i: &usize| figures.get(*i).map_or(1.0, |one| one.chance.min(one.given_chance));
        let all: Vec<usize> = (0..figures.len()).collect();
        let of = if consistency.strains.is_empty() { &all } else { &consistency.strains };
        let weakest = of.iter().copied().min_by(|a, b| weak(a).total_cmp(&weak(b))).unwrap_or(0);
        let nearest = panel.claims.get(weakest).and_then(|claim| {
            let best = *panel.best.get(weakest)?;
            let holds = claim.holds(claim.rounding.half() * claim.unit.in_si());
            let figure = |values: &[f64]| panel.figure(weakest, values);
            nearest::of(figure, (panel.uncertain(), &panel.bounds), &panel.spread, weakest, best, holds)
        });
        Ok(Self {
            size,
            consistency,
            figures,
            implied,
            chance,
            verdict,
            asked,
            draws,
            held: u32::try_from(held).unwrap_or(u32::MAX),
            weakest,
            nearest,
            panel,
        })
    }

    /// The claims.
    pub fn claims(&self) -> &[Claim] {
        &self.panel.claims
    }

    /// The cell they are about.
    pub fn cell(&self) -> &Draft {
        &self.panel.cell
    }

    /// An input of the cell, as [`Nearest`] counts them.
    pub fn input(&self, i: usize) -> Option<&Input> {
        self.panel.cell.inputs().get(i)
    }

    /// First-order contributions of all inputs to each claim's figure.
    pub fn spread(&self) -> &roulade_stats::propagation::FirstOrder {
        &self.panel.spread
    }
}

/// Draws around what some figures say.
struct More {
    steered: Steered,
    /// The figures that steer.
    read: Vec<usize>,
    trials: Trials,
}

pub(super) struct Study<'a, H> {
    pub(super) panel: &'a Panel,
    pub(super) evidence: &'a [Evidence],
    pub(super) prior: &'a Trials,
    pub(super) plan: (u32, u64),
    pub(super) executor: &'a H,
}

impl<H: Executor> Study<'_, H> {
    /// One figure alone and given the others.
    pub(super) fn figure(&self, i: usize) -> Option<Declared> {
        let (claim, evidence) = (self.panel.claims.get(i)?, self.evidence.get(i)?);
        let prior = Given {
            steered: None,
            trials: [self.prior, &Trials::default()],
            weights: Weights::of(vec![1.0; self.prior.outputs.len()]),
            way: Way::Weighted,
        };
        let others: Vec<usize> = (0..self.evidence.len()).filter(|k| *k != i).collect();
        let more = self.more(&others, i as u64 + 1);
        let given = self.given(&others, more.as_ref());
        let (expected, alone) = (prior.uncertain(i), prior.chance(i, claim, evidence));
        let (uncertain, chance) = match (given.way, given.steered) {
            (Way::FirstOrder, Some(steered)) => {
                let uncertain = self.to_first_order(steered, i)?;
                (uncertain, evidence.normal(claim, uncertain.mean, uncertain.u))
            }
            _ => (given.uncertain(i), given.chance(i, claim, evidence)),
        };
        Some(Declared {
            at_best: *self.panel.best.get(i)?,
            expected,
            chance: alone,
            verdict: Verdict::of(alone),
            given: uncertain,
            given_chance: chance,
            given_verdict: Verdict::of(chance),
            effective: given.weights.effective,
            way: given.way,
        })
    }

    /// What all declared figures imply.
    fn implied(&self) -> Vec<Implied> {
        let all: Vec<usize> = (0..self.evidence.len()).collect();
        let more = self.more(&all, 0);
        let given = self.given(&all, more.as_ref());
        let each = self.panel.implied.iter().enumerate().filter_map(|(k, figure)| {
            let output = self.panel.implied_at(k);
            let before = Known { mean: *self.panel.best.get(output)?, u: self.panel.spread.u(output) };
            let after = match (given.way, given.steered) {
                (Way::FirstOrder, Some(steered)) => self.to_first_order(steered, output)?,
                _ => given.uncertain(output),
            };
            (before.mean.is_finite() && after.mean.is_finite()).then_some(Implied { figure, before, after })
        });
        each.collect()
    }

    fn to_first_order(&self, steered: &Steered, output: usize) -> Option<Known> {
        let (moves, u) = steered.leaves(self.panel.slopes.get(output)?);
        Some(Known { mean: self.panel.best.get(output)? + moves, u })
    }

    /// Likelihood of some declared figures at a draw.
    fn likelihood(&self, of: &[usize], outputs: &[f64]) -> f64 {
        let each = of.iter().filter_map(|k| Some(self.evidence.get(*k)?.likelihood(*outputs.get(*k)?)));
        each.product()
    }

    fn steered(&self, of: &[usize]) -> Option<(Steered, Vec<usize>)> {
        let (mut slopes, mut miss, mut sigma, mut read) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        for k in of {
            let (Some(evidence), Some(best), Some(own)) =
                (self.evidence.get(*k), self.panel.best.get(*k), self.panel.slopes.get(*k))
            else {
                continue;
            };
            if let Some((value, u)) = evidence.reading(*best) {
                let bent = BENT * self.panel.spread.u(*k);
                slopes.push(own.clone());
                miss.push(value - best);
                sigma.push((u * u + bent * bent).sqrt());
                read.push(*k);
            }
        }
        Some((Steered::of(&slopes, &miss, &sigma)?, read))
    }

    /// Draws around what some figures say, where those of the prior do not suffice.
    fn more(&self, of: &[usize], number: u64) -> Option<More> {
        let weights = Weights::of(self.prior.outputs.iter().map(|out| self.likelihood(of, out)).collect());
        if weights.effective >= ENOUGH {
            return None;
        }
        let (steered, read) = self.steered(of)?;
        let (draws, seed) = self.plan;
        let mut more = More { steered, read, trials: Trials::default() };
        // Streams of their own, beyond those of the prior.
        let first = (number + 1) << 32;
        for (share, first) in STEERED.into_iter().zip([first, first + (1 << 31)]) {
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of a count")]
            let own = (share * f64::from(draws)).ceil() as u32;
            more.trials.add(self.panel.drawn(Some(&more.steered), own, (seed, first), self.executor));
            if self.weights(of, &more).effective >= FEWEST {
                break;
            }
        }
        Some(more)
    }

    /// Weights of all draws given some declared figures.
    fn weights(&self, of: &[usize], more: &More) -> Weights {
        // As many of each kind as were thrown, whether they are what they may be and hold together or not: the prior is the
        // same cut of both.
        let (prior, other) = (f64::from(self.prior.thrown), f64::from(more.trials.thrown));
        let weigh = |(out, along): (&Vec<f64>, &Vec<f64>)| {
            let along: Vec<f64> = more.read.iter().filter_map(|k| along.get(*k).copied()).collect();
            self.likelihood(of, out) / (prior + other * more.steered.density(&along))
        };
        let both = [self.prior, &more.trials].into_iter();
        Weights::of(both.flat_map(|t| t.outputs.iter().zip(&t.along)).map(weigh).collect())
    }

    /// All draws weighted by some declared figures.
    fn given<'b>(&'b self, of: &[usize], more: Option<&'b More>) -> Given<'b> {
        const NONE: &Trials = &Trials { outputs: Vec::new(), along: Vec::new(), thrown: 0 };
        let Some(more) = more else {
            let each = self.prior.outputs.iter().map(|out| self.likelihood(of, out)).collect();
            let weights = Weights::of(each);
            return Given { steered: None, trials: [self.prior, NONE], weights, way: Way::Weighted };
        };
        let weights = self.weights(of, more);
        let way = if weights.effective < FEWEST { Way::FirstOrder } else { Way::Steered };
        Given { steered: Some(&more.steered), trials: [self.prior, &more.trials], weights, way }
    }

    /// Share of cells whose declared figures would lie at least as far from the middle of all of them together, by the
    /// distance of Mahalanobis (Proc. Natl. Inst. Sci. India 2 (1936) 49, from memory), the declarations drawn with their own
    /// uncertainty. A bound that an ordinary cell meets does not count, and one that it misses counts as a value at its edge.
    fn as_far_out(&self, seed: u64) -> f64 {
        let read: Vec<(usize, f64, f64)> = self
            .evidence
            .iter()
            .enumerate()
            .filter_map(|(k, evidence)| {
                let mean = mean(self.prior.outputs.iter().filter_map(|out| out.get(k).copied()));
                evidence.reading(mean).map(|(value, u)| (k, value, u))
            })
            .collect();
        let count = read.len();
        if count == 0 {
            return 1.0;
        }
        let mut stream = Stream::of(seed, 1 << 31);
        let said: Vec<DVector<f64>> = self
            .prior
            .outputs
            .iter()
            .map(|out| {
                let each =
                    read.iter().map(|(k, _, u)| out.get(*k).copied().unwrap_or(0.0) + u * stream.normal());
                DVector::from_iterator(count, each)
            })
            .collect();
        let n = said.len() as f64;
        let middle = said.iter().fold(DVector::zeros(count), |sum, one| sum + one) / n;
        let covariance = said.iter().fold(DMatrix::zeros(count, count), |sum, one| {
            let off = one - &middle;
            sum + &off * off.transpose()
        }) / (n - 1.0);
        let Some(factor) = covariance.cholesky() else { return 0.0 };
        let lower = factor.l();
        let distance = |one: &DVector<f64>| {
            lower.solve_lower_triangular(&(one - &middle)).map_or(f64::INFINITY, |z| z.norm_squared())
        };
        let declared = distance(&DVector::from_iterator(count, read.iter().map(|(_, value, _)| *value)));
        let further = said.iter().filter(|one| distance(one) >= declared).count() as f64 / n;
        // One bound alone is missed on one side only.
        let one_sided = |k: usize| self.panel.claims.get(k).is_some_and(|c| c.relation != Relation::About);
        match read.as_slice() {
            [(k, ..)] if one_sided(*k) => 0.5 * further,
            _ => further,
        }
    }
}

fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = values.fold((0.0, 0_u32), |(sum, count), value| (sum + value, count + 1));
    sum / f64::from(count)
}

impl Given<'_> {
    fn of(&self, output: usize) -> impl Iterator<Item = f64> {
        self.trials
            .iter()
            .flat_map(|trials| &trials.outputs)
            .map(move |out| out.get(output).copied().unwrap_or(0.0))
    }

    fn uncertain(&self, output: usize) -> Known {
        let mean = self.weights.mean(self.of(output));
        let variance = self.weights.mean(self.of(output).map(|value| (value - mean) * (value - mean)));
        Known { mean, u: variance.max(0.0).sqrt() }
    }

    fn chance(&self, output: usize, claim: &Claim, evidence: &Evidence) -> f64 {
        let missed = |end: fn((f64, f64)) -> f64| {
            self.weights.mean(self.of(output).map(|value| end(evidence.missed(value))))
        };
        claim.chance(missed(|ends| ends.0), missed(|ends| ends.1)).clamp(0.0, 1.0)
    }
}
