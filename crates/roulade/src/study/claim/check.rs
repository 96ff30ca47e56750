//! One claim worked out: many draws of all inputs, first order beside it, each basis and each reading of the digits.

use super::basis::On;
use super::case::{Case, case, draw};
use super::chance::Histogram;
use super::conventions::{self, Convention};
use super::declared::{Claim, Relation, Verdict};
use super::evidence::Evidence;
use super::information::{self, PossibleReading};
use super::nearest::{self, Nearest};
use super::required::{self, Required};
use crate::cell::draft::Draft;
use crate::cell::draft::Input;
use crate::quantity::problem::{Problem, Problems};
use crate::study::effort;
use roulade_stats::executor::Executor;
use roulade_stats::propagation::FirstOrder;

/// A claim with everything that was worked out for it, SI.
#[derive(Debug)]
pub struct Check {
    case: Case,
    /// First-order contributions of all inputs to the figure on each basis, in the order of [`On::all`].
    pub spread: FirstOrder,
    /// Which of these the claim is about.
    pub output: usize,
    /// The figure at the best values, on the claim's basis.
    pub best: f64,
    /// Its standard uncertainty to first order.
    pub u: f64,
    /// Chance that the claim holds, by draws.
    pub chance: f64,
    /// Chance that such a cell would be declared below the interval in which it holds.
    pub below: f64,
    /// Chance that it would be declared above it.
    pub above: f64,
    /// Standard uncertainty with which the figure is declared of such a cell, as a share of it; bounds are about the cell itself.
    pub declared_within: f64,
    /// The same as the chance for a normal distribution of the first-order uncertainty.
    pub normal: f64,
    /// The verdict on the draws.
    pub verdict: Verdict,
    /// The interval in which the claim holds.
    pub holds: (f64, f64),
    /// How the draws lie.
    pub histogram: Histogram,
    /// Draws asked for.
    pub asked: u32,
    /// As many of them as one answer holds.
    pub draws: u32,
    /// Those whose cell holds together.
    pub held: u32,
    /// Each way to read the digits.
    pub readings: Vec<ReadAs>,
    /// Each basis.
    pub bases: Vec<OnBasis>,
    /// Other conventions under which it may have been declared.
    pub conventions: Vec<Convention>,
    /// The most probable design at the edge of the claim; `None` where nothing that is uncertain moves the figure.
    pub nearest: Option<Nearest>,
    /// What each input alone would have to be, the nearest first.
    pub required: Vec<Required>,
    /// What reading would settle it, the best first.
    pub information: Vec<PossibleReading>,
}

/// One way to read the digits of a claim.
#[derive(Clone, Copy, Debug)]
pub struct ReadAs {
    /// How far off the value may be, in its unit; `None` where it is taken as it stands.
    pub half: Option<f64>,
    /// The interval in which the claim then holds, SI.
    pub holds: (f64, f64),
    /// Chance of that.
    pub chance: f64,
    /// What becomes of it.
    pub verdict: Verdict,
    /// Whether this is the reading that decides.
    pub main: bool,
}

/// The same claim on another basis.
#[derive(Clone, Copy, Debug)]
pub struct OnBasis {
    /// Figure and basis.
    pub on: On,
    /// The figure on it at the best values, SI.
    pub best: f64,
    /// Its standard uncertainty to first order.
    pub u: f64,
    /// Chance that the claim holds on it.
    pub chance: f64,
    /// What becomes of it.
    pub verdict: Verdict,
}

