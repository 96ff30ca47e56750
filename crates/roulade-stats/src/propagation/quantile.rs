//! Mean, standard deviation and quantiles of many numbers in little room, whatever their count.
//!
//! Numbers are counted in bins around a centre, as a pilot saw it: equally wide up to one scale from it, twice as wide to
//! three, four times to seven, and so on. A quantile lies in the bin where the counts reach it; within the bin it is
//! taken on a straight line, so it is off by less than the bin's width, and for a smooth density by far less. Counts
//! are whole, so two tallies added in any order and grouping are the same to the last bit; sums of numbers are added in
//! the order of the pieces.

/// Bins to an octave; the narrowest is a 512th of the scale.
const FINE: u32 = 9;
/// Octaves: up to 63 scales from the centre. What lies beyond is counted in the last bin, which ends with the furthest.
const OCTAVES: usize = 6;
/// Bins on one side of the centre.
const SIDE: usize = OCTAVES << FINE;
/// The bits of 1.0, in bins.
const ONE: u64 = 1023 << FINE;

/// A tally of numbers.
///
/// ```
/// # use roulade_stats::propagation::quantile::Tally;
/// let mut tally = Tally::around(50.0, 30.0);
/// (0..=100).for_each(|i| tally.add(f64::from(i)));
/// assert_eq!((tally.count(), tally.mean()), (101, 50.0));
/// assert!((tally.quantile(0.25) - 25.0).abs() <= 0.5 + tally.width_at(0.25));
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Tally {
    centre: f64,
    scale: f64,
    /// Bin of the first count; those before it are empty.
    from: usize,
    counts: Vec<u64>,
    count: u64,
    sum: f64,
    squares: f64,
    least: f64,
    most: f64,
}

impl Tally {
    /// An empty one. The narrowest bins are a 512th of `scale`, best chosen near the standard deviation; one that is not
    /// greater than zero stands for numbers that hardly differ.
    pub fn around(centre: f64, scale: f64) -> Self {
        let least = centre.abs() * 1e-9;
        let scale = if scale > least { scale } else { least.max(f64::MIN_POSITIVE) };
        Self {
            centre,
            scale,
            from: 0,
            counts: vec![0; 2 * SIDE],
            count: 0,
            sum: 0.0,
            squares: 0.0,
            least: f64::INFINITY,
            most: f64::NEG_INFINITY,
        }
    }

    /// Counts a number. One that is not finite is no number and is left out.
    pub fn add(&mut self, number: f64) {
        let t = (number - self.centre) / self.scale;
        if !t.is_finite() {
            return;
        }
        let bin = bin(t);
        if let Some(count) = bin.checked_sub(self.from).and_then(|at| self.counts.get_mut(at)) {
            *count += 1;
        }
        self.count += 1;
        self.sum += t;
        self.squares += t * t;
        self.least = self.least.min(number);
        self.most = self.most.max(number);
    }

    /// Adds another of the same centre and scale.
    pub fn merge(&mut self, other: &Self) {
        for (i, more) in other.counts.iter().enumerate() {
            if let Some(count) =
                (other.from + i).checked_sub(self.from).and_then(|at| self.counts.get_mut(at))
            {
                *count += more;
            }
        }
        self.count += other.count;
        self.sum += other.sum;
        self.squares += other.squares;
        self.least = self.least.min(other.least);
        self.most = self.most.max(other.most);
    }

    /// The same without the empty bins at both ends, to be merged into another; it takes no more numbers.
    pub fn packed(self) -> Self {
        let first = self.counts.iter().position(|count| *count > 0).unwrap_or(0);
        let last = self.counts.iter().rposition(|count| *count > 0).map_or(first, |last| last + 1);
        let counts = self.counts.get(first..last).unwrap_or_default().to_vec();
        Self { from: self.from + first, counts, ..self }
    }

    /// How many numbers.
    pub fn count(&self) -> u64 {
        self.count
    }

    /// Their mean; not a number of none.
    pub fn mean(&self) -> f64 {
        self.centre + self.scale * (self.sum / self.count as f64)
    }

    /// Their standard deviation, with n − 1 (JCGM 101:2008, 7.6, eq. 17); zero of fewer than two.
    pub fn u(&self) -> f64 {
        if self.count < 2 {
            return 0.0;
        }
        let n = self.count as f64;
        self.scale * ((self.squares - self.sum * self.sum / n).max(0.0) / (n - 1.0)).sqrt()
    }

    /// The number that a share `p` of them lies below; not a number of none.
    pub fn quantile(&self, p: f64) -> f64 {
        let Some((low, high, part)) = self.at(p) else { return f64::NAN };
        low + (high - low) * part
    }

    /// How wide the bin of that quantile is: it is off by no more.
    pub fn width_at(&self, p: f64) -> f64 {
        self.at(p).map_or(f64::NAN, |(low, high, _)| high - low)
    }

    /// The bin of a quantile, and how far into it.
    fn at(&self, p: f64) -> Option<(f64, f64, f64)> {
        let rank = p.clamp(0.0, 1.0) * self.count as f64;
        let mut below = 0;
        for (i, count) in self.counts.iter().enumerate().filter(|(_, count)| **count > 0) {
            if (below + count) as f64 >= rank {
                let [low, high] = [0, 1].map(|more| self.edge(self.from + i + more));
                let part = (rank - below as f64) / *count as f64;
                return Some((low, high, part.max(0.0)));
            }
            below += count;
        }
        None
    }

