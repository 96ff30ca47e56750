//! Several hosts in one coating share one potential.
//!
//! Charge moves between them until it does, so their common potential U is where `Σ fⱼ·xⱼ(U) = x`, with fⱼ the share of
//! host capacity; and `∫U dx = Σ fⱼ·∫U dxⱼ`, a sum of values of the hosts' own antiderivatives. Nothing is tabulated: at
//! the potentials of all their knots, the rungs, the hosts' stoichiometries are known whatever the shares, and between
//! two rungs every host stays on one cubic.

use super::Curve;
use super::curve::{Piece, Place};
use std::sync::Arc;

/// Rungs nearer than this are one, V.
const SAME: f64 = 1e-12;
/// Within so many volts of one another, one more step of Newton is taken and not looked at: it leaves what rounding does,
/// on the flattest plateau too.
const LAST_STEP: f64 = 1e-12;
/// Most hosts that move at a time where Newton's steps are taken.
const FEW: usize = 4;

/// Hosts of one coating, in whatever shares. Cloning is cheap: they are shared.
#[derive(Clone, Debug, Default)]
pub struct Hosts(Arc<Ladder>);

#[derive(Debug, Default)]
struct Ladder {
    curves: Vec<Curve>,
    /// Potentials at which a host passes a knot, falling.
    rungs: Vec<f64>,
    /// Stoichiometry of every host at every rung, rung by rung.
    x: Vec<f64>,
    /// The piece of its curve that every host is on from each rung to the next; none where it is at rest.
    pieces: Vec<Option<u32>>,
}

impl Hosts {
    /// Hosts by their curves.
    pub fn new(curves: Vec<Curve>) -> Self {
        let mut rungs: Vec<f64> = curves.iter().flat_map(Curve::knot_potentials).collect();
        rungs.sort_by(|a, b| b.total_cmp(a));
        rungs.dedup_by(|next, kept| *kept - *next < SAME);
        if curves.len() < 2 {
            rungs.clear();
        }
        let x = rungs.iter().flat_map(|u| curves.iter().map(|curve| curve.stoichiometry(*u))).collect();
        let middles = rungs.iter().zip(rungs.iter().skip(1)).map(|(above, below)| 0.5 * (above + below));
        let piece = |curve: &Curve, u| curve.passing(u).and_then(|piece| u32::try_from(piece).ok());
        let pieces = middles.flat_map(|u| curves.iter().map(move |curve| piece(curve, u))).collect();
        Self(Arc::new(Ladder { curves, rungs, x, pieces }))
    }

    /// Their curves.
    pub fn curves(&self) -> &[Curve] {
        &self.0.curves
    }

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
            let shares: Arc<[f64]> = shares.iter().map(|share| positive(share) / total).collect();
            let end = |of: fn((f64, f64)) -> f64| -> f64 {
                shares.iter().zip(&self.0.curves).map(|(share, curve)| share * of(curve.window())).sum()
            };
            let window = (end(|window| window.0), end(|window| window.1));
            Blend { kind: Kind::Parallel(Parallel { hosts: self.clone(), shares }), window, stretch: 1.0 }
        })
    }
}

impl PartialEq for Hosts {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0) || self.0.curves == other.0.curves
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
    pub fn potential_and_slope(&self, x: f64) -> (f64, f64) {
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

/// Hosts in their shares, of which at least two are positive.
#[derive(Clone, Debug, PartialEq)]
struct Parallel {
    hosts: Hosts,
    /// They add to one.
    shares: Arc<[f64]>,
}

/// What the sought place lies on besides the curve, as a line through one of its points: `rise·(x − x₀) = run·(U − u₀)`.
/// Without a run it is upright: a given stoichiometry.
#[derive(Clone, Copy, Debug)]
struct Line {
    x: f64,
    u: f64,
    rise: f64,
    run: f64,
}

impl Line {
    fn upright(x: f64) -> Self {
        Self { x, u: 0.0, rise: 1.0, run: 0.0 }
    }
}

/// A host between two rungs.
#[derive(Clone, Copy)]
struct Moving<'a> {
    share: f64,
    piece: &'a Piece,
    /// How far it is along its piece: now, at the rung above, at the rung below.
    t: f64,
    from: f64,
    to: f64,
}

