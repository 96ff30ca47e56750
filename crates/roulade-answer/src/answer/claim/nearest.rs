//! What would have to be true: the most probable cell at the edge of a claim.

use super::super::estimate::in_full;
use super::super::sentence::{in_sentence, listed};
use roulade::cell::draft::Input;
use roulade::quantity::notation;
use roulade::study::claim::{Check, Nearest};
use serde::Serialize;

/// The most probable cell that just meets the claim: what would have to be true.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct NearestAnswer {
    /// Its distance from the middle of what is known, standard deviations.
    pub beta: f64,
    /// In a sentence.
    pub text: String,
    /// What would have to be true, the furthest from its middle first.
    pub rows: Vec<NearestRow>,
}

/// One quantity of that cell.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct NearestRow {
    /// Path of the input.
    pub path: String,
    /// What it is called, in full.
    pub label: String,
    /// As it is known.
    pub prior: String,
    /// What it would have to be.
    pub needed: String,
    /// By how many of its standard deviations it moves.
    pub deviations: f64,
}

/// Rows of the most probable cell.
const NEAREST: usize = 8;
/// Below this a quantity is where it is known to be.
const MOVES: f64 = 0.1;

/// In words and rows; `input` gives an input by its number, and its cell where there are two and they do not share it.
pub(super) fn described<'a>(
    nearest: &Nearest,
    input: impl Fn(usize) -> Option<(&'a Input, Option<&'a str>)>,
) -> NearestAnswer {
    let rows: Vec<NearestRow> = nearest
        .moved
        .iter()
        .filter(|(.., deviations)| deviations.abs() >= MOVES)
        .filter_map(|(i, value, deviations)| {
            let (input, cell) = input(*i)?;
            let needed = notation::print(*value, 0.1 * input.uncertain.u(), input.unit);
            // The value alone, to the place that a tenth of its uncertainty sets.
            let needed = needed.split(" ± ").next().unwrap_or_default();
            Some(NearestRow {
                path: input.path.to_string(),
                label: in_full(input.section, &input.label, cell),
                prior: notation::print(input.uncertain.value, input.uncertain.u(), input.unit),
                needed: format!("{needed} {}", input.unit.symbol()).trim_end().to_owned(),
                deviations: *deviations,
            })
        })
        .take(NEAREST)
        .collect();
    let named: Vec<String> = rows
        .iter()
        .take(3)
        .map(|row| {
            let of = nearest
                .moved
                .iter()
                .find_map(|(i, ..)| input(*i).filter(|(input, _)| *input.path == *row.path));
            let label = of
                .map_or_else(|| row.label.clone(), |(one, cell)| in_sentence(one.section, &one.label, cell));
            let deviations = format!("{:+.1}", row.deviations).replace('-', "−");
            format!("{label} {} ({deviations} standard deviations)", row.needed)
        })
        .collect();
    let far = format!(
        "The most probable cell at the edge of the claim lies {:.1} standard deviations from the best estimate",
        nearest.beta
    );
    let text = if named.is_empty() {
        format!("{far}: no quantity has to move by more than a tenth of its own standard deviation.")
    } else if nearest.meets {
        format!("{far}: above all {}.", listed(&named))
    } else {
        format!(
            "Even a cell {:.0} standard deviations from the best estimate does not meet the claim, even with {}.",
            nearest.beta,
            listed(&named)
        )
    };
    NearestAnswer { beta: nearest.beta, text, rows }
}

pub(super) fn of_check(check: &Check) -> Option<NearestAnswer> {
    Some(described(check.nearest.as_ref()?, |i| check.input(i)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cell_that_is_there_already_moves_nothing() {
        let text =
            described(&Nearest { beta: 0.04, meets: true, moved: vec![(0, 1.0, 0.04)] }, |_| None).text;
        assert!(text.ends_with("from the best estimate: no quantity has to move by more than a tenth of its own standard deviation."), "{text}");
    }
}
