//! What a change contributes to: figures of the cell, and what it costs.

use crate::cell::figures::{Definition, Worked, definition};
use crate::study::attribute::price::Bill;

/// Figures that changes contribute to, as far as there are such figures.
const MERITS: [&str; 7] = ["volumetric", "gravimetric", "capacity", "energy", "resistance", "mass", "parts"];

/// What a change contributes to.
#[derive(Clone, Copy, Debug)]
pub enum Merit {
    /// A figure of the cell.
    Figure(&'static Definition),
    /// What it costs, as far as there are prices.
    Cost,
    /// That over its energy: per joule.
    CostPerEnergy,
}

impl Merit {
    pub(super) fn of(self, cell: &Worked, bill: Option<&Bill>) -> f64 {
        let cost = || bill.map(|bill| bill.cost(cell));
        match self {
            Self::Figure(figure) => (figure.of)(cell),
            Self::Cost => cost(),
            Self::CostPerEnergy => cost().map(|cost| cost / cell.estimate.balance.energy.value),
        }
        .unwrap_or(f64::NAN)
    }
}

/// Figures that both cells have.
pub(super) fn merits(cells: [&Worked; 2], priced: bool) -> Vec<Merit> {
    let figures = MERITS.iter().filter_map(|id| definition(id));
    let had = figures.filter(|figure| cells.iter().all(|cell| (figure.of)(cell).is_some()));
    let costs = [Merit::Cost, Merit::CostPerEnergy].into_iter().filter(|_| priced);
    had.map(Merit::Figure).chain(costs).collect()
}
