//! What to read next, so that a figure becomes certain soonest.

use crate::cell::draft::Draft;
use crate::cell::figures::{Definition, Worked};
use crate::quantity::problem::{Problem, Problems};
use crate::study::compare::{Joint, Kinship};
use crate::study::readings::instrument::{self, Instrument};
use crate::study::readings::quantity::{Asked, QUANTITIES};
use nalgebra::DMatrix;
use roulade_stats::least_squares::next::{self, Candidate, Gain};
use roulade_stats::uncertain::{Correlation, Uncertain};

use super::found::{SharedError, SharedErrorSource};
use super::gather::flat_edge;
use super::rows::UncertaintySource;

/// How far an input is moved for a derivative, in its standard uncertainties.
const STEP: f64 = 0.1;
/// So many readings are chosen one after another.
const IN_TURN: usize = 6;

/// A reading that could be taken.
#[derive(Clone, Debug)]
pub struct Choice {
    /// 0 of the first cell, 1 of the second.
    pub cell: usize,
    /// What would be read.
    pub asked: Asked,
    /// What would be found, SI.
    pub predicted: f64,
    /// Standard uncertainty of one reading, SI, the scatter between specimens included where it is known.
    pub u: f64,
    /// With which instrument.
    pub instrument: String,
    /// Where its uncertainty comes from.
    pub uncertainty_from: UncertaintySource,
    /// With what its readings share an error.
    shares: Shares,
    /// Standard uncertainty without what the instrument's readings share, SI.
    own: f64,
}

/// What to read next for one figure.
#[derive(Clone, Debug)]
pub struct Next {
    /// The figure, or its difference, second less first, SI.
    pub value: f64,
    /// Its standard uncertainty now, SI.
    pub u: f64,
    /// All readings that could be taken.
    pub choices: Vec<Choice>,
    /// What each alone would do, the best first.
    pub alone: Vec<Gain>,
    /// The best to take one after another.
    pub in_turn: Vec<Gain>,
}

/// With what a reading shares an error.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Shares {
    /// With all of an instrument of the file.
    File(usize),
    /// With all of its quantity and cell, off an ordinary instrument: standard deviation, SI.
    Ordinary(f64),
}

/// What readings that were held against the sheets leave known beside them.
#[derive(Clone, Debug, Default)]
pub struct KnownFromReadings {
    /// Scatter between specimens: of which quantity of which cell, SI.
    pub scatter: Vec<(usize, Asked, f64)>,
    /// Errors that readings share, with the cell they were found with. A further reading with the same instrument has the same
    /// error, so that a repeat does not average it away.
    pub errors: Vec<(usize, SharedError)>,
}

impl KnownFromReadings {
    /// What is left of shared errors, in a covariance where their columns come after so many inputs.
    #[allow(clippy::indexing_slicing, reason = "within the shape that was just made")]
    fn enter(
        &self,
        covariance: &mut DMatrix<f64>,
        columns: &[Column],
        inputs: usize,
        place: impl Fn(usize, &str) -> Option<usize>,
    ) {
        let mut taken = vec![false; columns.len()];
        for (cell, left) in &self.errors {
            let is = |column: &Column| match (&column.of, &left.of) {
                (SharedErrorSource::Ordinary(at), SharedErrorSource::Ordinary(of)) => {
                    column.cell == Some(*cell) && at.alike(of)
                }
                (one, other) => one == other,
            };
            let Some(at) = columns.iter().position(is) else { continue };
            // Found with both cells, each by itself: the first speaks for it.
            if std::mem::replace(&mut taken[at], true) {
                continue;
            }
            let at = inputs + at;
            covariance[(at, at)] = left.u * left.u;
            for (key, coefficient) in &left.with {
                if let Some(i) = place(*cell, key) {
                    covariance[(at, i)] = coefficient * left.u;
                    covariance[(i, at)] = coefficient * left.u;
                }
            }
        }
    }
}

