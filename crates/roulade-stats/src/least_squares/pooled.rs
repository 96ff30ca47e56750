//! How far specimens scatter in one quantity, by what all quantities of a sheet say of it: a few specimens know their own
//! scatter badly, and the sheet as a whole knows it better.
//!
//! The scatter τ of each quantity is drawn from a distribution that is the sheet's own, and that the other quantities show
//! (empirical Bayes; moderated variances: G. K. Smyth, Stat. Appl. Genet. Mol. Biol. 3 (2004) 3,
//! doi:10.2202/1544-6115.1027; B. Phipson, S. Lee, I. J. Majewski, W. S. Alexander, G. K. Smyth, Ann. Appl. Stat. 10 (2016)
//! 946, doi:10.1214/16-AOAS920, where some are far beyond the rest). Two things differ from theirs. The error of a reading is
//! known here, so that only τ is drawn and a variance is never taken for less than the instrument's. And the centre and the
//! width of the distribution are not estimated once and then believed, but averaged over all values, by their likelihood: a
//! bench sheet has a dozen quantities, not ten thousand genes.
//!
//! - ln τ is double exponential about a centre with a width; its tails are powers of τ.
//! - Scatter may go with the value (a process holds its parts to so many per cent) or with the readings' uncertainty (an
//!   instrument is chosen to resolve what parts differ by). Both scales stand beside one another, and the sheet tells which
//!   it is by the likelihood.
//! - A quantity may be of no kind with the others. After n that were, that has the chance ⅕ of n + 1: a guess, less than
//!   Jeffreys's ½ (R. E. Krichevsky, V. K. Trofimov, IEEE Trans. Inf. Theory 27 (1981) 199,
//!   doi:10.1109/TIT.1981.1056331, from memory), with which one in fifty of faultless sheets had a specimen named where one
//!   in twenty may. Then nothing is known of its √(u² + τ²) beforehand but its size, 1/σ, and the test is Student's.

mod interval;
mod kinds;

use super::distribution::{normal_critical, normal_two_sided};
use super::scatter::Specimen;
use crate::maths::{exp, ln};
use std::f64::consts::LN_2;

/// τ goes by factors of √2 from an eighth of a reading's uncertainty, which does not show beside it, to a thousand.
const STEP: f64 = 0.5 * LN_2;
const FIRST: i32 = -6;
const LAST: i32 = 20;
/// Widths of the distribution of ln τ: from quantities alike within a quarter to such that are nothing alike.
const WIDTHS: [f64; 5] = [0.25, 0.5, 1.0, 2.0, 4.0];
/// Its centres: so many steps of √e from the first, five decades.
const CENTRES: u32 = 24;
/// Weight of the chance that the first quantity is of no kind with others.
const ALONE: f64 = 0.2;
/// The first centre, as a part of the value, and as a part of the reading's uncertainty.
const FIRST_OF_VALUE: f64 = 1e-5;
const FIRST_OF_READING: f64 = 0.125;

/// One quantity: its specimens, by variant, which scatter alike about means of their own.
#[derive(Clone, Debug)]
pub struct PooledKind {
    /// Specimens of each variant.
    pub groups: Vec<Vec<Specimen>>,
}

impl PooledKind {
    /// Root mean square of the readings' uncertainties; `None` without any.
    fn u(&self) -> Option<f64> {
        let all = || self.groups.iter().flatten();
        let mean = all().map(|one| one.u * one.u).sum::<f64>() / all().count() as f64;
        Some(mean.sqrt()).filter(|u| u.is_finite() && *u > 0.0)
    }

    /// How large the values are; not less than their uncertainty.
    fn size(&self, u: f64) -> f64 {
        let all = || self.groups.iter().flatten();
        (all().map(|one| one.value).sum::<f64>() / all().count() as f64).abs().max(u)
    }

