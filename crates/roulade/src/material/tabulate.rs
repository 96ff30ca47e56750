//! A table made from a closed form.

use super::curve::Knot;
use super::points::falling_slopes;
use super::{Curve, Form, Half, Shape};
use crate::quantity::problem::Problem;

/// Largest error the table may show at the places tried between its knots, V.
const ERROR: f64 = 1e-6;
const FEWEST_INTERVALS: u32 = 32;
const MOST_INTERVALS: u32 = 1 << 14;

impl Curve {
    /// The table of a half-cell of the table of materials: its shape, raised as it says, and its continuations.
    ///
    /// # Errors
    /// Where it does not fall all through its reach.
    pub(super) fn from_half(half: &Half) -> Result<Self, Problem> {
        let raised = |(x, u): &(f64, f64)| Knot { x: *x, u: u + half.raised, slope: 0.0 };
        let below = half.below.iter().map(raised);
        let above = half.above.iter().map(raised);
        let knots = match &half.shape {
            Shape::Points(points) => sloped(below.chain(points.iter().map(raised)).chain(above).collect()),
            Shape::Form(form, domain) => {
                let mut inner = knots_of_form(form, *domain)?;
                for knot in &mut inner {
                    knot.u += half.raised;
                }
                // Continuations take the slope over to them from the form's own knots beside them.
                let mut first = sloped(below.chain(inner.iter().take(2).copied()).collect());
                first.truncate(half.below.len());
                let beside = inner.iter().skip(inner.len().saturating_sub(2)).copied();
                let last = sloped(beside.chain(above).collect());
                let tail = last.iter().skip(last.len() - half.above.len()).copied();
                first.into_iter().chain(inner).chain(tail).collect()
            }
        };
        if let Some((a, b)) =
            knots.iter().zip(knots.iter().skip(1)).find(|(a, b)| !(a.falls_to(b) && a.x < b.x))
        {
            let found = format!("{} V at {}, then {} V at {}", a.u, a.x, b.u, b.x);
            return Err(Problem::new("half", found, "a potential that falls all through its range"));
        }
        let expected = "a curve that has at least two knots";
        Self::through(&knots, half.window).ok_or_else(|| Problem::new("half", "a single knot", expected))
    }
}

/// Knots with slopes at which every piece falls.
fn sloped(mut knots: Vec<Knot>) -> Vec<Knot> {
    let slopes = falling_slopes(&knots);
    for (knot, slope) in knots.iter_mut().zip(slopes) {
        knot.slope = slope;
    }
    knots
}

/// Knots of a closed form over `window`: even ones with the form's own values and slopes, doubled in number until the
/// table is within 1 µV of the form at three places between every two knots. Everywhere it is then within 10 µV.
///
/// # Errors
/// Where the window is empty, or the form does not fall strictly on it, or is too sharp for 16384 intervals.
fn knots_of_form(form: &Form, window: (f64, f64)) -> Result<Vec<Knot>, Problem> {
    let (low, high) = window;
    if !(low.is_finite() && high.is_finite() && low < high) {
        return Err(Problem::new(
            "window",
            format!("{low} to {high}"),
            "a low end that is below the high end",
        ));
    }
    let mut intervals = FEWEST_INTERVALS;
    while intervals <= MOST_INTERVALS {
        let knots = knots(form, window, intervals);
        let stretches = || knots.iter().zip(knots.iter().skip(1));
        if let Some((a, b)) = stretches().find(|(a, b)| !a.falls_to(b)) {
            let found = format!("{} V at {}, then {} V at {}", a.u, a.x, b.u, b.x);
            return Err(Problem::new("form", found, "a potential that falls all through the window"));
        }
        let close = stretches().all(|(a, b)| {
            [0.25, 0.5, 0.75].iter().all(|share| {
                let x = a.x + share * (b.x - a.x);
                (a.potential_towards(b, x) - form.potential(x)).abs() < ERROR
            })
        });
        if close {
            return Ok(knots);
        }
        intervals *= 2;
    }
    Err(Problem::new(
        "form",
        "a step too sharp for a table",
        "a potential that is smooth all through the window",
    ))
}

/// The form at even places over the window, ends included.
fn knots(form: &Form, (low, high): (f64, f64), intervals: u32) -> Vec<Knot> {
    (0..=intervals)
        .map(|i| {
            let share = f64::from(i) / f64::from(intervals);
            let x = if i == intervals { high } else { low + share * (high - low) };
            let (u, slope) = form.potential_and_slope(x);
            Knot { x, u, slope }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::MATERIALS;

    #[test]
    #[allow(clippy::print_stdout, reason = "the worst error is worth reading")]
    fn every_table_is_within_ten_microvolts_of_its_form() {
        let mut worst = (0.0, "", 0.0);
        for material in MATERIALS {
            let Some(half) = material.half else { continue };
            let curve = material.curve().unwrap();
            let Shape::Form(form, (low, high)) = half.shape else { continue };
            // Places that fall on no even grid: steps of the golden section.
            for i in 0..100_000 {
                let x = low + (high - low) * (f64::from(i) * 0.618_033_988_749_895).fract();
                let error = (curve.potential(x) - half.raised - form.potential(x)).abs();
                assert!(error < 1e-5, "{} at {x}: {error:e} V", material.name);
                if error > worst.0 {
                    worst = (error, material.name, x);
                }
            }
            println!("{}: {} knots", material.name, curve.knot_potentials().count());
        }
        println!("worst: {:.3} µV, {} at {}", worst.0 * 1e6, worst.1, worst.2);
    }

    #[test]
    fn a_form_that_rises_is_refused() {
        let hump = Form::Polynomial(&[1.0, 0.2, -1.0]);
        assert_eq!(knots_of_form(&hump, (0.0, 1.0)).unwrap_err().place, "form");
        assert!(knots_of_form(&hump, (0.1, 1.0)).is_ok());
    }

    #[test]
    fn a_step_no_table_can_follow_is_refused() {
        const CLIFF: Form = Form::Sum(&[Form::Polynomial(&[1.0, -1.0]), Form::step(-1.0, 0.123, 1e-9)]);
        assert_eq!(knots_of_form(&CLIFF, (0.0, 1.0)).unwrap_err().found, "a step too sharp for a table");
    }

    #[test]
    fn an_empty_window_is_refused() {
        let line = Form::Polynomial(&[1.0, -1.0]);
        for window in [(0.5, 0.5), (1.0, 0.0), (f64::NAN, 1.0)] {
            assert_eq!(knots_of_form(&line, window).unwrap_err().place, "window");
        }
    }
}
