//! Contributions from the figures of all corners.

use super::contribution::{Contribution, Difference, FigureContributions, Pair};
use super::corner::{Corner, Source};
use super::merit::Merit;
use super::question::FEWEST_ANSWERED;
use crate::cell::figures::Worked;
use crate::quantity::problem::Problems;
use crate::study::compare::Joint;
use roulade_stats::order;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::shapley::{Orders, Weights};

/// Interactions that are told for each figure.
const MOST_PAIRS: usize = 3;

/// All corners, and what is made of their values.
pub(super) struct Shapley<'a> {
    pub(super) orders: &'a Orders,
    pub(super) corners: &'a [Result<Corner, Problems>],
    pub(super) can_be: &'a [bool],
    pub(super) merits: &'a [Merit],
}

impl Shapley<'_> {
    /// For each figure its value at each corner; not a number where the corner cannot be.
    pub(super) fn at_best(&self) -> Vec<Vec<f64>> {
        let of = |merit: usize| {
            let value = |corner: &Result<Corner, Problems>| {
                corner.as_ref().ok().and_then(|corner| corner.at_best.get(merit).copied()).unwrap_or(f64::NAN)
            };
            self.corners.iter().map(value).collect()
        };
        (0..self.merits.len()).map(of).collect()
    }

    /// All differences, one after another: for each figure the whole, then for each change its contribution, first-in and
    /// last-in, then its pairs. What there is not is not a number.
    pub(super) fn differences(
        &self,
        weights: &Weights,
        can_be: &[bool],
        values: &[Vec<f64>],
        pairs: &[Vec<(usize, usize)>],
    ) -> Vec<f64> {
        let n = self.orders.changes();
        let all = if n == 0 { 0 } else { u64::MAX >> (64 - n) };
        let mut differences = Vec::with_capacity(self.merits.len() * (1 + 3 * n + MOST_PAIRS));
        for (values, pairs) in values.iter().zip(pairs) {
            let at = |corner: u64| {
                self.orders.find(corner).and_then(|i| values.get(i).copied()).unwrap_or(f64::NAN)
            };
            differences.push(at(all) - at(0));
            for (i, contribution) in self.orders.contributions(weights, values).into_iter().enumerate() {
                differences.extend([contribution, at(1 << i) - at(0), at(all) - at(all & !(1 << i))]);
            }
            differences.extend(
                pairs
                    .iter()
                    .map(|(i, j)| self.orders.interaction(can_be, values, *i, *j).unwrap_or(f64::NAN)),
            );
        }
        differences
    }

    /// The pairs of changes whose interaction moves a figure most.
    pub(super) fn strongest(&self, weights: &Weights, values: &[f64]) -> Vec<(usize, usize)> {
        let n = self.orders.changes();
        let moved: f64 =
            self.orders.contributions(weights, values).iter().map(|contribution| contribution.abs()).sum();
        let pairs = (0..n).flat_map(|i| (i + 1..n).map(move |j| (i, j)));
        let mut found: Vec<(f64, (usize, usize))> = pairs
            .filter_map(|(i, j)| {
                let more = self.orders.interaction(self.can_be, values, i, j)?.abs();
                (more > 0.01 * moved).then_some((more, (i, j)))
            })
            .collect();
        order::by(&mut found, |a, b| b.0.total_cmp(&a.0));
        found.into_iter().take(MOST_PAIRS).map(|(_, pair)| pair).collect()
    }

    /// Everything that is told, at other values of both cells; `None` where either cell, or every order between them,
    /// cannot be built at those values.
    pub(super) fn at(
        &self,
        (first, second): &(Vec<f64>, Vec<f64>),
        weights: &Weights,
        pairs: &[Vec<(usize, usize)>],
    ) -> Option<Vec<f64>> {
        let mut values = vec![vec![f64::NAN; self.corners.len()]; self.merits.len()];
        let mut can_be = vec![false; self.corners.len()];
        let mut inputs = Vec::new();
        for (i, (corner, can_be)) in self.corners.iter().zip(&mut can_be).enumerate() {
            let Ok(corner) = corner else { continue };
            inputs.clear();
            inputs.extend(corner.sources.iter().map(|source| match source {
                Source::First(i) => first.get(*i).copied().unwrap_or(f64::NAN),
                Source::Second(i) => second.get(*i).copied().unwrap_or(f64::NAN),
                Source::Own(value) => *value,
            }));
            let Ok(cell) = Worked::at(&corner.draft, &inputs) else {
                continue;
            };
            for (of_merit, merit) in values.iter_mut().zip(self.merits) {
                if let Some(value) = of_merit.get_mut(i) {
                    *value = merit.of(&cell, corner.bill.as_ref());
                }
            }
            *can_be = true;
        }
        let anew = if can_be == self.can_be { None } else { Some(self.orders.weights(&can_be)?) };
        Some(self.differences(anew.as_ref().unwrap_or(weights), &can_be, &values, pairs))
    }

    /// To first order (JCGM 100:2008, 5.1), every uncertain input moved by itself.
    pub(super) fn first_order(
        &self,
        joint: &Joint,
        best: &[f64],
        weights: &Weights,
        pairs: &[Vec<(usize, usize)>],
    ) -> Vec<Difference> {
        let spread = FirstOrder::of(joint.uncertain(), joint.correlation(), best, |values| {
            self.at(&joint.split(values), weights, pairs)
        });
        let difference = |(i, value): (usize, &f64)| {
            let u = spread.u(i);
            Difference { value: *value, u, interval: [value - NORMAL_95 * u, value + NORMAL_95 * u] }
        };
        best.iter().enumerate().map(difference).collect()
    }

    pub(super) fn shared(
        &self,
        at_best: &[Vec<f64>],
        weights: &Weights,
        differences: &[Difference],
        pairs: &[Vec<(usize, usize)>],
    ) -> Vec<FigureContributions> {
        let n = self.orders.changes();
        let mut differences = differences.iter().copied();
        let mut next = || differences.next().filter(|differences| differences.value.is_finite());
        let mut figures = Vec::with_capacity(self.merits.len());
        for ((merit, values), pairs) in self.merits.iter().zip(at_best).zip(pairs) {
            let whole = next();
            let errors = self.orders.standard_errors(weights, values);
            let contributions: Vec<Option<Contribution>> = (0..n)
                .map(|i| {
                    let (contribution, first_in, last_in) = (next(), next(), next());
                    let standard_error = errors.as_ref().and_then(|errors| errors.get(i).copied());
                    Some(Contribution { contribution: contribution?, first_in, last_in, standard_error })
                })
                .collect();
            let pairs: Vec<Option<Pair>> =
                pairs.iter().map(|(a, b)| next().map(|more| Pair { a: *a, b: *b, more })).collect();
            let first = values.first().copied().unwrap_or(f64::NAN);
            // A figure that some cell between the two does not have cannot be shared.
            if let (Some(whole), Some(contributions)) =
                (whole, contributions.into_iter().collect::<Option<Vec<_>>>())
            {
                let pairs = pairs.into_iter().flatten().collect();
                let second = values.last().copied().unwrap_or(f64::NAN);
                let finite = values.iter().filter(|value| value.is_finite());
                let scale = finite.fold(0.0, |most: f64, value| most.max(value.abs()));
                figures.push(FigureContributions {
                    merit: *merit,
                    first,
                    second,
                    scale,
                    whole,
                    contributions,
                    pairs,
                });
            }
        }
        figures
    }
}