    /// Logarithm of the likelihood of a scatter, the variants' means unknown.
    fn log_likelihood(&self, tau2: f64) -> f64 {
        let own = |group: &Vec<Specimen>| {
            let (mean, weight) = mean(group, tau2);
            let one = |s: &Specimen| {
                let variance = s.u * s.u + tau2;
                ln(variance) + (s.value - mean) * (s.value - mean) / variance
            };
            if group.is_empty() { 0.0 } else { -0.5 * (group.iter().map(one).sum::<f64>() + ln(weight)) }
        };
        self.groups.iter().map(own).sum()
    }

    /// Likelihoods along a grid of scatters, the largest 1.
    fn likelihoods(&self, taus: &[f64]) -> Vec<f64> {
        let logs: Vec<f64> = taus.iter().map(|tau| self.log_likelihood(tau * tau)).collect();
        let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        logs.iter().map(|log| exp(log - most)).collect()
    }
}

/// Mean weighted by 1/(u² + τ²), and the sum of the weights.
fn mean(group: &[Specimen], tau2: f64) -> (f64, f64) {
    let weight = |s: &Specimen| 1.0 / (s.u * s.u + tau2);
    let all: f64 = group.iter().map(weight).sum();
    (group.iter().map(|s| s.value * weight(s)).sum::<f64>() / all, all)
}

/// What is known of a quantity's scatter without its own specimens: a grid of τ, and the weight of each.
#[derive(Clone, Debug)]
struct Before {
    taus: Vec<f64>,
    weights: Vec<f64>,
    /// The same with half the weight for a quantity of no kind with the others.
    even: Vec<f64>,
}

/// Quantities that borrow their scatter from one another.
#[derive(Clone, Debug)]
pub struct Pooled<'a> {
    kinds: &'a [PooledKind],
    before: Vec<Option<Before>>,
}

/// A specimen against the others of its variant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apart {
    /// Mean of the others.
    pub mean: f64,
    /// Normal number, signed as the specimen less the others, that is as far out.
    pub z: f64,
    /// Probability of so large a difference, over all scatters by what they have for them.
    pub probability: f64,
}

impl<'a> Pooled<'a> {
    /// From all quantities of a sheet.
    pub fn of(kinds: &'a [PooledKind]) -> Self {
        let grids: Vec<Option<Grid>> = kinds.iter().map(Grid::of).collect();
        let distributions = distributions();
        // How well each distribution of ln τ agrees with each quantity.
        let agrees: Vec<Vec<f64>> = kinds
            .iter()
            .zip(&grids)
            .map(|(kind, grid)| {
                let Some(grid) = grid else { return vec![0.0; distributions.len()] };
                let own = kind.likelihoods(&grid.taus);
                let expected = |d: &Distribution| {
                    own.iter().zip(grid.shares(d)).map(|(l, share)| l * share).sum::<f64>()
                };
                distributions.iter().map(|d| ln(expected(d).max(f64::MIN_POSITIVE))).collect()
            })
            .collect();
        let several = grids.iter().flatten().count();
        let before = grids.iter().zip(&agrees).map(|(grid, own)| {
            let grid = grid.as_ref()?;
            let others: Vec<f64> = (0..distributions.len())
                .map(|d| {
                    let all: f64 = agrees.iter().filter_map(|agrees| agrees.get(d)).sum();
                    all - own.get(d).copied().unwrap_or(0.0)
                })
                .collect();
            Some(grid.before(&distributions, &others, several.saturating_sub(1) as f64))
        });
        let before = before.collect();
        Self { kinds, before }
    }

    /// How far a specimen is from the others of its variant, by what is known of the scatter from these and from the other
    /// quantities: the two-sided tail of a normal distribution with u² + τ² and the variance of the others' mean, averaged
    /// over τ. `None` where it stands alone.
    pub fn apart(&self, kind: usize, group: usize, member: usize) -> Option<Apart> {
        let mut rest = self.kinds.get(kind)?.clone();
        let others = rest.groups.get_mut(group)?;
        if member >= others.len() {
            return None;
        }
        let own = others.remove(member);
        self.held_against(kind, group, &rest, own)
    }

