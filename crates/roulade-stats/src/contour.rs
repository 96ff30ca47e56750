//! Lines of equal height over a grid: marching squares (Lorensen and Cline, Computer Graphics 21 (1987) 163, doi
//! 10.1145/37402.37422, in the plane).
//!
//! Along each edge of the grid the height is taken as a straight line. A square whose corners alternate is ambiguous;
//! the mean of its corners decides. A square with a corner that has no height has no line.

use crate::decimal;
use std::collections::BTreeMap;

/// A line through the plane; a closed one ends where it began.
pub type Line = Vec<[f64; 2]>;

/// Heights over a grid.
#[derive(Clone, Copy, Debug)]
pub struct Heights<'a> {
    /// Positions along the first axis, rising or falling.
    pub x: &'a [f64],
    /// Positions along the second.
    pub y: &'a [f64],
    /// Heights, the first axis running fastest; NaN for none.
    pub heights: &'a [f64],
}

/// Where a level crosses the grid: the edge that leaves a point along the first axis, or along the second.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Edge {
    Along(usize, usize),
    Up(usize, usize),
}

impl Heights<'_> {
    fn height(&self, i: usize, j: usize) -> f64 {
        let inside = i < self.x.len();
        self.heights.get(j * self.x.len() + i).copied().filter(|_| inside).unwrap_or(f64::NAN)
    }

    /// All lines at one level.
    ///
    /// # Example
    /// ```
    /// # use roulade_stats::contour::Heights;
    /// let field = Heights { x: &[0.0, 1.0], y: &[0.0, 1.0], heights: &[0.0, 4.0, 0.0, 4.0] };
    /// assert_eq!(field.lines(1.0), [[[0.25, 0.0], [0.25, 1.0]]]);
    /// ```
    pub fn lines(&self, level: f64) -> Vec<Line> {
        let mut links: BTreeMap<Edge, [Option<Edge>; 2]> = BTreeMap::new();
        for j in 0..self.y.len().saturating_sub(1) {
            for i in 0..self.x.len().saturating_sub(1) {
                for (a, b) in self.crossings(i, j, level).into_iter().flatten() {
                    for (from, to) in [(a, b), (b, a)] {
                        let ends = links.entry(from).or_default();
                        if let Some(free) = ends.iter_mut().find(|end| end.is_none()) {
                            *free = Some(to);
                        }
                    }
                }
            }
        }
        // Open lines first, from their ends; what is left then runs in rings.
        let open = links.iter().filter(|(_, [_, second])| second.is_none()).map(|(edge, _)| *edge);
        let starts: Vec<Edge> = open.chain(links.keys().copied()).collect();
        starts.into_iter().filter_map(|start| self.walk(start, &mut links, level)).collect()
    }

    /// Follows a line from one of its crossings to the end, and takes it off the map.
    fn walk(&self, start: Edge, links: &mut BTreeMap<Edge, [Option<Edge>; 2]>, level: f64) -> Option<Line> {
        let mut ends = links.remove(&start)?;
        let ring = ends.iter().all(Option::is_some);
        let mut line = vec![self.point(start, level)?];
        while let Some((next, theirs)) =
            ends.into_iter().flatten().find_map(|next| Some((next, links.remove(&next)?)))
        {
            line.push(self.point(next, level)?);
            ends = theirs;
        }
        if ring {
            line.extend(line.first().copied());
        }
        Some(line)
    }

    /// The pieces of line in one square, each between two of its edges.
    fn crossings(&self, i: usize, j: usize, level: f64) -> [Option<(Edge, Edge)>; 2] {
        let corners =
            [self.height(i, j), self.height(i + 1, j), self.height(i + 1, j + 1), self.height(i, j + 1)];
        if corners.iter().any(|z| z.is_nan()) {
            return [None; 2];
        }
        let sides = [Edge::Along(i, j), Edge::Up(i + 1, j), Edge::Along(i, j + 1), Edge::Up(i, j)];
        let above = corners.map(|z| z >= level);
        let [a, b, c, d] = above;
        let [low, right, high, left] = sides;
        let crossed: [bool; 4] = [a != b, b != c, c != d, d != a];
        if crossed.iter().all(|crossed| *crossed) {
            let middle = corners.iter().sum::<f64>() / 4.0 >= level;
            // The middle joins the two corners that are on its side of the level.
            return if middle == a {
                [Some((low, right)), Some((high, left))]
            } else {
                [Some((low, left)), Some((right, high))]
            };
        }
        let mut met = sides.into_iter().zip(crossed).filter(|(_, crossed)| *crossed).map(|(side, _)| side);
        [met.next().zip(met.next()), None]
    }

    /// Where the level crosses an edge.
    fn point(&self, edge: Edge, level: f64) -> Option<[f64; 2]> {
        let (from, to) = match edge {
            Edge::Along(i, j) => ((i, j), (i + 1, j)),
            Edge::Up(i, j) => ((i, j), (i, j + 1)),
        };
        let (low, high) = (self.height(from.0, from.1), self.height(to.0, to.1));
        let part = (level - low) / (high - low);
        let between = |axis: &[f64], a: usize, b: usize| -> Option<f64> {
            let (a, b) = (*axis.get(a)?, *axis.get(b)?);
            Some(a + part * (b - a))
        };
        Some([between(self.x, from.0, to.0)?, between(self.y, from.1, to.1)?])
    }
}

