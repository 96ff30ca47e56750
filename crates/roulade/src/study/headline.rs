//! The figures that come first, with their uncertainties: of one cell, and of two with what lies between.

use super::compare::{Joint, Kinship};
use crate::cell::draft::Draft;
use crate::cell::evaluator::Evaluator;
use crate::cell::figures::definition;
use crate::quantity::problem::Problems;
use crate::quantity::uncertain::UncertainQuantity;
use crate::quantity::units::{AvailableEnergy, ElectricCharge, Energy, EnergyDensity, Mass};
use roulade_stats::propagation::FirstOrder;
use roulade_stats::uncertain::Uncertain;

/// The figures by their ids, in the order of [`Headline`].
const IDS: [&str; 5] = ["volumetric", "gravimetric", "capacity", "energy", "mass"];

/// What a cell is predicted to give, each figure with its standard uncertainty to first order (JCGM 100, 5.1 and 5.2).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Headline {
    /// Volumetric energy density: energy at open circuit over the outer volume of the can.
    pub volumetric: UncertainQuantity<EnergyDensity>,
    /// Gravimetric energy density (specific energy): energy at open circuit over the mass of the cell.
    pub gravimetric: UncertainQuantity<AvailableEnergy>,
    /// Capacity between the cut-off voltages.
    pub capacity: UncertainQuantity<ElectricCharge>,
    /// Energy at open circuit.
    pub energy: UncertainQuantity<Energy>,
    /// Mass of the cell.
    pub mass: UncertainQuantity<Mass>,
}

impl Headline {
    /// Five figures of a list from one on, each by its value and its uncertainty.
    fn from(values: &[f64], u: &FirstOrder, first: usize) -> Self {
        let at = |i: usize| (values.get(first + i).copied().unwrap_or(f64::NAN), u.u(first + i));
        let [a, b, c, d, e] = [at(0), at(1), at(2), at(3), at(4)];
        Self {
            volumetric: UncertainQuantity::si(a.0, a.1),
            gravimetric: UncertainQuantity::si(b.0, b.1),
            capacity: UncertainQuantity::si(c.0, c.1),
            energy: UncertainQuantity::si(d.0, d.1),
            mass: UncertainQuantity::si(e.0, e.1),
        }
    }
}

fn figures(evaluator: &mut Evaluator<'_>, values: &[f64]) -> Result<Vec<f64>, Problems> {
    let worked = evaluator.at(values)?;
    let of = |id| definition(id).and_then(|figure| (figure.of)(worked)).unwrap_or(f64::NAN);
    Ok(IDS.map(of).to_vec())
}

impl Draft {
    /// What the cell is predicted to give.
    ///
    /// # Errors
    /// Where the cell does not hold together, or its electrodes do not reach the voltage window.
    pub fn headline(&self) -> Result<Headline, Problems> {
        let mut evaluator = Evaluator::of(self);
        let best = figures(&mut evaluator, &self.values())?;
        let uncertain: Vec<Uncertain> = self.inputs().iter().map(|input| input.uncertain).collect();
        let spread = FirstOrder::of(&uncertain, self.correlation(), &best, |values| {
            figures(&mut evaluator, values).ok()
        });
        Ok(Headline::from(&best, &spread, 0))
    }
}

/// Two cells, and what lies between them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Compared {
    /// The first cell.
    pub first: Headline,
    /// The second.
    pub second: Headline,
    /// The second less the first. What the two have in common is one quantity, and leaves the difference.
    pub change: Headline,
}

/// Compares two cells.
///
/// # Errors
/// Where one of them does not hold together; places begin with `first.` or `second.`.
pub fn compare(first: &Draft, second: &Draft) -> Result<Compared, Problems> {
    let joint = Joint::of(first, second, Kinship::of(first, second));
    let [mut of_first, mut of_second] = [first, second].map(Evaluator::of);
    let mut all = |a: &[f64], b: &[f64]| {
        let a = figures(&mut of_first, a).map_err(|problems| problems.within("first"))?;
        let b = figures(&mut of_second, b).map_err(|problems| problems.within("second"))?;
        let change: Vec<f64> = b.iter().zip(&a).map(|(b, a)| b - a).collect();
        Ok::<_, Problems>([a, b, change].concat())
    };
    let best = all(&first.values(), &second.values())?;
    let spread = FirstOrder::of(joint.uncertain(), joint.correlation(), &best, |values| {
        let (a, b) = joint.split(values);
        all(&a, &b).ok()
    });
    let of = |cell: usize| Headline::from(&best, &spread, IDS.len() * cell);
    Ok(Compared { first: of(0), second: of(1), change: of(2) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::{draft, sheet, with};
    use serde_json::json;

    #[test]
    fn a_gram_less_is_a_gram_less() {
        let lighter = draft(&[("parts/1/mass", json!("3 g"))]);
        let found = compare(&draft(&[]), &lighter).unwrap();
        assert!((found.change.mass.value.value + 1e-3).abs() < 1e-12 && found.change.mass.u.value < 1e-12);
        assert!(found.change.gravimetric.value.value > 0.0 && found.change.energy.value.value == 0.0);
        assert_eq!(found.first, draft(&[]).headline().unwrap());
    }

    #[test]
    fn a_cell_that_does_not_hold_together_is_reported_by_its_side() {
        let tall = Draft::parse(&with(&[("cathode/width", json!("90 mm"))]).to_string()).unwrap();
        let diagnostic = compare(&Draft::parse(&sheet().to_string()).unwrap(), &tall).unwrap_err();
        assert!(diagnostic.0.iter().all(|problem| problem.place.starts_with("second")), "{diagnostic}");
    }
}