    /// The same of a specimen that is not among them.
    pub fn beside(&self, kind: usize, group: usize, own: Specimen) -> Option<Apart> {
        self.held_against(kind, group, self.kinds.get(kind)?, own)
    }

    fn held_against(&self, kind: usize, group: usize, rest: &PooledKind, own: Specimen) -> Option<Apart> {
        let before = self.before.get(kind)?.as_ref()?;
        let others = rest.groups.get(group).filter(|others| !others.is_empty())?;
        let (mut all, mut beyond, mut centre, mut square) = (0.0, 0.0, 0.0, 0.0);
        for ((tau, weight), likelihood) in
            before.taus.iter().zip(&before.weights).zip(rest.likelihoods(&before.taus))
        {
            let (mean, of_mean) = mean(others, tau * tau);
            let variance = own.u * own.u + tau * tau + 1.0 / of_mean;
            let weight = weight * likelihood;
            all += weight;
            beyond += weight * normal_two_sided((own.value - mean) / variance.sqrt());
            centre += weight * mean;
            square += weight * variance;
        }
        if all.is_nan() || all <= 0.0 {
            return None;
        }
        let (probability, mean) = ((beyond / all).min(1.0), centre / all);
        let z = if probability > 1e-290 {
            normal_critical(probability)
        } else {
            (own.value - mean).abs() / (square / all).sqrt()
        };
        Some(Apart { mean, z: z.copysign(own.value - mean), probability })
    }
}

/// A distribution of ln τ, in the logarithm of a part of the value or of the reading's uncertainty.
struct Distribution {
    of_value: bool,
    /// exp(centre/width): the tails of a double exponential distribution are products.
    pull: f64,
    centre: f64,
    width: usize,
}

fn distributions() -> Vec<Distribution> {
    let mut all = Vec::new();
    for (of_value, first) in [(false, FIRST_OF_READING), (true, FIRST_OF_VALUE)] {
        for centre in (0..CENTRES).map(|i| ln(first) + 0.5 * f64::from(i)) {
            for (width, size) in WIDTHS.iter().enumerate() {
                all.push(Distribution { of_value, pull: exp(centre / size), centre, width });
            }
        }
    }
    all
}

/// Scatters of one quantity, and the ends of the steps they stand for.
struct Grid {
    taus: Vec<f64>,
    /// Logarithms of the steps' upper ends: as parts of the reading's uncertainty, and of the value.
    ends: [Vec<f64>; 2],
    /// exp(end/width) of both, for each width.
    powers: [Vec<Vec<f64>>; 2],
    /// Weights where nothing is known: those of 1/σ.
    bare: Vec<f64>,
}

impl Grid {
    fn of(kind: &PooledKind) -> Option<Self> {
        let u = kind.u()?;
        // The lowest stands for all below it, down to none.
        let steps = || (FIRST..=LAST).map(|k| f64::from(k) * STEP);
        let taus = steps().enumerate().map(|(i, x)| if i == 0 { 0.0 } else { u * exp(x) }).collect();
        let to_value = ln(u / kind.size(u));
        let ends = [0.0, to_value].map(|by| steps().map(|x| x + 0.5 * STEP + by).collect::<Vec<f64>>());
        let power =
            |ends: &Vec<f64>| WIDTHS.iter().map(|w| ends.iter().map(|end| exp(end / w)).collect()).collect();
        let powers = [power(&ends[0]), power(&ends[1])];
        // d ln σ/d ln τ = τ²/(u² + τ²).
        let bare: Vec<f64> = steps().map(|x| 1.0 - 1.0 / (1.0 + exp(2.0 * x))).collect();
        let all: f64 = bare.iter().sum();
        Some(Self { taus, ends, powers, bare: bare.iter().map(|x| x / all).collect() })
    }