/// Ranks readings for a figure of a cell, or for its difference between two, by the variance that each takes off.
///
/// What is uncertain is what the sheets say is; a reading of an exact entry takes nothing off.
///
/// # Errors
/// Where a cell does not hold together, or has no such figure.
#[allow(clippy::indexing_slicing, reason = "within the shape that was just made")]
pub fn next(
    first: &Draft,
    second: Option<&Draft>,
    figure: &Definition,
    instruments: &[Instrument],
    already: &KnownFromReadings,
) -> Result<Next, Problems> {
    let joint = second.map(|second| Joint::of(first, second, Kinship::of(first, second)));
    let priors: Vec<Uncertain> = match &joint {
        Some(joint) => joint.uncertain().to_vec(),
        None => first.inputs().iter().map(|input| input.uncertain).collect(),
    };
    let correlation = joint.as_ref().map_or(first.correlation(), Joint::correlation);
    let drafts: Vec<&Draft> = std::iter::once(first).chain(second).collect();
    let split = |values: &[f64]| match &joint {
        Some(joint) => {
            let (a, b) = joint.split(values);
            vec![a, b]
        }
        None => vec![values.to_vec()],
    };
    let mut values: Vec<f64> = priors.iter().map(|priors| priors.value).collect();
    let at = |values: &[f64]| -> Result<Vec<(Vec<f64>, Worked)>, Problems> {
        let own = split(values);
        drafts.iter().zip(own).map(|(draft, own)| Ok((own.clone(), Worked::at(draft, &own)?))).collect()
    };
    let best = at(&values)?;
    let choices = choices(&drafts, &best, instruments, &already.scatter);
    let predicted = |cells: &[(Vec<f64>, Worked)]| -> Option<Vec<f64>> {
        let figures: Option<Vec<f64>> = cells.iter().map(|(_, worked)| (figure.of)(worked)).collect();
        let value = match figures?.as_slice() {
            [only] => *only,
            [first, second] => second - first,
            _ => return None,
        };
        let read = choices.iter().map(|choice| {
            let ((own, worked), draft) = (cells.get(choice.cell)?, drafts.get(choice.cell)?);
            choice.asked.predict(draft, own, worked)
        });
        std::iter::once(Some(value)).chain(read).collect()
    };
    let Some(at_best) = predicted(&best) else {
        let found = format!("\"{}\", a figure that this cell does not have", figure.id);
        return Err(Problem::new("figure", found, "a figure that the cell has").into());
    };
    let uncertain: Vec<usize> =
        priors.iter().enumerate().filter(|(_, priors)| priors.u() > 0.0).map(|(i, _)| i).collect();
    let mut contributions = DMatrix::zeros(at_best.len(), uncertain.len());
    for (column, i) in uncertain.iter().enumerate() {
        let (Some(priors), Some(here)) = (priors.get(*i), values.get(*i).copied()) else { continue };
        let mut moved = |by: f64| {
            if let Some(slot) = values.get_mut(*i) {
                *slot = here + by * priors.u();
            }
            let moved = at(&values).ok().and_then(|cells| predicted(&cells));
            if let Some(slot) = values.get_mut(*i) {
                *slot = here;
            }
            moved
        };
        let (up, down) = (moved(STEP), moved(-STEP));
        let (up, down, step) = match (&up, &down) {
            (Some(up), Some(down)) => (up, down, 2.0 * STEP),
            (Some(up), None) => (up, &at_best, STEP),
            (None, Some(down)) => (&at_best, down, STEP),
            (None, None) => continue,
        };
        for (row, (up, down)) in up.iter().zip(down).enumerate() {
            contributions[(row, column)] = (up - down) / step;
        }
    }
    // In units of the inputs' own uncertainties the covariance is the matrix of coefficients.
    let shared = shared(instruments, &choices);
    let mut covariance = coefficients(&uncertain, correlation, shared.len());
    let input = |cell: usize, key: &str| {
        let own = drafts.get(cell)?.inputs().iter().position(|input| input.key == key)?;
        let input = joint.as_ref().map_or(Some(own), |joint| joint.place(cell, own))?;
        uncertain.iter().position(|i| *i == input)
    };
    already.enter(&mut covariance, &shared, uncertain.len(), input);
    let row = |i: usize| contributions.row(i).iter().copied().collect::<Vec<f64>>();
    let of_choice = |(i, choice): (usize, &Choice)| {
        let errors = shared.iter().map(|column| column.moves.get(i).copied().unwrap_or(0.0));
        Candidate { row: row(i + 1).into_iter().chain(errors).collect(), u: choice.own }
    };
    let candidates: Vec<Candidate> = choices.iter().enumerate().map(of_choice).collect();
    let gradient: Vec<f64> = row(0).into_iter().chain(shared.iter().map(|_| 0.0)).collect();
    Ok(Next {
        value: at_best.first().copied().unwrap_or(f64::NAN),
        u: next::variance(&covariance, &gradient).max(0.0).sqrt(),
        alone: next::ranked(&covariance, &gradient, &candidates),
        in_turn: in_turn(&covariance, &gradient, &candidates),
        choices,
    })
}