impl Parallel {
    fn ladder(&self) -> &Ladder {
        &self.hosts.0
    }

    fn window(&self) -> (f64, f64) {
        (self.rung(0), self.rung(self.ladder().rungs.len() - 1))
    }

    /// Stoichiometry at a rung.
    #[inline]
    fn rung(&self, number: usize) -> f64 {
        let of_hosts = self.ladder().x.iter().skip(number * self.shares.len());
        self.shares.iter().zip(of_hosts).map(|(share, x)| share * x).sum()
    }

    /// Potential of a rung.
    #[inline]
    fn height(&self, number: usize) -> f64 {
        self.ladder().rungs.get(number).copied().unwrap_or(f64::NAN)
    }

    /// The rung below the first stretch that ends past something; the last one where none does.
    #[inline]
    fn first(&self, past: impl Fn(usize) -> bool) -> usize {
        let (mut before, mut after) = (0, self.ladder().rungs.len() - 1);
        while after - before > 1 {
            let middle = usize::midpoint(before, after);
            *(if past(middle) { &mut after } else { &mut before }) = middle;
        }
        after
    }

    /// The place at x, and the slope there.
    fn place(&self, x: f64) -> (Place, f64) {
        let (low, high) = self.window();
        if x.is_nan() {
            return (Place { x, u: x, area: x }, x);
        }
        // At a step down the lower end counts, but at the window's own end the upper.
        let x = if x < low {
            low
        } else if x > high {
            high
        } else {
            x
        };
        let below = self.first(|rung| if x < high { self.rung(rung) > x } else { self.rung(rung) >= x });
        self.settle(below, |_| Line::upright(x))
    }

    fn until(&self, (from, to): (f64, f64), volts: f64, other: impl Fn(f64) -> (f64, f64)) -> (Place, bool) {
        let window = self.window();
        let (low, high) = if from < to { (from, to) } else { (to, from) };
        let (low, high) = (low.max(window.0), high.min(window.1));
        let excess = |at: &Place| other(at.x).0 - at.u - volts;
        let below = self.first(|rung| {
            let x = self.rung(rung);
            x >= high || x > low && other(x).0 - self.height(rung) >= volts
        });
        // Either end of the way may lie before the crossing, or behind it.
        let stretch = [self.rung(below - 1), self.rung(below)];
        if stretch[0] <= low {
            let end = self.place(low).0;
            let excess = excess(&end);
            if excess >= 0.0 {
                return (end, from < to || excess == 0.0);
            }
        }
        if stretch[1] >= high {
            let end = self.place(high).0;
            let excess = excess(&end);
            if excess.is_nan() || excess <= 0.0 {
                return (end, to < from || excess == 0.0);
            }
        }
        let crossing = |x| {
            let (theirs, slope) = other(x);
            Line { x, u: theirs - volts, rise: slope, run: 1.0 }
        };
        (self.settle(below, crossing).0, true)
    }

    /// The place between a rung and the one above it that lies on a line; or on a curve, of which `line` gives the
    /// tangent at any x. With the slope dU/dx there.
    fn settle(&self, below: usize, line: impl Fn(f64) -> Line) -> (Place, f64) {
        let (mut place, slope) = self.newton(below, &line).unwrap_or_else(|| self.halve(below, &line));
        // What rounding leaves; on a plateau, where U says little of x, more than that.
        let line = line(place.x);
        let left =
            (line.run * (place.u - line.u) - line.rise * (place.x - line.x)) / (line.rise - line.run * slope);
        if left.is_finite() {
            place.x += left;
            place.area += left * place.u;
        }
        (place, slope)
    }

