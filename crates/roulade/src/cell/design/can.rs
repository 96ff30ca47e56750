//! The can and the sleeve around it.

use crate::quantity::units::{Area, Length, Mass, MassDensity, Volume};
use std::f64::consts::PI;

/// The can, bare: no sleeve.
#[derive(Clone, Copy, Debug)]
pub struct Can {
    /// Largest outer diameter.
    pub diameter: Length,
    /// Largest outer height, lid and terminals included.
    pub height: Length,
    /// Wall.
    pub wall: Length,
    /// Bottom.
    pub bottom: Length,
    /// Density of its metal.
    pub density: MassDensity,
    /// Mass on the balance, where it was weighed; otherwise that of its shell.
    pub weighed: Option<Mass>,
    /// Diameter and height by which its size is named, where the sheet names it.
    pub named: Option<[Length; 2]>,
}

impl Can {
    /// Inner diameter.
    pub fn bore(&self) -> Length {
        self.diameter - 2.0 * self.wall
    }

    /// Inner cross-section.
    pub(crate) fn bore_area(&self) -> Area {
        let r = 0.5 * self.bore();
        r * r * PI
    }

    /// Envelope volume: π/4·D²·H of the bare can over its largest outside dimensions.
    pub fn envelope(&self) -> Volume {
        let r = 0.5 * self.diameter;
        r * r * PI * self.height
    }

    /// Volume of the shell: the bottom, and the wall as a tube up to the outer height.
    pub fn shell(&self) -> Volume {
        self.envelope() - self.bore_area() * (self.height - self.bottom)
    }
}

/// A shrink sleeve around the can: a film on the wall that laps over both ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sleeve {
    /// Thickness of the film.
    pub thickness: Length,
    /// Density of the film.
    pub density: MassDensity,
    /// Whether it counts into the cell's mass and volume.
    pub counts: bool,
}

impl Sleeve {
    /// How far it laps over each end: common practice, no source.
    const LAP: f64 = 2.5e-3;

    /// Envelope volume over it.
    pub fn envelope(&self, can: &Can) -> Volume {
        let r = 0.5 * can.diameter + self.thickness;
        r * r * PI * (can.height + 2.0 * self.thickness)
    }

    /// Volume of the film on a can: a tube over its height and a ring on each end.
    pub fn volume(&self, can: &Can) -> Volume {
        let lap = Length::new::<uom::si::length::meter>(Self::LAP).min(0.5 * can.diameter);
        let tube =
            PI * (can.diameter + self.thickness) * (can.height + 2.0 * self.thickness) * self.thickness;
        tube + 2.0 * PI * (can.diameter - lap) * lap * self.thickness
    }
}
