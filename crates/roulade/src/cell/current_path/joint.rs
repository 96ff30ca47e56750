//! Weld spots between two metals.

use crate::quantity::units::{ElectricalResistance, ElectricalResistivity, Length};

/// Spots that carry a current alike, each with the constriction on its two sides.
///
/// # Formula
/// `R = (ρ₁ + ρ₂)/(4·a·n)`: resistivities on both sides, radius a of one spot, n spots (Holm, Electric Contacts, 4th
/// ed., Springer 1967, from memory). Each side is taken as thick as it is wide; in a plate thinner than the spot this
/// is an upper bound.
///
/// # Example
/// Copper of 16.8 nΩ·m on nickel of 69.9 nΩ·m by one spot of 0.5 mm radius: 43.35 µΩ.
/// ```
/// # use roulade::cell::current_path;
/// # use roulade::quantity::units::{ElectricalResistivity, Length};
/// let rho = ElectricalResistivity::new::<uom::si::electrical_resistivity::ohm_meter>;
/// let radius = Length::new::<uom::si::length::millimeter>(0.5);
/// let one = current_path::spots((rho(16.8e-9), rho(69.9e-9)), radius, 1.0);
/// assert!((one.value - 43.35e-6).abs() < 1e-12);
/// ```
pub fn spots(
    between: (ElectricalResistivity, ElectricalResistivity),
    radius: Length,
    count: f64,
) -> ElectricalResistance {
    (between.0 + between.1) / (4.0 * radius * count)
}
