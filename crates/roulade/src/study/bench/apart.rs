//! Specimens against the others of their variant: in one quantity, and in all of them together.

use super::groups::Expected;
use super::model::Model;
use super::specimens::{MANY, Member, ORDINARY, by_variant};
use super::suspect::{Scope, Suspect};
use crate::study::readings::quantity::Quantity;
use roulade_stats::least_squares::distribution::{
    chi_square_tail, normal_critical, normal_two_sided, student_two_sided,
};
use roulade_stats::least_squares::pooled::{Pooled, PooledKind};
use roulade_stats::least_squares::scatter::{self, Specimen};
use roulade_stats::order;

/// Share of the risk that goes to the test against an ordinary scatter (Bonferroni's, weighted). It is there for readings
/// that are off by far more than any part is.
pub(super) const OF_ORDINARY: f64 = 0.1;

/// Each specimen against the others of its variant, with the scatter that they and the sheet's other quantities have, and
/// with an ordinary one.
pub(super) fn among_specimens(model: &Model<'_>) -> Vec<Suspect> {
    let quantities = model.asked.iter().map(|asked| asked.quantity);
    let several: Vec<(&Quantity, Vec<Vec<&Member>>)> = quantities
        .zip(model.scatter.iter().map(by_variant))
        .filter(|(_, variants)| !variants.is_empty())
        .collect();
    let kind = |(_, variants): &(&Quantity, Vec<Vec<&Member>>)| PooledKind {
        groups: variants.iter().map(|own| own.iter().map(|member| member.specimen()).collect()).collect(),
    };
    let kinds: Vec<PooledKind> = several.iter().map(kind).collect();
    let pooled = Pooled::of(&kinds);
    let mut suspects = Vec::new();
    for (k, (quantity, variants)) in several.iter().enumerate() {
        // Of two, either may be wrong; of very many, each is tested against the whole fit.
        for (g, members) in variants.iter().enumerate().filter(|(_, m)| (3..=MANY).contains(&m.len())) {
            for (m, member) in members.iter().enumerate() {
                let Some(apart) = pooled.apart(k, g, m) else { continue };
                let others = members.iter().enumerate().filter(|(i, _)| *i != m);
                let others: Vec<Specimen> = others.map(|(_, other)| other.specimen()).collect();
                let ordinary = ordinary(quantity, member.specimen(), &others);
                let probability =
                    (apart.probability / (1.0 - OF_ORDINARY)).min(ordinary / OF_ORDINARY).min(1.0);
                let off =
                    |row: &usize| model.rows.get(*row).map_or(0.0, |row| (row.value - apart.mean).abs());
                let Some(row) = member.rows.iter().copied().max_by(|a, b| off(a).total_cmp(&off(b))) else {
                    continue;
                };
                let or = member.rows.iter().copied().filter(|other| *other != row).collect();
                let z = match normal_critical(probability) {
                    z if z.is_finite() => z.copysign(apart.z),
                    _ => apart.z,
                };
                let spread = if z == 0.0 { member.u } else { (member.value - apart.mean) / z };
                let expected =
                    Expected { value: apart.mean, variance: (spread * spread).max(member.u * member.u) };
                suspects.push(Suspect {
                    row,
                    also: Vec::new(),
                    scope: Scope::Reading,
                    z,
                    probability,
                    weight: 1.0,
                    expected,
                    or,
                });
            }
        }
    }
    suspects
}

/// Specimens that are unlike the others in many quantities: the squares of their distances together, without the largest few, which
/// may be gross errors of their own. How far others scatter is taken from a sheet without the specimen: it would widen every
/// quantity of it, and hide there.
pub(super) fn cells(model: &Model<'_>, specimens: &[Suspect]) -> Vec<Suspect> {
    let mut names: Vec<&str> = model
        .scatter
        .iter()
        .flat_map(|scatter| &scatter.members)
        .map(|member| member.name.as_str())
        .collect();
    names.sort_unstable();
    names.dedup();
    if names.len() > MANY {
        return Vec::new();
    }
    names.into_iter().filter_map(|name| cell(model, specimens, name)).collect()
}

fn cell(model: &Model<'_>, specimens: &[Suspect], name: &str) -> Option<Suspect> {
    let (mut kinds, mut own) = (Vec::new(), Vec::new());
    for variants in model.scatter.iter().map(by_variant) {
        let of = |own: &Vec<&Member>| -> Vec<Specimen> {
            own.iter().filter(|member| member.name != name).map(|member| member.specimen()).collect()
        };
        let groups: Vec<Vec<Specimen>> = variants.iter().map(of).collect();
        let at = variants
            .iter()
            .enumerate()
            .find_map(|(g, members)| Some((g, members.iter().find(|member| member.name == name)?)));
        // Of two, either may be the other cell.
        let several = at.filter(|(g, _)| groups.get(*g).is_some_and(|others| others.len() > 1));
        if let Some((group, member)) = several {
            own.push((kinds.len(), group, member.specimen()));
        }
        if groups.iter().any(|group| !group.is_empty()) {
            kinds.push(PooledKind { groups });
        }
    }
    if own.len() < GROSS + FEWEST {
        return None;
    }
    let pooled = Pooled::of(&kinds);
    let far = own.into_iter().filter_map(|(kind, group, own)| pooled.beside(kind, group, own));
    let mut squares: Vec<f64> = far.map(|apart| apart.z * apart.z).collect();
    order::ascending(&mut squares);
    let rest = squares.len().saturating_sub(GROSS);
    let probability = chi_square_tail(squares.iter().take(rest).sum(), rest as f64);
    let of_it = |row: &usize| model.rows.get(*row).is_some_and(|row| !row.aside && row.specimen == name);
    let worst = specimens
        .iter()
        .filter(|suspect| of_it(&suspect.row))
        .min_by(|a, b| a.probability.total_cmp(&b.probability))?;
    let also = (0..model.rows.len()).filter(|row| of_it(row) && *row != worst.row).collect();
    Some(Suspect { probability, also, scope: Scope::Cell, or: Vec::new(), ..worst.clone() })
}

/// So many gross errors of one specimen make it no other cell.
const GROSS: usize = 2;
/// Nor is one that was read in fewer quantities besides.
const FEWEST: usize = 3;

/// Probability that a specimen is as far from the others, with the scatter that they have, or an ordinary one where that is
/// more: Student's for what comes from their scatter (Welch and Satterthwaite), normal for what is stated.
fn ordinary(quantity: &Quantity, own: Specimen, others: &[Specimen]) -> f64 {
    let Some(mean) = scatter::mean(others, 0.0) else { return 1.0 };
    let between = mean.between.unwrap_or(0.0);
    let spread = (own.u * own.u + between * between).sqrt();
    let least = quantity.typical.u(mean.value, quantity.unit).max(ORDINARY * mean.value.abs());
    let z = (own.value - mean.value) / (spread.max(least) * (1.0 + 1.0 / others.len() as f64).sqrt());
    if spread > least {
        let scattered = between * between / (spread * spread);
        student_two_sided(z, (others.len() - 1) as f64 / (scattered * scattered))
    } else {
        normal_two_sided(z)
    }
}