    /// Share of each step in a distribution; the last stands for all above it.
    fn shares(&self, d: &Distribution) -> impl Iterator<Item = f64> {
        let [readings, values] = &self.ends;
        let [of_readings, of_values] = &self.powers;
        let (ends, powers) = if d.of_value { (values, of_values) } else { (readings, of_readings) };
        let (count, mut below, pull, centre) = (self.taus.len(), 0.0, d.pull, d.centre);
        let powers = powers.get(d.width).map_or(&[][..], Vec::as_slice);
        ends.iter().zip(powers).enumerate().map(move |(k, (end, power))| {
            let to = match () {
                () if k + 1 == count => 1.0,
                () if *end < centre => 0.5 * power / pull,
                () => 1.0 - 0.5 * pull / power,
            };
            let share = to - below;
            below = to;
            share
        })
    }

    /// Distributions by the logarithm of their likelihood, and the chance that this quantity is of no kind with `others`.
    fn before(&self, distributions: &[Distribution], likelihood: &[f64], others: f64) -> Before {
        let most = likelihood.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mut weights = vec![0.0; self.taus.len()];
        for (d, log) in distributions.iter().zip(likelihood).filter(|(_, log)| **log > most - 30.0) {
            let weight = exp(log - most);
            for (slot, share) in weights.iter_mut().zip(self.shares(d)) {
                *slot += weight * share;
            }
        }
        let (all, alone) = (weights.iter().sum::<f64>(), ALONE / (others + 1.0));
        let mixed = |alone: f64| {
            let both = weights.iter().zip(&self.bare);
            both.map(|(w, bare)| (1.0 - alone) * w / all + alone * bare).collect()
        };
        Before { taus: self.taus.clone(), weights: mixed(alone), even: mixed(0.5) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::least_squares::distribution::student_two_sided;
    use crate::propagation::deviate::Stream;

    fn kind(values: &[f64], u: f64) -> PooledKind {
        PooledKind { groups: vec![values.iter().map(|value| Specimen { value: *value, u }).collect()] }
    }

    /// Where nothing is borrowed and the scatter is far above the readings' uncertainty the test is Student's, with the
    /// degrees of freedom of the others; what is missing above a thousand uncertainties does not show at thirty.
    #[test]
    fn alone_it_is_students_test() {
        let kinds = [kind(&[10.0, 11.5, 9.2, 10.4, 17.0], 0.03)];
        let grid = Grid::of(&kinds[0]).unwrap();
        let before = vec![Some(Before { weights: grid.bare.clone(), even: grid.bare, taus: grid.taus })];
        let found = Pooled { kinds: &kinds, before }.apart(0, 0, 4).unwrap();
        // Mean 10.275, s² = 0.909 167; t = 6.725/√(s²·5/4).
        let student = student_two_sided(6.725 / (0.909_166_667_f64 * 1.25).sqrt(), 3.0);
        assert!((found.mean - 10.275).abs() < 1e-4 && found.z > 0.0);
        assert!((found.probability / student - 1.0).abs() < 0.02, "{} {student}", found.probability);
    }

    #[test]
    fn others_lend_what_a_few_do_not_know() {
        let others = [[1.0, -1.1, 0.3], [0.2, 1.4, -0.9], [-0.4, 0.8, 0.9], [1.2, 0.1, -1.3]];
        let mut kinds: Vec<PooledKind> =
            others.iter().map(|values| kind(&values.map(|x| 10.0 + 0.1 * x), 0.02)).collect();
        kinds.push(kind(&[10.0, 10.05, 9.9, 10.7], 0.02));
        let lent = Pooled::of(&kinds).apart(4, 0, 3).unwrap();
        let alone = Pooled::of(&kinds[4..]).apart(0, 0, 3).unwrap();
        assert!(lent.probability < 0.3 * alone.probability, "{lent:?} {alone:?}");
        // Where the others scatter by more, it is less out of the ordinary.
        let wide: Vec<PooledKind> =
            others.iter().map(|values| kind(&values.map(|x| 10.0 + x), 0.02)).collect();
        let wide = [wide, kinds[4..].to_vec()].concat();
        assert!(Pooled::of(&wide).apart(4, 0, 3).unwrap().probability > 3.0 * lent.probability);
        assert!(Pooled::of(&kinds).apart(4, 0, 4).is_none() && Pooled::of(&kinds).apart(5, 0, 0).is_none());
        assert!(Pooled::of(&[kind(&[1.0], 0.1)]).apart(0, 0, 0).is_none());
        let far = Pooled::of(&[kind(&[1.0, 1.0, 1.0, 1e9], 1e-9)]).apart(0, 0, 3).unwrap();
        assert!(far.z > 0.0 && far.z.is_finite());
    }

    /// Shares of any distribution are a whole.
    #[test]
    fn shares_add_up() {
        let grid = Grid::of(&kind(&[22.3, 22.4], 0.07)).unwrap();
        for d in distributions() {
            let shares: Vec<f64> = grid.shares(&d).collect();
            assert!(shares.iter().all(|s| *s >= -1e-15), "{shares:?}");
            assert!((shares.iter().sum::<f64>() - 1.0).abs() < 1e-12);
        }
        assert!((grid.bare.iter().sum::<f64>() - 1.0).abs() < 1e-12);
    }

    /// A dozen quantities of four specimens without fault, for several ways in which scatter can go from quantity to
    /// quantity: how often the least of all probabilities is below the limit of one sheet in twenty. And with six standard
    /// deviations on one of them: how often that is the least.
    #[test]
    fn the_risk_is_what_it_says() {
        let mut stream = Stream::of(3, 0);
        let uniform = |stream: &mut Stream| 1.0 - 0.5 * normal_two_sided(stream.normal());
        let (sheets, quantities, members) = (200, 12, 4_usize);
        let limit = 1.0 - crate::maths::pow(0.95, 1.0 / (quantities * members) as f64);
        for how in ["none", "of the value", "of the reading", "anything"] {
            let (mut named, mut first) = (0, 0);
            for _ in 0..sheets {
                let mut spreads = Vec::new();
                let mut kinds: Vec<PooledKind> = (0..quantities)
                    .map(|_| {
                        let u = exp(-4.0 - 3.0 * uniform(&mut stream));
                        let tau = match how {
                            "none" => 0.0,
                            "of the value" => 0.005,
                            "of the reading" => 1.5 * u,
                            _ => exp(-8.0 + 5.0 * uniform(&mut stream)),
                        };
                        let spread = (u * u + tau * tau).sqrt();
                        spreads.push(spread);
                        let values: Vec<f64> = (0..members).map(|_| 1.0 + spread * stream.normal()).collect();
                        kind(&values, u)
                    })
                    .collect();
                let least = |kinds: &[PooledKind]| {
                    let pooled = Pooled::of(kinds);
                    let all = (0..kinds.len()).flat_map(|k| (0..members).map(move |m| (k, m)));
                    let each = all.map(|(k, m)| (pooled.apart(k, 0, m).unwrap().probability, k, m));
                    each.min_by(|a, b| a.0.total_cmp(&b.0)).unwrap()
                };
                named += i32::from(least(&kinds).0 < limit);
                kinds[5].groups[0][2].value += 6.0 * spreads[5];
                let (_, kind, member) = least(&kinds);
                first += i32::from((kind, member) == (5, 2));
            }
            // Binomial: three standard deviations of a twentieth of 200 are 9.
            assert!(f64::from(named) <= 0.05 * f64::from(sheets) + 9.0, "{how}: {named} without fault");
            assert!(how == "anything" || f64::from(first) > 0.85 * f64::from(sheets), "{how}: {first}");
        }
    }
}
