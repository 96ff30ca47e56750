//! One claim worked out: many draws of all inputs, first order beside it, each basis and each reading of the digits.

use super::basis::On;
use super::case::{Case, case, draw, plausible};
use super::chance::{self, Strip};
use super::declared::{Claim, Relation, Verdict};
use super::information::{self, Reading};
use super::reach::{self, Reach};
use super::required::{self, Required};
use crate::cell::draft::Draft;
use crate::cell::draft::Input;
use crate::quantity::problem::{Problem, Problems};
use roulade_stats::executor::Executor;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::propagation::deviate::normal_probability as below;

/// Draws for each end of what is within reach.
const CARRIED: u32 = 2_000;

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
    /// Share of the draws that lie below the interval in which it holds.
    pub below: f64,
    /// The same for a normal distribution of the first-order uncertainty.
    pub normal: f64,
    /// The verdict on the draws.
    pub verdict: Verdict,
    /// The interval in which the claim holds.
    pub holds: (f64, f64),
    /// How the draws lie.
    pub strip: Strip,
    /// Draws asked for.
    pub draws: u32,
    /// Those whose cell holds together.
    pub held: u32,
    /// Each way to read the digits.
    pub readings: Vec<ReadAs>,
    /// Each basis.
    pub bases: Vec<OnBasis>,
    /// How far plausible choices of what is left out carry the figure, down and up; `None` where nothing is left out.
    pub reach: Option<[Reach; 2]>,
    /// How many quantities are left out.
    pub left_out: usize,
    /// Whether draws alone would contradict the claim, and a plausible choice of what is left out keeps it open.
    pub within_reach: bool,
    /// What each input alone would have to be, the nearest first.
    pub alone: Vec<Required>,
    /// What reading would settle it, the best first.
    pub settle: Vec<Reading>,
    /// Inputs that were left out of the sheets and drawn from their whole plausible range.
    pub widened: usize,
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
    /// What a sheet leaves out is drawn from its whole plausible range, not from the narrower default of an ordinary
    /// cell: a declared figure is often that of a cell which is not ordinary.
    ///
    /// # Errors
    /// Where the other cell is missing, a cell does not hold together, or no draw does.
    pub fn of(
        claim: Claim,
        cell: Draft,
        other: Option<Draft>,
        (draws, seed): (u32, u64),
        hands: &impl Executor,
    ) -> Result<Self, Problems> {
        let other = match (claim.over, other) {
            (Some(_), None) => {
                return Err(Problem::new(
                    "other",
                    "nothing",
                    "the other cell, since the claim compares with it",
                )
                .into());
            }
            (over, other) => other.filter(|_| over.is_some()),
        };
        let widened = [Some(&cell), other.as_ref()]
            .into_iter()
            .flatten()
            .flat_map(Draft::inputs)
            .filter(|i| plausible(i).is_some())
            .count();
        let case = case(claim, cell, other)?;
        let claim = &case.claim;
        let known = case.known();
        let values: Vec<f64> = known.iter().map(|known| known.value).collect();
        let at_best = case.outputs(&values).map_err(|problems| of_window(problems, claim))?;
        if at_best.iter().any(|value| !value.is_finite()) {
            let found = format!("a cell without a figure of {}", claim.figure.label);
            return Err(Problem::new("claim", found, "a figure that the cell has").into());
        }
        let spread =
            FirstOrder::of(&known, &case.correlation(), &at_best, |values| case.outputs(values).ok());
        let drawn = draw(&case, &known, draws, seed, hands);
        let held = drawn.first().map_or(0, Vec::len);
        let main = case.own;
        let (Some(own), Some(best)) = (drawn.get(main), at_best.get(main).copied()) else {
            return Err(no_draw(draws).into());
        };
        let strip = Strip::of(own).ok_or_else(|| no_draw(draws))?;
        let holds = claim.holds(claim.rounding.half() * claim.unit.in_si());
        let reach = reach::furthest(&case, &known, best, -1.0)
            .and_then(|down| Some([down, reach::furthest(&case, &known, best, 1.0)?]));
        // What is read stays as uncertain as it is, however the rest is chosen.
        let carried = reach
            .as_ref()
            .map(|ends| ends.each_ref().map(|end| draw(&case, &end.known, draws.min(CARRIED), seed, hands)));
        let judged = |output: usize, holds: (f64, f64)| {
            let (below, above) = chance::missed(drawn.get(output).map_or(&[], Vec::as_slice), holds);
            let by_draws = claim.verdict(below, above);
            let towards = usize::from(below > above);
            let there = carried.as_ref().and_then(|ends| ends.get(towards)?.get(output));
            let verdict = match (by_draws, there) {
                (Verdict::Contradicted, Some(there)) => {
                    let (below, above) = chance::missed(there, holds);
                    // Between the two a choice would hit the interval: only the side it comes from can refute it.
                    let (below, above) = if towards == 1 { (below, 0.0) } else { (0.0, above) };
                    match claim.verdict(below, above) {
                        Verdict::Contradicted => Verdict::Contradicted,
                        Verdict::Open | Verdict::Supported => Verdict::Open,
                    }
                }
                _ => by_draws,
            };
            (1.0 - below - above, verdict, by_draws != verdict)
        };
        let (chance, verdict, within_reach) = judged(main, holds);
        let u = spread.u(main);
        let bases = case.bases.iter().zip(&at_best).enumerate().map(|(i, (basis, best))| {
            let (chance, verdict, _) = judged(i, holds);
            OnBasis { on: *basis, best: *best, u: spread.u(i), chance, verdict }
        });
        let as_it_stands = (!claim.rounding.stated && claim.relation != Relation::About).then_some(None);
        let halves = claim.rounding.halves.iter().enumerate().map(|(i, half)| Some((i, *half)));
        let readings = as_it_stands.into_iter().chain(halves).map(|read: Option<(usize, f64)>| {
            let holds = claim.holds(read.map_or(0.0, |(_, half)| half) * claim.unit.in_si());
            let (chance, verdict, _) = judged(main, holds);
            let main = read.is_some_and(|(i, _)| i == claim.rounding.main);
            ReadAs { half: read.map(|(_, half)| half), holds, chance, verdict, main }
        });
        Ok(Self {
            best,
            u,
            chance,
            below: chance::missed(own, holds).0,
            normal: inside(best, u, holds),
            verdict,
            holds,
            strip,
            draws,
            held: u32::try_from(held).unwrap_or(u32::MAX),
            readings: readings.collect(),
            bases: bases.collect(),
            left_out: reach.as_ref().map_or(0, |[down, _]| down.left_out),
            reach,
            within_reach,
            alone: required::each(&case, &known, best, holds),
            settle: information::rank(&case, &known, &spread, main, (best, u), holds),
            widened,
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
    let told = problems.0.into_iter().map(|problem| match claim.window {
        Some(_) if voltage(&problem.place) => Problem { place: "claim".to_owned(), ..problem },
        _ => problem,
    });
    Problems(told.collect())
}

/// Chance that a normal quantity lies within.
fn inside(best: f64, u: f64, (low, high): (f64, f64)) -> f64 {
    if u > 0.0 {
        (below((high - best) / u) - below((low - best) / u)).clamp(0.0, 1.0)
    } else {
        f64::from(u8::from(low <= best && best <= high))
    }
}

fn no_draw(draws: u32) -> Problem {
    Problem::new(
        "sheet",
        format!("fewer than two cells that hold together in {draws} trials"),
        "narrower ranges, or more trials",
    )
}
