//! How the whole difference is shared among the changes: the Shapley value.
//!
//! A change's contribution is what it adds, averaged over all orders in which the changes could be made one after another
//! (L. S. Shapley, "A value for n-person games", Contributions to the Theory of Games II, Annals of Mathematics
//! Studies 28 (1953) 307–317). A corner is a set of changes already made; bit i of its number stands for change i.
//!
//! **Corners that cannot be built.** The average is taken over those orders that pass through corners that can be built
//! alone, all of them with the same weight. That is the value of Faigle and Kern where the order of some changes is
//! compelled (U. Faigle, W. Kern, "The Shapley value for cooperative games under precedence constraints", Int. J. Game
//! Theory 21 (1992) 249–266, doi 10.1007/BF01258278), taken over to any set of corners that has such an order (F.
//! Lange, M. Grabisch, "Values on regular games under Kirchhoff's laws", Math. Soc. Sci. 58 (2009) 322–340, from
//! memory). Contributions still add to the whole; nothing is put in the place of a cell that cannot be.

use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};
use std::collections::BTreeMap;

/// Most changes whose corners are all worked out: 2¹² = 4,096 corners.
pub const MOST_EXACT: usize = 12;
/// Most changes at all: a corner is a number of 64 bits, one of which is kept.
pub const MOST: usize = 63;
/// Pairs of orders that are drawn at most where not all are taken: each order and its reverse.
const PAIRS: usize = 150;
/// Pairs of orders that are drawn at least.
const FEWEST_PAIRS: usize = 8;

/// The orders in which changes are made.
#[derive(Clone, Debug)]
pub enum Orders {
    /// All of them, by way of all corners.
    All(usize),
    /// Some, drawn at random, each with its reverse.
    Some(DrawnOrders),
}

/// Orders drawn at random.
#[derive(Clone, Debug)]
pub struct DrawnOrders {
    count: usize,
    corners: Vec<u64>,
    /// Each order: the change made at each step, and the corner before the first and after each step.
    orders: Vec<(Vec<usize>, Vec<usize>)>,
}

/// How much each step from one corner to the next counts, for the corners that can be built.
#[derive(Clone, Debug)]
pub enum Weights {
    /// By the number of changes already made.
    BySize(Vec<f64>),
    /// By the number of orders that take the step: orders up to each corner, orders from there on, all orders.
    ByOrders(Vec<f64>, Vec<f64>, f64),
    /// The drawn orders that count.
    Of(Vec<usize>),
}

impl Orders {
    /// All orders of up to [`MOST_EXACT`] changes; above that, drawn ones.
    pub fn new(changes: usize, seed: u64) -> Self {
        Self::within(changes, seed, 1 << MOST_EXACT)
    }

    /// All orders where they pass through no more than so many corners; otherwise as many drawn ones as do, and sixteen at
    /// least.
    pub fn within(changes: usize, seed: u64, corners: usize) -> Self {
        if changes <= MOST_EXACT && 1 << changes <= corners {
            return Self::All(changes);
        }
        Self::Some(DrawnOrders::new(
            changes,
            (corners / (2 * changes.max(1))).clamp(FEWEST_PAIRS, PAIRS),
            seed,
        ))
    }

    /// Most corners that the fewest orders pass through.
    pub fn fewest_corners(changes: usize) -> usize {
        let drawn = 2 * FEWEST_PAIRS * changes.max(1);
        if changes <= MOST_EXACT { drawn.min(1 << changes) } else { drawn }
    }

    /// How many corners have to be worked out.
    pub fn corners(&self) -> usize {
        match self {
            Self::All(changes) => 1 << changes,
            Self::Some(drawn) => drawn.corners.len(),
        }
    }

    /// The changes made at a corner.
    pub fn corner(&self, i: usize) -> u64 {
        match self {
            Self::All(_) => i as u64,
            Self::Some(drawn) => drawn.corners.get(i).copied().unwrap_or_default(),
        }
    }

    /// Where a corner stands among those worked out.
    pub fn find(&self, corner: u64) -> Option<usize> {
        match self {
            Self::All(changes) => usize::try_from(corner).ok().filter(|i| *i < 1 << changes),
            Self::Some(drawn) => drawn.corners.binary_search(&corner).ok(),
        }
    }

    /// Number of changes.
    pub fn changes(&self) -> usize {
        match self {
            Self::All(changes) => *changes,
            Self::Some(drawn) => drawn.count,
        }
    }

