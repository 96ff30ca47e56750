//! Numbers drawn at random: streams of a seed, and the normal distribution both ways.
//!
//! Written here, because the libraries for it take logarithms from the standard library, whose bits differ between
//! native code and WebAssembly.

mod layers;

use crate::maths::{erfc, ln};
use rand_pcg::Pcg64Mcg;
use rand_pcg::rand_core::{Rng, SeedableRng};

/// One of the streams of a seed: the same numbers always, whoever draws them and in whatever order streams are drawn.
#[derive(Clone, Debug)]
pub struct Stream(Pcg64Mcg);

impl Stream {
    /// Stream `number` of a seed.
    ///
    /// Its start is the seed and its number, mixed as in Steele, Lea and Flood, OOPSLA (2014) 453,
    /// doi 10.1145/2660193.2660195 (from memory): any two numbers of one seed start apart. Jumps ahead in one stream
    /// would not do: a multiplicative generator repeats its low bits after a power of two.
    pub fn of(seed: u64, number: u64) -> Self {
        let word = |half: u64| mixed(mixed(seed).wrapping_add(2 * number + half)).to_le_bytes();
        let ([a, b, c, d, e, f, g, h], [i, j, k, l, m, n, o, p]) = (word(0), word(1));
        Self(Pcg64Mcg::from_seed([a, b, c, d, e, f, g, h, i, j, k, l, m, n, o, p]))
    }

    /// Between 0 and 1, never either: the middle of one of 2⁵³ equal steps.
    pub fn even(&mut self) -> f64 {
        layers::even(self.0.next_u64())
    }

    /// Normal with mean 0 and standard deviation 1.
    pub fn normal(&mut self) -> f64 {
        layers::normal(|| self.0.next_u64())
    }
}

