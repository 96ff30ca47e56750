//! A curve that a sheet gives, and a capacity that the table lends over a distance in composition.

use super::filled_in::FilledIn;
use super::makeup::Composition;
use super::read::Said;
use crate::material::Curve;
use crate::quantity::problem::Problem;
use crate::quantity::units::Unit;
use roulade_stats::uncertain::Uncertain;

/// A curve of the sheet's own, with the window that its capacity stands for.
pub(super) fn own_curve(points: &[(f64, f64)], window: Option<&[f64]>) -> Result<Curve, Problem> {
    match window {
        None => Curve::from_points(points),
        Some([low, high]) => Curve::from_points_within(points, (*low, *high)),
        Some(other) => {
            let found = format!("{} numbers", other.len());
            Err(Problem::new("window", found, "a low and a high stoichiometry, for example [0.05, 0.95]"))
        }
    }
}

/// What other metals add to the uncertainty of a borrowed capacity, C/kg for all metal sites exchanged: 163 and 203 mAh/g of
/// NMC111 and NMC811 to 4.3 V (Noh, Youn, Yoon, Sun, J. Power Sources 233 (2013) 121, from memory) lie 40 apart over 0.467
/// of the sites.
const CAPACITY_PER_DISTANCE: f64 = 86.0 * 3600.0;

/// A capacity lent over a distance in composition: `u² = u₀² + (86 mAh/g · d)²`.
pub(super) fn borrowed_capacity(filled: FilledIn, composition: &Composition) -> FilledIn {
    let far = CAPACITY_PER_DISTANCE * composition.distance;
    let Said::Figure(figure, Some(lender)) = filled.said else { return filled };
    if far <= 0.0 {
        return filled;
    }
    let uncertain = Uncertain::standard(
        filled.uncertain.value,
        (filled.uncertain.u() * filled.uncertain.u() + far * far).sqrt(),
    );
    let source = format!(
        "that of {lender}, and what {:.1} % of other metals add: {}",
        100.0 * composition.distance,
        figure.cited()
    );
    FilledIn::new(uncertain, Unit::MilliampereHourPerGram, source)
}