impl Check {
    /// Works out a claim over the cell it is about, and the other one where it compares.
    ///
    /// What a sheet leaves out is drawn from the joint prior of the population, by size, purpose and chemistry.
    ///
    /// # Errors
    /// Where the other cell is missing, a cell does not hold together, or no draw does.
    pub fn of(
        claim: Claim,
        cell: Draft,
        other: Option<Draft>,
        (asked, seed): (u32, u64),
        executor: &impl Executor,
    ) -> Result<Self, Problems> {
        let other = match (claim.over, other) {
            (Some(_), None) => {
                return Err(Problem::new(
                    "other",
                    "nothing",
                    "the other cell, with which the claim compares",
                )
                .into());
            }
            (over, other) => other.filter(|_| over.is_some()),
        };
        let case = case(claim, cell, other)?;
        let claim = &case.claim;
        let uncertain = case.uncertain();
        let values: Vec<f64> = uncertain.iter().map(|uncertain| uncertain.value).collect();
        let at_best = case.outputs(&values).map_err(|problems| of_window(problems, claim))?;
        if at_best.iter().any(|value| !value.is_finite()) {
            let found = format!("a cell without a figure of {}", claim.figure.label);
            return Err(Problem::new("claim", found, "a figure that the cell has").into());
        }
        let spread =
            FirstOrder::of(&uncertain, &case.correlation(), &at_best, |values| case.outputs(values).ok());
        let together = case.correlation().inputs().len();
        let draws = effort::trials(asked, effort::cells(uncertain.len(), together), 1);
        let drawn = draw(&case, &uncertain, draws, seed, executor);
        let held = drawn.first().map_or(0, Vec::len);
        let main = case.own;
        let (Some(own), Some(best)) = (drawn.get(main), at_best.get(main).copied()) else {
            return Err(no_draw(draws).into());
        };
        let histogram = Histogram::of(own).ok_or_else(|| no_draw(draws))?;
        let holds = claim.holds(claim.rounding.half() * claim.unit.in_si());
        let evidence = Evidence::of(claim);
        let judged = |output: usize, holds: (f64, f64)| {
            let draws = drawn.get(output).map_or(&[][..], Vec::as_slice);
            let (below, above) = evidence.within(holds).missed_by(draws);
            let chance = claim.chance(below, above);
            (chance, Verdict::of(chance))
        };
        let (chance, verdict) = judged(main, holds);
        let u = spread.u(main);
        let bases = case.bases.iter().zip(&at_best).enumerate().map(|(i, (basis, best))| {
            let (chance, verdict) = judged(i, holds);
            OnBasis { on: *basis, best: *best, u: spread.u(i), chance, verdict }
        });
        let as_it_stands = (!claim.rounding.stated && claim.relation != Relation::About).then_some(None);
        let halves = claim.rounding.halves.iter().enumerate().map(|(i, half)| Some((i, *half)));
        let readings = as_it_stands.into_iter().chain(halves).map(|read: Option<(usize, f64)>| {
            let holds = claim.holds(read.map_or(0.0, |(_, half)| half) * claim.unit.in_si());
            let (chance, verdict) = judged(main, holds);
            let main = read.is_some_and(|(i, _)| i == claim.rounding.main);
            ReadAs { half: read.map(|(_, half)| half), holds, chance, verdict, main }
        });
        let (below, above) = evidence.missed_by(own);
        Ok(Self {
            best,
            u,
            chance,
            below,
            above,
            declared_within: evidence.share,
            normal: evidence.normal(claim, best, u),
            verdict,
            holds,
            histogram,
            asked,
            draws,
            held: u32::try_from(held).unwrap_or(u32::MAX),
            readings: readings.collect(),
            bases: bases.collect(),
            conventions: conventions::each(&case, &values, best, |holds| judged(main, holds), holds),
            nearest: nearest::of(
                |values| case.figure(values),
                (&uncertain, &case.bounds),
                &spread,
                main,
                best,
                holds,
            ),
            required: required::each(&case, &uncertain, best, holds),
            information: information::rank(&case, &uncertain, &spread, main, (best, u), holds),
            case,
            spread,
            output: main,
        })
    }

    /// The claim.
    pub fn claim(&self) -> &Claim {
        &self.case.claim
    }

    /// The cell it is about, as it is known for the claim.
    pub fn cell(&self) -> &Draft {
        &self.case.cell
    }

    /// The cell it compares with.
    pub fn other(&self) -> Option<&Draft> {
        self.case.other.as_ref().map(|(draft, _)| draft)
    }

    /// An input of the spread, and the cell it belongs to where there are two and they do not share it.
    pub fn input(&self, i: usize) -> Option<(&Input, Option<&str>)> {
        self.case.input(i)
    }
}

/// Limits that the electrodes do not reach are the claim's, where it states them.
fn of_window(problems: Problems, claim: &Claim) -> Problems {
    let voltage = |place: &str| {
        place.ends_with("voltage.charge_cut_off") || place.ends_with("voltage.discharge_cut_off")
    };
    let placed = problems.0.into_iter().map(|problem| {
        let own = !claim.window.is_none() && voltage(&problem.place);
        if own { Problem { place: "claim".to_owned(), ..problem } } else { problem }
    });
    Problems(placed.collect())
}

fn no_draw(draws: u32) -> Problem {
    Problem::new(
        "sheet",
        format!("fewer than two cells that hold together in {draws} trials"),
        "narrower ranges, or more trials, so that some cells hold together",
    )
}
