//! The numbers of one material as inputs.

use crate::cell::design::Metal;
use crate::cell::draft::read::Slot;
use crate::material::{Curve, Ion, Role};
use crate::quantity::units::{
    ElectricPotential, ElectricalResistivity, MassDensity, Ratio, SpecificCharge, TemperatureCoefficient,
};
use std::sync::Arc;

/// The numbers of one material as inputs.
#[derive(Clone, Debug)]
pub(in crate::cell::draft) struct Used {
    pub(in crate::cell::draft) name: Arc<str>,
    pub(in crate::cell::draft) role: Role,
    pub(in crate::cell::draft) density: Slot<MassDensity>,
    pub(in crate::cell::draft) host: Option<Host>,
}

/// What makes a material a host of lithium.
#[derive(Clone, Debug)]
pub(in crate::cell::draft) struct Host {
    pub(in crate::cell::draft) capacity: Slot<SpecificCharge>,
    pub(in crate::cell::draft) efficiency: Slot<Ratio>,
    pub(in crate::cell::draft) half: Option<HalfCell>,
    pub(in crate::cell::draft) expansion: Option<Expansion>,
    /// What it stores, where table or formula say it.
    pub(in crate::cell::draft) ion: Option<Ion>,
    /// Whether it is the metal itself.
    pub(in crate::cell::draft) plates: bool,
}

impl Used {
    /// Whether it is a metal that is plated.
    pub(in crate::cell::draft) fn plates(&self) -> bool {
        self.host.as_ref().is_some_and(|host| host.plates)
    }
}

/// Volume that a host gains from free of lithium to full.
#[derive(Clone, Copy, Debug)]
pub(in crate::cell::draft) struct Expansion {
    pub(in crate::cell::draft) volume: Slot<Ratio>,
    /// The capacity that "full" stands for, C/kg; absent where it is this host's own.
    pub(in crate::cell::draft) at: Option<f64>,
}

impl Expansion {
    /// For a host that takes up `capacity` from stoichiometry 0 to 1.
    pub(in crate::cell::draft) fn of(&self, v: &[f64], capacity: SpecificCharge) -> f64 {
        self.volume.of(v).value * self.at.map_or(1.0, |at| capacity.value / at)
    }
}

/// Its half-cell curve.
#[derive(Clone, Debug)]
pub(in crate::cell::draft) struct HalfCell {
    pub(in crate::cell::draft) curve: Curve,
    /// Added to all its potentials: its error, and what the sheet shifts it by.
    pub(in crate::cell::draft) shift: Slot<ElectricPotential>,
    /// Length of its continuations; none where it has none.
    pub(in crate::cell::draft) extension: Option<Slot<f64>>,
}

/// How a metal conducts.
#[derive(Clone, Copy, Debug)]
pub(in crate::cell::draft) struct MetalSlot {
    pub(in crate::cell::draft) resistivity: Slot<ElectricalResistivity>,
    pub(in crate::cell::draft) per_kelvin: TemperatureCoefficient,
}

impl MetalSlot {
    pub(in crate::cell::draft) fn of(self, v: &[f64]) -> Metal {
        Metal { at_20: self.resistivity.of(v), per_kelvin: self.per_kelvin }
    }
}
