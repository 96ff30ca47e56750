//! The most probable parameters, by Levenberg and Marquardt's method.
//!
//! Written here because the general crates at hand (`levenberg-marquardt` 0.15) build on another version of nalgebra, know
//! no bounds, and give no state where they end early. After K. Levenberg, Q. Appl. Math. 2 (1944) 164,
//! doi:10.1090/qam/10666, and D. W. Marquardt, J. SIAM 11 (1963) 431, doi:10.1137/0111030; damping as in K. Madsen, H. B.
//! Nielsen, O. Tingleff, Methods for Non-Linear Least Squares Problems, Technical University of Denmark 2004 (from memory).
//! Each step is solved by orthogonal reduction, so that the conditioning is that of the derivatives, not of their square.

use super::given::{Observation, Prior};
use super::linear::Linear;
use super::loss::Loss;
use super::posterior::{Ending, Last, Outcome, outcome};
use super::slope;
use super::step::{UNDAMPED, Walls, reduce, solve};
use super::svd::{Svd, columns_without};
use nalgebra::{DMatrix, DVector};
use thiserror::Error;

/// Steps after which the search is given up.
const ITERATIONS: usize = 500;
/// A cost that can fall by this part only is the lowest.
const LOWEST: f64 = 1e-20;
/// So is a cost that can fall by this much only, whatever it is: a step of 10⁻¹⁰ standard uncertainties.
const NOTHING: f64 = 1e-20;
/// Falls of the cost by less than this part drown in its rounding: there the linear model is trusted instead.
const DROWNS: f64 = 1e-13;
/// Where no step lowers the cost, it is the lowest if the linear model promises less than this part: numeric derivatives
/// promise no better.
const ROUNDING: f64 = 1e-9;
/// Derivatives across a corner are taken over this part of a parameter's uncertainty after the readings.
const ACROSS: f64 = 0.3;
/// Where predictions have corners, a cost that could fall by this much only is the lowest: a tenth of a standard uncertainty.
const SETTLED: f64 = 1e-2;
/// What a parameter is kept from is looked for along this part of a step.
const NEAR: f64 = 1e-3;
/// So many times parameters are held at an edge, for one step.
const EDGES: usize = 8;
/// A step is halved so many times.
const PARTS: usize = 30;
/// A step of which this part is kept is one that the linear model holds for.
const HOLDS: f64 = 0.75;

/// Why there is no fit at all.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum FitError {
    /// A prior is not a number, or its bounds exclude each other.
    #[error(
        "the prior of parameter {parameter} is {prior:?}: wanted a number, an uncertainty of zero or more, and bounds in order"
    )]
    Prior {
        /// Its index.
        parameter: usize,
        /// As it came.
        prior: Prior,
    },
    /// A reading is not a number, or its uncertainty is not above zero.
    #[error("reading {reading} is {observation:?}: wanted a number and an uncertainty above zero")]
    Observation {
        /// Its index.
        reading: usize,
        /// As it came.
        observation: Observation,
    },
    /// The loss has a number that is not above zero.
    #[error("the loss is {0:?}: wanted a number above zero")]
    Loss(Loss),
    /// There is no prediction at the start.
    #[error("nothing is predicted at the start, {at:?}")]
    Start {
        /// The start: the priors' values within their bounds.
        at: Vec<f64>,
    },
    /// There are more or fewer predictions than readings.
    #[error("{found} predictions for {expected} readings")]
    Length {
        /// Readings.
        expected: usize,
        /// Predictions.
        found: usize,
    },
}

/// Parameters, predictions and cost at one place.
#[derive(Clone, Debug)]
struct Point {
    x: Vec<f64>,
    predicted: Vec<f64>,
    cost: f64,
}

impl Point {
    /// Whether the cost falls to another by more than its rounding.
    fn falls(&self, to: &Self) -> bool {
        self.cost - to.cost > 1e-14 * self.cost
    }
}

struct Search<'a, F> {
    priors: &'a [Prior],
    observations: &'a [Observation],
    loss: Loss,
    predict: F,
    /// Parameters not known exactly.
    free: Vec<usize>,
    /// Whether a step since the last one taken led where nothing is predicted.
    refused: bool,
    /// How far each parameter is moved for its derivative, once the predictions were found to have corners.
    coarse: Option<Vec<f64>>,
}

