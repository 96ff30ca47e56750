//! Tails of the distributions that a test of readings needs.
//!
//! Written here because a crate of statistics calls the standard library's `exp` and `ln`, whose bits differ between
//! targets. Formulas: NIST Digital Library of Mathematical Functions, <https://dlmf.nist.gov>, by number.

use crate::maths::{erfc, exp, lgamma, ln};
use crate::propagation::deviate::normal_quantile;
use std::f64::consts::SQRT_2;

/// Terms of a series or of a continued fraction; those here need some dozens near their worst.
const TERMS: u32 = 100_000;

/// Probability that a standard normal number is further from zero than `z`, either way: erfc(|z|/√2).
pub fn normal_two_sided(z: f64) -> f64 {
    erfc(z.abs() / SQRT_2)
}

/// The standard normal number that is further from zero, either way, with `probability` only; infinite at zero.
///
/// ```
/// // Table of critical values: 1.96 at 5 %.
/// assert!((roulade_stats::least_squares::distribution::normal_critical(0.05) - 1.959_963_984_540_054).abs() < 1e-12);
/// ```
pub fn normal_critical(probability: f64) -> f64 {
    if !(probability > 0.0 && probability < 1.0) {
        return if probability >= 1.0 { 0.0 } else { f64::INFINITY };
    }
    -normal_quantile(0.5 * probability)
}

/// Probability of a χ² above `x` with so many degrees of freedom: Q(ν/2, x/2), DLMF 8.2.4.
///
/// ```
/// // Table of critical values: 18.307 at 5 % and 10 degrees of freedom.
/// let tail = roulade_stats::least_squares::distribution::chi_square_tail(18.307_038_053_275_15, 10.0);
/// assert!((tail - 0.05).abs() < 1e-14);
/// ```
pub fn chi_square_tail(x: f64, degrees: f64) -> f64 {
    let (a, x) = (0.5 * degrees, 0.5 * x);
    if x.is_nan() || a.is_nan() || a <= 0.0 {
        return f64::NAN;
    }
    if x <= 0.0 {
        return 1.0;
    }
    if x.is_infinite() {
        return 0.0;
    }
    let front = exp(a * ln(x) - x - lgamma(a));
    if x < a + 1.0 {
        // DLMF 8.11.4, for P = 1 − Q.
        let (mut term, mut sum) = (1.0 / a, 1.0 / a);
        for k in 1..TERMS {
            term *= x / (a + f64::from(k));
            sum += term;
            if term <= 1e-17 * sum {
                break;
            }
        }
        (1.0 - front * sum).clamp(0.0, 1.0)
    } else {
        // DLMF 8.9.2, in its even form.
        let fraction = fraction(x + 1.0 - a, |k| {
            let k = f64::from(k);
            (-k * (k - a), x + 2.0 * k + 1.0 - a)
        });
        (front / fraction).clamp(0.0, 1.0)
    }
}

/// Probability of a Student's t further from zero than `t`, either way: `I_x(ν/2`, ½) at x = ν/(ν + t²), DLMF 8.17; normal
/// for infinite ν.
///
/// ```
/// // Table of critical values: 2.228 at 5 % and 10 degrees of freedom.
/// let tail = roulade_stats::least_squares::distribution::student_two_sided(2.228_138_851_986_273_5, 10.0);
/// assert!((tail - 0.05).abs() < 1e-12);
/// ```
pub fn student_two_sided(t: f64, degrees: f64) -> f64 {
    // Beyond, the two differ by less than rounding, and differences of logarithms of gamma functions have no digit left.
    if degrees > 1e8 {
        return normal_two_sided(t);
    }
    if t.is_nan() || degrees.is_nan() || degrees <= 0.0 {
        return f64::NAN;
    }
    let square = t * t;
    if square.is_infinite() {
        return 0.0;
    }
    let (x, rest) = (degrees / (degrees + square), square / (degrees + square));
    let (a, b) = (0.5 * degrees, 0.5);
    // The continued fraction DLMF 8.17.22 converges well below the mean; beyond, by I_x(a, b) = 1 − I_{1−x}(b, a).
    if x < (a + 1.0) / (a + b + 2.0) { beta(x, rest, a, b) } else { 1.0 - beta(rest, x, b, a) }
        .clamp(0.0, 1.0)
}

/// The regularised incomplete beta function `I_x(a`, b), where `rest` = 1 − x.
fn beta(x: f64, rest: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    let front = exp(a * ln(x) + b * ln(rest) + lgamma(a + b) - lgamma(a) - lgamma(b)) / a;
    let fraction = fraction(1.0, |k| {
        let m = f64::from(k / 2);
        let d = if k % 2 == 0 {
            m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m))
        } else {
            -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0))
        };
        (d, 1.0)
    });
    front / fraction
}

