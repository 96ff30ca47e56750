//! A half-cell potential as a table: a strictly falling, piecewise cubic U(x).
//!
//! Looking up is plain arithmetic on `f64` in a fixed order, with no transcendental function, so the bits are the
//! same natively and in WebAssembly. The table has an exact antiderivative, so an energy is a difference of values.

use std::sync::Arc;

/// Potential of a half-cell over its stoichiometry x, strictly falling over its reach; outside the reach x is taken to
/// be at the nearer end. Inside the reach lies the window, the part that a practical capacity stands for: beyond it the
/// curve is a continuation, stated with the material. Cloning is cheap: the table is shared.
///
/// ```
/// use roulade::material::Curve;
/// let curve = Curve::from_points(&[(0.0, 1.0), (0.3, 0.3), (0.7, 0.15), (1.0, 0.05)])?;
/// assert_eq!(curve.potential(0.3), 0.3);
/// assert_eq!(curve.potential(7.0), curve.ends().1);
/// # Ok::<(), roulade::quantity::problem::Problem>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Curve(Arc<Table>);

#[derive(Debug, PartialEq)]
struct Table {
    low: f64,
    high: f64,
    /// The part that a practical capacity stands for.
    window: (f64, f64),
    /// In rising order of `start`, the first at the low end; never empty.
    pieces: Box<[Piece]>,
    /// Per bucket of equal width, the last piece that starts in it or before it.
    guide: Box<[u32]>,
    buckets_per_x: f64,
}

/// Within so many volts of its target, one more Newton step is taken and not looked at: it leaves some 1e-12 V.
const LAST_STEP: f64 = 1e-6;

/// One interval: U = c₀ + c₁t + c₂t² + c₃t³ with t = x − start.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Piece {
    pub(super) start: f64,
    /// ∫U dx from the curve's low end to `start`.
    area: f64,
    c: [f64; 4],
}

impl Piece {
    /// At rest.
    pub(super) const NONE: &Self = &Self { start: 0.0, area: 0.0, c: [0.0; 4] };

    #[inline]
    pub(super) fn potential(&self, t: f64) -> f64 {
        let [c0, c1, c2, c3] = self.c;
        c0 + t * (c1 + t * (c2 + t * c3))
    }

    #[inline]
    pub(super) fn slope(&self, t: f64) -> f64 {
        let [_, c1, c2, c3] = self.c;
        c1 + t * (2.0 * c2 + t * (3.0 * c3))
    }

    #[inline]
    pub(super) fn antiderivative(&self, t: f64) -> f64 {
        let [c0, c1, c2, c3] = self.c;
        self.area + t * (c0 + t * (c1 * 0.5 + t * (c2 * (1.0 / 3.0) + t * (c3 * 0.25))))
    }

    /// The t in 0..`width` where the potential is `u`, somewhere between those at 0 and at `width`: Newton's steps,
    /// halving the bracket where one leaves it.
    fn solve(&self, u: f64, width: f64) -> f64 {
        let end = self.potential(width);
        let (mut left, mut right) = (0.0, width);
        let mut t = width * (self.c[0] - u) / (self.c[0] - end);
        for _ in 0..64 {
            let excess = self.potential(t) - u;
            if excess.abs() <= f64::EPSILON * u.abs() {
                break;
            }
            if excess > 0.0 {
                left = t;
            } else {
                right = t;
            }
            let newton = t - excess / self.slope(t);
            let next = if left < newton && newton < right { newton } else { 0.5 * (left + right) };
            if (next - t).abs() <= f64::EPSILON * self.start.max(width) {
                break;
            }
            t = next;
        }
        t
    }
}

/// A place of a curve: stoichiometry, potential, and the slope dU/dx there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Knot {
    pub(super) x: f64,
    pub(super) u: f64,
    pub(super) slope: f64,
}

impl Knot {
    /// Whether the potential falls strictly from here to `end`.
    pub(super) fn falls_to(&self, end: &Knot) -> bool {
        self.u.is_finite() && end.u.is_finite() && end.u < self.u
    }

    /// U at `x` on the cubic from here to `end`.
    pub(super) fn potential_towards(&self, end: &Knot, x: f64) -> f64 {
        self.piece_to(end).potential(x - self.x)
    }

