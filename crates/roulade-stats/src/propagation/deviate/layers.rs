//! The normal density in layers of equal area: a number drawn costs a product and a comparison.
//!
//! Marsaglia, Tsang, Journal of Statistical Software 5 (2000) 8, doi 10.18637/jss.v005.i08 (from memory; what is drawn is tested
//! against the distribution). The layers lie over the whole density, and what falls between them and it is thrown again, so
//! draws are exact.

use crate::maths::{exp, ln};

/// How many layers; the number of one is the lowest bits of a draw.
const COUNT: usize = 128;
const LOWEST_BITS: u64 = COUNT as u64 - 1;
/// Where the lowest layer ends and the tail begins.
const TAIL: f64 = 3.442_619_855_899;
/// Area of each layer; that of the lowest holds the tail.
const AREA: f64 = 9.912_563_035_262_17e-3;
/// Right ends of the layers from the lowest, which is as wide as a rectangle of its area would be, to the top of the density.
const ENDS: [f64; COUNT + 1] = ends();

/// Between 0 and 1, never either: the middle of one of 2⁵³ equal steps.
pub(super) fn even(bits: u64) -> f64 {
    ((bits >> 11) as f64 + 0.5) * (1.0 / 9_007_199_254_740_992.0)
}

/// Normal with mean 0 and standard deviation 1, from as many random numbers as it takes.
pub(super) fn normal(mut random: impl FnMut() -> u64) -> f64 {
    loop {
        let bits = random();
        // The place within a layer is in other bits than its number: the middle of one of 2⁵³ equal steps from −1 to 1.
        #[allow(clippy::cast_possible_wrap, reason = "the highest bit is the sign")]
        let place = ((bits as i64 >> 11) as f64 + 0.5) * (1.0 / 4_503_599_627_370_496.0);
        let layer = usize::try_from(bits & LOWEST_BITS).unwrap_or(0);
        let (Some(end), Some(above)) = (ENDS.get(layer), ENDS.get(layer + 1)) else { continue };
        let x = place * end;
        if x.abs() < *above {
            return x;
        }
        if layer == 0 {
            return tail(&mut random).copysign(x);
        }
        let (low, high) = (height(*end), height(*above));
        if low + even(random()) * (high - low) < height(x) {
            return x;
        }
    }
}

/// Beyond `TAIL`: exponential numbers, of which those under the density are kept (Marsaglia, Technometrics 6 (1964) 101, doi
/// 10.1080/00401706.1964.10490150, from memory).
#[cold]
fn tail(random: &mut impl FnMut() -> u64) -> f64 {
    loop {
        let past = -ln(even(random())) / TAIL;
        if -2.0 * ln(even(random())) > past * past {
            return TAIL + past;
        }
    }
}

/// The density over that at nought.
fn height(x: f64) -> f64 {
    exp(-0.5 * x * x)
}

/// The same as the compiler can work it out: a series where it is short, and squares of that.
const fn height_by_series(x: f64) -> f64 {
    let y = -0.5 * x * x / 64.0;
    let (mut sum, mut term, mut k) = (1.0, 1.0, 1.0);
    while k < 16.0 {
        term *= y / k;
        sum += term;
        k += 1.0;
    }
    // To the power of 64.
    let mut squares = 0;
    while squares < 6 {
        sum *= sum;
        squares += 1;
    }
    sum
}

/// Each layer lies as much above the one below as its area asks for; Newton's steps find where the density is that high.
#[allow(clippy::indexing_slicing, reason = "worked out by the compiler, which would complain")]
const fn ends() -> [f64; COUNT + 1] {
    let mut ends = [0.0; COUNT + 1];
    let mut height = height_by_series(TAIL);
    ends[0] = AREA / height;
    ends[1] = TAIL;
    let mut layer = 1;
    while layer + 1 < COUNT {
        height += AREA / ends[layer];
        let (mut x, mut steps) = (ends[layer], 0);
        while steps < 8 {
            x += (1.0 - height / height_by_series(x)) / x;
            steps += 1;
        }
        layer += 1;
        ends[layer] = x;
    }
    ends
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::maths::erfc;
    use approx::assert_relative_eq;
    use std::f64::consts::{FRAC_1_SQRT_2, FRAC_PI_2};

    #[test]
    fn layers_are_of_one_area_and_reach_the_top() {
        let tail = FRAC_PI_2.sqrt() * erfc(TAIL * FRAC_1_SQRT_2);
        assert_relative_eq!(AREA, TAIL * height(TAIL) + tail, max_relative = 1e-12);
        assert_relative_eq!(ENDS[0] * height(TAIL), AREA, max_relative = 1e-14);
        for i in 1..COUNT {
            let area = ENDS[i] * (height(ENDS[i + 1]) - height(ENDS[i]));
            // All that was rounded on the way up shows in the topmost.
            let tolerance = if i + 1 < COUNT { 1e-12 } else { 1e-8 };
            assert_relative_eq!(area, AREA, max_relative = tolerance);
        }
        assert_relative_eq!(ENDS[COUNT], 0.0);
    }
}
