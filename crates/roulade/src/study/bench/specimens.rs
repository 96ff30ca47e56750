//! Specimens of one cell: how far they differ from one another in each quantity that was read off several.

use super::rows::Row;
use roulade_stats::least_squares::distribution::student_two_sided;
use roulade_stats::least_squares::pooled::{Pooled, PooledKind};
use roulade_stats::least_squares::scatter::{self, Specimen};
use roulade_stats::order;
use std::collections::BTreeMap;

/// Scatter between specimens in ordinary production, as a part of the value: common practice, no source.
pub(super) const ORDINARY: f64 = 0.002;

/// A reading as the scatter sees it.
#[derive(Clone, Debug)]
pub(super) struct Seen {
    /// Which reading.
    pub(super) row: usize,
    /// Which specimen.
    pub(super) specimen: String,
    /// Which variant, where variants are kept apart.
    pub(super) variant: Option<String>,
    /// SI.
    pub(super) value: f64,
    /// Standard uncertainty that is this reading's own.
    pub(super) u: f64,
}

/// Rows as the scatter sees them.
pub(super) fn seen(rows: &[Row], numbers: impl Iterator<Item = usize>) -> Vec<Seen> {
    numbers
        .filter_map(|i| Some((i, rows.get(i)?)))
        .map(|(i, row)| Seen {
            row: i,
            specimen: row.specimen.clone(),
            variant: row.variant.clone(),
            value: row.value,
            u: row.own,
        })
        .collect()
}

/// A specimen's readings of one quantity, together.
#[derive(Clone, Debug)]
pub struct Member {
    /// Its name.
    pub name: String,
    /// The variant it is of.
    pub variant: Option<String>,
    /// Weighted mean of its readings, SI.
    pub value: f64,
    /// Standard uncertainty of that, SI.
    pub u: f64,
    /// Which readings.
    pub(super) rows: Vec<usize>,
}

impl Member {
    /// How many readings it has.
    pub fn count(&self) -> usize {
        self.rows.len()
    }

    /// What it reads, and the standard uncertainty of that.
    pub(super) fn specimen(&self) -> Specimen {
        Specimen { value: self.value, u: self.u }
    }
}

/// The scatter between the specimens in one quantity.
#[derive(Clone, Debug)]
pub struct Scatter {
    /// The specimens.
    pub members: Vec<Member>,
    /// Standard deviation between specimens of one variant, SI; `None` from one specimen of each, which say nothing of it.
    pub between: Option<f64>,
    /// What it is not above with a probability of 95 %.
    pub high: Option<f64>,
    /// Specimens less variants.
    pub degrees: usize,
}

impl Scatter {
    /// From all readings of one quantity.
    pub(super) fn of(seen: &[Seen]) -> Self {
        let mut members: Vec<Member> = Vec::new();
        let mut places: BTreeMap<(&str, Option<&str>), usize> = BTreeMap::new();
        // Σw, Σw·value while they are gathered.
        for one in seen {
            let at = *places.entry((&one.specimen, one.variant.as_deref())).or_insert_with(|| {
                members.push(Member {
                    name: one.specimen.clone(),
                    variant: one.variant.clone(),
                    value: 0.0,
                    u: 0.0,
                    rows: Vec::new(),
                });
                members.len() - 1
            });
            if let Some(member) = members.get_mut(at) {
                let weight = 1.0 / (one.u * one.u);
                member.u += weight;
                member.value += weight * one.value;
                member.rows.push(one.row);
            }
        }
        for member in &mut members {
            (member.value, member.u) = (member.value / member.u, member.u.sqrt().recip());
        }
        Self::among(members)
    }

    fn among(members: Vec<Member>) -> Self {
        let mut variants: Vec<Option<&str>> = Vec::new();
        for member in &members {
            if !variants.contains(&member.variant.as_deref()) {
                variants.push(member.variant.as_deref());
            }
        }
        let groups: Vec<Vec<Specimen>> = variants
            .iter()
            .map(|variant| {
                let own = members.iter().filter(|m| m.variant.as_deref() == *variant);
                own.map(Member::specimen).collect()
            })
            .collect();
        let degrees = members.len() - variants.len();
        let means: Vec<scatter::Mean> = groups.iter().filter_map(|group| scatter::mean(group, 0.0)).collect();
        // Variants scatter alike, so that each counts by its specimens.
        let pooled = |of: fn(&scatter::Mean) -> Option<f64>| {
            let squares = means.iter().filter_map(|mean| {
                let value = of(mean)?;
                Some(value * value * (mean.count - 1) as f64)
            });
            (degrees > 0).then(|| (squares.sum::<f64>() / degrees as f64).sqrt())
        };
        let (between, high) = match groups.as_slice() {
            [first, second] => (
                scatter::groups(first, second).map(|groups| groups.between),
                pooled(|mean| mean.between_high),
            ),
            _ => (pooled(|mean| mean.between), pooled(|mean| mean.between_high)),
        };
        Self { members, between, high, degrees }
    }