    /// Hermite's cubic from here to `end`, its slopes limited where it would not fall all the way.
    fn piece_to(&self, end: &Knot) -> Piece {
        let h = end.x - self.x;
        let secant = (end.u - self.u) / h;
        let (d0, d1) = limited(self.slope, end.slope, secant);
        let c2 = (3.0 * secant - 2.0 * d0 - d1) / h;
        let c3 = (d0 + d1 - 2.0 * secant) / (h * h);
        Piece { start: self.x, area: 0.0, c: [self.u, d0, c2, c3] }
    }
}

/// The slopes at the two ends of an interval, shrunk together where α² + β² > 9 with α, β their ratios to the
/// interval's `secant`: inside that circle the cubic is monotone (Fritsch, Carlson, SIAM J. Numer. Anal. 17 (1980)
/// 238, doi 10.1137/0717021, from memory).
pub(super) fn limited(d0: f64, d1: f64, secant: f64) -> (f64, f64) {
    let (d0, d1) = (d0.min(0.0), d1.min(0.0));
    let (alpha, beta) = (d0 / secant, d1 / secant);
    let reach = (alpha * alpha + beta * beta).sqrt();
    if reach > 3.0 { (d0 * (3.0 / reach), d1 * (3.0 / reach)) } else { (d0, d1) }
}

/// A place on a curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Stoichiometry.
    pub x: f64,
    /// Potential, V.
    pub u: f64,
    /// ∫U dx from the curve's low end, V.
    pub area: f64,
}

impl Curve {
    /// The curve through knots in rising order of x, with the window that a capacity stands for (what of it lies within
    /// the knots); `None` where there are fewer than two.
    pub(super) fn through(knots: &[Knot], window: (f64, f64)) -> Option<Self> {
        let mut pieces: Vec<Piece> = Vec::with_capacity(knots.len());
        let mut area = 0.0;
        for (from, to) in knots.iter().zip(knots.iter().skip(1)) {
            let piece = Piece { area, ..from.piece_to(to) };
            area = piece.antiderivative(to.x - from.x);
            pieces.push(piece);
        }
        let (low, high) = (knots.first()?.x, knots.last()?.x);
        if pieces.is_empty() {
            return None;
        }
        let count = u32::try_from(pieces.len()).ok()?;
        // The points of a user crowd where they are steep; more buckets than pieces keep the step back short.
        let buckets = 4 * pieces.len();
        let buckets_per_x = 4.0 * f64::from(count) / (high - low);
        let mut last = 0;
        let guide = (0..=buckets)
            .map(|bucket| {
                let mut later = pieces.iter().skip(last as usize + 1);
                while later.next().is_some_and(|next| bucket_of(next.start, low, buckets_per_x) <= bucket) {
                    last += 1;
                }
                last
            })
            .collect();
        let window = (window.0.max(low), window.1.min(high));
        Some(Self(Arc::new(Table { low, high, window, pieces: pieces.into(), guide, buckets_per_x })))
    }

    /// The stoichiometries between which a practical capacity lies.
    #[inline]
    pub fn window(&self) -> (f64, f64) {
        self.0.window
    }

    /// Lowest and highest stoichiometry of the curve, continuations included.
    #[inline]
    pub fn reach(&self) -> (f64, f64) {
        (self.0.low, self.0.high)
    }

    /// U at the low end and at the high end of its reach, V; the first is the higher.
    #[inline]
    pub fn ends(&self) -> (f64, f64) {
        (self.potential(self.0.low), self.potential(self.0.high))
    }

    /// U(x), V.
    #[inline]
    pub fn potential(&self, x: f64) -> f64 {
        let (piece, t) = self.at(x);
        piece.potential(t)
    }

    /// U(x) and dU/dx, both V. At an end of the reach the slope is the one inside.
    #[inline]
    pub(crate) fn potential_and_slope(&self, x: f64) -> (f64, f64) {
        let (piece, t) = self.at(x);
        (piece.potential(t), piece.slope(t))
    }

    /// ∫U dx of this table from its low end to x, V: exact but for rounding.
    #[inline]
    pub fn antiderivative(&self, x: f64) -> f64 {
        let (piece, t) = self.at(x);
        piece.antiderivative(t)
    }

