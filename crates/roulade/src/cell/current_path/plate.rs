//! Spreading in flat plates and in the can's wall.
//!
//! In a plate of thickness t a current I from a point falls by `ρI/(2π·t)·ln r` with the distance r. Spots and their
//! mirror images in the rim add; for n spots evenly on a ring, `Π|z − zₖ| = |zⁿ − rⁿ|` makes the sums closed.

use crate::quantity::units::{ElectricalResistance, ElectricalResistivity, Length};
use roulade_stats::maths;
use std::f64::consts::TAU;

/// A round plate.
#[derive(Clone, Copy, Debug)]
pub struct Disc {
    /// Resistivity.
    pub resistivity: ElectricalResistivity,
    /// Thickness.
    pub thickness: Length,
    /// Radius of its rim.
    pub rim: Length,
}

/// Weld spots evenly on a ring.
#[derive(Clone, Copy, Debug)]
pub struct Spots {
    /// How many.
    pub count: f64,
    /// Radius of one.
    pub radius: Length,
    /// Radius of the ring.
    pub ring: Length,
}

impl Spots {
    /// `(1/n)·ln(r·(1 − (r/R)²ⁿ)^±1/(n·a))`: how much more narrowly n spots feed a plate than a whole ring does.
    /// Spots that touch one another are a ring.
    fn narrowing(&self, rim: Length, sign: f64) -> f64 {
        let n = self.count;
        let mirrored = 1.0 - maths::pow((self.ring / rim).value, 2.0 * n);
        let apart = (self.ring / (n * self.radius)).value;
        ((maths::ln(apart) + sign * maths::ln(mirrored)) / n).max(0.0)
    }
}

impl Disc {
    /// Resistance of a square of the plate over 2π.
    fn per_radian(&self) -> ElectricalResistance {
        self.resistivity / (TAU * self.thickness)
    }

    /// From a ring of spots to a round weld in the middle; nothing leaves at the rim.
    ///
    /// # Formula
    /// `R = ρ/(2π·t)·[ln(r/p) + (1/n)·ln(r/(n·a·(1 − (r/R)²ⁿ)))]`: ring r, weld p, n spots of radius a, rim R.
    pub fn to_middle(&self, spots: &Spots, weld: Length) -> ElectricalResistance {
        self.per_radian() * (log(spots.ring, weld) + spots.narrowing(self.rim, -1.0))
    }

    /// From a ring of spots to the whole rim.
    ///
    /// # Formula
    /// `R = ρ/(2π·t)·[ln(R/r) + (1/n)·ln(r·(1 − (r/R)²ⁿ)/(n·a))]`.
    pub fn to_rim(&self, spots: &Spots) -> ElectricalResistance {
        self.per_radian() * (log(self.rim, spots.ring) + spots.narrowing(self.rim, 1.0))
    }

    /// From a round weld in the middle to the whole rim: `ρ/(2π·t)·ln(R/p)`.
    ///
    /// # Example
    /// 16.8 nΩ·m, 0.3 mm thick, from 2 to 22 mm: 21.37 µΩ.
    /// ```
    /// # use roulade::cell::current_path::Disc;
    /// # use roulade::quantity::units::{ElectricalResistivity, Length};
    /// let mm = Length::new::<uom::si::length::millimeter>;
    /// let resistivity = ElectricalResistivity::new::<uom::si::electrical_resistivity::ohm_meter>(16.8e-9);
    /// let disc = Disc { resistivity, thickness: mm(0.3), rim: mm(22.0) };
    /// assert!((disc.from_middle(mm(2.0)).value - 21.37166559822278e-6).abs() < 1e-15);
    /// ```
    pub fn from_middle(&self, weld: Length) -> ElectricalResistance {
        self.per_radian() * log(self.rim, weld)
    }
}

/// `ln(outer/inner)`; nothing where the inner reaches the outer.
fn log(outer: Length, inner: Length) -> f64 {
    maths::ln((outer / inner).value).max(0.0)
}

/// A tube along its axis: `ρ·h/(π·(D − t)·t)`.
pub fn tube(
    resistivity: ElectricalResistivity,
    diameter: Length,
    wall: Length,
    height: Length,
) -> ElectricalResistance {
    resistivity * height / (0.5 * TAU * (diameter - wall) * wall)
}
