//! Hosts in their shares at one potential: Newton's steps between two rungs, halving where these fail.

use super::hosts::{Hosts, Ladder};
use crate::material::curve::{Piece, Place};
use std::sync::Arc;

/// Within so many volts of one another, one more step of Newton is taken and not looked at: it leaves what rounding does,
/// on the flattest plateau too.
const LAST_STEP: f64 = 1e-12;
/// Most hosts that move at a time where Newton's steps are taken.
const FEW: usize = 4;

/// Hosts in their shares, of which at least two are positive.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Parallel(Arc<Shared>);

#[derive(Debug, PartialEq)]
struct Shared {
    hosts: Hosts,
    /// They add to one.
    shares: Vec<f64>,
}

/// What the sought place lies on besides the curve, as a line through one of its points: `rise·(x − x₀) = run·(U − u₀)`.
/// Without a run it is upright: a given stoichiometry.
#[derive(Clone, Copy, Debug)]
pub(super) struct Line {
    pub(super) x: f64,
    pub(super) u: f64,
    pub(super) rise: f64,
    pub(super) run: f64,
}

impl Line {
    pub(super) fn upright(x: f64) -> Self {
        Self { x, u: 0.0, rise: 1.0, run: 0.0 }
    }
}

/// What a share of a stretch may be; the middle where it is none.
fn share(x: f64) -> f64 {
    if (0.0..=1.0).contains(&x) { x } else { 0.5 }
}

/// A host between two rungs.
#[derive(Clone, Copy)]
struct Moving<'a> {
    pub(super) share: f64,
    pub(super) piece: &'a Piece,
    /// How far it is along its piece: now, at the rung above, at the rung below.
    t: f64,
    pub(super) from: f64,
    to: f64,
}

impl Moving<'_> {
    /// Whether it is between the two rungs, but for rounding.
    fn is_within(&self) -> bool {
        let slack = 1e-9 * (self.to - self.from);
        self.from - slack <= self.t && self.t <= self.to + slack
    }
}

impl Parallel {
    pub(super) fn new(hosts: Hosts, shares: Vec<f64>) -> Self {
        Self(Arc::new(Shared { hosts, shares }))
    }

    fn ladder(&self) -> &Ladder {
        &self.0.hosts.0
    }

    fn shares(&self) -> &[f64] {
        &self.0.shares
    }

    pub(super) fn window(&self) -> (f64, f64) {
        (self.rung(0), self.rung(self.ladder().rungs.len() - 1))
    }

    /// Stoichiometry at a rung.
    #[inline]
    pub(super) fn rung(&self, number: usize) -> f64 {
        let of_hosts = self.ladder().x.iter().skip(number * self.shares().len());
        self.shares().iter().zip(of_hosts).map(|(share, x)| share * x).sum()
    }

    /// Potential of a rung.
    #[inline]
    fn height(&self, number: usize) -> f64 {
        self.ladder().rungs.get(number).copied().unwrap_or(f64::NAN)
    }

    /// The rung below the first stretch that ends past something; the last one where none does.
    #[inline]
    pub(super) fn first(&self, past: impl Fn(usize) -> bool) -> usize {
        let (mut before, mut after) = (0, self.ladder().rungs.len() - 1);
        while after - before > 1 {
            let middle = usize::midpoint(before, after);
            *(if past(middle) { &mut after } else { &mut before }) = middle;
        }
        after
    }

    /// The same for an excess that rises from rung to rung, and from below to above nothing somewhere; with the share of the
    /// stretch at which its chord passes nothing.
    fn crossed(&self, excess: impl Fn(usize) -> f64) -> (usize, f64) {
        let (mut before, mut after) = (0, self.ladder().rungs.len() - 1);
        let (mut short, mut past) = (f64::NEG_INFINITY, f64::INFINITY);
        while after - before > 1 {
            let middle = usize::midpoint(before, after);
            let found = excess(middle);
            if found >= 0.0 {
                (after, past) = (middle, found);
            } else {
                (before, short) = (middle, found);
            }
        }
        (after, share(short / (short - past)))
    }

    /// The place at x, and the slope there.
    pub(super) fn place(&self, x: f64) -> (Place, f64) {
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
        let (from, to) = (self.rung(below - 1), self.rung(below));
        self.settle(below, share((x - from) / (to - from)), |_| Line::upright(x))
    }

    pub(super) fn until(
        &self,
        (from, to): (f64, f64),
        volts: f64,
        other: impl Fn(f64) -> (f64, f64),
    ) -> (Place, bool) {
        let window = self.window();
        let (low, high) = if from < to { (from, to) } else { (to, from) };
        let (low, high) = (low.max(window.0), high.min(window.1));
        let excess = |at: &Place| other(at.x).0 - at.u - volts;
        let (below, start) = self.crossed(|rung| {
            let x = self.rung(rung);
            if x >= high {
                f64::INFINITY
            } else if x > low {
                other(x).0 - self.height(rung) - volts
            } else {
                f64::NEG_INFINITY
            }
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
        (self.settle(below, start, crossing).0, true)
    }

    /// The place between a rung and the one above it that lies on a line; or on a curve, of which `line` gives the
    /// tangent at any x. With the slope dU/dx there. It is sought from a share of the way between the rungs.
    fn settle(&self, below: usize, start: f64, line: impl Fn(f64) -> Line) -> (Place, f64) {
        let (mut place, slope) = self.newton(below, start, &line).unwrap_or_else(|| self.halve(below, &line));
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
    pub(super) fn newton(
        &self,
        below: usize,
        start: f64,
        line: &impl Fn(f64) -> Line,
    ) -> Option<(Place, f64)> {
        let still = Moving { share: 0.0, piece: Piece::NONE, t: 0.0, from: 0.0, to: 0.0 };
        let (mut hosts, mut count) = ([still; FEW], 0);
        let (mut rest, mut area) = (0.0, 0.0);
        let (ladder, n) = (self.ladder(), self.shares().len());
        let above = (below - 1) * n;
        let rows = ladder.x.get(above..above + 2 * n)?.split_at(n);
        let pieces = ladder.pieces.get(above..above + n)?;
        for (((share, curve), piece), (from, to)) in
            self.shares().iter().zip(&ladder.curves).zip(pieces).zip(rows.0.iter().zip(rows.1))
        {
            match piece.and_then(|piece| curve.piece(piece as usize)) {
                Some(piece) if *share > 0.0 && from < to => {
                    let (from, to) = (from - piece.start, to - piece.start);
                    *hosts.get_mut(count)? =
                        Moving { share: *share, piece, t: from + start * (to - from), from, to };
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
                // A cubic may meet the line once more outside its stretch.
                if !hosts.iter().all(Moving::is_within) {
                    return None;
                }
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
    pub(super) fn halve(&self, below: usize, line: &impl Fn(f64) -> Line) -> (Place, f64) {
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
    pub(super) fn at_potential(&self, u: f64) -> (Place, f64) {
        let (mut place, mut rate) = (Place { x: 0.0, u, area: 0.0 }, 0.0);
        for (share, curve) in self.shares().iter().zip(&self.ladder().curves) {
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