/// Standard uncertainties that reach to 95 % of a normal distribution either way (JCGM 100:2008, table G.1).
const NORMAL_95: f64 = 1.96;

/// Mean is left where it is: at the best values. The draws say how far around it; too few of them say nothing.
pub(super) fn from_draws(best: &[f64], drawn: &[Vec<f64>]) -> Vec<Option<Difference>> {
    let difference = |(i, value): (usize, &f64)| {
        let mut column: Vec<f64> = drawn
            .iter()
            .filter_map(|difference| difference.get(i).copied())
            .filter(|difference| difference.is_finite())
            .collect();
        order::ascending(&mut column);
        let count = column.len();
        if !value.is_finite() {
            // What there is not at the best values is not told.
            return Some(Difference { value: *value, u: 0.0, interval: [*value; 2] });
        }
        if count < FEWEST_ANSWERED.min(drawn.len().max(2)) {
            return None;
        }
        let mean = column.iter().sum::<f64>() / count as f64;
        let squares: f64 = column.iter().map(|x| (x - mean) * (x - mean)).sum();
        let u = (squares / (count - 1) as f64).sqrt();
        // q, the nearest to 0.95 of them, inside and the others halved: from y(r) to y(r + q), counted from one (JCGM
        // 101:2008, 7.7.2).
        let inside = (count * 95 + 50) / 100;
        let below = (count - inside) / 2;
        let end = |i: usize| column.get(i.min(count.saturating_sub(1))).copied().unwrap_or(*value);
        Some(Difference {
            value: *value,
            u,
            interval: [end(below.saturating_sub(1)), end((below + inside).saturating_sub(1))],
        })
    };
    best.iter().enumerate().map(difference).collect()
}