/// b₀ + a₁/(b₁ + a₂/(b₂ + …)) by Steed's, Lentz's and Thompson's recurrence (DLMF 3.10(iii)); `term(k)` is (`a_k`, `b_k`).
fn fraction(first: f64, term: impl Fn(u32) -> (f64, f64)) -> f64 {
    let off_zero = |x: f64| if x == 0.0 { f64::MIN_POSITIVE } else { x };
    let mut value = off_zero(first);
    let (mut c, mut d) = (value, 0.0);
    for k in 1..TERMS {
        let (a, b) = term(k);
        d = 1.0 / off_zero(b + a * d);
        c = off_zero(b + a / c);
        value *= c * d;
        if (c * d - 1.0).abs() <= 1e-16 {
            break;
        }
    }
    value
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;
    use statrs::distribution::{ChiSquared, ContinuousCDF, Normal, StudentsT};

    /// Five per cent and one per cent, table of the NIST/SEMATECH e-Handbook, 1.3.6.7.2 and 1.3.6.7.4 (from memory), to the
    /// digits printed there.
    #[test]
    fn published_critical_values() {
        for (degrees, five, one) in [(1.0, 3.841, 6.635), (5.0, 11.070, 15.086), (30.0, 43.773, 50.892)] {
            assert!((chi_square_tail(five, degrees) - 0.05).abs() < 2e-5, "{degrees}");
            assert!((chi_square_tail(one, degrees) - 0.01).abs() < 5e-6, "{degrees}");
        }
        for (degrees, five, one) in [(1.0, 12.706, 63.657), (4.0, 2.776, 4.604), (60.0, 2.000, 2.660)] {
            assert!((student_two_sided(five, degrees) - 0.05).abs() < 4e-5, "{degrees}");
            assert!((student_two_sided(one, degrees) - 0.01).abs() < 1e-5, "{degrees}");
        }
        // Twelve digits of 2 Φ(−1) and 2 Φ(−3), from memory.
        assert!((normal_two_sided(1.0) - 0.317_310_507_863).abs() < 1e-12);
        assert!((normal_two_sided(-3.0) - 0.002_699_796_063).abs() < 1e-12);
        assert!((normal_critical(0.01) - 2.575_829).abs() < 1e-6);
    }

    #[test]
    fn closed_forms() {
        // Two degrees of freedom: e^(−x/2); one: the normal tail. Student's with one is Cauchy's, with two algebraic.
        for x in [1e-3, 0.7, 3.0, 30.0, 600.0] {
            assert_relative_eq!(chi_square_tail(x, 2.0), exp(-0.5 * x), max_relative = 1e-13);
            assert_relative_eq!(chi_square_tail(x, 1.0), normal_two_sided(x.sqrt()), max_relative = 1e-12);
            assert_relative_eq!(student_two_sided(x, 2.0), 1.0 - x / (2.0 + x * x).sqrt(), epsilon = 1e-14);
        }
        assert_relative_eq!(student_two_sided(1.0, 1.0), 0.5, max_relative = 1e-14);
        assert_relative_eq!(student_two_sided(1.9, f64::INFINITY), normal_two_sided(1.9));
    }

    #[test]
    fn ends() {
        assert_eq!((chi_square_tail(0.0, 3.0), chi_square_tail(f64::INFINITY, 3.0)), (1.0, 0.0));
        assert_eq!((student_two_sided(0.0, 3.0), student_two_sided(f64::INFINITY, 3.0)), (1.0, 0.0));
        assert!(chi_square_tail(1.0, 0.0).is_nan() && student_two_sided(1.0, 0.0).is_nan());
        assert_eq!((normal_critical(1.0), normal_critical(0.0)), (0.0, f64::INFINITY));
    }

    proptest! {
        #[test]
        fn agrees_with_another_library(
            x in 0.0..200.0_f64, degrees in 0.6..150.0_f64, t in -12.0..12.0_f64, p in 1e-12..0.999_999_f64,
        ) {
            let chi = ChiSquared::new(degrees).unwrap().sf(x);
            prop_assert!((chi_square_tail(x, degrees) - chi).abs() <= 1e-11 * chi + 1e-13, "{}", chi);
            let student = 2.0 * StudentsT::new(0.0, 1.0, degrees).unwrap().sf(t.abs());
            prop_assert!((student_two_sided(t, degrees) - student).abs() <= 1e-10 * student + 1e-13, "{}", student);
            let unit = Normal::new(0.0, 1.0).unwrap();
            // Its erfc is good to some 1e-10; ours is held to closed forms above.
            let tail = 2.0 * unit.sf(t.abs());
            prop_assert!((normal_two_sided(t) - tail).abs() <= 1e-9 * tail + 1e-14);
            let z = normal_critical(p);
            prop_assert!((normal_two_sided(z) - p).abs() <= 1e-13 * p.max(1e-3), "{} {}", z, p);
        }
    }
}