/// Round levels inside a range, some `about` of them: multiples of 1, 2 or 5 times a power of ten.
///
/// # Example
/// ```
/// assert_eq!(roulade_stats::contour::levels(612.0, 838.0, 5), [650.0, 700.0, 750.0, 800.0]);
/// ```
pub fn levels(least: f64, greatest: f64, about: u32) -> Vec<f64> {
    let step = (greatest - least) / f64::from(about.max(1));
    if !(step > 0.0 && step.is_finite()) {
        return Vec::new();
    }
    let text = format!("{step:e}");
    let Some((mantissa, power)) = text.split_once('e') else { return Vec::new() };
    let (mantissa, power) = (decimal::number(mantissa).unwrap_or(1.0), power.parse::<i32>().unwrap_or(0));
    let (factor, power) = match mantissa {
        m if m < 1.5 => (1, power),
        m if m < 3.5 => (2, power),
        m if m < 7.5 => (5, power),
        _ => (1, power + 1),
    };
    // By way of text each level is the double nearest to its decimal.
    let level = |n: i64| decimal::number(&format!("{}e{power}", n * factor)).unwrap_or(f64::NAN);
    let size = level(1);
    #[allow(
        clippy::cast_possible_truncation,
        reason = "a saturating cast; more levels than asked for are cut off"
    )]
    let first = (least / size).ceil() as i64;
    (0..=i64::from(about) * 2)
        .map(|i| level(first.saturating_add(i)))
        .skip_while(|level| *level <= least)
        .take_while(|level| *level < greatest)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::f64::consts::TAU;

    fn axis(from: f64, to: f64, steps: usize) -> Vec<f64> {
        (0..=steps).map(|i| from + (to - from) * i as f64 / steps as f64).collect()
    }

    fn heights(x: &[f64], y: &[f64], z: impl Fn(f64, f64) -> f64) -> Vec<f64> {
        y.iter().flat_map(|y| x.iter().map(|x| z(*x, *y)).collect::<Vec<_>>()).collect()
    }

    fn length(line: &Line) -> f64 {
        let side = |p: &[[f64; 2]], k: usize| (p[1][k] - p[0][k]) * (p[1][k] - p[0][k]);
        line.windows(2).map(|p| (side(p, 0) + side(p, 1)).sqrt()).sum()
    }

    /// Over a square of side h a straight line misses x² by at most h²/4, so that the radius is off by h²/8r. The
    /// polygon is then shorter than 2πr by the order of h².
    #[test]
    #[allow(clippy::disallowed_methods, reason = "the closed form must not share the model's mathematics")]
    fn a_paraboloid_has_circles() {
        let mut misses = Vec::new();
        for steps in [40, 80] {
            let (x, y) = (axis(-2.0, 2.0, steps), axis(-2.0, 2.0, steps));
            let z = heights(&x, &y, |x, y| x * x + y * y);
            let field = Heights { x: &x, y: &y, heights: &z };
            let h = 4.0 / steps as f64;
            for r in [0.3_f64, 1.0, 1.7] {
                let lines = field.lines(r * r);
                assert_eq!(lines.len(), 1, "r = {r}");
                assert_eq!(lines[0].first(), lines[0].last(), "it is closed");
                for [x, y] in &lines[0] {
                    let off = (x * x + y * y).sqrt() - r;
                    assert!(off.abs() <= 1.01 * h * h / (8.0 * r), "r = {r}: {off:e}");
                }
                misses.push((TAU * r - length(&lines[0])) / r);
            }
        }
        // Half the step, a quarter of the miss.
        for (coarse, fine) in misses.iter().zip(&misses[3..]) {
            assert!(*coarse > 0.0 && (2.5..6.5).contains(&(coarse / fine)), "{misses:?}");
        }
    }

    #[test]
    fn a_plane_has_one_straight_line() {
        let (x, y) = (axis(0.0, 3.0, 3), axis(10.0, 14.0, 8));
        let z = heights(&x, &y, |x, y| 2.0 * x + y);
        for [x, y] in &(Heights { x: &x, y: &y, heights: &z }).lines(14.5)[0] {
            assert!((2.0 * x + y - 14.5).abs() < 1e-12);
        }
    }

    #[test]
    fn at_a_saddle_the_middle_decides() {
        let field = |z| Heights { x: &[0.0, 1.0], y: &[0.0, 1.0], heights: z };
        // Corners 1, 0, 1, 0 around; the mean is 0.5.
        let z = [1.0, 0.0, 0.0, 1.0];
        let joined = field(&z).lines(0.4);
        let cut = field(&z).lines(0.6);
        assert_eq!((joined.len(), cut.len()), (2, 2));
        // Joined along the first diagonal: each line cuts off a low corner, (1, 0) or (0, 1).
        assert!(joined.iter().any(|line| line.iter().all(|[x, y]| x - y > 0.0)), "{joined:?}");
        assert!(cut.iter().any(|line| line.iter().all(|[x, y]| x + y < 1.0)), "{cut:?}");
    }

    #[test]
    fn lines_end_where_there_is_no_height() {
        let (x, y) = (axis(-2.0, 2.0, 40), axis(-2.0, 2.0, 40));
        let z = heights(&x, &y, |x, y| if x > 0.95 { f64::NAN } else { x * x + y * y });
        let lines = Heights { x: &x, y: &y, heights: &z }.lines(2.25);
        assert_eq!(lines.len(), 1);
        assert!(lines[0].first() != lines[0].last() && lines[0].iter().all(|[x, _]| *x <= 0.9 + 1e-12));
        assert!(Heights { x: &[], y: &[], heights: &[] }.lines(1.0).is_empty());
    }

    #[test]
    fn levels_are_round_and_inside() {
        assert_eq!(levels(0.0, 1.0, 5), [0.2, 0.4, 0.6, 0.8]);
        assert_eq!(levels(-0.3, 0.3, 6), [-0.2, -0.1, 0.0, 0.1, 0.2]);
        assert_eq!(levels(9.2, 10.3, 10), [9.3, 9.4, 9.5, 9.6, 9.7, 9.8, 9.9, 10.0, 10.1, 10.2]);
        for empty in [levels(1.0, 1.0, 5), levels(2.0, 1.0, 5), levels(f64::NAN, 1.0, 5)] {
            assert!(empty.is_empty());
        }
    }

    proptest! {
        /// Whatever the heights, every point of a line lies on an edge, between a height below and one not below.
        #[test]
        fn every_crossing_is_drawn_once(z in prop::collection::vec(0_u8..6, 25), level in 0.5_f64..5.0) {
            let (x, y) = (axis(0.0, 4.0, 4), axis(0.0, 4.0, 4));
            let z: Vec<f64> = z.into_iter().map(f64::from).collect();
            let field = Heights { x: &x, y: &y, heights: &z };
            let above = |i: usize, j: usize| field.height(i, j) >= level;
            let mut crossed = 0;
            for j in 0..5 {
                for i in 0..5 {
                    crossed += usize::from(i < 4 && above(i, j) != above(i + 1, j));
                    crossed += usize::from(j < 4 && above(i, j) != above(i, j + 1));
                }
            }
            let lines = field.lines(level);
            let closed = lines.iter().filter(|line| line.len() > 2 && line.first() == line.last()).count();
            let drawn: usize = lines.iter().map(Vec::len).sum();
            prop_assert!(drawn == crossed + closed, "{} {} {}", drawn, crossed, closed);
        }
    }
}
