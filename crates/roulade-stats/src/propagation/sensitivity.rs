//! Sensitivity of an output, without a straight line: Sobol's indices.
//!
//! The first index of an input is the share of the output's variance that would go if the input were known; the total
//! index is the share that would stay if everything else were (Sobol, Math. Comput. Simul. 55 (2001) 271,
//! doi 10.1016/S0378-4754(00)00270-6; from memory). First indices add to at most one, total ones to at least one; they
//! are equal for a model whose inputs do not act through one another.
//!
//! Both are defined for independent inputs only: those that are correlated count as one, as a group.

use super::deviate::Stream;
use super::sample::{PIECES, Plan, Sampler};
use crate::executor::Executor;
use crate::order;

/// The indices of one input, or of inputs that move together.
#[derive(Clone, Debug, PartialEq)]
pub struct Index {
    /// The input; several where they are correlated.
    pub inputs: Vec<usize>,
    /// First index.
    pub first: f64,
    /// Its standard error.
    pub first_error: f64,
    /// Total index.
    pub total: f64,
    /// Its standard error.
    pub total_error: f64,
}

/// Indices of every input, the largest total first.
#[derive(Clone, Debug)]
pub struct Indices {
    /// One for each group of [`Sampler::groups`]; none where the output does not vary.
    pub indices: Vec<Index>,
    /// Variance of the output.
    pub variance: f64,
    /// How often the model was asked.
    pub asked: u64,
    /// How often it had no answer.
    pub without: u64,
}

/// Sums over one piece, for one group.
#[derive(Clone, Copy, Debug, Default)]
struct Sums {
    rows: f64,
    first: f64,
    total: f64,
}

#[derive(Clone, Debug, Default)]
struct Piece {
    groups: Vec<Sums>,
    rows: f64,
    sum: f64,
    squares: f64,
    asked: u64,
    without: u64,
}

/// Draws `plan.draws` pairs of inputs, A and B, and asks the model at A, at B, and for each group at A with that group's
/// inputs from B: draws × (groups + 2) questions. `None` where the model has no answer; what is left of such a draw is
/// counted without. `models` makes one for each piece of the work: what it keeps from draw to draw is its own.
///
/// First indices by the estimator of Saltelli, mean of f(B)·(f(AB) − f(A)), total ones by Jansen's, half the mean of
/// (f(A) − f(AB))² (Saltelli et al., Comput. Phys. Commun. 181 (2010) 259, doi 10.1016/j.cpc.2009.09.018, table 2; from
/// memory). Standard errors from how the pieces of the work differ.
pub fn indices<M: FnMut(&[f64]) -> Option<f64>>(
    sampler: &Sampler,
    plan: Plan,
    executor: &impl Executor,
    models: impl Fn() -> M + Sync,
) -> Indices {
    let pieces = executor.each(PIECES as usize, |number| {
        let number = u32::try_from(number).unwrap_or(u32::MAX);
        let draws = plan.draws / PIECES + u32::from(number < plan.draws % PIECES);
        piece(sampler, Stream::of(plan.seed, u64::from(number)), draws, models())
    });
    let [rows, sum, squares] = [|p: &Piece| p.rows, |p: &Piece| p.sum, |p: &Piece| p.squares]
        .map(|of| pieces.iter().map(of).sum::<f64>());
    // Each row has its two values, at A and at B.
    let mean = sum / (2.0 * rows);
    let variance = squares / (2.0 * rows) - mean * mean;
    let mut listed: Vec<Index> = if variance > 1e-24 * mean * mean {
        (sampler.groups().iter().enumerate())
            .map(|(at, inputs)| index(&pieces, at, inputs, mean, variance))
            .collect()
    } else {
        Vec::new()
    };
    order::by(&mut listed, |a, b| b.total.total_cmp(&a.total));
    Indices {
        indices: listed,
        variance,
        asked: pieces.iter().map(|piece| piece.asked).sum(),
        without: pieces.iter().map(|piece| piece.without).sum(),
    }
}

fn piece(
    sampler: &Sampler,
    mut stream: Stream,
    draws: u32,
    mut model: impl FnMut(&[f64]) -> Option<f64>,
) -> Piece {
    let mut model = |values: &[f64]| model(values).filter(|value| value.is_finite());
    let mut piece = Piece { groups: vec![Sums::default(); sampler.groups().len()], ..Piece::default() };
    let (mut a, mut b) = (sampler.best().to_vec(), sampler.best().to_vec());
    let mut mixed = a.clone();
    // The values of every piece are taken about one that depends on none of them, so that products keep their digits.
    let centre = model(sampler.best()).unwrap_or(0.0);
    for _ in 0..draws {
        sampler.draw(&mut stream, &mut a);
        sampler.draw(&mut stream, &mut b);
        let mut ask = |values: &[f64]| {
            piece.asked += 1;
            let found = model(values).map(|value| value - centre);
            piece.without += u64::from(found.is_none());
            found
        };
        let (Some(at_a), Some(at_b)) = (ask(&a), ask(&b)) else { continue };
        piece.rows += 1.0;
        piece.sum += at_a + at_b;
        piece.squares += at_a * at_a + at_b * at_b;
        mixed.copy_from_slice(&a);
        for (group, sums) in sampler.groups().iter().zip(&mut piece.groups) {
            swap(group, &b, &mut mixed);
            if let Some(at_mixed) = ask(&mixed) {
                sums.rows += 1.0;
                sums.first += at_b * (at_mixed - at_a);
                sums.total += 0.5 * (at_a - at_mixed) * (at_a - at_mixed);
            }
            swap(group, &a, &mut mixed);
        }
    }
    piece
}

