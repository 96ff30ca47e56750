//! One kind of specimen, or two: variants that were told apart, and variants that are only suspected.

use super::specimens::{Member, Scatter};
use super::suspect::{self, OF_KINDS};
use roulade_stats::least_squares::pooled::{Pooled, PooledKind};
use roulade_stats::least_squares::scatter::{self, Specimen};
use roulade_stats::least_squares::split::{Reference, Split};
use roulade_stats::maths::pow;
use roulade_stats::order;
use serde::Serialize;
use std::collections::BTreeMap;

/// Risk of calling one kind two, or two kinds one, where somebody says that there may be two.
pub(super) const RISK: f64 = 0.05;
/// Fewer specimens than this cannot show whether they are of two kinds.
const FEWEST: usize = 4;
/// Specimens of a kind that nobody told apart.
const SEVERAL: usize = 2;
/// More specimens than this are not split unless that is asked for.
const MANY: usize = 50;

/// What the data say of two suspected variants.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum VariantsVerdict {
    /// Their means differ: they are kept apart.
    Two,
    /// Their means are too close to matter: they are taken together.
    One,
    /// Neither can be said: they are kept apart.
    Open,
    /// Too few specimens to say anything.
    Untested,
}

/// Two suspected variants in one quantity.
#[derive(Clone, Debug)]
pub struct Population {
    /// Which of the quantities.
    pub asked: usize,
    /// Whether the bench sheet tells them apart; otherwise they were split where their values lie furthest apart.
    pub labelled: bool,
    /// Both, the design's first: a name, and the specimens.
    pub groups: [(String, Vec<String>); 2],
    /// Mean of the first, SI.
    pub of: f64,
    /// Mean of the second less mean of the first, SI.
    pub difference: f64,
    /// Its standard uncertainty, SI.
    pub u: f64,
    /// Probability of so large a difference if all were of one kind.
    pub probability: Option<f64>,
    /// Differences below this do not matter, SI: three standard uncertainties of one ordinary reading.
    pub margin: f64,
    /// What the data say.
    pub verdict: VariantsVerdict,
}

/// Variants of one quantity as the bench sheet tells them apart: the second against the first, the third against the first…
pub(super) fn labelled(asked: usize, scatter: &Scatter, margin: f64) -> Vec<Population> {
    let mut names: Vec<&str> = Vec::new();
    for name in scatter.members.iter().filter_map(|m| m.variant.as_deref()) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let of = |name: &str| -> Vec<&Member> {
        scatter.members.iter().filter(|m| m.variant.as_deref() == Some(name)).collect()
    };
    // The design is the kind of which there are most specimens; of equals the one that comes first.
    let Some(first) = names.iter().copied().rev().max_by_key(|name| of(name).len()) else {
        return Vec::new();
    };
    names.retain(|name| *name != first);
    names.iter().map(|name| against(asked, (first, &of(first)), (name, &of(name)), margin)).collect()
}

fn against(asked: usize, first: (&str, &[&Member]), second: (&str, &[&Member]), margin: f64) -> Population {
    let specimens =
        |members: &[&Member]| -> Vec<Specimen> { members.iter().map(|member| member.specimen()).collect() };
    let group = |(name, members): (&str, &[&Member])| {
        (name.to_owned(), members.iter().map(|m| m.name.clone()).collect())
    };
    let found = scatter::groups(&specimens(second.1), &specimens(first.1));
    let verdict = match found {
        None => VariantsVerdict::Untested,
        Some(found) if found.are_two(RISK) => VariantsVerdict::Two,
        Some(found) if found.are_one(margin, RISK) => VariantsVerdict::One,
        Some(_) => VariantsVerdict::Open,
    };
    let mean =
        |members: &[&Member]| members.iter().map(|m| m.value).sum::<f64>() / members.len().max(1) as f64;
    Population {
        asked,
        labelled: true,
        groups: [group(first), group(second)],
        of: mean(first.1),
        difference: found.map_or(mean(second.1) - mean(first.1), |found| found.difference),
        u: found.map_or(f64::NAN, |found| found.u),
        probability: found.map(|found| found.probability),
        margin,
        verdict,
    }
}

/// Whether specimens of which somebody suspects it are of two kinds: they are split where that leaves the least scatter, and the
/// squares between over those within are compared with what chance makes of as many ([`Reference`]).
pub(super) fn suspected(asked: usize, scatter: &Scatter, margin: f64) -> Population {
    let split = sorted(scatter);
    let found = Split::of(&split.iter().map(|m| m.value).collect::<Vec<f64>>(), 1);
    let plain = apart(asked, &split, found.at, margin);
    if split.len() < FEWEST {
        return Population { probability: None, verdict: VariantsVerdict::Untested, ..plain };
    }
    let probability = Reference::of(split.len(), 1).share(|thrown| thrown.ratio() >= found.ratio());
    let verdict = if probability < RISK { VariantsVerdict::Two } else { VariantsVerdict::One };
    Population { probability: Some(probability), verdict, ..plain }
}

/// Whether there are enough specimens to be of two kinds, and not too many to split them unasked.
pub(super) fn is_asked(scatter: &Scatter) -> bool {
    (FEWEST..=MANY).contains(&scatter.members.len())
}

