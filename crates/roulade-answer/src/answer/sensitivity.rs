//! Sensitivity of a figure: every input by its share of the variance.

use super::estimate::named;
use super::figure_writer::Figure;
use super::hazards::cautioned;
use super::plan::{entries, plan};
use super::subject::{Subject, WhichCell};
use roulade::cell::draft::Draft;
use roulade::quantity::notation;
use roulade::quantity::problem::Problems;
use roulade_stats::executor::Executor;
use roulade_stats::propagation::interval::Interval;
use roulade_stats::propagation::sensitivity;
use serde::Serialize;

/// An input and its share to first order.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SensitivityRow {
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SobolIndex {
    /// Paths in the sheet.
    pub paths: Vec<String>,
    /// What they are called.
    pub labels: Vec<String>,
    /// Share of the variance that would go if it were known, and its standard error.
    pub first: [f64; 2],
    /// Share that would stay if all others were known, and its standard error.
    pub total: [f64; 2],
}

/// Sobol indices of all inputs, the largest total first.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SobolIndices {
    /// Each input.
    pub rows: Vec<SobolIndex>,
    /// How often the cell was worked out.
    pub asked: u64,
    /// How often it had no answer.
    pub without: u64,
}

/// Answer about the sensitivity of a figure.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SensitivityAnswer {
    /// Version of this crate.
    pub roulade: &'static str,
    /// Names of the cells.
    pub cells: Vec<String>,
    /// Stable name of the figure.
    pub id: &'static str,
    /// What it is called.
    pub label: &'static str,
    /// Of the cell, or what lies between two.
    pub of: WhichCell,
    /// The figure to first order.
    pub figure: Figure,
    /// Inputs with their shares, the largest first.
    pub shares: Vec<SensitivityRow>,
    /// Sobol's indices, where draws were asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub indices: Option<SobolIndices>,
    /// What to know of this answer.
    pub remarks: Vec<String>,
}

impl SensitivityAnswer {
    /// Sensitivity of a figure of a cell, or of a difference between two; with `draws`, by Sobol's indices too, from about so many
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
        executor: &impl Executor,
    ) -> Result<Self, Problems> {
        let asked = plan(draws, seed, entries(first, second))?;
        let of = if second.is_some() { WhichCell::Change } else { WhichCell::First };
        let id = [figure.unwrap_or("volumetric").to_owned()];
        let subject = Subject::of(first, second, ("figure", &id), &[of])?;
        let Some((definition, _)) = subject.outputs.first().copied() else {
            let found = format!("\"{}\", a figure that this cell does not have", id.concat());
            return Err(roulade::quantity::problem::Problem::new(
                "figure",
                found,
                "a figure that the cell has",
            )
            .into());
        };
        let spread = subject.first_order();
        let name = |i: usize| subject.input(i).map(|(input, cell)| (input, named(input, cell)));
        let shares = spread.shares(0).into_iter().filter_map(|(i, share)| {
            let (input, label) = name(i)?;
            Some(SensitivityRow {
                path: input.path.to_string(),
                label,
                text: input.text().into_owned(),
                share,
            })
        });
        let shares = shares.collect();
        let indices = draws.map(|_| {
            let sampler = subject.sampler();
            let questions = u32::try_from(sampler.groups().len()).unwrap_or(u32::MAX).saturating_add(2);
            let plan = roulade_stats::propagation::sample::Plan {
                draws: (asked.draws / questions).max(100),
                ..asked
            };
            let found = sensitivity::indices(&sampler, plan, executor, || {
                let mut by = subject.evaluators();
                let subject = &subject;
                move |values: &[f64]| {
                    let mut out = [0.0];
                    subject.at(&mut by, values, &mut out).ok().map(|()| out.iter().sum())
                }
            });
            let rows = found.indices.into_iter().map(|index| {
                let inputs = index.inputs.iter().filter_map(|i| name(*i));
                let (paths, labels) = inputs.map(|(input, label)| (input.path.to_string(), label)).unzip();
                let (first, total) = ([index.first, index.first_error], [index.total, index.total_error]);
                SobolIndex { paths, labels, first, total }
            });
            SobolIndices { rows: rows.collect(), asked: found.asked, without: found.without }
        });
        let best = subject.at_best.first().copied().unwrap_or(f64::NAN);
        let print = if of == WhichCell::Change { notation::print_signed } else { notation::print };
        let u = spread.u(0);
        Ok(Self {
            roulade: env!("CARGO_PKG_VERSION"),
            cells: subject.cells(),
            id: definition.id,
            label: definition.label,
            of,
            figure: Figure::of(best, u, Interval::about(best, u), definition.unit, print),
            shares,
            remarks: [cautioned(&subject.drafts()), remarks(&subject, indices.as_ref())].concat(),
            indices,
        })
    }
}