/// Parameters between their priors and the readings: the smallest Σρ((y − h(θ))/u) + Σ((θ − value)/u)², ρ the loss.
///
/// `predict` gives one prediction for each reading, or `None` where there is none: such a step is not taken. A search that
/// does not converge is an outcome that says so.
///
/// # Errors
/// [`FitError`] if the numbers make no sense, or nothing is predicted where the search starts or stands.
///
/// # Example
/// Two scales read 100 ± 1 and 104 ± 3: together 100.4 ± 0.949, with χ² = 1.6.
/// ```
/// use roulade_stats::least_squares::{Loss, Observation, Prior, fit};
/// let readings = [Observation { value: 100.0, u: 1.0 }, Observation { value: 104.0, u: 3.0 }];
/// let fitted = fit(&[Prior::flat(90.0)], &readings, Loss::Normal, |x| Some(vec![x[0], x[0]]))?;
/// assert!((fitted.parameters[0] - 100.4).abs() < 1e-9 && (fitted.u(0) - 0.9f64.sqrt()).abs() < 1e-9);
/// assert!((fitted.chi_square - 1.6).abs() < 1e-9 && fitted.converged);
/// # Ok::<(), roulade_stats::least_squares::fit::FitError>(())
/// ```
pub fn fit(
    priors: &[Prior],
    observations: &[Observation],
    loss: Loss,
    predict: impl FnMut(&[f64]) -> Option<Vec<f64>>,
) -> Result<Outcome, FitError> {
    let start: Vec<f64> = priors.iter().map(|prior| prior.value).collect();
    fit_from(&start, priors, observations, loss, predict)
}

/// The same from another start, for a fit much like one that is done; within bounds, and exact parameters at their values.
///
/// # Errors
/// As [`fit`].
pub fn fit_from(
    start: &[f64],
    priors: &[Prior],
    observations: &[Observation],
    loss: Loss,
    predict: impl FnMut(&[f64]) -> Option<Vec<f64>>,
) -> Result<Outcome, FitError> {
    if let Some((parameter, prior)) = priors.iter().enumerate().find(|(_, p)| !p.is_sound()) {
        return Err(FitError::Prior { parameter, prior: *prior });
    }
    let unsound = |o: &Observation| !(o.value.is_finite() && o.u > 0.0 && o.u.is_finite());
    if let Some((reading, observation)) = observations.iter().enumerate().find(|(_, o)| unsound(o)) {
        return Err(FitError::Observation { reading, observation: *observation });
    }
    if !loss.is_sound() {
        return Err(FitError::Loss(loss));
    }
    let free = priors.iter().enumerate().filter(|(_, p)| !p.is_exact()).map(|(i, _)| i).collect();
    let place = |(i, p): (usize, &Prior)| {
        let at = start.get(i).copied().filter(|at| at.is_finite() && !p.is_exact()).unwrap_or(p.value);
        at.clamp(p.low, p.high)
    };
    let start = priors.iter().enumerate().map(place).collect();
    Search { priors, observations, loss, predict, free, refused: false, coarse: None }.run(start)
}

