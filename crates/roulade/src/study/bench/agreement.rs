//! How readings agree with a sheet and with one another: one χ².
//!
//! Its squares are those of the fit, which sees the means of what was read beside what was known beforehand, and those of
//! repeats of one specimen about their own mean. What specimens differ by is none of it: their scatter was set so that these
//! squares are what is expected of them, and they have nothing to say of the agreement any more.

use super::groups::{Group, Point};
use super::model::Model;
use super::rows::Row;
use roulade_stats::least_squares::distribution::chi_square_tail;
use roulade_stats::least_squares::{Loss, Outcome};
use std::collections::BTreeMap;

/// How the readings agree, with the scatter between specimens as it was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Agreement {
    /// Squares of normalised residuals: of the means of what was read, of repeats about their own mean, and of what was known
    /// beforehand.
    pub chi_square: f64,
    /// Degrees of freedom: one for each quantity and instrument, and one for each repeat of a specimen beyond the first (of
    /// those at one step of a scale there is one only).
    pub degrees: usize,
    /// χ² per degree of freedom.
    pub reduced: Option<f64>,
    /// Probability of a χ² at least as large if all uncertainties are right; `None` under a robust loss.
    pub probability: Option<f64>,
}

impl Agreement {
    pub(super) fn of(model: &Model<'_>, outcome: &Outcome, loss: Loss) -> Self {
        let each = model.groups.iter().map(|group| repeats(group, &model.rows));
        let (within, free) = each.fold((0.0, 0), |sum, own| (sum.0 + own.0, sum.1 + own.1));
        let chi_square = outcome.chi_square + within;
        // The fit counts a source that has no row left as a reading of no weight.
        let ghosts: usize = model.groups.iter().map(ghosts).sum();
        let degrees = (outcome.degrees + free).saturating_sub(ghosts);
        let some = (degrees > 0).then_some(degrees as f64);
        Self {
            chi_square,
            degrees,
            reduced: some.map(|degrees| chi_square / degrees),
            probability: some
                .filter(|_| loss == Loss::Normal)
                .map(|degrees| chi_square_tail(chi_square, degrees)),
        }
    }
}

/// Squares of readings of one specimen with one instrument about their own mean, over their variances, and how many of them
/// are free.
fn repeats(group: &Group, rows: &[Row]) -> (f64, usize) {
    let mut cells: BTreeMap<(&str, usize), Vec<&Point>> = BTreeMap::new();
    for point in &group.points {
        if let Some(row) = point.rows.first().and_then(|number| rows.get(*number)) {
            cells.entry((&row.specimen, point.source)).or_default().push(point);
        }
    }
    let about = |points: &Vec<&Point>| {
        let weight: f64 = points.iter().map(|point| 1.0 / point.variance).sum();
        let mean = points.iter().map(|point| point.value / point.variance).sum::<f64>() / weight;
        let square = |point: &&Point| (point.value - mean) * (point.value - mean) / point.variance;
        points.iter().map(square).sum::<f64>()
    };
    (cells.values().map(about).sum(), group.points.len() - cells.len())
}

fn ghosts(group: &Group) -> usize {
    let has = |source: &usize| group.points.iter().any(|point| point.source == *source);
    (0..group.sources.len()).filter(|source| !has(source)).count()
}
