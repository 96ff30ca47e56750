//! A quantity with its standard uncertainty, both as types with their dimension.

use super::notation;
use super::units::Unit;
use std::marker::PhantomData;
use uom::si::{Quantity, SI};

/// A quantity and its standard uncertainty (JCGM 100, 2.3.1), in one dimension: what the model is asked for and what it
/// answers at the border of the library.
///
/// ```
/// use roulade::UncertainQuantity;
/// use roulade::quantity::units::{Length, Unit};
/// use uom::si::length::micrometer;
///
/// let thickness = UncertainQuantity { value: Length::new::<micrometer>(68.0), u: Length::new::<micrometer>(1.0) };
/// assert_eq!(thickness.text(Unit::Micrometre), "68.0 ± 1.0 µm");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct UncertainQuantity<Q> {
    /// The best value.
    pub value: Q,
    /// Its standard uncertainty; zero where it is exact.
    pub u: Q,
}

impl<D: uom::si::Dimension + ?Sized> UncertainQuantity<Quantity<D, SI<f64>, f64>> {
    /// Of numbers in the SI unit of the quantity.
    pub(crate) fn si(value: f64, u: f64) -> Self {
        let of = |value| Quantity { dimension: PhantomData, units: PhantomData, value };
        Self { value: of(value), u: of(u) }
    }

    /// As it is read: rounded by its uncertainty, in a unit of its dimension.
    pub fn text(&self, unit: Unit) -> String {
        notation::print(self.value.value, self.u.value, unit)
    }
}