    /// The stoichiometry at which the potential is `u` volts; the nearer end of the reach where it never is.
    pub fn stoichiometry(&self, u: f64) -> f64 {
        let pieces = &self.0.pieces;
        let next = pieces.partition_point(|piece| piece.c[0] > u);
        let Some(piece) = next.checked_sub(1).and_then(|i| pieces.get(i)) else {
            return self.0.low;
        };
        let end = pieces.get(next).map_or(self.0.high, |piece| piece.start);
        let width = end - piece.start;
        if u <= piece.potential(width) { end } else { piece.start + piece.solve(u, width) }
    }

    /// The place at x.
    #[inline]
    pub fn place(&self, x: f64) -> Place {
        let (piece, t) = self.at(x);
        Place { x: piece.start + t, u: piece.potential(t), area: piece.antiderivative(t) }
    }

    /// Goes from one stoichiometry to another until `other`, a potential that rises with x, lies `volts` above this one:
    /// the place there, and whether it was reached; the end of the way where it was not. `other` tells its slope too.
    ///
    /// Newton from the far end, kept inside a bracket: cell voltages are steepest where charge and discharge end.
    pub fn until(
        &self,
        (from, to): (f64, f64),
        volts: f64,
        other: impl Fn(f64) -> (f64, f64),
    ) -> (Place, bool) {
        // Rises along the way: towards a higher x as it is, towards a lower one turned over.
        let sign = if to < from { -1.0 } else { 1.0 };
        let at = |x: f64| {
            let ((theirs, rise), (own, fall)) = (other(x), self.potential_and_slope(x));
            (sign * (theirs - own - volts), rise - fall)
        };
        let (mut miss, mut slope) = at(to);
        if miss.is_nan() || miss <= 0.0 {
            return (self.place(to), miss == 0.0);
        }
        let (mut short, mut past, mut x) = (from, to, to);
        for _ in 0..60 {
            let next = x - sign * miss / slope;
            x = if (next - short) * (next - past) < 0.0 { next } else { 0.5 * (short + past) };
            (miss, slope) = at(x);
            if miss.abs() < LAST_STEP {
                x -= sign * miss / slope;
                break;
            }
            *(if miss > 0.0 { &mut past } else { &mut short }) = x;
            if (past - short).abs() <= f64::EPSILON * (from - to).abs() {
                break;
            }
        }
        (self.place(x), true)
    }

    /// The potentials at the knots, falling.
    pub(super) fn knot_potentials(&self) -> impl Iterator<Item = f64> {
        self.0.pieces.iter().map(|piece| piece.c[0]).chain([self.ends().1])
    }

    /// Which piece the curve is on while its potential passes `u`; nothing outside its ends.
    pub(super) fn passing(&self, u: f64) -> Option<usize> {
        let (top, bottom) = self.ends();
        (bottom < u && u < top).then(|| self.0.pieces.partition_point(|piece| piece.c[0] > u) - 1)
    }

    /// A piece by its number.
    #[inline]
    pub(super) fn piece(&self, number: usize) -> Option<&Piece> {
        self.0.pieces.get(number)
    }

    /// The piece x lies on, and how far from its start; a NaN stays one.
    #[inline]
    #[allow(
        clippy::indexing_slicing,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the guide is never empty and holds places of pieces, and the first piece starts at the low end"
    )]
    fn at(&self, x: f64) -> (&Piece, f64) {
        let table = &*self.0;
        let x = if x < table.low {
            table.low
        } else if x > table.high {
            table.high
        } else {
            x
        };
        let bucket = bucket_of(x, table.low, table.buckets_per_x).min(table.guide.len() - 1);
        let mut i = table.guide[bucket] as usize;
        let mut piece = &table.pieces[i];
        while x < piece.start {
            i -= 1;
            piece = &table.pieces[i];
        }
        (piece, x - piece.start)
    }
}