    /// Newton's steps for all hosts at once: each goes along its tangent to the potential at which, all together, they
    /// meet the line. Nothing where a step leaves the stretch: a host that stands still for a moment, say.
    #[inline]
    fn newton(&self, below: usize, line: &impl Fn(f64) -> Line) -> Option<(Place, f64)> {
        let still = Moving { share: 0.0, piece: Piece::NONE, t: 0.0, from: 0.0, to: 0.0 };
        let (mut hosts, mut count) = ([still; FEW], 0);
        let (mut rest, mut area) = (0.0, 0.0);
        let (ladder, n) = (self.ladder(), self.shares.len());
        let above = (below - 1) * n;
        let rows = ladder.x.get(above..above + 2 * n)?.split_at(n);
        let pieces = ladder.pieces.get(above..above + n)?;
        for (((share, curve), piece), (from, to)) in
            self.shares.iter().zip(&ladder.curves).zip(pieces).zip(rows.0.iter().zip(rows.1))
        {
            match piece.and_then(|piece| curve.piece(piece as usize)) {
                Some(piece) if *share > 0.0 && from < to => {
                    let (from, to) = (from - piece.start, to - piece.start);
                    *hosts.get_mut(count)? = Moving { share: *share, piece, t: 0.5 * (from + to), from, to };
                    count += 1;
                }
                _ => {
                    rest += share * from;
                    area += share * curve.antiderivative(*from);
                }
            }
        }
        let hosts = hosts.get_mut(..count)?;
        for _ in 0..8 {
            let (mut x, mut rate, mut lean) = (rest, 0.0, 0.0);
            let mut at = [(0.0, 0.0); FEW];
            for (host, at) in hosts.iter().zip(&mut at) {
                let (u, per_slope) = (host.piece.potential(host.t), 1.0 / host.piece.slope(host.t));
                *at = (u, per_slope);
                x += host.share * (host.piece.start + host.t);
                rate += host.share * per_slope;
                lean += host.share * per_slope * u;
            }
            let line = line(x);
            let u = (line.rise * (line.x - x + lean) - line.run * line.u) / (line.rise * rate - line.run);
            let mut off = line.run * (u - line.u).abs();
            for (host, (own, per_slope)) in hosts.iter_mut().zip(at) {
                off = off.max((u - own).abs());
                host.t += (u - own) * per_slope;
                let slack = host.to - host.from;
                if !(host.from - slack <= host.t && host.t <= host.to + slack) {
                    return None;
                }
            }
            if off < LAST_STEP {
                let (mut place, mut rate) = (Place { x: rest, u, area }, 0.0);
                for host in hosts {
                    place.x += host.share * (host.piece.start + host.t);
                    place.area += host.share * host.piece.antiderivative(host.t);
                    rate += host.share / host.piece.slope(host.t);
                }
                return Some((place, 1.0 / rate));
            }
        }
        None
    }

    /// The same by halving the potentials between the rungs, until rounding ends it.
    fn halve(&self, below: usize, line: &impl Fn(f64) -> Line) -> (Place, f64) {
        let (mut top, mut bottom) = (self.height(below - 1), self.height(below));
        for _ in 0..64 {
            let u = 0.5 * (top + bottom);
            let x = self.at_potential(u).0.x;
            let line = line(x);
            let past = line.rise * (x - line.x) >= line.run * (u - line.u);
            *(if past { &mut bottom } else { &mut top }) = u;
        }
        self.at_potential(0.5 * (top + bottom))
    }

    /// The place at a potential, and the slope there.
    fn at_potential(&self, u: f64) -> (Place, f64) {
        let (mut place, mut rate) = (Place { x: 0.0, u, area: 0.0 }, 0.0);
        for (share, curve) in self.shares.iter().zip(&self.ladder().curves) {
            let own = curve.place(curve.stoichiometry(u));
            place.x += share * own.x;
            place.area += share * own.area;
            if *share > 0.0 && curve.passing(u).is_some() {
                rate += share / curve.potential_and_slope(own.x).1;
            }
        }
        (place, 1.0 / rate)
    }
}

#[cfg(test)]
mod tests;