fn swap(group: &[usize], from: &[f64], to: &mut [f64]) {
    for i in group {
        if let (Some(to), Some(from)) = (to.get_mut(*i), from.get(*i)) {
            *to = *from;
        }
    }
}

fn index(pieces: &[Piece], at: usize, inputs: &[usize], mean: f64, variance: f64) -> Index {
    let of = |number: fn(&Sums) -> f64| {
        let (mut sum, mut rows) = (0.0, 0.0);
        for sums in pieces.iter().filter_map(|piece| piece.groups.get(at)) {
            sum += number(sums);
            rows += sums.rows;
        }
        let index = sum / rows / variance;
        // To first order a quotient is off by (its numerator − itself · its denominator) / denominator.
        let off = pieces.iter().filter_map(|piece| {
            let sums = piece.groups.get(at).filter(|sums| sums.rows > 0.0)?;
            let about =
                piece.squares / (2.0 * piece.rows) - mean * (2.0 * piece.sum / (2.0 * piece.rows) - mean);
            Some((number(sums) / sums.rows - index * about) / variance)
        });
        let off: Vec<f64> = off.collect();
        let n = off.len() as f64;
        let middle = off.iter().sum::<f64>() / n;
        let squares: f64 = off.iter().map(|x| (x - middle) * (x - middle)).sum();
        (index, (squares / (n - 1.0) / n).sqrt())
    };
    let ((first, first_error), (total, total_error)) = (of(|sums| sums.first), of(|sums| sums.total));
    Index { inputs: inputs.to_vec(), first, first_error, total, total_error }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::executor::alone;
    use crate::uncertain::{Correlation, Uncertain};

    const PLAN: Plan = Plan { draws: 20_000, seed: 3 };

    #[test]
    fn a_sum_is_sensitive_to_each_by_its_variance() {
        // Variances 1, 4 and 36 of 41; the last input has none. Uncertainties 1, 1, 2 and factors 1, 2, 3.
        let inputs = [
            Uncertain::standard(5.0, 1.0),
            Uncertain::standard(1.0, 1.0),
            Uncertain::standard(0.0, 2.0),
            Uncertain::exact(3.0),
        ];
        let sampler = Sampler::new(&inputs, &Correlation::none());
        let found =
            indices(&sampler, PLAN, &alone(), || |x: &[f64]| Some(x[0] + 2.0 * x[1] + 3.0 * x[2] + x[3]));
        assert_eq!(found.asked, 5 * 20_000);
        assert_eq!(found.indices.iter().map(|index| index.inputs[0]).collect::<Vec<_>>(), [2, 1, 0]);
        for (index, expected) in found.indices.iter().zip([36.0 / 41.0, 4.0 / 41.0, 1.0 / 41.0]) {
            assert!(
                (index.first - expected).abs() < 4.0 * index.first_error && index.first_error < 0.02,
                "{index:?}"
            );
            assert!(
                (index.total - expected).abs() < 4.0 * index.total_error && index.total_error < 0.02,
                "{index:?}"
            );
        }
    }

    #[test]
    fn what_moves_together_is_one() {
        let inputs =
            [Uncertain::standard(0.0, 1.0), Uncertain::standard(0.0, 1.0), Uncertain::standard(0.0, 1.0)];
        let correlation = Correlation::new(vec![0, 2], &[vec![0.5]]).unwrap();
        let found = indices(&Sampler::new(&inputs, &correlation), PLAN, &alone(), || {
            |x: &[f64]| Some(x[0] + x[1] + x[2])
        });
        // 1 + 1 + 2·0.5 = 3 of 4.
        assert_eq!(found.indices[0].inputs, [0, 2]);
        assert!((found.indices[0].first - 0.75).abs() < 4.0 * found.indices[0].first_error);
        assert!((found.indices[1].total - 0.25).abs() < 4.0 * found.indices[1].total_error);
    }

    #[test]
    fn what_has_no_answer_is_counted_and_what_does_not_vary_has_no_index() {
        let sampler =
            Sampler::new(&[Uncertain::range(0.0, 1.0), Uncertain::range(0.0, 1.0)], &Correlation::none());
        let half = indices(&sampler, PLAN, &alone(), || |x: &[f64]| (x[0] < 0.5).then_some(x[1]));
        let share = half.without as f64 / half.asked as f64;
        assert!(share > 0.3 && share < 0.6, "{share}");
        assert!((half.indices[0].total - 1.0).abs() < 4.0 * half.indices[0].total_error + 0.02);
        assert!(indices(&sampler, PLAN, &alone(), || |_: &[f64]| Some(7.0)).indices.is_empty());
        assert!(indices(&sampler, PLAN, &alone(), || |_: &[f64]| None).indices.is_empty());
    }
}
