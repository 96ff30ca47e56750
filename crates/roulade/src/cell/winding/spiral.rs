//! The smooth Archimedean spiral: the limit the turn-by-turn roll is compared with.

use crate::quantity::units::Length;
use roulade_stats::maths::asinh;
use std::f64::consts::{PI, TAU};

/// Arc length of `r = r₀ + p·φ/2π` over `turns` turns.
///
/// # Formula
/// `L = (p/4π)·[u·√(1+u²) + asinh u]` between `u₀ = 2πr₀/p` and `u₁ = 2πR/p`, rewritten so that nothing large is
/// subtracted: the difference of the first terms as `(u₁²−u₀²)(1+u₁²+u₀²)/(u₁√(1+u₁²)+u₀√(1+u₀²))`, that of the
/// second as one `asinh`.
///
/// # Example
/// One turn of `r = φ` (a pitch of 2π) is 21.256294148 long (textbook integral `[θ√(1+θ²) + asinh θ]/2` at 2π):
/// ```
/// # use roulade::quantity::units::Length;
/// # use roulade::cell::winding::spiral;
/// let metre = Length::new::<uom::si::length::meter>(1.0);
/// let l = spiral::arc_length(0.0 * metre, std::f64::consts::TAU * metre, 1.0);
/// assert!((l.value - 21.2562941482090988).abs() < 1e-13);
/// ```
pub fn arc_length(core_radius: Length, pitch: Length, turns: f64) -> Length {
    let u0 = (core_radius * TAU / pitch).value;
    let wound = TAU * turns;
    let u1 = u0 + wound;
    let (s0, s1) = ((1.0 + u0 * u0).sqrt(), (1.0 + u1 * u1).sqrt());
    // `wound`, not `u1 − u0`: at a pitch of a millionth of the radius that difference has lost five digits.
    let rise = wound * (u1 + u0);
    let first = rise * (1.0 + u1 * u1 + u0 * u0) / (u1 * s1 + u0 * s0);
    // asinh u₁ − asinh u₀ = asinh(u₁√(1+u₀²) − u₀√(1+u₁²)), the bracket written without its cancellation.
    let second = asinh(rise / (u1 * s0 + u0 * s1));
    pitch * ((first + second) / (4.0 * PI))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// `∫√(r² + (p/2π)²) dφ` by the midpoint rule, whose error is far below the margin on so smooth an integrand.
    #[test]
    fn closed_form_is_the_integral() {
        let metres = Length::new::<uom::si::length::meter>;
        for (core, pitch, turns) in
            [(0.0, 1.0, 3.0), (0.5, 1.0, 2.5), (0.002, 0.000_36, 50.0), (1.0, 7.0, 0.25)]
        {
            let n = 200_000;
            let step = TAU * turns / f64::from(n);
            let slant = pitch / TAU;
            let integral: f64 = (0..n)
                .map(|i| core + slant * step * (f64::from(i) + 0.5))
                .map(|r| (r * r + slant * slant).sqrt() * step)
                .sum();
            let closed = arc_length(metres(core), metres(pitch), turns).value;
            assert_relative_eq!(closed, integral, max_relative = 1e-9);
        }
    }
}