    /// The weights for the corners that can be built; `None` where no order passes through such corners alone.
    #[allow(
        clippy::indexing_slicing,
        reason = "corners and their neighbours are below the length that is asked for"
    )]
    pub fn weights(&self, can_be: &[bool]) -> Option<Weights> {
        if can_be.len() != self.corners() {
            return None;
        }
        let n = match self {
            Self::All(n) => *n,
            Self::Some(drawn) => {
                let passes = |order: &&(Vec<usize>, Vec<usize>)| order.1.iter().all(|corner| can_be[*corner]);
                let of: Vec<usize> = drawn
                    .orders
                    .iter()
                    .enumerate()
                    .filter(|(_, order)| passes(order))
                    .map(|(i, _)| i)
                    .collect();
                return (!of.is_empty()).then_some(Weights::Of(of));
            }
        };
        if can_be.iter().all(|can| *can) {
            // s!·(n−s−1)!/n! = 1/(n·binomial(n−1, s)).
            let mut weights = Vec::with_capacity(n);
            let mut binomial = 1.0;
            for s in 0..n {
                weights.push(1.0 / (n as f64 * binomial));
                binomial = binomial * (n - 1 - s) as f64 / (s + 1) as f64;
            }
            return Some(Weights::BySize(weights));
        }
        // Counts stay below 16! = 2.1e13 and are exact.
        let count = |from_start: bool| {
            let mut orders = vec![0.0_f64; can_be.len()];
            let last = can_be.len() - 1;
            for step in 0..=last {
                let corner = if from_start { step } else { last - step };
                if !can_be[corner] {
                    continue;
                }
                let begins = if from_start { corner == 0 } else { corner == last };
                let mut sum = if begins { 1.0 } else { 0.0 };
                for i in 0..n {
                    if (corner >> i & 1 == 1) == from_start {
                        sum += orders[corner ^ (1 << i)];
                    }
                }
                orders[corner] = sum;
            }
            orders
        };
        let (up, down) = (count(true), count(false));
        let all = *up.last()?;
        (all > 0.0).then_some(Weights::ByOrders(up, down, all))
    }

    /// The contribution of each change for one value per corner. They add to the value of the last corner less that of the
    /// first, to rounding: every order does, and sums are compensated.
    #[allow(clippy::indexing_slicing, reason = "weights were made for these corners")]
    pub fn contributions(&self, weights: &Weights, values: &[f64]) -> Vec<f64> {
        let n = self.changes();
        let mut sums = vec![Sum::default(); n];
        match (self, weights) {
            (Self::All(_), Weights::BySize(by_size)) => {
                for corner in 0..values.len() {
                    let Some(weight) = by_size.get(corner.count_ones() as usize) else { continue };
                    for (i, sum) in sums.iter_mut().enumerate() {
                        if corner >> i & 1 == 0 {
                            sum.add(weight * (values[corner | 1 << i] - values[corner]));
                        }
                    }
                }
            }
            (Self::All(_), Weights::ByOrders(up, down, all)) => {
                for corner in (0..values.len()).filter(|corner| up[*corner] > 0.0) {
                    for (i, sum) in sums.iter_mut().enumerate() {
                        let next = corner | 1 << i;
                        if next != corner && down[next] > 0.0 {
                            sum.add(up[corner] * down[next] / all * (values[next] - values[corner]));
                        }
                    }
                }
            }
            (Self::Some(drawn), Weights::Of(of)) => {
                for order in of {
                    for (change, step) in drawn.steps(*order, values) {
                        sums[change].add(step / of.len() as f64);
                    }
                }
            }
            _ => {}
        }
        sums.iter().map(Sum::value).collect()
    }

    /// Standard error of each contribution from the orders having been drawn; none where all were taken.
    ///
    /// An order and its reverse are one throw: the error is that of the mean over throws.
    pub fn standard_errors(&self, weights: &Weights, values: &[f64]) -> Option<Vec<f64>> {
        let (Self::Some(drawn), Weights::Of(of)) = (self, weights) else { return None };
        let mut throws: BTreeMap<usize, (f64, Vec<f64>)> = BTreeMap::new();
        for order in of {
            let (orders, sums) = throws.entry(order / 2).or_insert_with(|| (0.0, vec![0.0; drawn.count]));
            *orders += 1.0;
            for (change, step) in drawn.steps(*order, values) {
                sums.get_mut(change).into_iter().for_each(|sum| *sum += step);
            }
        }
        let count = throws.len() as f64;
        let of_change = |change: usize| {
            let means: Vec<f64> =
                throws.values().filter_map(|(n, sums)| Some(sums.get(change)? / n)).collect();
            let mean = means.iter().sum::<f64>() / count;
            let squares: f64 = means.iter().map(|m| (m - mean) * (m - mean)).sum();
            (squares / (count - 1.0).max(1.0) / count).sqrt()
        };
        Some((0..drawn.count).map(of_change).collect())
    }

    /// How much more two changes contribute together than each by itself, averaged over what else has been done: the
    /// Shapley interaction index, Σ s!·(n−s−2)!/(n−1)!·(v(S∪ij) − v(S∪i) − v(S∪j) + v(S)) over S without i and j
    /// (G. Owen, "Multilinear extensions of games", Management Science 18 (1972) 64–79; M. Grabisch, M. Roubens, "An
    /// axiomatic approach to the concept of interaction among players in cooperative games", Int. J. Game Theory 28
    /// (1999) 547–565, from memory).
    ///
    /// Only where all four corners can be built; the weights of those are brought to one. `None` where there are no
    /// such four, or where orders were drawn.
    #[allow(clippy::indexing_slicing, reason = "corners are below the length that is checked")]
    pub fn interaction(&self, can_be: &[bool], values: &[f64], i: usize, j: usize) -> Option<f64> {
        let Self::All(n) = self else { return None };
        if can_be.len() != 1 << n || values.len() != can_be.len() || i == j || i.max(j) >= *n {
            return None;
        }
        let (bit_i, bit_j) = (1_usize << i, 1_usize << j);
        let (mut sum, mut weights) = (Sum::default(), Sum::default());
        let mut by_size = Vec::with_capacity(*n);
        let mut binomial = 1.0;
        for s in 0..n - 1 {
            by_size.push(1.0 / ((n - 1) as f64 * binomial));
            binomial = binomial * (n - 2 - s) as f64 / (s + 1) as f64;
        }
        for corner in (0..can_be.len()).filter(|corner| corner & (bit_i | bit_j) == 0) {
            let four = [corner, corner | bit_i, corner | bit_j, corner | bit_i | bit_j];
            if four.iter().all(|corner| can_be[*corner]) {
                let weight = by_size[corner.count_ones() as usize];
                let [none, first, second, both] = four.map(|corner| values[corner]);
                sum.add(weight * ((both - first) - (second - none)));
                weights.add(weight);
            }
        }
        (weights.value() > 0.0).then(|| sum.value() / weights.value())
    }
}

