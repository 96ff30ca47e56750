//! Predictions that a slope does not follow: how far they are off it over the distances that a fit leaves open.
//!
//! The widest diameter of a jelly roll goes up and down with every turn that the electrodes are longer, and the ends of plies
//! pass whole turns. A fit sees the slope where it stands; a tenth of a turn further that is another. So the design is worked
//! out at draws around the fit, each to either side. What is alike on both sides may be curvature, which readings hold in their
//! place; what changes its sign is a slope that was wrong. Where there is much of that, the fit is made with a straight line
//! through the surroundings, and readings count with as much more as the prediction is off it, as an error that they share.

use super::groups::Group;
use super::model::{Fitted, Model};
use super::straight::Straight;
use nalgebra::{Cholesky, DVector};
use roulade_stats::propagation::deviate::Stream;

/// Draws, each to either side.
const DRAWS: u32 = 40;
/// How far along a draw one goes.
const REACHES: [f64; 4] = [1.0, 0.5, 0.25, 0.125];
/// Less than this part of the variance that a quantity's readings have anyway does not show.
const SHOWS: f64 = 0.02;
/// Nor is less than this part of all that is off the straight line more than its curvature.
const TURNS: f64 = 0.25;
/// What keeps coefficients of correlation apart from singular.
const APART: f64 = 1e-9;

/// The straight line of every quantity that has kinks.
pub(super) fn kinks(model: &Model<'_>, fitted: &Fitted) -> Vec<Option<Straight>> {
    let none = vec![None; model.asked.len()];
    let Some(lines) = lines(model, fitted) else { return none };
    let Some(drawn) = drawn(model, fitted) else { return none };
    let count = f64::max(drawn.len() as f64, 1.0);
    let each = lines.into_iter().enumerate().map(|(asked, line)| {
        let here = line.value;
        // Up and down of each draw, less the way that a line goes there.
        let off = |goes: &dyn Fn(&[f64]) -> f64| -> Vec<[f64; 2]> {
            let one = |(to, found): &(Vec<f64>, Vec<f64>)| {
                found.get(asked).map_or(0.0, |found| found - here) - goes(to)
            };
            drawn.iter().map(|sides| [one(&sides[0]), one(&sides[1])]).collect()
        };
        let mean = |of: &dyn Fn(&[f64; 2]) -> f64, all: &[[f64; 2]]| all.iter().map(of).sum::<f64>() / count;
        let turned = |all: &[[f64; 2]]| mean(&|[up, down]| 0.25 * (up - down) * (up - down), all);
        let squares = |all: &[[f64; 2]]| mean(&|[up, down]| 0.5 * (up * up + down * down), all);
        let secant = off(&|to| line.goes(to));
        let place = model.groups.iter().position(|group| group.asked == asked)?;
        let slopes = fitted.slopes.get(place)?.row(0);
        let tangent = off(&|to| {
            let by = to.iter().zip(&line.at).map(|(to, at)| to - at);
            by.zip(slopes.iter()).map(|(by, slope)| by * slope).sum()
        });
        let reach = |group: &Group| {
            let (zero, scale) = group.sources.first().map_or((0.0, 0.0), |s| model.error(*s, group.origin));
            group.covariance.get((0, 0)).copied().unwrap_or(0.0) + zero * zero + scale * scale
        };
        let own = model.groups.iter().filter(|group| group.asked == asked && !group.is_empty());
        let least = own.map(reach).fold(f64::INFINITY, f64::min);
        let kinked = |all: &[[f64; 2]]| turned(all) > SHOWS * least && turned(all) > TURNS * squares(all);
        if !kinked(&secant) && !kinked(&tangent) {
            return None;
        }
        let middle = mean(&|[up, down]| 0.5 * (up + down), &secant);
        let u = (squares(&secant) - middle * middle).max(0.0).sqrt();
        Some(Straight { value: here + middle, u, ..line })
    });
    each.collect()
}

/// Of every quantity the line through the fit, with its slopes over the uncertainty of each parameter.
fn lines(model: &Model<'_>, fitted: &Fitted) -> Option<Vec<Straight>> {
    let count = model.parameters.count();
    let best = fitted.outcome.parameters.get(..count)?;
    let here = model.designed(&model.parameters.at(best))?;
    let line = |value: &f64| Straight { at: best.to_vec(), value: *value, slopes: vec![0.0; count], u: 0.0 };
    let mut lines: Vec<Straight> = here.iter().map(line).collect();
    let mut to = best.to_vec();
    for (i, prior) in model.parameters.priors().iter().enumerate() {
        let (at, u) = (*best.get(i)?, fitted.outcome.u(i));
        let mut found = |by: f64| {
            let moved = (at + by).clamp(prior.low, prior.high);
            *to.get_mut(i)? = moved;
            let found = model.designed(&model.parameters.at(&to));
            *to.get_mut(i)? = at;
            Some((moved, found?))
        };
        let both = REACHES.iter().find_map(|reach| found(reach * u).zip(found(-reach * u)));
        let Some(((high, up), (low, down))) = both.filter(|(up, down)| up.0 > down.0) else { continue };
        for (line, (up, down)) in lines.iter_mut().zip(up.iter().zip(&down)) {
            *line.slopes.get_mut(i)? = (up - down) / (high - low);
        }
    }
    Some(lines)
}

/// Draws of the fit's parameters, to either side of it, and what is predicted there.
#[allow(clippy::type_complexity, reason = "parameters and predictions, twice")]
fn drawn(model: &Model<'_>, fitted: &Fitted) -> Option<Vec<[(Vec<f64>, Vec<f64>); 2]>> {
    let outcome = &fitted.outcome;
    let count = model.parameters.count();
    let best = outcome.parameters.get(..count)?;
    let mut among = outcome.correlation.view((0, 0), (count, count)).into_owned();
    for i in 0..count {
        *among.get_mut((i, i))? = 1.0 + APART;
    }
    let root = Cholesky::new(among)?.l();
    let priors = model.parameters.priors();
    let mut throw = Stream::of(1, 0);
    let draws = (0..DRAWS).filter_map(|_| {
        let z = &root * DVector::from_fn(count, |_, _| throw.normal());
        let side = |reach: f64| {
            let moved = best.iter().zip(z.iter()).zip(&priors).enumerate();
            let to: Vec<f64> = moved
                .map(|(i, ((at, z), prior))| (at + reach * z * outcome.u(i)).clamp(prior.low, prior.high))
                .collect();
            let found = model.designed(&model.parameters.at(&to))?;
            Some((to, found))
        };
        // A draw that is no cell is halved until it is one.
        let (up, down) = REACHES.iter().find_map(|reach| side(*reach).zip(side(-reach)))?;
        Some([up, down])
    });
    Some(draws.collect())
}
