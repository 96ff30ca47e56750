//! Numeric derivatives of the predictions, by parameter.

/// Steps as a part of the prior's uncertainty: a broad prior spans the parameter's own size, and the error of a central
/// difference goes with the square of the step.
const OF_PRIOR: f64 = 1e-4;
/// Steps as a part of the value where there is no prior: the cube root of the rounding unit, where the errors of a central
/// difference from curvature and from rounding are alike.
const OF_VALUE: f64 = 6e-6;
/// No step is a smaller part of the value: rounding would take over.
const LEAST: f64 = 1e-6;

/// The step for a parameter at `x`, which started from `value` ± `u`.
pub(super) fn step(x: f64, value: f64, u: f64) -> f64 {
    let size = x.abs().max(if x == 0.0 { value.abs() } else { 0.0 });
    let size = if size > 0.0 { size } else { 1.0 };
    if u.is_finite() { (OF_PRIOR * u).max(LEAST * x.abs()) } else { OF_VALUE * size }
}

/// ∂h/∂x at `x`, where the predictions are `here`: a central difference; at a bound, or where one side has no answer, the
/// parabola through three points on the other side; near both, a shorter step. `None` if no step has an answer.
pub(super) fn along(
    x: f64,
    step: f64,
    (low, high): (f64, f64),
    here: &[f64],
    mut at: impl FnMut(f64) -> Option<Vec<f64>>,
) -> Option<Vec<f64>> {
    let mut step = step;
    for _ in 0..6 {
        let mut side =
            |to: f64| if to >= low && to <= high && to.total_cmp(&x).is_ne() { at(to) } else { None };
        // The step as it is after rounding.
        let (up, down) = (x + step, x - step);
        match (side(up), side(down)) {
            (Some(a), Some(b)) => {
                return Some(a.iter().zip(&b).map(|(a, b)| (a - b) / (up - down)).collect());
            }
            (Some(one), None) => {
                if let Some(two) = side(x + 2.0 * step) {
                    return Some(parabola(up - x, here, &one, &two));
                }
            }
            (None, Some(one)) => {
                if let Some(two) = side(x - 2.0 * step) {
                    return Some(parabola(down - x, here, &one, &two));
                }
            }
            (None, None) => {}
        }
        step *= 0.1;
    }
    None
}

/// Slope at the first of three points, `step` apart.
fn parabola(step: f64, here: &[f64], one: &[f64], two: &[f64]) -> Vec<f64> {
    here.iter().zip(one).zip(two).map(|((h, a), b)| (4.0 * a - 3.0 * h - b) / (2.0 * step)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn cube(x: f64) -> f64 {
        x * x * x
    }

    #[test]
    fn central_one_sided_and_shortened() {
        let h = step(2.0, 2.0, f64::INFINITY);
        let slope =
            |bounds, at: &dyn Fn(f64) -> Option<Vec<f64>>| along(2.0, h, bounds, &[8.0], at).map(|s| s[0]);
        let free = (f64::NEG_INFINITY, f64::INFINITY);
        let all = |x: f64| Some(vec![cube(x)]);
        assert_relative_eq!(slope(free, &all).unwrap(), 12.0, max_relative = 1e-10);
        assert_relative_eq!(slope((2.0, 3.0), &all).unwrap(), 12.0, max_relative = 1e-9);
        assert_relative_eq!(slope((1.0, 2.0), &all).unwrap(), 12.0, max_relative = 1e-9);
        // Answers end 2 % of a step away on both sides.
        let narrow = |x: f64| ((x - 2.0).abs() < 0.02 * h).then(|| vec![cube(x)]);
        assert_relative_eq!(slope(free, &narrow).unwrap(), 12.0, max_relative = 1e-6);
        assert!(slope(free, &|_| None).is_none());
        assert!(slope((2.0, 2.0), &all).is_none());
    }

    #[test]
    fn steps_follow_the_prior_then_the_value() {
        assert_relative_eq!(step(10.0, 10.0, 2.0), 2e-4);
        assert_relative_eq!(step(10.0, 10.0, 1e-6), 1e-5);
        assert_relative_eq!(step(-10.0, 1.0, f64::INFINITY), 6e-5);
        assert_relative_eq!(step(0.0, 3.0, f64::INFINITY), 1.8e-5);
        assert_relative_eq!(step(0.0, 0.0, f64::INFINITY), 6e-6);
    }
}