    /// A scatter that a gross error among the specimens does not widen: from the median of their distances to the median
    /// (times 1.4826 it is a normal distribution's standard deviation; F. R. Hampel, J. Am. Stat. Assoc. 69 (1974) 383,
    /// doi:10.1080/01621459.1974.10482962), and not less than an ordinary one, since few specimens are alike by chance.
    pub(super) fn guarded(&self) -> f64 {
        let mut values: Vec<f64> = self.members.iter().map(|member| member.value).collect();
        let centre = median(&mut values);
        let mut off: Vec<f64> = values.iter().map(|value| (value - centre).abs()).collect();
        let own = if off.len() > 2 { 1.4826 * median(&mut off) } else { 0.0 };
        // Half of them may be of another variant.
        own.min(0.05 * centre.abs()).max(ORDINARY * centre.abs())
    }

    /// Standard deviation of a specimen that makes 95 % intervals hold, from very many specimens: τ times Student's factor over that of a normal
    /// distribution, since τ itself comes from few specimens (JCGM 100:2008, G.3.2). From one specimen it is unknown, and
    /// none is supposed.
    pub(super) fn widened(&self) -> f64 {
        match self.between {
            Some(between) if between > 0.0 => {
                between * student_critical(0.05, self.degrees as f64) / 1.959_963_984_540_054
            }
            _ => 0.0,
        }
    }
}

fn median(values: &mut [f64]) -> f64 {
    order::ascending(values);
    let at = |i: usize| values.get(i).copied().unwrap_or(0.0);
    let half = values.len() / 2;
    if values.len() % 2 == 1 { at(half) } else { 0.5 * (at(half.saturating_sub(1)) + at(half)) }
}

/// The number that Student's t exceeds, either way, with this probability.
pub(super) fn student_critical(probability: f64, degrees: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    while student_two_sided(high, degrees) > probability && high < 1e6 {
        high *= 2.0;
    }
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if student_two_sided(middle, degrees) > probability { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// Specimens beyond this number know their own scatter; none is held against all others one by one.
pub(super) const MANY: usize = 50;

/// Standard deviations between specimens that make 95 % intervals hold, of every quantity: from its specimens and from the sheet's
/// other quantities ([`Pooled::widened`]); from very many, from these alone. From one specimen it is unknown, and none is supposed.
pub(super) fn widened(scatters: &[Scatter]) -> Vec<f64> {
    let of = |scatter: &Scatter| PooledKind {
        groups: by_variant(scatter)
            .iter()
            .map(|own| own.iter().map(|member| member.specimen()).collect())
            .collect(),
    };
    let few = |kind: &PooledKind| (1..=MANY).contains(&kind.groups.iter().map(Vec::len).sum());
    let all: Vec<PooledKind> = scatters.iter().map(of).collect();
    let kinds: Vec<PooledKind> = all.iter().filter(|kind| few(kind)).cloned().collect();
    let pooled = Pooled::of(&kinds);
    let mut next = 0..kinds.len();
    let each = scatters.iter().zip(&all).map(|(scatter, kind)| {
        let found = if few(kind) { next.next().and_then(|kind| pooled.widened(kind)) } else { None };
        found.unwrap_or_else(|| scatter.widened())
    });
    each.collect()
}

/// Specimens by variant, of variants that have several.
pub(super) fn by_variant(scatter: &Scatter) -> Vec<Vec<&Member>> {
    let mut variants: Vec<Vec<&Member>> = Vec::new();
    for member in &scatter.members {
        match variants.iter_mut().find(|own| own.first().is_some_and(|first| first.variant == member.variant))
        {
            Some(own) => own.push(member),
            None => variants.push(vec![member]),
        }
    }
    variants.retain(|own| own.len() > 1);
    variants
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn seen(values: &[(&str, Option<&str>, f64)], u: f64) -> Vec<Seen> {
        let one = |(row, (specimen, variant, value)): (usize, &(&str, Option<&str>, f64))| Seen {
            row,
            specimen: (*specimen).to_owned(),
            variant: variant.map(str::to_owned),
            value: *value,
            u,
        };
        values.iter().enumerate().map(one).collect()
    }

    #[test]
    fn repeats_of_one_specimen_are_no_scatter() {
        let scatter = Scatter::of(&seen(
            &[("A", None, 69.0), ("A", None, 69.0), ("B", None, 70.0), ("C", None, 71.0)],
            0.6,
        ));
        assert_eq!(scatter.members.iter().map(|m| m.rows.len()).collect::<Vec<_>>(), [2, 1, 1]);
        assert_relative_eq!(scatter.members[0].u, 0.6 / 2f64.sqrt(), max_relative = 1e-12);
        assert!(scatter.between.unwrap() > 0.5 && scatter.degrees == 2);
        // Tables of Student's t: 4.303 with two degrees of freedom.
        assert_relative_eq!(student_critical(0.05, 2.0), 4.302_652_73, max_relative = 1e-8);
        assert_relative_eq!(
            scatter.widened(),
            scatter.between.unwrap() * 4.302_652_73 / 1.959_963_98,
            max_relative = 1e-8
        );
        let one = Scatter::of(&seen(&[("A", None, 69.0), ("A", None, 70.0)], 0.6));
        assert!(one.between.is_none() && one.widened() == 0.0 && one.degrees == 0);
    }

    #[test]
    fn variants_scatter_about_their_own_means() {
        let apart = [
            ("A", Some("old"), 1.0),
            ("B", Some("old"), 1.2),
            ("C", Some("new"), 5.0),
            ("D", Some("new"), 5.2),
        ];
        let scatter = Scatter::of(&seen(&apart, 0.01));
        assert!(scatter.between.unwrap() < 0.2 && scatter.degrees == 2);
    }
}
