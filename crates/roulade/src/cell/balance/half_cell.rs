//! A disc of one electrode against lithium.

use crate::cell::design::Electrode;
use crate::quantity::units::ArealCharge;

/// Reversible areal capacity of one side of an electrode between two potentials against lithium, V; over the practical
/// window of its materials where none are said. Nothing where it has no half-cell curve for potentials that are said.
///
/// # Formula
/// `m·c·(x(low) − x(high))`: loading m, capacity c of a gram of coating for stoichiometry 0 to 1, and where its curve meets the
/// two potentials; no further than the curve reaches.
pub fn disc(electrode: &Electrode, between: Option<(f64, f64)>) -> Option<ArealCharge> {
    let Some((low, high)) = between else { return Some(electrode.loading * electrode.reversible) };
    let potential = electrode.potential.as_ref()?;
    let at = |volts: f64| potential.curve.stoichiometry(volts - potential.shift.value);
    Some(electrode.loading * electrode.host * (at(low) - at(high)))
}