fn remarks(subject: &Subject<'_>, indices: Option<&SobolIndices>) -> Vec<String> {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::{draft, with};
    use roulade_stats::executor::alone;
    use serde_json::json;

    #[test]
    fn an_envelope_is_sensitive_to_diameter_and_height() {
        // π/4·D²·H: relative contributions of 2·0.1/46 and 0.2/95, shares of 0.0043478² and 0.0021053².
        let cell = draft(&[("can/diameter", json!("46 ± 0.1 mm")), ("can/height", json!("95 ± 0.2 mm"))]);
        let answer =
            SensitivityAnswer::of(&cell, None, Some("envelope"), (Some(8000), None), &alone()).unwrap();
        let squares = [4.347_826e-3_f64, 2.105_263e-3].map(|c| c * c);
        let shares = squares.map(|c| c / (squares[0] + squares[1]));
        assert_eq!(
            answer.shares.iter().map(|row| row.path.as_str()).collect::<Vec<_>>(),
            ["can.diameter", "can.height"]
        );
        let indices = answer.indices.unwrap();
        for (i, share) in shares.into_iter().enumerate() {
            assert!((answer.shares[i].share - share).abs() < 1e-5);
            let row = indices.rows.iter().find(|row| row.paths == [answer.shares[i].path.clone()]).unwrap();
            for [index, error] in [row.first, row.total] {
                assert!((index - share).abs() < 4.0 * error + 1e-4 && error < 0.12, "{row:?}");
            }
        }
        assert!((7800..=8000).contains(&indices.asked), "{}", indices.asked);
        assert_eq!((answer.id, answer.of, answer.remarks.len()), ("envelope", WhichCell::First, 0));
        assert!(SensitivityAnswer::of(&cell, None, None, (None, None), &alone()).unwrap().indices.is_none());
    }

    #[test]
    fn between_two_cells_each_input_says_whose_it_is() {
        let first = draft(&[("cathode/loading", json!({ "value": "20 ± 0.1 mg/cm2", "from": "measured" }))]);
        let second = draft(&[
            ("cell", json!("another")),
            ("cathode/loading", json!({ "value": "20 ± 0.2 mg/cm2", "from": "measured" })),
        ]);
        let answer = SensitivityAnswer::of(&first, Some(&second), None, (None, None), &alone()).unwrap();
        assert_eq!(answer.of, WhichCell::Change);
        let labels: Vec<&str> = answer.shares.iter().map(|row| row.label.as_str()).collect();
        assert_eq!(
            labels,
            [
                "Cathode: areal mass loading, per side (another)",
                "Cathode: areal mass loading, per side (by hand)"
            ]
        );
        assert!((answer.shares[0].share - 0.8).abs() < 1e-3, "{:?}", answer.shares);
    }

    #[test]
    fn correlated_inputs_have_one_index_and_a_remark() {
        let cell = draft(&[
            ("cathode/loading", json!("20 ± 0.1 mg/cm2")),
            ("cathode/thickness", json!("50 ± 0.2 µm")),
            (
                "correlated",
                json!({ "paths": ["cathode.loading", "cathode.thickness"], "coefficients": [[0.5]] }),
            ),
        ]);
        let answer = SensitivityAnswer::of(&cell, None, None, (Some(4000), None), &alone()).unwrap();
        assert_eq!(answer.indices.unwrap().rows[0].paths, ["cathode.loading", "cathode.thickness"]);
        assert_eq!(answer.remarks.len(), 2);
        let unknown = SensitivityAnswer::of(&cell, None, Some("volume"), (None, None), &alone()).unwrap_err();
        assert_eq!(unknown.0[0].place, "figure");
        // A nominal voltage leaves no stoichiometries.
        let nominal = crate::test_support::read(&with(&[("voltage/nominal", json!("3.6 V"))])).unwrap();
        let none =
            SensitivityAnswer::of(&nominal, None, Some("balance.cathode_host"), (None, None), &alone());
        assert!(none.unwrap_err().0[0].found.contains("a figure that this cell does not have"));
    }
}