impl DrawnOrders {
    fn new(count: usize, pairs: usize, seed: u64) -> Self {
        let mut random = Pcg64Mcg::seed_from_u64(seed);
        let mut orders = Vec::with_capacity(2 * pairs);
        for _ in 0..pairs {
            // Fisher and Yates, by multiplication; the bias of a 64-bit product is below 2⁻⁵⁷.
            let mut order: Vec<usize> = (0..count).collect();
            for i in (1..count).rev() {
                let below = (u128::from(random.next_u64()) * (i as u128 + 1)) >> 64;
                order.swap(i, usize::try_from(below).unwrap_or_default());
            }
            let reverse: Vec<usize> = order.iter().rev().copied().collect();
            orders.extend([order, reverse]);
        }
        let passed = |order: &[usize]| {
            let mut corner = 0_u64;
            let mut passed = vec![corner];
            for change in order {
                corner |= 1 << change;
                passed.push(corner);
            }
            passed
        };
        let mut corners: Vec<u64> = orders.iter().flat_map(|order| passed(order)).collect();
        corners.sort_unstable();
        corners.dedup();
        let place = |corner: u64| corners.binary_search(&corner).unwrap_or_default();
        let orders = orders
            .into_iter()
            .map(|order| {
                let passed = passed(&order).into_iter().map(place).collect();
                (order, passed)
            })
            .collect();
        Self { count, corners, orders }
    }

    /// The change made at each step of an order, and what it adds.
    fn steps<'a>(&'a self, order: usize, values: &'a [f64]) -> impl Iterator<Item = (usize, f64)> + 'a {
        let (changes, corners) = self.orders.get(order).map_or((&[][..], &[][..]), |(a, b)| (a, b));
        let value = |corner: &usize| values.get(*corner).copied().unwrap_or(f64::NAN);
        let steps = corners.iter().zip(corners.iter().skip(1)).map(move |(from, to)| value(to) - value(from));
        changes.iter().copied().zip(steps)
    }
}

/// A sum that keeps what rounding loses (A. Neumaier, ZAMM 54 (1974) 39–51, from memory).
#[derive(Clone, Copy, Debug, Default)]
struct Sum {
    sum: f64,
    lost: f64,
}

impl Sum {
    fn add(&mut self, term: f64) {
        let sum = self.sum + term;
        self.lost +=
            if self.sum.abs() >= term.abs() { (self.sum - sum) + term } else { (term - sum) + self.sum };
        self.sum = sum;
    }

    fn value(&self) -> f64 {
        self.sum + self.lost
    }
}

#[cfg(test)]
mod tests;