    /// Where a bin begins, within what was seen.
    fn edge(&self, bin: usize) -> f64 {
        let out = |k: usize| f64::from_bits((k as u64 + ONE) << (52 - FINE)) - 1.0;
        let edge = match bin {
            0 => self.least,
            bin if bin >= 2 * SIDE => self.most,
            bin if bin < SIDE => self.centre - self.scale * out(SIDE - bin),
            bin => self.centre + self.scale * out(bin - SIDE),
        };
        edge.clamp(self.least, self.most)
    }
}

/// The bin of a distance from the centre in scales: the first bits of |t| + 1 are its octave and its place therein.
fn bin(t: f64) -> usize {
    let out = usize::try_from(((t.abs() + 1.0).to_bits() >> (52 - FINE)) - ONE).unwrap_or(usize::MAX);
    let out = out.min(SIDE - 1);
    if t < 0.0 { SIDE - 1 - out } else { SIDE + out }
}

#[cfg(test)]
mod tests {
    #![allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::needless_for_each,
        reason = "ranks of short lists"
    )]

    use super::*;
    use crate::propagation::deviate::{Stream, normal_quantile};
    use proptest::prelude::*;

    fn exact(sorted: &[f64], p: f64) -> (f64, f64) {
        let rank = p * sorted.len() as f64;
        let at = |rank: f64| sorted[(rank as usize).min(sorted.len() - 1)];
        (at((rank - 1.0).ceil().max(0.0)), at(rank.ceil()))
    }

    proptest! {
        /// Whatever the numbers: within the width of the bin.
        #[test]
        fn a_quantile_is_off_by_less_than_its_bin(
            mut numbers in prop::collection::vec(prop_oneof![-3.0..3.0_f64, -1e4..1e4_f64, Just(0.7)], 1..300),
            p in 0.0..=1.0_f64,
        ) {
            let mut tally = Tally::around(0.3, 1.1);
            numbers.iter().for_each(|x| tally.add(*x));
            numbers.sort_by(f64::total_cmp);
            let (low, high) = exact(&numbers, p);
            let (found, width) = (tally.quantile(p), tally.width_at(p));
            prop_assert!(found >= low - width - 1e-12 && found <= high + width + 1e-12, "{low} {found} {high} {width}");
            let mean = numbers.iter().sum::<f64>() / numbers.len() as f64;
            prop_assert!((tally.mean() - mean).abs() < 1e-9 * (1.0 + mean.abs()));
        }

        #[test]
        fn merged_in_any_order_is_the_same(numbers in prop::collection::vec(-1e3..1e3_f64, 3..60), cut in 0..60_usize) {
            let tally = |numbers: &[f64]| {
                let mut tally = Tally::around(1.0, 10.0);
                numbers.iter().for_each(|x| tally.add(*x));
                tally
            };
            let (a, b) = numbers.split_at(cut.min(numbers.len()));
            let merged = |one: &[f64], two: &[f64]| {
                let mut sum = Tally::around(1.0, 10.0);
                sum.merge(&tally(one).packed());
                sum.merge(&tally(two).packed());
                sum
            };
            let whole = tally(&numbers);
            for merged in [merged(a, b), merged(b, a)] {
                for p in [0.0, 0.025, 0.5, 0.975, 1.0] {
                    prop_assert_eq!(merged.quantile(p).to_bits(), whole.quantile(p).to_bits());
                }
                prop_assert_eq!(merged.counts.clone(), whole.counts.clone());
                prop_assert!((merged.u() - whole.u()).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn a_smooth_density_is_met_far_better_than_the_bins() {
        // A million numbers at the quantiles of the normal distribution themselves: nothing random remains.
        let mut tally = Tally::around(5.0, 2.0);
        let count = 1_000_000;
        (0..count)
            .for_each(|i| tally.add(5.0 + 2.0 * normal_quantile((f64::from(i) + 0.5) / f64::from(count))));
        for p in [0.005, 0.025, 0.3, 0.5, 0.975] {
            let (found, expected) = (tally.quantile(p), 5.0 + 2.0 * normal_quantile(p));
            assert!((found - expected).abs() < 2e-5 * 2.0, "{p}: {found} {expected}");
            assert!(tally.width_at(p) <= 2.0 * 2.0 / 256.0);
        }
        assert!((tally.u() - 2.0).abs() < 1e-4);
    }

    #[test]
    fn none_one_and_all_alike() {
        let mut tally = Tally::around(3.0, 0.0);
        assert!(tally.quantile(0.5).is_nan() && tally.mean().is_nan() && tally.width_at(0.5).is_nan());
        tally.add(f64::NAN);
        assert_eq!((tally.count(), tally.u()), (0, 0.0));
        tally.add(3.0);
        tally.add(3.0);
        assert_eq!((tally.quantile(0.0), tally.quantile(1.0), tally.mean(), tally.u()), (3.0, 3.0, 3.0, 0.0));
        // Far out of what the pilot saw, the last bin still holds what was seen.
        let mut far = Tally::around(0.0, 1.0);
        [1e9, -2e9, 5.0].into_iter().for_each(|x| far.add(x));
        assert_eq!((far.quantile(0.0), far.quantile(1.0)), (-2e9, 1e9));
        let mut drawn = Tally::around(0.0, 1.0);
        let mut stream = Stream::of(1, 1);
        (0..1000).for_each(|_| drawn.add(stream.even()));
        assert!((drawn.quantile(0.5) - 0.5).abs() < 0.1);
    }
}
