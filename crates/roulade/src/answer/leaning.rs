//! What a figure leans on: every input by its share of the variance.

use super::estimate::named;
use super::pen::Figure;
use super::sampled::plan;
use super::subject::{Of, Subject};
use crate::design::Draft;
use crate::many::Hands;
use crate::notation;
use crate::problem::Problems;
use crate::spread::interval::Interval;
use crate::spread::sample::Sampler;
use crate::spread::sensitivity;
use serde::Serialize;

/// An input and its share to first order.
#[derive(Clone, Debug, Serialize)]
pub struct LeaningRow {
    /// Its path in the sheet.
    pub path: String,
    /// What it is called.
    pub label: String,
    /// As it was written.
    pub text: String,
    /// Its share of the variance; negative where what it moves with takes away more than it brings.
    pub share: f64,
}

/// Sobol's indices of an input, or of inputs that are correlated.
#[derive(Clone, Debug, Serialize)]
pub struct Shared {
    /// Paths in the sheet.
    pub paths: Vec<String>,
    /// What they are called.
    pub labels: Vec<String>,
    /// Share of the variance that would go if it were known, and its standard error.
    pub first: [f64; 2],
    /// Share that would stay if all others were known, and its standard error.
    pub total: [f64; 2],
}

/// Indices of all inputs, the largest total first.
#[derive(Clone, Debug, Serialize)]
pub struct Indices {
    /// Each input.
    pub rows: Vec<Shared>,
    /// How often the cell was worked out.
    pub asked: u64,
    /// How often it had no answer.
    pub without: u64,
}

/// Answer about what a figure leans on.
#[derive(Clone, Debug, Serialize)]
pub struct LeaningAnswer {
    /// Version of this crate.
    pub roulade: &'static str,
    /// Names of the cells.
    pub cells: Vec<String>,
    /// Stable name of the figure.
    pub id: &'static str,
    /// What it is called.
    pub label: &'static str,
    /// Of the cell, or what lies between two.
    pub of: Of,
    /// The figure to first order.
    pub figure: Figure,
    /// Inputs with their shares, the largest first.
    pub shares: Vec<LeaningRow>,
    /// Sobol's indices, where draws were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub indices: Option<Indices>,
    /// What to know of this answer.
    pub remarks: Vec<String>,
}

impl LeaningAnswer {
    /// What a figure of a cell leans on, or what lies between two; with `draws`, by Sobol's indices too, from about so many
    /// workings.
    ///
    /// # Errors
    /// Where a cell does not hold together, the figure is not known, or the number of draws is out of bounds; places begin
    /// with `sheet`, `second`, `figure` and `draws`.
    pub fn of(
        first: &Draft,
        second: Option<&Draft>,
        figure: Option<&str>,
        (draws, seed): (Option<u32>, Option<u64>),
        hands: &impl Hands,
    ) -> Result<Self, Problems> {
        let asked = plan(draws, seed)?;
        let of = if second.is_some() { Of::Change } else { Of::First };
        let id = [figure.unwrap_or("volumetric").to_owned()];
        let subject = Subject::of(first, second, ("figure", &id), &[of])?;
        let Some((definition, _)) = subject.outputs.first().copied() else {
            let found = format!("\"{}\", a figure that this cell does not have", id.concat());
            return Err(crate::problem::Problem::new("figure", found, "a figure of the cell").into());
        };
        let spread = subject.first_order();
        let name = |i: usize| subject.input(i).map(|(input, cell)| (input, named(input, cell)));
        let shares = spread.shares(0).into_iter().filter_map(|(i, share)| {
            let (input, label) = name(i)?;
            Some(LeaningRow { path: input.path.clone(), label, text: input.text.clone(), share })
        });
        let shares = shares.collect();
        let indices = draws.map(|_| {
            let sampler = Sampler::new(subject.known(), subject.correlation());
            let questions = u32::try_from(sampler.groups().len()).unwrap_or(u32::MAX).saturating_add(2);
            let plan = crate::spread::sample::Plan { draws: (asked.draws / questions).max(100), ..asked };
            let found = sensitivity::indices(&sampler, plan, hands, |values| {
                let mut out = [0.0];
                subject.at(values, &mut out).ok().map(|()| out.iter().sum())
            });
            let rows = found.indices.into_iter().map(|index| {
                let inputs = index.inputs.iter().filter_map(|i| name(*i));
                let (paths, labels) = inputs.map(|(input, label)| (input.path.clone(), label)).unzip();
                let (first, total) = ([index.first, index.first_error], [index.total, index.total_error]);
                Shared { paths, labels, first, total }
            });
            Indices { rows: rows.collect(), asked: found.asked, without: found.without }
        });
        let best = subject.at_best.first().copied().unwrap_or(f64::NAN);
        let print = if of == Of::Change { notation::print_signed } else { notation::print };
        let u = spread.u(0);
        Ok(Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cells: subject.cells(),
            id: definition.id,
            label: definition.label,
            of,
            figure: Figure::of(best, u, Interval::about(best, u), definition.unit, print),
            shares,
            remarks: remarks(&subject, indices.as_ref()),
            indices,
        })
    }
}

fn remarks(subject: &Subject<'_>, indices: Option<&Indices>) -> Vec<String> {
    let mut remarks = Vec::new();
    if !subject.correlation().is_empty() {
        remarks.push(
            "Some inputs are correlated. The share of each is its own part and half of what it has together with others, and \
             may be negative."
                .to_owned(),
        );
        if indices.is_some() {
            remarks.push(
                "Sobol's indices are for independent inputs: those that are correlated count as one."
                    .to_owned(),
            );
        }
    }
    if let Some(indices) = indices.filter(|indices| indices.without > 0) {
        remarks.push(format!(
            "{} of {} workings have no answer and are left out.",
            indices.without, indices.asked
        ));
    }
    remarks
}
