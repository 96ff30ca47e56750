//! How much warmer a discharge makes a cell.

use crate::cell::design::{Can, Design};
use crate::cell::ledger::heat_capacity;
use crate::quantity::units::Area;
use roulade_stats::maths::exp;
use std::f64::consts::PI;

/// All of the can's outside.
pub(crate) fn outside(can: &Can) -> Area {
    PI * can.diameter * (can.height + 0.5 * can.diameter)
}

/// Rise of a cell's temperature over what is around it, where it was when the discharge began, K.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Warming {
    /// Mean over the discharge.
    pub mean: f64,
    /// At its end.
    pub end: f64,
}

/// What takes up heat and what gives it off.
#[derive(Clone, Copy, Debug)]
pub(super) struct Body {
    /// J/K.
    capacity: f64,
    /// W/K.
    loss: f64,
}

impl Body {
    pub(super) fn of(design: &Design) -> Self {
        let b = design.blueprint();
        Self { capacity: heat_capacity(design), loss: b.path.heat_transfer.value * outside(&b.can).value }
    }

    /// # Formula
    /// `C·dθ/dt = Q/t − h·A·θ` of a body that has one temperature, into which the heat Q goes evenly over the time t. With
    /// `x = h·A·t/C`: at the end `θ = Q/C·(1 − e⁻ˣ)/x`, between the adiabatic rise `Q/C` and the steady one `Q/(h·A·t)`, and on
    /// the mean `Q/C·(1 − (1 − e⁻ˣ)/x)/x` (Incropera, `DeWitt`, Bergman, Lavine, Fundamentals of Heat and Mass Transfer, chapter
    /// 5.3; from memory). C from the ledger, h of the sheet, A of the can's whole outside. Inside a cell is warmer than at its
    /// surface, which is not in it.
    pub(super) fn warmed(&self, joules: f64, seconds: f64) -> Warming {
        let x = self.loss * seconds / self.capacity;
        let adiabatic = joules / self.capacity;
        // (1 − e⁻ˣ)/x and (1 − that)/x, which lose their digits where x is small.
        let (end, mean) = if x < 1e-3 {
            (1.0 - 0.5 * x * (1.0 - x / 3.0), 0.5 - x / 6.0 * (1.0 - 0.25 * x))
        } else {
            let end = (1.0 - exp(-x)) / x;
            (end, (1.0 - end) / x)
        };
        Warming { mean: adiabatic * mean, end: adiabatic * end }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Step by step.
    #[test]
    fn a_body_that_is_warmed() {
        for (loss, seconds) in [(0.0, 1200.0), (1e-5, 1200.0), (0.1, 600.0), (0.3, 3600.0)] {
            let body = Body { capacity: 60.0, loss };
            let (watts, steps) = (2.0, 200_000_u32);
            let dt = seconds / f64::from(steps);
            let (mut rise, mut sum) = (0.0, 0.0);
            for _ in 0..steps {
                // By the middle of each step.
                let half = rise + 0.5 * dt * (watts - loss * rise) / body.capacity;
                sum += half;
                rise += dt * (watts - loss * half) / body.capacity;
            }
            let found = body.warmed(watts * seconds, seconds);
            assert_relative_eq!(found.end, rise, max_relative = 1e-6);
            assert_relative_eq!(found.mean, sum / f64::from(steps), max_relative = 1e-6);
            assert!(found.mean < found.end && found.end <= watts * seconds / body.capacity);
        }
        // Continuous where the two ways meet.
        let at = |loss: f64| Body { capacity: 1.0, loss }.warmed(1.0, 1.0);
        assert_relative_eq!(at(0.999_999e-3).mean, at(1.000_001e-3).mean, max_relative = 1e-8);
        assert_relative_eq!(at(0.999_999e-3).end, at(1.000_001e-3).end, max_relative = 1e-8);
    }
}