/// An error that readings share: how far every choice moves with one standard uncertainty of it, as that was beforehand.
struct Column {
    of: SharedErrorSource,
    /// Which cell's readings, of an ordinary instrument.
    cell: Option<usize>,
    moves: Vec<f64>,
}

/// The errors that readings share. An instrument's zero moves all its readings alike, its scale each by its size. They stand
/// beside the design's inputs, as in the fit of readings, so that a second reading with the same instrument is not taken for
/// an independent one; nor is the error left in a difference of two that have it both. What ordinary instruments' readings
/// share is supposed of each quantity and cell by itself, as in the fit.
fn shared(instruments: &[Instrument], choices: &[Choice]) -> Vec<Column> {
    let mut columns = Vec::new();
    for (i, instrument) in instruments.iter().enumerate() {
        let column = |of: SharedErrorSource, moves: &dyn Fn(&Choice) -> f64| {
            let own = |choice: &Choice| if choice.shares == Shares::File(i) { moves(choice) } else { 0.0 };
            Column { of, cell: None, moves: choices.iter().map(own).collect() }
        };
        if instrument.calibration > 0.0 {
            columns.push(column(SharedErrorSource::Zero(i), &|_| instrument.calibration));
        }
        if instrument.relative > 0.0 {
            columns
                .push(column(SharedErrorSource::Scale(i), &|choice| instrument.relative * choice.predicted));
        }
    }
    for (n, choice) in choices.iter().enumerate() {
        if let Shares::Ordinary(u) = choice.shares
            && u > 0.0
        {
            let moves = (0..choices.len()).map(|i| if i == n { u } else { 0.0 }).collect();
            columns.push(Column {
                of: SharedErrorSource::Ordinary(choice.asked.clone()),
                cell: Some(choice.cell),
                moves,
            });
        }
    }
    columns
}

/// The best to take one after another, each once: the same reading again may be rounded to the same step.
fn in_turn(covariance: &DMatrix<f64>, gradient: &[f64], candidates: &[Candidate]) -> Vec<Gain> {
    let (mut covariance, mut turns): (DMatrix<f64>, Vec<Gain>) = (covariance.clone(), Vec::new());
    for _ in 0..IN_TURN {
        let fresh =
            |gain: &Gain| gain.removed > 0.0 && turns.iter().all(|turn| turn.candidate != gain.candidate);
        let Some(best) = next::ranked(&covariance, gradient, candidates).into_iter().find(fresh) else {
            break;
        };
        if let Some(candidate) = candidates.get(best.candidate) {
            covariance = next::after(&covariance, candidate);
        }
        turns.push(best);
    }
    turns
}

