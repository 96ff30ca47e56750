//! Whether specimens of one variant are of two kinds, by what the sheet's other quantities tell of their scatter.
//!
//! n numbers with the squares b between the two parts of their best split and w within them, of variance σ² = u² + τ², have the
//! likelihood σ^−(n−1)·exp(−(b + w)/2σ²) where they are of one kind. Of two kinds whose distance may be anything, by powers of ten,
//! it is σ^−(n−2)·exp(−w/2σ²)/√b. Both are averaged over τ by what is known of it beforehand, and their ratio is held against the
//! ratios that chance makes of as many numbers of one kind, with scatters drawn from the same: no other test of the same risk finds
//! more on the mean of such sheets (J. Neyman, E. S. Pearson, Philos. Trans. R. Soc. A 231 (1933) 289,
//! doi:10.1098/rsta.1933.0009). Squares between that are large for a scatter that the squares within may have by chance would be
//! less: that little is within as well is a part of the evidence.

use super::Pooled;
use crate::least_squares::split::{Reference, Split};
use crate::maths::{exp, ln};

/// The squares between that are as telling are tabled by the squares within, at so many places each power of e.
const PLACES: f64 = 3.0;
/// They are looked for among so many powers of e, in so many halvings.
const POWERS: f64 = 40.0;
const HALVINGS: u32 = 30;
/// Scatters that are less likely than this tell nothing.
const LEAST: f64 = 1e-9;

impl Pooled<'_> {
    /// Probability that the best split of specimens of one variant is as telling as this one by chance. `reference` is of as many
    /// numbers, split the same way.
    pub fn split(&self, kind: usize, split: &Split, reference: &Reference) -> Option<f64> {
        let (of, before) = (self.kinds.get(kind)?, self.before.get(kind)?.as_ref()?);
        let u = of.u()?;
        let squares = before.taus.iter().map(|tau| ln(u * u + tau * tau));
        let all: f64 = before.weights.iter().sum();
        let each = squares.zip(before.weights.iter().map(|weight| weight / all));
        let scatters: Vec<Scatter> = each
            .filter(|(_, weight)| *weight > LEAST)
            .map(|(square, weight)| Scatter { square, weight, half: 0.5 * exp(-square) })
            .collect();
        let count = of.groups.iter().map(Vec::len).sum::<usize>() as f64;
        let lowest = scatters.iter().map(|s| s.square).fold(f64::INFINITY, f64::min);
        let highest = scatters.iter().map(|s| s.square).fold(f64::NEG_INFINITY, f64::max);
        let telling = |between: f64, within: f64| telling(&scatters, count, between, exp(between), within);
        let found = telling(ln(split.between), split.within);
        // ln of the squares between from which on a split with these within is as telling.
        let critical = |within: f64| {
            let (mut low, mut high) = (lowest, lowest + POWERS);
            for _ in 0..HALVINGS {
                let middle = 0.5 * (low + high);
                if telling(middle, exp(within)) < found { low = middle } else { high = middle }
            }
            high
        };
        let (from, to) = (reference.least_within() + lowest, reference.most_within() + highest);
        let steps = (PLACES * (to - from)).ceil().max(1.0);
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some hundred places")]
        let places = steps as usize;
        let table: Vec<f64> = (0..=places).map(|i| critical(from + (to - from) * i as f64 / steps)).collect();
        let at = |within: f64| {
            let place = ((within - from) / (to - from) * steps).clamp(0.0, steps);
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within the table")]
            let (i, part) = (place as usize, place.fract());
            let here = table.get(i).copied().unwrap_or(f64::INFINITY);
            here + part * (table.get(i + 1).copied().unwrap_or(here) - here)
        };
        let beyond = |s: &Scatter| {
            s.weight
                * reference.share_of_logarithms(|between, within| between + s.square >= at(within + s.square))
        };
        found.is_finite().then(|| scatters.iter().map(beyond).sum::<f64>().min(1.0))
    }
}

/// A scatter that specimens may have.
struct Scatter {
    /// ln σ².
    square: f64,
    weight: f64,
    /// 1/2σ².
    half: f64,
}

/// Logarithm of how much likelier two kinds are than one, but for what is the same for all splits.
fn telling(scatters: &[Scatter], count: f64, ln_between: f64, between: f64, within: f64) -> f64 {
    // The exponents of the largest terms may be beyond all numbers; both sums are taken relative to them.
    let sum = |degrees: f64, squares: f64| {
        let of = |s: &Scatter| -0.5 * degrees * s.square - squares * s.half;
        let most = scatters.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
        most + ln(scatters.iter().map(|s| s.weight * exp(of(s) - most)).sum::<f64>())
    };
    sum(count - 2.0, within) - 0.5 * ln_between - sum(count - 1.0, between + within)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::least_squares::pooled::PooledKind;
    use crate::least_squares::scatter::Specimen;
    use crate::propagation::deviate::Stream;

    /// A dozen quantities of eight specimens: the least of all probabilities is below that of one sheet in twenty in as many;
    /// and kinds that are eight standard deviations apart are found in most, where the scatter within alone tells half of them.
    #[test]
    fn two_kinds_are_found_and_one_is_not_called_two() {
        let mut stream = Stream::of(9, 0);
        let (sheets, quantities, specimens) = (40, 12, 8);
        let reference = Reference::of(specimens, 2);
        let limit = 1.0 - crate::maths::pow(0.95, 1.0 / f64::from(quantities));
        let (mut called, mut found) = (0, 0);
        for _ in 0..sheets {
            let mut kinds: Vec<PooledKind> = (0..quantities)
                .map(|k| {
                    let tau = 0.01 * exp(0.25 * f64::from(k % 5));
                    let one =
                        |_| Specimen { value: 1.0 + tau * stream.normal() + 0.01 * stream.normal(), u: 0.01 };
                    PooledKind { groups: vec![(0..specimens).map(one).collect()] }
                })
                .collect();
            let of = |kinds: &[PooledKind], kind: usize| {
                let mut values: Vec<f64> = kinds[kind].groups[0].iter().map(|one| one.value).collect();
                values.sort_by(f64::total_cmp);
                Pooled::of(kinds).split(kind, &Split::of(&values, 2), &reference).unwrap()
            };
            called += i32::from((0..4).any(|kind| of(&kinds, kind) < limit));
            for one in kinds[2].groups[0].iter_mut().skip(4) {
                one.value += 8.0 * 0.0193;
            }
            found += i32::from(of(&kinds, 2) < limit);
        }
        assert!(called <= 4 && found >= 34, "{called} {found} of {sheets}");
    }
}
