//! Several hosts in one coating share one potential.
//!
//! Charge moves between them until it does, so their common potential U is where `Σ fⱼ·xⱼ(U) = x`, with fⱼ the share of
//! host capacity; and `∫U dx = Σ fⱼ·∫U dxⱼ`, a sum of values of the hosts' own antiderivatives. Nothing is tabulated: at
//! the potentials of all their knots, the rungs, the hosts' stoichiometries are known whatever the shares, and between
//! two rungs every host stays on one cubic.

mod hosts;
mod parallel;

use super::Curve;
use super::curve::Place;
use parallel::Parallel;

pub use hosts::Hosts;

impl Hosts {
    /// The potential they have in these shares of the host capacity, of which only the ratios count; `None` where no
    /// host has a positive share.
    ///
    /// The blend reaches over all its hosts. A host past its own curve stays at that curve's end: it is empty or full.
    /// Where the curves of two hosts leave a gap in U, no charge
    /// passes inside it: the blend's potential steps straight down at one stoichiometry. One host is itself.
    ///
    /// # Example
    /// Two straight lines, 1 to 0 V and 0.5 to 0 V, in equal shares: down to 0.5 V, where x = ½·0.5, the first is alone.
    /// ```
    /// # use roulade::material::{Curve, Hosts};
    /// let line = |top: f64| Curve::from_points(&[0.0, 0.3, 0.6, 1.0].map(|x| (x, top * (1.0 - x))));
    /// let both = Hosts::new(vec![line(1.0)?, line(0.5)?]).blend(&[1.0, 1.0]).expect("two shares");
    /// assert!((both.potential(0.25) - 0.5).abs() < 1e-12);
    /// // Below, x = ½·(1 − U) + ½·(1 − U/0.5): at 0.2 V that is 0.7.
    /// assert!((both.potential(0.7) - 0.2).abs() < 1e-12);
    /// # Ok::<(), roulade::quantity::problem::Problem>(())
    /// ```
    pub fn blend(&self, shares: &[f64]) -> Option<Blend> {
        let positive = |share: &f64| if *share > 0.0 { *share } else { 0.0 };
        let total: f64 = shares.iter().map(positive).sum();
        let mut present = self.0.curves.iter().zip(shares).filter(|(_, share)| **share > 0.0);
        let (first, second) = (present.next()?.0, present.next());
        Some(if second.is_none() {
            first.clone().into()
        } else {
            let shares: Vec<f64> = shares.iter().map(|share| positive(share) / total).collect();
            let end = |of: fn((f64, f64)) -> f64| -> f64 {
                shares.iter().zip(&self.0.curves).map(|(share, curve)| share * of(curve.window())).sum()
            };
            let window = (end(|window| window.0), end(|window| window.1));
            Blend { kind: Kind::Parallel(Parallel::new(self.clone(), shares)), window, stretch: 1.0 }
        })
    }
}

/// Potential of a coating over its stoichiometry x, strictly falling over its reach; outside the reach x is taken to be
/// at the nearer end. Cloning is cheap.
///
/// Past its window, the part that a practical capacity stands for, it is a continuation, and less certain: it may be
/// [stretched](Blend::stretched) as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Blend {
    kind: Kind,
    window: (f64, f64),
    /// How much longer the continuations are than those of the curves.
    stretch: f64,
}

#[derive(Clone, Debug, PartialEq)]
enum Kind {
    Alone(Curve),
    Parallel(Parallel),
}

impl From<Curve> for Blend {
    fn from(curve: Curve) -> Self {
        Self { window: curve.window(), kind: Kind::Alone(curve), stretch: 1.0 }
    }
}

impl Blend {
    /// The same with continuations so many times as long: every potential past the window is met at `by` times the
    /// distance from it.
    ///
    /// ```
    /// let nmc = roulade::material::find("NMC811").and_then(|nmc| nmc.curve()).expect("a curve of the table");
    /// let blend = roulade::material::Blend::from(nmc);
    /// let (low, _) = blend.window();
    /// let longer = blend.clone().stretched(2.0);
    /// assert_eq!(longer.potential(low - 0.02), blend.potential(low - 0.01));
    /// ```
    #[must_use]
    pub fn stretched(self, by: f64) -> Self {
        // A draw far out in the tail leaves no continuation at all, and none the other way round.
        Self { stretch: by.max(0.01), ..self }
    }

    /// The stoichiometries between which the practical capacity lies: those of the hosts, each with its share.
    pub fn window(&self) -> (f64, f64) {
        self.window
    }

    /// Lowest and highest stoichiometry, continuations included.
    pub fn reach(&self) -> (f64, f64) {
        let (low, high) = match &self.kind {
            Kind::Alone(curve) => curve.reach(),
            Kind::Parallel(hosts) => hosts.window(),
        };
        (self.outer(low), self.outer(high))
    }

