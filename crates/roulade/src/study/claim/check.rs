//! One claim worked out: many draws of all inputs, first order beside it, each basis and each reading of the digits.

use super::chance::{self, Strip};
use super::information::{self, Reading};
use super::reach::{self, Reach};
use super::required::{self, Required};
use super::{Change, Claim, On, Relation, Verdict};
use crate::cell::design::Bounds;
use crate::cell::draft::Draft;
use crate::cell::draft::Input;
use crate::cell::figures::Worked;
use crate::quantity::problem::{Problem, Problems};
use crate::sheet::plausible;
use crate::study::compare::{Joint, Kinship};
use roulade_stats::executor::Executor;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::propagation::deviate::{Stream, normal_probability as below};
use roulade_stats::propagation::sample::Sampler;
use roulade_stats::uncertain::{Correlation, Origin, Uncertain};

/// Draws of one piece of work.
const PIECE: u32 = 500;
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

/// The cells of a claim as they are known for it.
#[derive(Debug)]
pub(super) struct Case {
    pub(super) cell: Draft,
    pub(super) other: Option<(Draft, Joint)>,
    /// Whether the joint list begins with the other cell's inputs.
    reversed: bool,
    claim: Claim,
    bases: Vec<On>,
    /// Which of these the claim is about.
    own: usize,
    /// What inputs may be that a draw can move beyond it.
    bounds: Bounds,
}

impl Case {
    /// Inputs as they are known, those of both cells once where they share them.
    pub(super) fn known(&self) -> Vec<Uncertain> {
        match &self.other {
            Some((_, joint)) => joint.known().to_vec(),
            None => self.cell.inputs().iter().map(|input| input.known).collect(),
        }
    }

    /// Which of them move together.
    fn correlation(&self) -> Correlation {
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

    /// The cell it is about at some values of the inputs, and the other one.
    ///
    /// # Errors
    /// Where a cell does not hold together there.
    pub(super) fn worked(&self, values: &[f64]) -> Result<(Worked, Option<Worked>), Problems> {
        let Some((other, joint)) = &self.other else {
            return Ok((Worked::at(&self.cell, values).map_err(|problems| problems.within("sheet"))?, None));
        };
        let (first, second) = joint.split(values);
        let (own, others) = if self.reversed { (second, first) } else { (first, second) };
        let own = Worked::at(&self.cell, &own).map_err(|problems| problems.within("sheet"))?;
        let other = Worked::at(other, &others).map_err(|problems| problems.within("other"))?;
        Ok((own, Some(other)))
    }

    /// The figure on each basis at some values of the inputs.
    ///
    /// # Errors
    /// Where a cell does not hold together there.
    fn outputs(&self, values: &[f64]) -> Result<Vec<f64>, Problems> {
        let (own, other) = self.worked(values)?;
        Ok(self.bases.iter().map(|on| value(*on, self.claim.over, &own, other.as_ref())).collect())
    }

    /// The same for a draw; `None` where an input is not what it may be, or the cells do not hold together.
    fn drawn(&self, values: &[f64]) -> Option<Vec<f64>> {
        let outputs = self.bounds.hold(values).then(|| self.outputs(values).ok())??;
        outputs.iter().all(|value| value.is_finite()).then_some(outputs)
    }

    /// The figure on the claim's basis.
    pub(super) fn figure(&self, values: &[f64]) -> Option<f64> {
        let (own, other) = self.worked(values).ok()?;
        let value = value(*self.bases.get(self.own)?, self.claim.over, &own, other.as_ref());
        value.is_finite().then_some(value)
    }
}

/// A figure, or its change over another cell.
fn value(on: On, over: Option<Change>, own: &Worked, other: Option<&Worked>) -> f64 {
    let of = |w| on.value(w).unwrap_or(f64::NAN);
    match (over, other) {
        (Some(Change::Share), Some(other)) => of(own) / of(other) - 1.0,
        (Some(Change::Difference), Some(other)) => of(own) - of(other),
        _ => of(own),
    }
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
    let voltage = |place: &str| place.ends_with("voltage.charge_cut_off") || place.ends_with("voltage.discharge_cut_off");
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
        format!("fewer than two cells that hold together among {draws} draws"),
        "narrower ranges, or more draws",
    )
}

/// The plausible range of an input that the sheet leaves out, where it is more than the default says.
fn plausible(input: &Input) -> Option<Uncertain> {
    plausible::stated(&input.path).filter(|_| input.origin == Origin::Default)?;
    let ((low, high), _) = plausible::ends(&input.path)?;
    Some(Uncertain::range(low, high))
}

/// The cells as they are known for a claim.
pub(super) fn case(claim: Claim, cell: Draft, other: Option<Draft>) -> Result<Case, Problems> {
    let limits = |input: &Input| match (claim.window, &*input.path) {
        (Some((low, _)), "voltage.discharge_cut_off") => Some(Uncertain::exact(low)),
        (Some((_, high)), "voltage.charge_cut_off") => Some(Uncertain::exact(high)),
        (_, "current_path.c_rate") => claim.rate.map(Uncertain::exact),
        _ => None,
    };
    if claim.window.is_some() && cell.inputs().iter().any(|input| input.path == "voltage.nominal") {
        return Err(Problem::new(
            "claim.window",
            "voltage limits, where the sheet gives a nominal voltage in place of curves",
            "a sheet with half-cell curves, or a claim without limits",
        )
        .into());
    }
    let for_it = |draft: Draft| draft.known_as(|input| limits(input).or_else(|| plausible(input)));
    let cell = for_it(cell);
    let mut reversed = false;
    let other = other.map(for_it).map(|other| {
        // What a sheet was made from comes first, so that what the two have in common is one quantity.
        reversed = Kinship::of(&other, &cell) == Kinship::Derived;
        let (first, second) = if reversed { (&other, &cell) } else { (&cell, &other) };
        let joint = Joint::of(first, second, Kinship::of(first, second));
        (other, joint)
    });
    let bases = On::all(claim.figure);
    let own = bases.iter().position(|on| on.basis == claim.basis).unwrap_or(0);
    let mut case = Case { cell, other, reversed, claim, bases, own, bounds: Bounds::default() };
    let path = |i| case.input(i).map_or("", |(input, _)| &*input.path);
    case.bounds = Bounds::of(case.known().into_iter().enumerate().map(|(i, known)| (path(i), known)));
    Ok(case)
}

/// The figure on each basis at every draw whose cells hold together, sorted.
pub(super) fn draw(
    case: &Case,
    known: &[Uncertain],
    draws: u32,
    seed: u64,
    hands: &impl Executor,
) -> Vec<Vec<f64>> {
    let sampler = Sampler::new(known, &case.correlation());
    let pieces = draws.div_ceil(PIECE);
    let each = hands.each(pieces as usize, |piece| {
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
        column.sort_by(f64::total_cmp);
    }
    drawn
}