impl<F: FnMut(&[f64]) -> Option<Vec<f64>>> Search<'_, F> {
    fn run(mut self, start: Vec<f64>) -> Result<Outcome, FitError> {
        let mut point = self.start(start)?;
        let (mut damping, mut growth, mut iterations, mut level) = (1e-3, 2.0, 0, 0);
        let (linear, jacobian, held, ending) = loop {
            let jacobian = self.jacobian(&point);
            let linear = self.linear(&point, &jacobian);
            let walls = self.walls(&point, &linear);
            let reduced = reduce(&linear, self.observations.len());
            let held = walls.pushing();
            let (_, promised) = solve(&reduced, &walls, UNDAMPED);
            if promised <= LOWEST * point.cost + NOTHING {
                break (linear, jacobian, held, Ending::Lowest);
            }
            let next = if iterations < ITERATIONS && level < 4 {
                let next = self.stepped(&point, &reduced, &walls, &mut damping, &mut growth);
                next.or_else(|| self.along_edge(&point, &reduced, walls))
            } else {
                None
            };
            if let Some(next) = next {
                iterations += 1;
                level = if point.falls(&next) { 0 } else { level + 1 };
                self.refused &= level > 0;
                point = next;
                continue;
            }
            let promised = Svd::of(&columns_without(&linear.a, &held)).decrease(&linear.b);
            let lowest = promised <= ROUNDING * point.cost + NOTHING;
            if !lowest && self.coarse.is_none() && iterations < ITERATIONS {
                // The slope beside a corner is not that across it: what counts is how predictions move over the distances
                // that the parameters are uncertain by.
                self.coarse = Some(self.across(&linear));
                (damping, growth, level) = (1e-3, 2.0, 0);
                continue;
            }
            let settled = self.coarse.is_some() && promised <= SETTLED;
            let ending = if lowest || settled {
                Ending::Lowest
            } else if iterations >= ITERATIONS {
                Ending::Iterations(iterations)
            } else if self.refused {
                Ending::Edge
            } else {
                Ending::Stuck
            };
            break (linear, jacobian, held, ending);
        };
        Ok(outcome(Last {
            priors: self.priors,
            observations: self.observations,
            loss: self.loss,
            free: &self.free,
            held: &held,
            parameters: point.x,
            predicted: point.predicted,
            jacobian,
            linear: &linear,
            iterations,
            ending,
        }))
    }

    /// A part of what each parameter is uncertain by, after the readings.
    fn across(&self, linear: &Linear) -> Vec<f64> {
        let parts = Svd::of(&linear.a);
        let mut steps = vec![0.0; self.priors.len()];
        for (row, i) in parts.right.row_iter().zip(&self.free) {
            if let Some(slot) = steps.get_mut(*i) {
                *slot = ACROSS * row.norm();
            }
        }
        steps
    }

    /// The whole step where the linear model holds that far; a damped one otherwise; and a part of the whole where all damped ones
    /// lead out of what is predicted.
    fn stepped(
        &mut self,
        point: &Point,
        reduced: &Linear,
        walls: &Walls,
        damping: &mut f64,
        growth: &mut f64,
    ) -> Option<Point> {
        let (step, _) = solve(reduced, walls, UNDAMPED);
        let whole = self.tried(point, reduced, self.moved(&point.x, &step));
        let whole = whole.filter(|(_, kept)| *kept > HOLDS).map(|(next, _)| next);
        whole.or_else(|| self.descend(point, reduced, walls, damping, growth)).or_else(|| {
            if !self.refused {
                return None;
            }
            let mut parts = std::iter::successors(Some(0.5), |part| Some(0.5 * part)).take(PARTS);
            let next = |part| Some(self.tried(point, reduced, self.moved(&point.x, &(part * &step)))?.0);
            parts.find_map(next).filter(|next| point.falls(next))
        })
    }

    /// A step without the parameters that are kept from theirs where nothing is predicted: at the end of what holds together the
    /// others go on. What they do instead may lead out too, so that these are held as well.
    fn along_edge(&mut self, point: &Point, reduced: &Linear, mut walls: Walls) -> Option<Point> {
        for _ in 0..EDGES {
            let (step, _) = solve(reduced, &walls, UNDAMPED);
            if !(self.refused && self.fence(point, &step, &mut walls)) {
                return None;
            }
            // What damped a step without these walls says nothing of one with them.
            let next = self.stepped(point, reduced, &walls, &mut 1e-3, &mut 2.0);
            if next.is_some() {
                return next;
            }
        }
        None
    }

    /// One more wall for every parameter whose part of a step leads where nothing is predicted; whether there is any.
    fn fence(&mut self, point: &Point, step: &DVector<f64>, walls: &mut Walls) -> bool {
        let (mut x, mut any) = (point.x.clone(), false);
        for ((i, by), (side, _)) in self.free.clone().into_iter().zip(step.iter()).zip(&mut walls.sides) {
            let Some(here) = x.get(i).copied().filter(|_| *by != 0.0) else { continue };
            x.get_mut(i).into_iter().for_each(|at| *at = here + NEAR * by);
            if self.predicted(&x).is_none() {
                x.get_mut(i).into_iter().for_each(|at| *at = here);
                (*side, any) = (by.signum(), true);
            }
        }
        any
    }

    /// Shorter and shorter steps until one lowers the cost about as the linear model says.
    fn descend(
        &mut self,
        point: &Point,
        reduced: &Linear,
        walls: &Walls,
        damping: &mut f64,
        growth: &mut f64,
    ) -> Option<Point> {
        while *damping < 1e20 {
            let (step, _) = solve(reduced, walls, *damping);
            let x = self.moved(&point.x, &step);
            if x == point.x {
                return None;
            }
            if let Some((next, kept)) = self.tried(point, reduced, x)
                && kept > 1e-4
            {
                // A step that leads out but for its rounding is none.
                if self.refused && !point.falls(&next) {
                    break;
                }
                let turn = 2.0 * kept - 1.0;
                *damping = (*damping * (1.0 - turn * turn * turn).clamp(0.1, 2.0)).max(1e-15);
                *growth = 2.0;
                return Some(next);
            }
            *damping *= *growth;
            *growth *= 2.0;
        }
        *damping = 1e-3;
        None
    }

    /// The point at `x`, if it is cheaper, and how much of the fall that the linear model promised was kept.
    fn tried(&mut self, point: &Point, reduced: &Linear, x: Vec<f64>) -> Option<(Point, f64)> {
        let by = |i: &usize| x.get(*i).zip(point.x.get(*i)).map_or(0.0, |(to, from)| to - from);
        let towards = &reduced.a * DVector::from_iterator(self.free.len(), self.free.iter().map(by));
        let promised = towards.dot(&(2.0 * &reduced.b - &towards));
        if promised.is_nan() || promised <= 0.0 {
            return None;
        }
        let Some(next) = self.at(x) else {
            self.refused = true;
            return None;
        };
        let drowns = promised <= DROWNS * point.cost;
        let allowed = if drowns { point.cost * (1.0 + DROWNS) } else { point.cost };
        let kept = if drowns { 1.0 } else { (point.cost - next.cost) / promised };
        (next.cost <= allowed).then_some((next, kept))
    }

    fn start(&mut self, at: Vec<f64>) -> Result<Point, FitError> {
        let found = (self.predict)(&at).ok_or_else(|| FitError::Start { at: at.clone() })?.len();
        if found != self.observations.len() {
            return Err(FitError::Length { expected: self.observations.len(), found });
        }
        self.at(at.clone()).ok_or(FitError::Start { at })
    }

    /// Predictions, all of them finite.
    fn predicted(&mut self, x: &[f64]) -> Option<Vec<f64>> {
        let count = self.observations.len();
        (self.predict)(x).filter(|h| h.len() == count && h.iter().all(|h| h.is_finite()))
    }

    fn at(&mut self, x: Vec<f64>) -> Option<Point> {
        let predicted = self.predicted(&x)?;
        let readings: f64 =
            self.observations.iter().zip(&predicted).map(|(o, h)| self.loss.cost((o.value - h) / o.u)).sum();
        let pulls = self.pulls(&x).map(|(_, z, _)| z * z).sum::<f64>();
        Some(Point { cost: readings + pulls, x, predicted }).filter(|point| point.cost.is_finite())
    }

    /// Of each finite prior: its column, (value − x)/u, and u.
    fn pulls(&self, x: &[f64]) -> impl Iterator<Item = (usize, f64, f64)> {
        self.free.iter().enumerate().filter_map(move |(column, i)| {
            let (prior, x) = self.priors.get(*i).zip(x.get(*i))?;
            prior.u.is_finite().then(|| (column, (prior.value - x) / prior.u, prior.u))
        })
    }

    fn jacobian(&mut self, point: &Point) -> DMatrix<f64> {
        let mut jacobian = DMatrix::zeros(self.observations.len(), self.priors.len());
        let mut x = point.x.clone();
        for i in self.free.clone() {
            let (Some(prior), Some(here)) = (self.priors.get(i).copied(), x.get(i).copied()) else {
                continue;
            };
            let fine = slope::step(here, prior.value, prior.u);
            let coarse = self.coarse.as_ref().and_then(|steps| steps.get(i)).copied();
            let step = coarse.map_or(fine, |coarse| coarse.max(fine));
            let slope = slope::along(here, step, (prior.low, prior.high), &point.predicted, |to| {
                if let Some(slot) = x.get_mut(i) {
                    *slot = to;
                }
                self.predicted(&x)
            });
            if let Some(slot) = x.get_mut(i) {
                *slot = here;
            }
            // A parameter that cannot be moved either way stays where it is.
            if let Some(slope) = slope {
                jacobian.column_mut(i).copy_from_slice(&slope);
            }
        }
        jacobian
    }

    #[allow(clippy::indexing_slicing, reason = "rows are readings, then the pulls counted just before")]
    fn linear(&self, point: &Point, jacobian: &DMatrix<f64>) -> Linear {
        let readings = self.observations.len();
        let pulls: Vec<(usize, f64, f64)> = self.pulls(&point.x).collect();
        let mut a = jacobian.select_columns(&self.free).resize_vertically(readings + pulls.len(), 0.0);
        let mut b = DVector::zeros(a.nrows());
        for (i, (o, h)) in self.observations.iter().zip(&point.predicted).enumerate() {
            let z = (o.value - h) / o.u;
            let root = self.loss.weight(z).sqrt();
            a.row_mut(i).scale_mut(root / o.u);
            b[i] = root * z;
        }
        for (k, (column, z, u)) in pulls.into_iter().enumerate() {
            a[(readings + k, column)] = 1.0 / u;
            b[readings + k] = z;
        }
        Linear { a, b }
    }

    fn moved(&self, x: &[f64], step: &DVector<f64>) -> Vec<f64> {
        let mut moved = x.to_vec();
        for (i, by) in self.free.iter().zip(step.iter()) {
            if let (Some(slot), Some(prior)) = (moved.get_mut(*i), self.priors.get(*i)) {
                *slot = (*slot + by).clamp(prior.low, prior.high);
            }
        }
        moved
    }

    fn walls(&self, point: &Point, linear: &Linear) -> Walls {
        let uphill = linear.a.tr_mul(&linear.b);
        let side = |i: &usize| match (self.priors.get(*i), point.x.get(*i)) {
            (Some(prior), Some(x)) if *x >= prior.high => 1.0,
            (Some(prior), Some(x)) if *x <= prior.low => -1.0,
            _ => 0.0,
        };
        Walls { sides: self.free.iter().map(side).zip(uphill.iter().copied()).collect() }
    }
}

#[cfg(test)]
mod tests;
