//! Numbers split in two where they lie furthest apart.
//!
//! How far apart the two are by chance is thrown, always the same throws: squares between them over those within, of as many numbers
//! of one normal distribution, split the same way (L. Engelman, J. A. Hartigan, J. Am. Stat. Assoc. 64 (1969) 1647,
//! doi:10.1080/01621459.1969.10501091).

use crate::maths::ln;
use crate::order;
use crate::propagation::deviate::Stream;

/// Throws of the reference distribution: a probability near 0.05 is then known to ± 0.0015, and one of 0.0005, which the worst of a
/// dozen quantities has to show, to ± 0.00016.
const THROWS: u32 = 20_000;
const SEED: u64 = 7;

/// Sorted numbers in two.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Split {
    /// How many are of the lower kind.
    pub at: usize,
    /// Squares between the two means.
    pub between: f64,
    /// Squares within both.
    pub within: f64,
}

impl Split {
    /// Where the squares within are least, with so many numbers on either side at least.
    pub fn of(sorted: &[f64], least: usize) -> Self {
        let n = sorted.len() as f64;
        let centre = sorted.iter().sum::<f64>() / n.max(1.0);
        let total: f64 = sorted.iter().map(|x| (x - centre) * (x - centre)).sum();
        let (mut at, mut most, mut below) = (0, 0.0, 0.0);
        for (i, x) in sorted.iter().enumerate().take(sorted.len().saturating_sub(1)) {
            below += x - centre;
            let k = (i + 1) as f64;
            // Squares between two groups: n₁n₂/n (mean₁ − mean₂)² = S²·n/(k(n − k)), S the sum below the split.
            let between = below * below * n / (k * (n - k));
            if between > most && i + 1 >= least && sorted.len() - i > least {
                (at, most) = (i + 1, between);
            }
        }
        Self { at, between: most, within: (total - most).max(0.0) }
    }

    /// Squares between over those within.
    pub fn ratio(&self) -> f64 {
        if self.within > 0.0 { self.between / self.within } else { f64::INFINITY }
    }
}

/// Splits of so many standard normal numbers.
#[derive(Clone, Debug)]
pub struct Reference {
    thrown: Vec<Split>,
    /// Logarithms of the squares between and within.
    logarithms: Vec<[f64; 2]>,
}

impl Reference {
    /// Of `count` numbers with at least so many on either side.
    pub fn of(count: usize, least: usize) -> Self {
        let mut stream = Stream::of(SEED, count as u64);
        let thrown = (0..THROWS).map(|_| {
            let mut thrown: Vec<f64> = (0..count).map(|_| stream.normal()).collect();
            order::ascending(&mut thrown);
            Split::of(&thrown, least)
        });
        let thrown: Vec<Split> = thrown.collect();
        let of = |squares: f64| ln(squares.max(f64::MIN_POSITIVE));
        let logarithms = thrown.iter().map(|split| [of(split.between), of(split.within)]).collect();
        Self { thrown, logarithms }
    }

    /// Share of them that something is true of; never none.
    pub fn share(&self, of: impl Fn(&Split) -> bool) -> f64 {
        let count = self.thrown.iter().filter(|split| of(split)).count();
        (count as f64 + 1.0) / (self.thrown.len() as f64 + 1.0)
    }

    /// The same of the logarithms of the squares between and within.
    pub(super) fn share_of_logarithms(&self, of: impl Fn(f64, f64) -> bool) -> f64 {
        let count = self.logarithms.iter().filter(|[between, within]| of(*between, *within)).count();
        (count as f64 + 1.0) / (self.thrown.len() as f64 + 1.0)
    }

    /// Logarithms of the least and the most squares within.
    pub(super) fn least_within(&self) -> f64 {
        self.logarithms.iter().map(|[_, within]| *within).fold(f64::INFINITY, f64::min)
    }

    pub(super) fn most_within(&self) -> f64 {
        self.logarithms.iter().map(|[_, within]| *within).fold(f64::NEG_INFINITY, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::maths::exp;

    #[test]
    fn where_numbers_lie_furthest_apart() {
        let values = [1.0, 1.2, 5.0, 5.2];
        let split = Split::of(&values, 1);
        // Means 1.1 and 5.1: 2·2/4·16 between, 4·0.1² within.
        assert_eq!(split.at, 2);
        assert!((split.between - 16.0).abs() < 1e-12 && (split.within - 0.04).abs() < 1e-12);
        assert_eq!(Split::of(&[0.0, 5.0, 5.1, 5.2], 1).at, 1);
        assert_eq!(Split::of(&[0.0, 5.0, 5.1, 5.2], 2).at, 2);
        assert_eq!(Split::of(&[1.0], 1).at, 0);
        // 0, 1, 3: between 0.5 and 3 (2/3 · 6.25 = 4.1667) against within 0.5.
        let split = Split::of(&[0.0, 1.0, 3.0], 1);
        assert!(split.at == 2 && (split.ratio() - 25.0 / 3.0).abs() < 1e-12);
        assert!(Split::of(&[0.0, 0.0, 1.0, 1.0], 1).ratio().is_infinite());
    }

    #[test]
    fn a_reference_is_of_one_distribution() {
        let reference = Reference::of(6, 1);
        let within = reference.thrown.iter().map(|split| split.within);
        let mean = within.sum::<f64>() / reference.thrown.len() as f64;
        // All six about their own mean have 5; the split takes the larger part.
        assert!(mean > 1.0 && mean < 2.5, "{mean}");
        let above = reference.share_of_logarithms(|between, within| between - within > 2.0);
        assert!((above - reference.share(|split| split.ratio() > exp(2.0))).abs() < 1e-12);
        assert!(reference.least_within() < ln(mean) && ln(mean) < reference.most_within());
        assert!(reference.share(|_| true) > 0.999 && reference.share(|_| false) > 0.0);
    }
}