    /// U at the low end and at the high end of its reach, V; the first is the higher.
    pub fn ends(&self) -> (f64, f64) {
        let (low, high) = self.reach();
        (self.potential(low), self.potential(high))
    }

    /// From a stoichiometry of the hosts to the stretched one.
    #[inline]
    fn outer(&self, x: f64) -> f64 {
        self.moved(x, self.stretch)
    }

    /// From a stretched stoichiometry to that of the hosts, and whether it is past the window.
    #[inline]
    fn inner(&self, x: f64) -> f64 {
        self.moved(x, 1.0 / self.stretch)
    }

    #[inline]
    fn moved(&self, x: f64, by: f64) -> f64 {
        let (low, high) = self.window;
        if x < low {
            low + by * (x - low)
        } else if x > high {
            high + by * (x - high)
        } else {
            x
        }
    }

    /// What stretching makes of a place of the hosts.
    fn outer_place(&self, place: Place) -> Place {
        let (low, high) = self.window;
        let end = if place.x < low {
            low
        } else if place.x > high {
            high
        } else {
            return place;
        };
        let at_end = self.kind.place(end).area;
        Place { x: self.outer(place.x), area: at_end + self.stretch * (place.area - at_end), ..place }
    }

    /// By how much more slowly the potential falls at x for being stretched.
    fn slower(&self, x: f64) -> f64 {
        let (low, high) = self.window;
        if x < low || x > high { self.stretch } else { 1.0 }
    }

    #[inline]
    #[allow(clippy::float_cmp, reason = "one is what it is set to")]
    fn plain(&self) -> bool {
        self.stretch == 1.0
    }

    /// The place at x.
    #[inline]
    pub fn place(&self, x: f64) -> Place {
        if self.plain() { self.kind.place(x) } else { self.outer_place(self.kind.place(self.inner(x))) }
    }

    /// U(x), V.
    #[inline]
    pub fn potential(&self, x: f64) -> f64 {
        self.kind.potential(if self.plain() { x } else { self.inner(x) })
    }

    /// U(x) and dU/dx, both V. At an end of the reach the slope is the one inside.
    #[inline]
    pub(crate) fn potential_and_slope(&self, x: f64) -> (f64, f64) {
        if self.plain() {
            return self.kind.potential_and_slope(x);
        }
        let (u, slope) = self.kind.potential_and_slope(self.inner(x));
        (u, slope / self.slower(x))
    }

    /// ∫U dx from some fixed place to x, V: exact but for rounding.
    #[inline]
    pub fn antiderivative(&self, x: f64) -> f64 {
        if self.plain() { self.kind.antiderivative(x) } else { self.place(x).area }
    }

    /// The stoichiometry at which the potential is `u` volts; the nearer end of the reach where it never is.
    pub fn stoichiometry(&self, u: f64) -> f64 {
        self.outer(match &self.kind {
            Kind::Alone(curve) => curve.stoichiometry(u),
            Kind::Parallel(hosts) => hosts.at_potential(u).0.x,
        })
    }

    /// Goes from one stoichiometry to another until `other`, a potential that rises with x, lies `volts` above this one:
    /// see [`Curve::until`].
    #[inline]
    pub fn until(&self, way: (f64, f64), volts: f64, other: impl Fn(f64) -> (f64, f64)) -> (Place, bool) {
        if self.plain() {
            return self.kind.until(way, volts, other);
        }
        let way = (self.inner(way.0), self.inner(way.1));
        let (place, reached) = self.kind.until(way, volts, |inner| {
            let x = self.outer(inner);
            let (u, slope) = other(x);
            (u, slope * self.slower(x))
        });
        (self.outer_place(place), reached)
    }
}

impl Kind {
    #[inline]
    fn place(&self, x: f64) -> Place {
        match self {
            Kind::Alone(curve) => curve.place(x),
            Kind::Parallel(hosts) => hosts.place(x).0,
        }
    }

    #[inline]
    fn potential(&self, x: f64) -> f64 {
        match self {
            Kind::Alone(curve) => curve.potential(x),
            Kind::Parallel(hosts) => hosts.place(x).0.u,
        }
    }

    #[inline]
    fn potential_and_slope(&self, x: f64) -> (f64, f64) {
        match self {
            Kind::Alone(curve) => curve.potential_and_slope(x),
            Kind::Parallel(hosts) => {
                let (place, slope) = hosts.place(x);
                (place.u, slope)
            }
        }
    }

    #[inline]
    fn antiderivative(&self, x: f64) -> f64 {
        match self {
            Kind::Alone(curve) => curve.antiderivative(x),
            Kind::Parallel(hosts) => hosts.place(x).0.area,
        }
    }

    #[inline]
    fn until(&self, way: (f64, f64), volts: f64, other: impl Fn(f64) -> (f64, f64)) -> (Place, bool) {
        match self {
            Kind::Alone(curve) => curve.until(way, volts, other),
            Kind::Parallel(hosts) => hosts.until(way, volts, other),
        }
    }
}

#[cfg(test)]
mod tests;
