//! Coverage intervals, and whether those of first order hold (JCGM 101:2008, clause 8).

use crate::decimal;
use serde::Serialize;

/// Probability that a quantity lies in its interval.
pub const COVERAGE: f64 = 0.95;

/// Half the width of a 95 % interval in standard uncertainties, where the distribution is normal (JCGM 100:2008,
/// 6.3.3 and table G.1): the 0.975 quantile.
pub const FACTOR: f64 = 1.959_963_984_540_054;

/// From one value to another.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Interval {
    /// The 95 % interval of a normal distribution.
    pub fn about(value: f64, u: f64) -> Self {
        Self { low: value - FACTOR * u, high: value + FACTOR * u }
    }
}

/// Half of the last place of a standard uncertainty of so many digits (JCGM 101:2008, 7.9.2): u = c·10ˡ with c a whole
/// number of `digits` digits, δ = ½·10ˡ. Zero of zero.
///
/// 0.000 35 to two digits is 35·10⁻⁵: δ = 5·10⁻⁶ (example 1 there, from memory).
/// ```
/// # use roulade_stats::propagation::interval::tolerance;
/// assert_eq!(tolerance(0.000_35, 2), 5e-6);
/// assert_eq!(tolerance(36.0, 2), 0.5);
/// ```
pub fn tolerance(u: f64, digits: usize) -> f64 {
    let digits = digits.max(1);
    // The exponent as it is once u is rounded: 0.0996 to two digits is 10·10⁻².
    let rounded = format!("{:.*e}", digits - 1, u.abs());
    let power = rounded.split_once('e').and_then(|(_, power)| power.parse::<i32>().ok());
    let last = power.map(|power| power - i32::try_from(digits - 1).unwrap_or(0));
    match last {
        Some(last) if u != 0.0 && u.is_finite() => decimal::number(&format!("5e{}", last - 1)).unwrap_or(0.0),
        _ => 0.0,
    }
}

/// What the comparison of two intervals says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum IntervalVerdict {
    /// Both ends agree within the tolerance.
    Agrees,
    /// One end at least does not.
    Differs,
    /// Too few trials to tell.
    Open,
}

/// First order against draws.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Validation {
    /// What it comes to.
    pub verdict: IntervalVerdict,
    /// How far the ends may lie apart.
    pub tolerance: f64,
    /// Lower end of the draws less that of first order.
    pub low: f64,
    /// Upper end of the draws less that of first order.
    pub high: f64,
}

impl Validation {
    /// Holds one interval against the other: first order is validated where |Δlow| and |Δhigh| are both no larger than
    /// `tolerance` (JCGM 101:2008, 8.1). `errors` are the standard errors of the sampled ends; where the larger
    /// difference is within two of them of the tolerance, more draws are needed to tell.
    pub fn of(first: Interval, sampled: Interval, errors: Interval, tolerance: f64) -> Self {
        let (low, high) = (sampled.low - first.low, sampled.high - first.high);
        let beyond = |apart: f64, error: f64| apart.abs() - 2.0 * error > tolerance;
        let within = |apart: f64, error: f64| apart.abs() + 2.0 * error <= tolerance;
        let verdict = if beyond(low, errors.low) || beyond(high, errors.high) {
            IntervalVerdict::Differs
        } else if within(low, errors.low) && within(high, errors.high) {
            IntervalVerdict::Agrees
        } else {
            IntervalVerdict::Open
        };
        Self { verdict, tolerance, low, high }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::float_cmp, reason = "powers of ten are read from their text")]

    use super::*;

    #[test]
    fn the_tolerance_is_half_the_last_place() {
        for (u, digits, expected) in [
            (0.000_35, 1, 5e-5),
            (2.0, 1, 0.5),
            (0.0754, 2, 0.0005),
            (0.0996, 2, 0.005),
            (0.0996, 1, 0.05),
            (-36.0, 2, 0.5),
            (0.0, 2, 0.0),
            (f64::NAN, 2, 0.0),
        ] {
            assert_eq!(tolerance(u, digits), expected, "{u} {digits}");
        }
    }

    #[test]
    fn ends_are_held_against_one_another() {
        let of = |low, high, error| {
            let errors = Interval { low: error, high: error };
            Validation::of(Interval::about(0.0, 1.0), Interval { low, high }, errors, 0.05).verdict
        };
        assert_eq!(of(-1.96, 1.96, 0.01), IntervalVerdict::Agrees);
        assert_eq!(of(-1.96, 2.1, 0.01), IntervalVerdict::Differs);
        assert_eq!(of(-2.1, 1.96, 0.01), IntervalVerdict::Differs);
        assert_eq!(of(-1.96, 2.0, 0.01), IntervalVerdict::Open);
        assert_eq!(of(-1.96, 1.96, 0.1), IntervalVerdict::Open);
        let nothing = Validation::of(
            Interval::about(1.0, 0.0),
            Interval { low: 0.9, high: 1.1 },
            Interval { low: 0.0, high: 0.0 },
            0.0,
        );
        assert_eq!(nothing.verdict, IntervalVerdict::Differs);
        assert!((nothing.low + 0.1).abs() < 1e-12 && (nothing.high - 0.1).abs() < 1e-12);
    }
}
