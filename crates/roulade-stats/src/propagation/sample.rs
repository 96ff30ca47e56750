//! Inputs drawn at random and the outputs watched (Monte Carlo), after JCGM 101:2008, clauses 6 and 7.
//!
//! A standard uncertainty is drawn from a normal distribution (6.4.7), a range from a rectangular one (6.4.2).
//! Correlated inputs are drawn together through a Gaussian copula: correlated normal numbers (6.4.8), each then given its
//! own distribution by its rank. Between normal inputs the coefficient of correlation is the one asked for; between two
//! ranges it is (6/π)·asin(r/2), at most 0.018 less, and between a range and a normal input r·√(3/π) = 0.977·r.
//!
//! The work is cut into a fixed number of pieces, each with its own stream of the seed: who does them changes no bit,
//! memory does not grow with the draws, and from how the pieces differ comes the standard error of every result.

use super::deviate::Stream;
use super::interval::{COVERAGE, Interval};
use super::quantile::Tally;
pub use super::sampler::Sampler;
use crate::executor::Executor;
use crate::order;

/// Pieces of work.
pub const PIECES: u32 = 32;
/// Fewest draws: pieces of some thirty.
pub const FEWEST: u32 = 1000;
/// Most draws, hours of work.
pub const MOST: u32 = 1_000_000_000;
/// Draws that find out where the outputs lie.
const PILOT: u32 = 1000;

/// Why a draw has no answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Missing {
    /// An input is no longer what it may be: a length below zero.
    Impossible,
    /// The inputs do not hold together, with the place where that shows.
    Apart(String),
}

/// Of how many draws, from which seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Plan {
    /// Draws, from [`FEWEST`] to [`MOST`].
    pub draws: u32,
    /// The seed.
    pub seed: u64,
}

/// What many draws say of one output.
#[derive(Clone, Debug)]
pub struct Drawn {
    /// All of them.
    pub tally: Tally,
    /// Mean.
    pub mean: f64,
    /// Standard uncertainty.
    pub u: f64,
    /// The probabilistically symmetric 95 % interval (JCGM 101:2008, 5.3.3): as much below it as above.
    pub interval: Interval,
    /// Standard error of the mean, from how the pieces differ (JCGM 101:2008, 7.9.4).
    pub mean_error: f64,
    /// Standard error of the standard uncertainty.
    pub u_error: f64,
    /// Standard errors of the two ends.
    pub interval_error: Interval,
}

/// What many draws say.
#[derive(Clone, Debug)]
pub struct Sampled {
    /// Of each output.
    pub outputs: Vec<Drawn>,
    /// How many draws there were.
    pub draws: u32,
    /// Draws in which an input was no longer what it may be.
    pub impossible: u64,
    /// Draws in which the inputs did not hold together, by the place where that showed, the most frequent first.
    pub apart: Vec<(String, u64)>,
}