/// Which bucket of the guide `x` falls in. Rounding is the same for a lookup and for making the guide, and rises
/// with x, so a piece is never missed.
#[inline]
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "x is at or above `low`")]
fn bucket_of(x: f64, low: f64, buckets_per_x: f64) -> usize {
    // Fewer instructions than a cast to 64 bits, and there are never so many buckets.
    ((x - low) * buckets_per_x) as u32 as usize
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::MATERIALS;
    use proptest::prelude::*;

    fn curves() -> Vec<(&'static str, Curve)> {
        MATERIALS.iter().filter_map(|m| Some((m.name, m.curve()?))).collect()
    }

    fn at(curve: &Curve, share: f64) -> f64 {
        let (low, high) = curve.reach();
        low + share * (high - low)
    }

    #[test]
    fn every_curve_of_the_table_falls_strictly() {
        for (name, curve) in curves() {
            let n = 50_000;
            let values: Vec<f64> =
                (0..=n).map(|i| curve.potential(at(&curve, f64::from(i) / f64::from(n)))).collect();
            assert!(values.windows(2).all(|w| w[1] < w[0]), "{name}");
        }
    }

    /// Adaptive Simpson's rule, to `tolerance`.
    fn simpson(f: &dyn Fn(f64) -> f64, a: f64, b: f64, tolerance: f64, depth: u32) -> f64 {
        let rule = |a: f64, b: f64| (b - a) / 6.0 * (f(a) + 4.0 * f(0.5 * (a + b)) + f(b));
        let middle = 0.5 * (a + b);
        let (whole, halves) = (rule(a, b), rule(a, middle) + rule(middle, b));
        if depth == 0 || (halves - whole).abs() <= 15.0 * tolerance {
            return halves + (halves - whole) / 15.0;
        }
        simpson(f, a, middle, 0.5 * tolerance, depth - 1) + simpson(f, middle, b, 0.5 * tolerance, depth - 1)
    }

    #[test]
    fn antiderivative_is_the_integral_of_the_table() {
        for (name, curve) in curves() {
            for share in [0.123, 0.5, 0.9, 1.0] {
                let (a, b) = (curve.reach().0, at(&curve, share));
                let integral: f64 = (0..64)
                    .map(|i| (f64::from(i) / 64.0, f64::from(i + 1) / 64.0))
                    .map(|(s, e)| {
                        simpson(&|x| curve.potential(x), a + s * (b - a), a + e * (b - a), 1e-15, 30)
                    })
                    .sum();
                let error = (curve.antiderivative(b) / integral - 1.0).abs();
                assert!(error < 1e-10, "{name} to {b}: {error:e}");
            }
        }
    }

    #[test]
    fn outside_its_reach_x_is_at_the_nearer_end() {
        for (_, curve) in curves() {
            let (low, high) = curve.reach();
            assert_eq!((curve.potential(-3.0), curve.potential(f64::INFINITY)), curve.ends());
            assert_eq!(curve.potential_and_slope(high + 0.1), curve.potential_and_slope(high));
            assert!(curve.antiderivative(low - 1.0).abs() < f64::MIN_POSITIVE);
            assert_eq!((curve.stoichiometry(9.0), curve.stoichiometry(-9.0)), (low, high));
            assert!(curve.potential(f64::NAN).is_nan());
            let _ = curve.stoichiometry(f64::NAN);
        }
    }

    #[test]
    fn a_window_too_narrow_for_buckets_is_still_looked_up() {
        let curve = Curve::from_points(&[(0.0, 4.0), (1e-310, 3.0), (2e-310, 2.0), (3e-310, 1.0)]).unwrap();
        let _ = (curve.potential(2e-310), curve.potential(1.0), curve.stoichiometry(2.5));
    }

    proptest! {
        #[test]
        fn stoichiometry_undoes_potential(share in 0.0..=1.0f64) {
            for (name, curve) in curves() {
                let x = at(&curve, share);
                let (u, slope) = curve.potential_and_slope(x);
                // What one rounding of U is worth in x, and a few of x itself.
                let tolerance = 4.0 * f64::EPSILON * (1.0 + u / slope.abs());
                let error = (curve.stoichiometry(u) - x).abs();
                prop_assert!(error <= tolerance, "{name} at {x}: {error:e} above {tolerance:e}");
            }
        }

        #[test]
        fn slope_is_the_derivative_of_the_table(share in 0.01..0.99f64) {
            for (name, curve) in curves() {
                let (x, h) = (at(&curve, share), 1e-6);
                let slope = curve.potential_and_slope(x).1;
                let difference = (curve.potential(x + h) - curve.potential(x - h)) / (2.0 * h);
                prop_assert!((difference - slope).abs() < 1e-4 * (1.0 + slope.abs()), "{name} at {x}");
            }
        }
    }
}
