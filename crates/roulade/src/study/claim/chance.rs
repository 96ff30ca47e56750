//! What many draws say.

use serde::Serialize;

/// What many draws of one figure say, as bars and quantiles.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Histogram {
    /// Mean of the draws.
    pub mean: f64,
    /// Their standard deviation.
    pub deviation: f64,
    /// Shares of the draws, and the value that so many lie below.
    pub quantiles: Vec<(f64, f64)>,
    /// Lower edge of the first bar.
    pub from: f64,
    /// Width of each bar.
    pub step: f64,
    /// Draws in each bar; a draw beyond either end counts in the last bar there.
    pub counts: Vec<u32>,
}

const SHARES: [f64; 9] = [0.01, 0.025, 0.05, 0.25, 0.5, 0.75, 0.95, 0.975, 0.99];
const BARS: usize = 40;

impl Histogram {
    /// The same draws in a unit of this size.
    #[must_use]
    pub fn over(&self, size: f64) -> Self {
        Self {
            mean: self.mean / size,
            deviation: self.deviation / size,
            quantiles: self.quantiles.iter().map(|(share, value)| (*share, value / size)).collect(),
            from: self.from / size,
            step: self.step / size,
            counts: self.counts.clone(),
        }
    }

    /// Of draws that are sorted; `None` where there are fewer than two.
    pub fn of(sorted: &[f64]) -> Option<Self> {
        let (first, last) = (*sorted.first()?, *sorted.last()?);
        let n = sorted.len();
        if n < 2 {
            return None;
        }
        let mean = sorted.iter().sum::<f64>() / n as f64;
        let squares: f64 = sorted.iter().map(|x| (x - mean) * (x - mean)).sum();
        let quantile = |share: f64| at(sorted, share).unwrap_or(first);
        let (low, high) = (quantile(0.002), quantile(0.998));
        let (from, step) = if high > low { (low, (high - low) / BARS as f64) } else { (first, last - first) };
        let mut counts = vec![0; BARS];
        for x in sorted {
            let bar =
                if step > 0.0 { ((x - from) / step).floor().clamp(0.0, (BARS - 1) as f64) } else { 0.0 };
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and BARS")]
            if let Some(count) = counts.get_mut(bar as usize) {
                *count += 1;
            }
        }
        let quantiles = SHARES.into_iter().map(|share| (share, quantile(share))).collect();
        Some(Self { mean, deviation: (squares / (n - 1) as f64).sqrt(), quantiles, from, step, counts })
    }
}

/// The value that a share of sorted draws lies below, linear between neighbours.
fn at(sorted: &[f64], share: f64) -> Option<f64> {
    let place = share * (sorted.len().checked_sub(1)? as f64);
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and the length")]
    let i = place.floor() as usize;
    let (low, high) = (sorted.get(i)?, sorted.get(i + 1).or_else(|| sorted.get(i))?);
    Some(low + (high - low) * (place - place.floor()))
}

/// Shares of sorted draws below `low`, and above `high`.
pub(super) fn missed(sorted: &[f64], (low, high): (f64, f64)) -> (f64, f64) {
    let n = sorted.len().max(1) as f64;
    let below = sorted.partition_point(|x| *x < low);
    let above = sorted.len() - sorted.partition_point(|x| *x <= high);
    (below as f64 / n, above as f64 / n)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_strip_of_equal_steps() {
        let sorted: Vec<f64> = (0..=1000).map(f64::from).collect();
        let histogram = Histogram::of(&sorted).unwrap();
        assert_relative_eq!(histogram.mean, 500.0);
        // √(n(n+1)/12) of n = 1001 equal steps, by hand.
        assert_relative_eq!(histogram.deviation, (1001.0 * 1002.0 / 12.0_f64).sqrt(), max_relative = 1e-12);
        assert_eq!(histogram.quantiles[4], (0.5, 500.0));
        assert_eq!(histogram.counts.iter().sum::<u32>(), 1001);
        assert_eq!(missed(&sorted, (100.0, f64::INFINITY)), (100.0 / 1001.0, 0.0));
        assert_eq!(missed(&sorted, (100.0, 900.0)), (100.0 / 1001.0, 100.0 / 1001.0));
    }

    #[test]
    fn draws_that_are_all_alike_fill_one_bar() {
        let histogram = Histogram::of(&[2.0; 7]).unwrap();
        assert_eq!((histogram.counts[0], histogram.step), (7, 0.0));
        assert!(Histogram::of(&[1.0]).is_none());
    }
}
