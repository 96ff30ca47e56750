//! The most probable design that just meets a claim.
//!
//! Among all cells on the edge of the claim the one nearest to the middle of the prior, in standard deviations of independent
//! normal quantities (Hasofer and Lind, J. Eng. Mech. Div. 100 (1974) 111, from memory). On the first-order surface it lies in
//! the direction of the covariances of the inputs with the figure; along that direction it is found on the true one.

use crate::cell::design::Bounds;
use roulade_stats::order;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::uncertain::{Spread, Uncertain};

/// A design on the edge of a claim.
#[derive(Clone, Debug, PartialEq)]
pub struct Nearest {
    /// Its distance from the middle of the prior, standard deviations; positive where the claim holds beyond it only.
    pub beta: f64,
    /// Whether it meets the edge; where not, it is the furthest that was tried towards it.
    pub meets: bool,
    /// Each input that moves: its place, its value there, SI, and by how many of its standard deviations it moves.
    pub moved: Vec<(usize, f64, f64)>,
}

/// Steps along the direction.
const STEPS: u32 = 24;
/// As far as it is followed, standard deviations.
const FURTHEST: f64 = 8.0;

/// The design where the figure reaches the edge of the interval that it misses, or would miss first.
pub(super) fn of(
    figure: impl Fn(&[f64]) -> Option<f64>,
    (uncertain, bounds): (&[Uncertain], &Bounds),
    spread: &FirstOrder,
    output: usize,
    best: f64,
    (low, high): (f64, f64),
) -> Option<Nearest> {
    let u = spread.u(output);
    let edges = [low, high].into_iter().filter(|edge| edge.is_finite());
    let edge = edges.min_by(|a, b| (a - best).abs().total_cmp(&(b - best).abs()))?;
    let direction = spread.direction(output);
    if u.is_nan() || u <= 0.0 || direction.is_empty() {
        return None;
    }
    let values = |along: f64| {
        let mut values: Vec<f64> = uncertain.iter().map(|uncertain| uncertain.value).collect();
        for (i, share) in &direction {
            if let (Some(slot), Some(uncertain)) = (values.get_mut(*i), uncertain.get(*i)) {
                let moved = uncertain.value + along * share * uncertain.u();
                let (low, high) = match uncertain.spread {
                    Spread::Range { low, high } => (low, high),
                    Spread::Exact | Spread::Standard(_) => bounds.ends(*i),
                };
                *slot = moved.max(low).min(high);
            }
        }
        values
    };
    // The first guess is that of the straight line; each step mends it by what the true figure misses.
    let mut along = ((edge - best) / u).clamp(-FURTHEST, FURTHEST);
    let mut found = None;
    for _ in 0..STEPS {
        let Some(there) = figure(&values(along)) else {
            along *= 0.8;
            continue;
        };
        found = Some(along);
        let slope = if along.abs() > 1e-9 { ((there - best) / along).max(0.2 * u) } else { u };
        let next = (along + (edge - there) / slope).clamp(-FURTHEST, FURTHEST);
        if (next - along).abs() < 1e-6 {
            break;
        }
        along = next;
    }
    let along = found?;
    let there = values(along);
    let mut moved: Vec<(usize, f64, f64)> =
        direction.iter().filter_map(|(i, share)| Some((*i, *there.get(*i)?, along * share))).collect();
    order::by(&mut moved, |a, b| b.2.abs().total_cmp(&a.2.abs()));
    let meets = figure(&there).is_some_and(|value| (value - edge).abs() < 0.01 * u);
    Some(Nearest { beta: along.abs(), meets, moved })
}
