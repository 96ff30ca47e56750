//! Chosen figures of one cell as bare numbers, for many cells at a time.

use roulade::cell::draft::Draft;
use roulade::cell::evaluator::Evaluator;
use roulade::cell::figures::Definition;
use roulade::quantity::problem::Problems;
use roulade_stats::propagation::FirstOrder;
use roulade_stats::uncertain::Uncertain;

/// A figure in its unit of the trade.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plain {
    /// Its value; `None` where the cell has none.
    pub value: Option<f64>,
    /// Its standard uncertainty, where it was asked for.
    pub u: Option<f64>,
}

/// The name of a figure's column, with its unit: `capacity_Ah`.
pub fn column(figure: &Definition) -> String {
    format!("{}_{}", figure.id, figure.unit.symbol()).trim_end_matches('_').to_owned()
}

/// Figures of a cell at its best values; with their uncertainties, to first order, where `spread` asks for them.
///
/// # Errors
/// Where the cell does not hold together, or its electrodes do not reach the voltage window.
pub fn plain(draft: &Draft, figures: &[&'static Definition], spread: bool) -> Result<Vec<Plain>, Problems> {
    let mut evaluator = Evaluator::of(draft);
    let mut of = |values: &[f64]| -> Result<Vec<f64>, Problems> {
        let worked = evaluator.at(values)?;
        Ok(figures.iter().map(|figure| (figure.of)(worked).unwrap_or(f64::NAN)).collect())
    };
    let best = of(&draft.values())?;
    let spread = spread.then(|| {
        let uncertain: Vec<Uncertain> = draft.inputs().iter().map(|input| input.uncertain).collect();
        FirstOrder::of(&uncertain, draft.correlation(), &best, |values| of(values).ok())
    });
    let plain = |(i, (figure, value)): (usize, (&&'static Definition, &f64))| {
        let there = !value.is_nan();
        Plain {
            value: there.then(|| value / figure.unit.in_si()),
            u: spread.as_ref().filter(|_| there).map(|spread| spread.u(i) / figure.unit.in_si()),
        }
    };
    Ok(figures.iter().zip(&best).enumerate().map(plain).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::answer::EstimateAnswer;
    use crate::test_support::{demo, draft};
    use roulade::cell::figures::definition;
    use serde_json::json;

    #[test]
    fn bare_numbers_are_those_of_the_estimate() {
        let draft = demo("marram b");
        let figures: Vec<_> =
            ["capacity", "volumetric", "mass"].iter().filter_map(|id| definition(id)).collect();
        let estimate = EstimateAnswer::of(&draft).unwrap();
        for (plain, definition) in plain(&draft, &figures, true).unwrap().iter().zip(&figures) {
            let row = estimate.headline.iter().find(|row| row.id == definition.id).unwrap();
            assert_eq!((plain.value, plain.u), (Some(row.figure.value), row.figure.u), "{}", definition.id);
        }
        assert_eq!(plain(&draft, &figures, false).unwrap()[0].u, None);
    }

    #[test]
    fn a_figure_that_the_cell_has_not_is_none() {
        let draft = draft(&[("voltage/nominal", json!("3.7 V"))]);
        let figures = [definition("balance.anode_host").unwrap(), definition("balance.n_to_p").unwrap()];
        let figures_found = plain(&draft, &figures, true).unwrap();
        assert_eq!(figures_found[0], Plain { value: None, u: None });
        assert_eq!(figures.map(column), ["balance.anode_active_material_Ah", "balance.n_to_p"]);
    }
}
