//! A table made from a user's points.

use super::Curve;
use super::curve::{Knot, limited};
use crate::quantity::problem::Problem;

impl Curve {
    /// The curve through points (x, U): stoichiometry from 0 to 1 and volts, in rising or falling order of x. The
    /// slope at a point is that of the parabola through it and its neighbours, shrunk where the cubic would not fall
    /// (Fritsch, Carlson, SIAM J. Numer. Anal. 17 (1980) 238, doi 10.1137/0717021, from memory).
    ///
    /// # Errors
    /// Where there are fewer than four points; else names the first that is not finite, lies outside 0 to 1, is out
    /// of order, or does not lie below the one before it.
    pub fn from_points(points: &[(f64, f64)]) -> Result<Self, Problem> {
        Self::from_points_within(points, (f64::NEG_INFINITY, f64::INFINITY))
    }

    /// The same where a practical capacity stands for a part of it alone; points beyond continue it.
    ///
    /// # Errors
    /// As [`Self::from_points`], and where no two of the points lie within that window.
    pub fn from_points_within(points: &[(f64, f64)], window: (f64, f64)) -> Result<Self, Problem> {
        let too_few = || Problem::new("points", format!("{} points", points.len()), "at least 4 points");
        if points.len() < 4 {
            return Err(too_few());
        }
        let mut ordered: Vec<(usize, (f64, f64))> = points.iter().copied().enumerate().collect();
        if points.first().zip(points.last()).is_some_and(|(first, last)| first.0 > last.0) {
            ordered.reverse();
        }
        let mut knots: Vec<Knot> = Vec::with_capacity(ordered.len());
        for (place, (x, u)) in ordered {
            let knot = Knot { x, u, slope: 0.0 };
            if let Some(expected) = fault(knots.last(), &knot) {
                return Err(Problem::new(format!("points[{place}]"), format!("({x}, {u})"), expected));
            }
            knots.push(knot);
        }
        let slopes = falling_slopes(&knots);
        for (knot, slope) in knots.iter_mut().zip(slopes) {
            knot.slope = slope;
        }
        let inside = knots.iter().filter(|knot| window.0 <= knot.x && knot.x <= window.1).count();
        if inside < 2 {
            let found = format!("{} to {}, with {inside} of the curve's points", window.0, window.1);
            return Err(Problem::new(
                "window",
                found,
                "a low end that is below the high end, with at least two points between",
            ));
        }
        Self::through(&knots, window).ok_or_else(too_few)
    }
}

/// What a point should have been, given the one below it in x; nothing where it is right.
fn fault(before: Option<&Knot>, knot: &Knot) -> Option<String> {
    if !(knot.x.is_finite() && knot.u.is_finite()) {
        return Some("two finite numbers".into());
    }
    if !(0.0..=1.0).contains(&knot.x) {
        return Some("a stoichiometry that lies from 0 to 1".into());
    }
    let before = before?;
    if knot.x <= before.x {
        Some(format!("stoichiometries that rise or fall all through, here one above {}", before.x))
    } else if !before.falls_to(knot) {
        Some(format!(
            "a potential that falls with the stoichiometry, here below the {} V of the point before",
            before.u
        ))
    } else {
        None
    }
}