/// Coefficients of the uncertain inputs, and of so many shared errors that are independent of all else.
fn coefficients(uncertain: &[usize], correlation: &Correlation, shared: usize) -> DMatrix<f64> {
    let count = uncertain.len() + shared;
    DMatrix::from_fn(count, count, |i, j| match (uncertain.get(i), uncertain.get(j)) {
        (Some(a), Some(b)) => correlation.between(*a, *b),
        _ if i == j => 1.0,
        _ => 0.0,
    })
}

/// Every quantity that a bench could read off the cells.
fn choices(
    drafts: &[&Draft],
    cells: &[(Vec<f64>, Worked)],
    instruments: &[Instrument],
    scattered: &[(usize, Asked, f64)],
) -> Vec<Choice> {
    let mut choices = Vec::new();
    for (cell, (draft, (values, worked))) in drafts.iter().zip(cells).enumerate() {
        let parts = worked.design.blueprint().parts.iter().map(|part| Some(part.label.name.clone()));
        let named = |input: &crate::cell::draft::Input| {
            let (name, what) = input.key.strip_prefix("materials[")?.split_once(']')?;
            what.starts_with(".metals.").then(|| Some(name.to_owned()))
        };
        let mut names: Vec<Option<String>> = parts.chain(draft.inputs().iter().filter_map(named)).collect();
        names.dedup();
        for quantity in QUANTITIES {
            let of: &[Option<String>] = if quantity.key.contains("[]") { &names } else { &[None] };
            for part in of {
                let asked = Asked::proposed(quantity, part.clone(), worked);
                if flat_edge(draft, &asked).is_some() {
                    continue;
                }
                let Some(predicted) = asked.predict(draft, values, worked) else { continue };
                let scatter = scattered
                    .iter()
                    .find(|(at, of, _)| *at == cell && *of == asked)
                    .map_or(0.0, |(_, _, tau)| *tau);
                let found = instruments.iter().enumerate().find(|(_, own)| {
                    instrument::same(&own.name, quantity.typical.instrument)
                        && own.dimension.is_none_or(|dimension| dimension == quantity.unit.dimension())
                });
                let typical = quantity.typical.u(predicted, quantity.unit);
                let (u, own, shares, uncertainty_from) = if let Some((i, found)) = found {
                    (found.u(predicted), found.own(), Shares::File(i), UncertaintySource::Instrument)
                } else {
                    let shared = quantity.typical.shared(predicted, quantity.unit);
                    let own = (typical * typical - shared * shared).max(0.0).sqrt();
                    (typical, own, Shares::Ordinary(shared), UncertaintySource::Typical)
                };
                // What the model is off by is no instrument's, and no second reading averages it away.
                let model: f64 = asked.unsure(draft, worked).iter().map(|u| u * u).sum();
                let [u, own] = [u, own].map(|u| (u * u + scatter * scatter + model).sqrt());
                if u > 0.0 {
                    let instrument = quantity.typical.instrument.to_owned();
                    choices.push(Choice {
                        cell,
                        asked,
                        predicted,
                        u,
                        instrument,
                        uncertainty_from,
                        shares,
                        own,
                    });
                }
            }
        }
    }
    choices
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::readings::quantity::find;
    use approx::assert_relative_eq;

    /// Two lengths x and y, each known to v, are read by one caliper with a zero of ± c and ± r from reading to reading. Their
    /// difference is read without the zero, to 2r² beside 2v², their sum with it twice, to 2r² + 4c². By another caliper the
    /// second reading has a zero of its own.
    #[test]
    fn readings_of_one_instrument_share_its_zero() {
        let (v, c, r) = (0.3_f64, 0.05_f64, 0.01_f64);
        let choice = |shares| Choice {
            cell: 0,
            asked: find("cathode width", None).unwrap(),
            predicted: 60.0,
            u: (c * c + r * r).sqrt(),
            instrument: "caliper".to_owned(),
            uncertainty_from: UncertaintySource::Instrument,
            shares: Shares::File(shares),
            own: r,
        };
        let caliper = Instrument { repeatability: r, calibration: c, ..Instrument::default() };
        let instruments = [caliper.clone(), caliper];
        let after = |shares: usize, gradient: [f64; 2]| {
            let columns = shared(&instruments, &[choice(0), choice(shares)]);
            let covariance = coefficients(&[0, 1], &Correlation::none(), columns.len());
            let row = |i: usize| {
                let own = (0..2).map(|j| if i == j { v } else { 0.0 });
                own.chain(columns.iter().map(|column| column.moves[i])).collect::<Vec<f64>>()
            };
            let candidates = [0, 1].map(|i| Candidate { row: row(i), u: r });
            let gradient: Vec<f64> =
                gradient.iter().map(|g| g * v).chain(columns.iter().map(|_| 0.0)).collect();
            let turns = in_turn(&covariance, &gradient, &candidates);
            assert_eq!(turns.len(), 2);
            turns[1].u
        };
        let both = |prior: f64, read: f64| (1.0 / (1.0 / prior + 1.0 / read)).sqrt();
        let (own, zero, before) = (2.0 * r * r, 2.0 * c * c, 2.0 * v * v);
        assert_relative_eq!(after(0, [1.0, -1.0]), both(before, own), max_relative = 1e-9);
        assert_relative_eq!(after(0, [1.0, 1.0]), both(before, own + 2.0 * zero), max_relative = 1e-9);
        assert_relative_eq!(after(1, [1.0, -1.0]), both(before, own + zero), max_relative = 1e-9);
        assert_relative_eq!(after(1, [1.0, 1.0]), both(before, own + zero), max_relative = 1e-9);
    }

    /// A width known to ± 10 mm beforehand was read once by an ordinary caliper, ± 0.1 mm of which half the variance is shared.
    /// A hundred more readings leave the shared half: √(0.005 + 0.005/101) mm and not 0.1/√101.
    #[test]
    fn a_repeat_does_not_average_away_what_readings_share() {
        let (v, u) = (10.0_f64, 0.1_f64);
        let shared_u = u * 0.5_f64.sqrt();
        let choice = Choice {
            cell: 0,
            asked: find("cathode width", None).unwrap(),
            predicted: 60.0,
            u,
            instrument: "caliper".to_owned(),
            uncertainty_from: UncertaintySource::Typical,
            shares: Shares::Ordinary(shared_u),
            own: shared_u,
        };
        let columns = shared(&[], &[choice]);
        let mut covariance = coefficients(&[0], &Correlation::none(), columns.len());
        let again = Candidate { row: vec![v, columns[0].moves[0]], u: shared_u };
        for _ in 0..101 {
            covariance = next::after(&covariance, &again);
        }
        let left = next::variance(&covariance, &[v, 0.0]).sqrt();
        assert_relative_eq!(left, (0.005_f64 + 0.005 / 101.0).sqrt(), max_relative = 1e-3);
    }

    #[test]
    fn a_scale_moves_readings_by_their_size() {
        let instruments = [Instrument { relative: 1e-3, ..Instrument::default() }];
        let of = |predicted, shares| Choice {
            cell: 0,
            asked: find("cell mass", None).unwrap(),
            predicted,
            u: 1.0,
            instrument: "scale".to_owned(),
            uncertainty_from: UncertaintySource::Instrument,
            shares,
            own: 0.0,
        };
        let (own, other) = (Shares::File(0), Shares::File(1));
        let columns = shared(&instruments, &[of(20.0, own), of(70.0, other), of(70.0, own)]);
        assert_eq!(
            columns.iter().map(|column| column.moves.as_slice()).collect::<Vec<_>>(),
            [[0.02, 0.0, 0.07]]
        );
    }
}