/// Draws the inputs and tallies the outputs.
///
/// A model writes the outputs of some inputs into its second argument, or says why there are none; such draws are
/// counted, and the results are of all others. `models` makes one for each piece of the work: what it keeps from draw to draw
/// is its own.
///
/// # Example
/// Two rectangular inputs from 0 to 1: their sum has a triangular density, whose 2.5 % quantile is √0.05 (by hand).
/// ```
/// # use roulade_stats::{executor::alone, uncertain::{Correlation, Uncertain}};
/// # use roulade_stats::propagation::sample::{Plan, Sampler, sample};
/// let sampler = Sampler::new(&[Uncertain::range(0.0, 1.0); 2], &Correlation::none());
/// let plan = Plan { draws: 100_000, seed: 1 };
/// let sum = sample(&sampler, 1, plan, &alone(), || {
///     |x: &[f64], out: &mut [f64]| {
///         out[0] = x[0] + x[1];
///         Ok(())
///     }
/// });
/// let end = &sum.outputs[0];
/// assert!((end.interval.low - 0.05f64.sqrt()).abs() < 4.0 * end.interval_error.low);
/// ```
pub fn sample<M: FnMut(&[f64], &mut [f64]) -> Result<(), Missing>>(
    sampler: &Sampler,
    outputs: usize,
    plan: Plan,
    executor: &impl Executor,
    models: impl Fn() -> M + Sync,
) -> Sampled {
    let empty = pilot(sampler, outputs, plan.seed, models());
    let pieces =
        executor.each(PIECES as usize, |number| {
            let number = u32::try_from(number).unwrap_or(u32::MAX);
            // What the division leaves goes to the first pieces.
            let draws = plan.draws / PIECES + u32::from(number < plan.draws % PIECES);
            let mut piece = Piece { tallies: empty.clone(), impossible: 0, apart: Vec::new() };
            draw(sampler, outputs, Stream::of(plan.seed, u64::from(number)), draws, models(), |drawn| {
                match drawn {
                    Ok(values) => {
                        piece.tallies.iter_mut().zip(values).for_each(|(tally, value)| tally.add(*value));
                    }
                    Err(Missing::Impossible) => piece.impossible += 1,
                    Err(Missing::Apart(place)) => count(&mut piece.apart, place, 1),
                }
            });
            piece.tallies = piece.tallies.into_iter().map(Tally::packed).collect();
            piece
        });
    let impossible = pieces.iter().map(|piece| piece.impossible).sum();
    let mut apart = Vec::new();
    for (place, times) in pieces.iter().flat_map(|piece| &piece.apart) {
        count(&mut apart, place.clone(), *times);
    }
    order::by(&mut apart, |a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
    let merged = empty
        .into_iter()
        .enumerate()
        .map(|(i, whole)| Drawn::of(whole, pieces.iter().filter_map(|piece| piece.tallies.get(i))));
    Sampled { outputs: merged.collect(), draws: plan.draws, impossible, apart }
}

struct Piece {
    tallies: Vec<Tally>,
    impossible: u64,
    apart: Vec<(String, u64)>,
}

fn count(places: &mut Vec<(String, u64)>, place: String, times: u64) {
    match places.iter_mut().find(|(counted, _)| *counted == place) {
        Some((_, count)) => *count += times,
        None => places.push((place, times)),
    }
}

fn draw(
    sampler: &Sampler,
    outputs: usize,
    mut stream: Stream,
    draws: u32,
    mut model: impl FnMut(&[f64], &mut [f64]) -> Result<(), Missing>,
    mut each: impl FnMut(Result<&[f64], Missing>),
) {
    let (mut values, mut out) = (sampler.best().to_vec(), vec![0.0; outputs]);
    for _ in 0..draws {
        sampler.draw(&mut stream, &mut values);
        let found = model(&values, &mut out);
        let no_number = || out.iter().any(|x| !x.is_finite());
        // What is no number is no answer.
        let found =
            found.and_then(|()| if no_number() { Err(Missing::Apart(String::new())) } else { Ok(()) });
        each(found.map(|()| out.as_slice()));
    }
}

/// A few draws of their own stream, to find where each output lies and how wide: half its middle 95 %, in factors of
/// the normal distribution, which no single far draw moves.
fn pilot(
    sampler: &Sampler,
    outputs: usize,
    seed: u64,
    model: impl FnMut(&[f64], &mut [f64]) -> Result<(), Missing>,
) -> Vec<Tally> {
    let mut seen: Vec<Vec<f64>> = vec![Vec::new(); outputs];
    draw(sampler, outputs, Stream::of(seed, u64::from(PIECES)), PILOT, model, |drawn| {
        if let Ok(values) = drawn {
            seen.iter_mut().zip(values).for_each(|(seen, value)| seen.push(*value));
        }
    });
    let around = |mut seen: Vec<f64>| {
        order::ascending(&mut seen);
        let at = |part: usize| seen.get(seen.len() * part / 40).copied().unwrap_or(0.0);
        Tally::around(at(20), (at(39) - at(1)) / (2.0 * super::interval::FACTOR))
    };
    seen.into_iter().map(around).collect()
}

impl Drawn {
    fn of<'a>(mut whole: Tally, pieces: impl Iterator<Item = &'a Tally>) -> Self {
        let tail = 0.5 * (1.0 - COVERAGE);
        let summary =
            |tally: &Tally| [tally.mean(), tally.u(), tally.quantile(tail), tally.quantile(1.0 - tail)];
        let mut each = Vec::with_capacity(PIECES as usize);
        for piece in pieces {
            whole.merge(piece);
            if piece.count() > 1 {
                each.push(summary(piece));
            }
        }
        let [mean, u, low, high] = summary(&whole);
        let error = |k: usize| {
            let n = each.len() as f64;
            let of = |piece: &[f64; 4]| piece.get(k).copied().unwrap_or(f64::NAN);
            let mean = each.iter().map(of).sum::<f64>() / n;
            let squares: f64 = each.iter().map(|piece| (of(piece) - mean) * (of(piece) - mean)).sum();
            (squares / (n - 1.0) / n).sqrt()
        };
        Self {
            mean,
            u,
            interval: Interval { low, high },
            mean_error: error(0),
            u_error: error(1),
            interval_error: Interval { low: error(2), high: error(3) },
            tally: whole,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::executor::{OneByOne, alone};
    use crate::uncertain::{Correlation, Uncertain};
    use approx::assert_relative_eq;

    const PLAN: Plan = Plan { draws: 20_001, seed: 5 };

    /// Does the pieces from the last to the first.
    struct Backwards;

    impl Executor for Backwards {
        fn each<T: Send>(&self, count: usize, piece: impl Fn(usize) -> T + Sync) -> Vec<T> {
            let mut done: Vec<T> = (0..count).rev().map(piece).collect();
            done.reverse();
            done
        }
    }

    #[test]
    fn who_does_the_work_changes_no_bit() {
        let inputs = [Uncertain::standard(1.0, 0.1), Uncertain::range(0.0, 2.0), Uncertain::exact(3.0)];
        let correlation = Correlation::new(vec![0, 1], &[vec![0.5]]).unwrap();
        let sampler = Sampler::new(&inputs, &correlation);
        let model = |x: &[f64], out: &mut [f64]| {
            out.copy_from_slice(&[x[0] * x[1], x[2]]);
            if x[1] < 0.1 { Err(Missing::Apart("low".to_owned())) } else { Ok(()) }
        };
        let bits = |s: &Sampled| {
            let of = |d: &Drawn| [d.mean, d.u, d.interval.low, d.interval.high, d.u_error].map(f64::to_bits);
            (s.apart.clone(), s.outputs.iter().map(of).collect::<Vec<_>>())
        };
        let one = sample(&sampler, 2, PLAN, &alone(), || model);
        assert_eq!(bits(&one), bits(&sample(&sampler, 2, PLAN, &Backwards, || model)));
        assert_ne!(bits(&one), bits(&sample(&sampler, 2, Plan { seed: 6, ..PLAN }, &alone(), || model)));
        assert_eq!(one.apart.len(), 1);
        assert_eq!(one.outputs[0].tally.count() + one.apart[0].1, 20_001);
        // The exact input is there and does not move.
        assert_relative_eq!(one.outputs[1].mean, 3.0);
        assert_relative_eq!(one.outputs[1].interval.high - one.outputs[1].interval.low, 0.0);
    }

    #[test]
    fn draws_without_an_answer_are_counted_by_their_kind() {
        let sampler = Sampler::new(&[Uncertain::range(0.0, 1.0)], &Correlation::none());
        let drawn = sample(&sampler, 1, PLAN, &alone(), || {
            |x: &[f64], out: &mut [f64]| {
                out[0] = if x[0] > 0.9 { f64::NAN } else { 1.0 };
                if x[0] < 0.25 { Err(Missing::Impossible) } else { Ok(()) }
            }
        });
        let (impossible, apart) = (drawn.impossible as f64 / 20_001.0, drawn.apart[0].1 as f64 / 20_001.0);
        // Four standard errors of a share: 4·√(0.25·0.75/20001) and 4·√(0.1·0.9/20001).
        assert!((impossible - 0.25).abs() < 0.0123 && (apart - 0.1).abs() < 0.0085, "{impossible} {apart}");
        let none = sample(&sampler, 1, PLAN, &alone(), || {
            |_: &[f64], _: &mut [f64]| Err(Missing::Apart("here".to_owned()))
        });
        assert!(none.apart == [("here".to_owned(), 20_001)] && none.outputs[0].mean.is_nan());
    }

    /// Mean and standard deviation of the normal distribution cut off at zero, one standard deviation below its middle:
    /// with λ = φ(1)/Φ(1) = 0.287 600, μ + λσ and σ·√(1 − λ − λ²) (any textbook).
    #[test]
    fn a_distribution_cut_off_has_its_moments() {
        let sampler = Sampler::new(&[Uncertain::standard(1.0, 1.0)], &Correlation::none());
        let sampler = sampler.within(|_| (0.0, f64::INFINITY));
        let drawn = sample(&sampler, 1, PLAN, &alone(), || {
            |x: &[f64], out: &mut [f64]| {
                out[0] = x[0];
                if x[0] > 0.0 { Ok(()) } else { Err(Missing::Impossible) }
            }
        });
        let cut = &drawn.outputs[0];
        assert_eq!(drawn.impossible, 0);
        assert!((cut.mean - 1.287_600).abs() < 4.0 * cut.mean_error, "{}", cut.mean);
        assert!((cut.u - 0.793_528).abs() < 4.0 * cut.u_error, "{}", cut.u);
    }

    /// Two that are known to ± 1 each and their sum to ± 0.01, one of them cut off at nothing in its middle: the sum stays
    /// known as well, and the first has the mean of half a normal distribution, √(2/π).
    #[test]
    fn what_moves_together_is_cut_off_together() {
        let inputs = [Uncertain::standard(0.0, 1.0), Uncertain::standard(5.0, 1.0)];
        let correlation = Correlation::new(vec![0, 1], &[vec![0.5 * 1e-4 - 1.0]]).unwrap();
        let sampler = Sampler::new(&inputs, &correlation);
        let sampler = sampler.within(|i| if i == 0 { (0.0, f64::INFINITY) } else { (-9.0, 99.0) });
        let drawn = sample(&sampler, 2, PLAN, &alone(), || {
            |x: &[f64], out: &mut [f64]| {
                out.copy_from_slice(&[x[0], x[0] + x[1]]);
                if x[0] >= 0.0 { Ok(()) } else { Err(Missing::Impossible) }
            }
        });
        assert_eq!(drawn.impossible, 0);
        let [first, sum] = &drawn.outputs[..] else { panic!("two") };
        assert!((first.mean - 0.797_885).abs() < 4.0 * first.mean_error, "{}", first.mean);
        assert!((sum.u - 0.01).abs() < 4.0 * sum.u_error, "{}", sum.u);
    }

    #[test]
    fn every_piece_is_reported() {
        let pieces = std::cell::RefCell::new(0);
        let executor = OneByOne(|_, of| {
            *pieces.borrow_mut() += 1;
            assert_eq!(of, 32);
        });
        let sampler = Sampler::new(&[Uncertain::range(0.0, 1.0)], &Correlation::none());
        sample(&sampler, 1, PLAN, &executor, || {
            |x: &[f64], out: &mut [f64]| {
                out[0] = x[0];
                Ok(())
            }
        });
        assert_eq!(*pieces.borrow(), 32);
    }

    /// Coefficients of the copula as stated above, from the draws.
    #[test]
    #[allow(clippy::disallowed_methods, reason = "the other side of a comparison")]
    fn correlated_inputs_are_drawn_together() {
        let inputs = [
            Uncertain::standard(1.0, 2.0),
            Uncertain::range(0.0, 1.0),
            Uncertain::range(5.0, 9.0),
            Uncertain::standard(0.0, 1.0),
            Uncertain::standard(0.0, 1.0),
        ];
        let r = [0.7, -0.6, 0.1];
        let correlation =
            Correlation::new(vec![3, 0, 1, 2], &[vec![r[0]], vec![0.0, r[1]], vec![0.0, 0.0, r[2]]]);
        let sampler = Sampler::new(&inputs, &correlation.unwrap());
        let mut groups = sampler.groups().to_vec();
        groups.sort();
        assert_eq!(groups, [vec![0, 1, 2, 3], vec![4]]);
        let (mut stream, mut values, count) = (Stream::of(2, 0), sampler.best().to_vec(), 100_000);
        let mut sums = [[0.0; 5]; 5];
        for _ in 0..count {
            sampler.draw(&mut stream, &mut values);
            assert!((0.0..=1.0).contains(&values[1]) && (5.0..=9.0).contains(&values[2]));
            let standard: Vec<f64> = values
                .iter()
                .zip(&inputs)
                .map(|(x, uncertain)| (x - uncertain.value) / uncertain.u())
                .collect();
            for i in 0..5 {
                (0..5).for_each(|j| sums[i][j] += standard[i] * standard[j] / f64::from(count));
            }
        }
        let pi = std::f64::consts::PI;
        let of_ranges = 6.0 / pi * (0.5 * r[2]).asin();
        let mixed = r[1] * (3.0 / pi).sqrt();
        // Four standard errors of a coefficient, 4·√((1 + r²)/100000) at most.
        for (i, j, expected) in [
            (0, 0, 1.0),
            (1, 1, 1.0),
            (0, 3, r[0]),
            (0, 1, mixed),
            (1, 2, of_ranges),
            (1, 3, 0.0),
            (0, 4, 0.0),
        ] {
            assert!((sums[i][j] - expected).abs() < 0.018, "{i} {j}: {} {expected}", sums[i][j]);
        }
    }
}