/// Quantities whose specimens are of two kinds beyond chance though nobody asked, by what they and the sheet's other quantities tell
/// of their scatter ([`Pooled::split`]); the limit is that of the least of all probabilities. One specimen beside all others is no kind: it is tested as such.
pub(super) fn unasked(scatter: &[(usize, &Scatter, f64)]) -> Vec<Population> {
    let specimens = |(_, scatter, _): &(usize, &Scatter, f64)| {
        let members = scatter.members.iter();
        PooledKind { groups: vec![members.map(Member::specimen).collect()] }
    };
    let kinds: Vec<PooledKind> = scatter.iter().map(specimens).collect();
    let pooled = Pooled::of(&kinds);
    let mut references: BTreeMap<usize, Reference> = BTreeMap::new();
    let mut found = Vec::new();
    for (kind, (asked, scatter, margin)) in scatter.iter().enumerate() {
        let members = sorted(scatter);
        if !is_asked(scatter) {
            continue;
        }
        let values: Vec<f64> = members.iter().map(|m| m.value).collect();
        let split = Split::of(&values, SEVERAL);
        let reference =
            references.entry(members.len()).or_insert_with(|| Reference::of(members.len(), SEVERAL));
        let probability = pooled.split(kind, &split, reference).unwrap_or(1.0);
        let plain = apart(*asked, &members, split.at, *margin);
        found.push(Population { probability: Some(probability), verdict: VariantsVerdict::Two, ..plain });
    }
    let limit = 1.0 - pow(1.0 - suspect::RISK, OF_KINDS / found.len().max(1) as f64);
    found.retain(|population| population.probability.is_some_and(|p| p < limit));
    found
}

fn sorted(scatter: &Scatter) -> Vec<&Member> {
    let mut members: Vec<&Member> = scatter.members.iter().collect();
    order::by(&mut members, |a, b| a.value.total_cmp(&b.value));
    members
}

/// The two sides of a split.
fn apart(asked: usize, members: &[&Member], at: usize, margin: f64) -> Population {
    let (lower, upper) = members.split_at_checked(at).unwrap_or((members, &[]));
    // The design is the kind of which there are most specimens.
    let (lower, upper) = (("lower", lower), ("upper", upper));
    let (first, second) = if upper.1.len() > lower.1.len() { (upper, lower) } else { (lower, upper) };
    Population { labelled: false, ..against(asked, first, second, margin) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::bench::specimens::Seen;
    use roulade_stats::propagation::deviate::Stream;

    fn scatter(values: &[(f64, Option<&str>)], u: f64) -> Scatter {
        let seen: Vec<Seen> = values
            .iter()
            .enumerate()
            .map(|(row, (value, variant))| Seen {
                row,
                specimen: format!("S{row}"),
                variant: variant.map(str::to_owned),
                value: *value,
                u,
            })
            .collect();
        Scatter::of(&seen)
    }

    #[test]
    fn variants_that_were_reported_apart() {
        let two = scatter(
            &[
                (5.0, Some("new")),
                (1.0, Some("old")),
                (1.1, Some("old")),
                (5.2, Some("new")),
                (0.9, Some("old")),
            ],
            0.1,
        );
        let found = &labelled(0, &two, 0.3)[0];
        assert_eq!((found.verdict, found.groups[0].0.as_str()), (VariantsVerdict::Two, "old"));
        assert!((found.difference - 4.1).abs() < 0.01 && found.probability.unwrap() < 1e-3);
        let one =
            [(1.0, Some("a")), (1.01, Some("b")), (0.99, Some("a")), (1.0, Some("b")), (1.0, Some("a"))];
        assert_eq!(labelled(0, &scatter(&one, 0.02), 0.3)[0].verdict, VariantsVerdict::One);
        assert_eq!(labelled(0, &scatter(&one, 0.02), 1e-3)[0].verdict, VariantsVerdict::Open);
        let lone = scatter(&[(1.0, Some("a")), (2.0, Some("b"))], 0.1);
        assert_eq!(labelled(0, &lone, 0.3)[0].verdict, VariantsVerdict::Untested);
        assert!(labelled(0, &scatter(&[(1.0, None), (2.0, None)], 0.1), 0.3).is_empty());
    }

    #[test]
    fn variants_that_are_only_suspected() {
        let plain = |values: &[f64]| values.iter().map(|x| (*x, None)).collect::<Vec<_>>();
        let two = suspected(0, &scatter(&plain(&[1.0, 1.1, 5.0, 5.1, 0.9, 4.9]), 0.1), 0.3);
        assert_eq!((two.verdict, two.groups[1].1.len()), (VariantsVerdict::Two, 3));
        let one = suspected(0, &scatter(&plain(&[1.0, 1.4, 0.3, 0.8, 1.1, 0.9]), 0.1), 0.3);
        assert_eq!(one.verdict, VariantsVerdict::One);
        assert_eq!(
            suspected(0, &scatter(&plain(&[1.0, 5.0, 5.1]), 0.1), 0.3).verdict,
            VariantsVerdict::Untested
        );
    }

    /// Of samples of one normal distribution, one in twenty is called two.
    #[test]
    fn one_kind_is_called_two_as_seldom_as_said() {
        let mut throw = Stream::of(5, 0);
        let called = (0..200).filter(|_| {
            let values: Vec<(f64, Option<&str>)> = (0..6).map(|_| (throw.normal(), None)).collect();
            suspected(0, &scatter(&values, 0.01), 0.3).verdict == VariantsVerdict::Two
        });
        let called = called.count();
        // Binomial: 10 ± 3.
        assert!((2..=20).contains(&called), "{called} of 200");
    }
}