fn mixed(x: u64) -> u64 {
    let x = x.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let x = (x ^ (x >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let x = (x ^ (x >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    x ^ (x >> 31)
}

/// Probability that a standard normal number is below `z`: Φ(z) = erfc(−z/√2)/2.
///
/// Φ(1.96) = 0.9750021 (any table).
/// ```
/// # use roulade_stats::propagation::deviate::normal_probability;
/// assert!((normal_probability(1.96) - 0.975_002_1).abs() < 1e-7);
/// ```
pub fn normal_probability(z: f64) -> f64 {
    0.5 * erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// The standard normal number that a share `p` lies below, to about sixteen digits (Wichura, Applied Statistics 37
/// (1988) 477, algorithm AS 241, doi 10.2307/2347330; coefficients from memory, tested against [`normal_probability`]).
///
/// ```
/// # use roulade_stats::propagation::deviate::normal_quantile;
/// assert!((normal_quantile(0.975) - 1.959_963_984_540_054).abs() < 1e-14);
/// ```
pub fn normal_quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        return q * ratio(&CENTRE, 0.180_625 - q * q);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    let r = (-ln(tail)).sqrt();
    let z = if r <= 5.0 { ratio(&FLANK, r - 1.6) } else { ratio(&END, r - 5.0) };
    if q < 0.0 { -z } else { z }
}

/// Above and below the line, from the highest power.
type Ratio = ([f64; 8], [f64; 8]);

fn ratio((above, below): &Ratio, r: f64) -> f64 {
    let sum = |powers: &[f64; 8]| powers.iter().fold(0.0, |sum, power| sum * r + power);
    sum(above) / sum(below)
}

#[allow(clippy::excessive_precision, reason = "as printed")]
const CENTRE: Ratio = (
    [
        2_509.080_928_730_122_672_7,
        33_430.575_583_588_128_105,
        67_265.770_927_008_700_853,
        45_921.953_931_549_871_457,
        13_731.693_765_509_461_125,
        1_971.590_950_306_551_442_7,
        133.141_667_891_784_377_45,
        3.387_132_872_796_366_608,
    ],
    [
        5_226.495_278_852_854_561,
        28_729.085_735_721_942_674,
        39_307.895_800_092_710_61,
        21_213.794_301_586_595_867,
        5_394.196_021_424_751_107_7,
        687.187_007_492_057_908_3,
        42.313_330_701_600_911_252,
        1.0,
    ],
);

#[allow(clippy::excessive_precision, reason = "as printed")]
const FLANK: Ratio = (
    [
        7.745_450_142_783_414_076_4e-4,
        2.272_384_498_926_918_458_33e-2,
        2.417_807_251_774_506_117_7e-1,
        1.270_458_252_452_368_382_58,
        3.647_848_324_763_204_605_04,
        5.769_497_221_460_691_405_5,
        4.630_337_846_156_545_295_9,
        1.423_437_110_749_683_577_34,
    ],
    [
        1.050_750_071_644_416_843_24e-9,
        5.475_938_084_995_344_946e-4,
        1.519_866_656_361_645_719_66e-2,
        1.481_039_764_274_800_745_9e-1,
        6.897_673_349_851_000_045_5e-1,
        1.676_384_830_183_803_849_4,
        2.053_191_626_637_758_821_87,
        1.0,
    ],
);

#[allow(clippy::excessive_precision, reason = "as printed")]
const END: Ratio = (
    [
        2.010_334_399_292_288_132_65e-7,
        2.711_555_568_743_487_578_15e-5,
        1.242_660_947_388_078_438_6e-3,
        2.653_218_952_657_612_309_3e-2,
        2.965_605_718_285_048_912_3e-1,
        1.784_826_539_917_291_335_8,
        5.463_784_911_164_114_369_9,
        6.657_904_643_501_103_777_2,
    ],
    [
        2.044_263_103_389_939_785_64e-15,
        1.421_511_758_316_445_888_7e-7,
        1.846_318_317_510_054_681_8e-5,
        7.868_691_311_456_132_591e-4,
        1.487_536_129_085_061_485_25e-2,
        1.369_298_809_227_358_053_1e-1,
        5.998_322_065_558_879_376_9e-1,
        1.0,
    ],
);

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn quantile_and_probability_are_each_others_inverse() {
        // Down to where doubles near 1 have no more steps; in the lower tail to 10⁻³⁰⁰.
        for k in 1..10_000 {
            let p = f64::from(k) / 10_000.0;
            assert_relative_eq!(normal_probability(normal_quantile(p)), p, max_relative = 2e-15);
        }
        let mut p = 0.4;
        while p > 1e-300 {
            // One unit in the last place of z is z² of them in p.
            assert_relative_eq!(normal_probability(normal_quantile(p)), p, max_relative = 1e-12);
            p *= 0.37;
        }
        assert_relative_eq!(normal_quantile(0.5), 0.0);
        assert_relative_eq!(normal_quantile(0.9), -normal_quantile(0.1), max_relative = 1e-14);
    }

    #[test]
    fn draws_have_their_moments() {
        let mut stream = Stream::of(1, 0);
        let (mut sums, mut even, count) = ([0.0; 4], [0.0; 2], 200_000);
        for _ in 0..count {
            let z = stream.normal();
            let power = [z, z * z, z * z * z, z * z * z * z];
            sums.iter_mut().zip(power).for_each(|(sum, x)| *sum += x / f64::from(count));
            let x = stream.even();
            assert!(x > 0.0 && x < 1.0);
            even[0] += x / f64::from(count);
            even[1] += x * x / f64::from(count);
        }
        // Four standard errors: of z, z², z³, z⁴ they are √1, √2, √15 and √96 over √count.
        let root = f64::from(count).sqrt();
        for (sum, (expected, sd)) in sums.iter().zip([(0.0, 1.0), (1.0, 1.42), (0.0, 3.88), (3.0, 9.8)]) {
            assert!((sum - expected).abs() < 4.0 * sd / root, "{sum} {expected}");
        }
        assert!(
            (even[0] - 0.5).abs() < 4.0 * 0.289 / root && (even[1] - 1.0 / 3.0).abs() < 4.0 * 0.299 / root
        );
    }

    /// Counts in equal shares of the normal distribution, the outermost all in its tails.
    #[test]
    fn draws_are_spread_as_the_distribution_says() {
        const BINS: usize = 4000;
        let (mut stream, mut counts, each) = (Stream::of(1, 0), vec![0.0; BINS], 250.0);
        for _ in 0..1_000_000 {
            let p = normal_probability(stream.normal());
            #[allow(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "a share of some bins"
            )]
            let bin = (p * BINS as f64) as usize;
            counts[bin.min(BINS - 1)] += 1.0;
        }
        let square: f64 = counts.iter().map(|count| (count - each) * (count - each) / each).sum();
        // χ² of so many bins is their number less one, give or take √2 of it: four of these.
        let freedom = BINS as f64 - 1.0;
        assert!((square - freedom).abs() < 4.0 * (2.0 * freedom).sqrt(), "{square}");
        let outer = counts[0] + counts[BINS - 1];
        assert!((outer - 2.0 * each).abs() < 4.0 * (2.0 * each).sqrt(), "{outer}");
    }

    #[test]
    fn streams_are_their_own_and_always_the_same() {
        let first = |seed, number| {
            let mut stream = Stream::of(seed, number);
            [stream.even().to_bits(), stream.even().to_bits()]
        };
        assert_eq!(first(1, 0), first(1, 0));
        let all: Vec<_> = (0..40).flat_map(|seed| (0..40).map(move |number| first(seed, number))).collect();
        let apart: std::collections::BTreeSet<_> = all.iter().collect();
        assert_eq!(apart.len(), all.len());
        // Two streams of one seed know nothing of one another.
        let (mut a, mut b, count) = (Stream::of(7, 0), Stream::of(7, 1), 100_000);
        let together: f64 = (0..count).map(|_| a.normal() * b.normal()).sum::<f64>() / f64::from(count);
        assert!(together.abs() < 4.0 / f64::from(count).sqrt(), "{together}");
    }
}
