//! Predictions that a slope does not follow: how far they are off it over the distances that a fit leaves open.
//!
//! The widest diameter of a jelly roll goes up and down with every turn that the electrodes are longer, and the ends of plies
//! pass whole turns. A fit sees the slope where it stands; a tenth of a turn further that is another. So the design is worked
//! out at draws around the fit, each to either side. What is alike on both sides may be curvature, which readings hold in their
//! place; what changes its sign is a slope that was wrong. Where there is any of that, a quantity's readings count with as
//! much more as its prediction is off the straight line, as an error that they all share.

use super::model::{Fitted, Model};
use nalgebra::{Cholesky, DVector};
use roulade_stats::propagation::deviate::Stream;

/// Draws, each to either side.
const DRAWS: u32 = 40;
/// How far along a draw one goes.
const REACHES: [f64; 4] = [1.0, 0.5, 0.25, 0.125];
/// Less than this part of the variance that a quantity's readings have anyway does not show.
const SHOWS: f64 = 0.02;
/// What keeps coefficients of correlation apart from singular.
const APART: f64 = 1e-9;

/// Standard deviation of every quantity's prediction about the straight line of a fit, SI; zero where it does not show.
pub(super) fn kinks(model: &Model<'_>, fitted: &Fitted) -> Vec<f64> {
    let none = vec![0.0; model.asked.len()];
    let outcome = &fitted.outcome;
    let count = model.parameters.count();
    let Some(best) = outcome.parameters.get(..count) else { return none };
    let Some(here) = model.designed(&model.parameters.at(best)) else { return none };
    let mut among = outcome.correlation.view((0, 0), (count, count)).into_owned();
    for i in 0..count {
        if let Some(slot) = among.get_mut((i, i)) {
            *slot = 1.0 + APART;
        }
    }
    let Some(root) = Cholesky::new(among).map(|root| root.l()) else { return none };
    let priors = model.parameters.priors();
    let mut throw = Stream::of(1, 0);
    let (mut turned, mut all, mut drawn) = (none.clone(), none.clone(), 0.0);
    for _ in 0..DRAWS {
        let z = &root * DVector::from_fn(count, |_, _| throw.normal());
        let departs = |side: f64| {
            let moved = best.iter().zip(z.iter()).zip(&priors).enumerate();
            let to: Vec<f64> = moved
                .map(|(i, ((at, z), prior))| (at + side * z * outcome.u(i)).clamp(prior.low, prior.high))
                .collect();
            let found = model.designed(&model.parameters.at(&to))?;
            let by = DVector::from_iterator(count, to.iter().zip(best).map(|(to, at)| to - at));
            let straight = |asked: usize| {
                let group = model.groups.iter().position(|group| group.asked == asked)?;
                Some(fitted.slopes.get(group)?.row(0).columns(0, count).transpose().dot(&by))
            };
            let each = found.iter().zip(&here).enumerate();
            Some(each.map(|(asked, (to, at))| to - at - straight(asked).unwrap_or(0.0)).collect::<Vec<f64>>())
        };
        // A draw that is no cell is halved until it is one.
        let both = REACHES.iter().find_map(|reach| departs(*reach).zip(departs(-reach)));
        let Some((up, down)) = both else { continue };
        drawn += 1.0;
        for ((turned, all), (up, down)) in turned.iter_mut().zip(&mut all).zip(up.iter().zip(&down)) {
            *turned += 0.25 * (up - down) * (up - down);
            *all += 0.5 * (up * up + down * down);
        }
    }
    let mut kinks = none;
    for (asked, (slot, (turned, all))) in kinks.iter_mut().zip(turned.iter().zip(&all)).enumerate() {
        let of = |squares: &f64| squares / f64::max(drawn, 1.0);
        let known = |group: &super::groups::Group| {
            let (zero, scale) = group.sources.first().map_or((0.0, 0.0), |s| model.error(*s, group.origin));
            group.covariance.get((0, 0)).copied().unwrap_or(0.0) + zero * zero + scale * scale
        };
        let least = model.groups.iter().filter(|group| group.asked == asked && !group.is_empty()).map(known);
        if of(turned) > SHOWS * least.fold(f64::INFINITY, f64::min) {
            *slot = of(all).sqrt();
        }
    }
    kinks
}