/// Slopes with which every piece falls: of the parabola through three neighbours, then limited interval by interval
/// (shrinking one never spoils an interval done before).
pub(super) fn falling_slopes(knots: &[Knot]) -> Vec<f64> {
    let intervals: Vec<(f64, f64)> =
        knots.iter().zip(knots.iter().skip(1)).map(|(a, b)| (b.x - a.x, (b.u - a.u) / (b.x - a.x))).collect();
    let inner = intervals
        .iter()
        .zip(intervals.iter().skip(1))
        .map(|((h0, s0), (h1, s1))| (h1 * s0 + h0 * s1) / (h0 + h1));
    let edge = |near: Option<&(f64, f64)>, next: Option<&(f64, f64)>| {
        near.zip(next).map_or(0.0, |((h0, s0), (h1, s1))| ((2.0 * h0 + h1) * s0 - h0 * s1) / (h0 + h1))
    };
    let first = edge(intervals.first(), intervals.get(1));
    let last = edge(intervals.last(), intervals.iter().rev().nth(1));
    let mut slopes: Vec<f64> = std::iter::once(first).chain(inner).chain([last]).collect();
    for (i, (_, secant)) in intervals.iter().enumerate() {
        if let Some([d0, d1]) = slopes.get_mut(i..i + 2) {
            (*d0, *d1) = limited(*d0, *d1, *secant);
        }
    }
    slopes
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const POINTS: [(f64, f64); 5] = [(0.0, 1.0), (0.1, 0.3), (0.5, 0.2), (0.9, 0.1), (1.0, 0.02)];

    fn problem(points: &[(f64, f64)]) -> Problem {
        Curve::from_points(points).unwrap_err()
    }

    fn with(i: usize, point: (f64, f64)) -> Vec<(f64, f64)> {
        let mut points = POINTS.to_vec();
        points[i] = point;
        points
    }

    #[test]
    fn goes_through_its_points() {
        let curve = Curve::from_points(&POINTS).unwrap();
        for (x, u) in POINTS {
            assert!((curve.potential(x) - u).abs() < 1e-15);
        }
    }

    #[test]
    fn order_of_the_points_does_not_matter() {
        let falling: Vec<_> = POINTS.into_iter().rev().collect();
        assert_eq!(Curve::from_points(&falling), Curve::from_points(&POINTS));
    }

    #[test]
    fn a_straight_line_stays_straight() {
        let curve = Curve::from_points(&[(0.0, 4.0), (0.2, 3.8), (0.7, 3.3), (1.0, 3.0)]).unwrap();
        assert!((curve.potential(0.4321) - (4.0 - 0.4321)).abs() < 1e-15);
        assert!((curve.antiderivative(1.0) - 3.5).abs() < 1e-15);
    }

    #[test]
    fn says_how_many_points_are_wanted() {
        assert_eq!(problem(&POINTS[..3]).to_string(), "points: found 3 points; expected at least 4 points");
    }

    #[test]
    fn names_the_point_that_is_wrong() {
        assert_eq!(problem(&with(2, (0.5, f64::NAN))).place, "points[2]");
        assert_eq!(problem(&with(3, (0.5, 0.1))).place, "points[3]");
        assert_eq!(problem(&with(4, (1.5, 0.02))).place, "points[4]");
        assert_eq!(
            problem(&with(1, (0.1, 1.0))).to_string(),
            "points[1]: found (0.1, 1); expected a potential that falls with the stoichiometry, here below the 1 V of the point before"
        );
    }

    #[test]
    fn names_the_place_as_it_was_given_in_falling_order() {
        let mut falling = with(1, (0.1, 0.15));
        falling.reverse();
        // Read from the low end of x, (0.5, 0.2) is the first that does not lie below its neighbour.
        assert_eq!(problem(&falling).place, "points[2]");
    }

    proptest! {
        /// Wild steps in both directions of the table: no piece rises.
        #[test]
        fn falls_through_any_points(steps in prop::collection::vec((0.001..1.0f64, 1e-6..1.0f64), 4..12)) {
            let total: f64 = steps.iter().map(|s| s.0).sum();
            let points: Vec<(f64, f64)> = steps
                .iter()
                .scan((0.0, 5.0), |(x, u), (dx, du)| {
                    *x += dx / total * 0.999;
                    *u -= du;
                    Some((*x, *u))
                })
                .collect();
            let curve = Curve::from_points(&points).unwrap();
            let (low, high) = curve.window();
            let values: Vec<f64> =
                (0..=2000).map(|i| curve.potential(low + (high - low) * f64::from(i) / 2000.0)).collect();
            prop_assert!(values.windows(2).all(|w| w[1] <= w[0]));
        }
    }
}
