//! A material: a row of the table.

use super::curve::Curve;
use super::figure::Figure;
use super::half::{Half, Ion};
use crate::quantity::units::{MassDensity, SpecificCharge};
use serde::Serialize;
use std::marker::PhantomData;

/// What a material does in a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Role {
    /// Host of the positive electrode.
    Cathode,
    /// Host of the negative electrode.
    Anode,
    /// Holds a coating together.
    Binder,
    /// Carries electrons inside a coating.
    Conductive,
    /// Foil, plate, can.
    Metal,
    /// Separator, insulator.
    Polymer,
    /// Layer on a separator.
    Ceramic,
    /// Salt in solvent.
    Electrolyte,
}

impl Role {
    /// All of them.
    pub const ALL: [Self; 8] = [
        Self::Cathode,
        Self::Anode,
        Self::Binder,
        Self::Conductive,
        Self::Metal,
        Self::Polymer,
        Self::Ceramic,
        Self::Electrolyte,
    ];

    /// As sheets write it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Cathode => "cathode",
            Self::Anode => "anode",
            Self::Binder => "binder",
            Self::Conductive => "conductive",
            Self::Metal => "metal",
            Self::Polymer => "polymer",
            Self::Ceramic => "ceramic",
            Self::Electrolyte => "electrolyte",
        }
    }
}

/// A material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Material {
    /// As the trade calls it.
    pub name: &'static str,
    /// Other spellings.
    pub aliases: &'static [&'static str],
    /// What it does.
    pub role: Role,
    /// Chemical formula, where one describes it.
    pub formula: Option<&'static str>,
    /// True density, kg/m³.
    pub density: Figure,
    /// Reversible practical capacity, C/kg: what the curve's window stands for.
    pub capacity: Option<Figure>,
    /// What the first discharge gives back of the first charge.
    pub initial_coulombic_efficiency: Option<Figure>,
    /// Its half-cell potential.
    pub half: Option<Half>,
    /// How a metal conducts.
    pub conduction: Option<Conduction>,
    /// How a host swells as it takes up lithium.
    pub expansion: Option<Expansion>,
}

/// How a metal conducts: `ρ(T) = ρ₂₀·(1 + α·(T − 20 °C))`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conduction {
    /// Resistivity at 20 °C, Ω·m.
    pub at_20: Figure,
    /// Temperature coefficient α at 20 °C, 1/K.
    pub per_kelvin: Figure,
}

/// How a host swells. A host that takes up less lithium swells by as much less: the volume of lithium in it is the
/// same for every atom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expansion {
    /// Volume gained from free of lithium to full, over the volume free of lithium.
    pub volume: Figure,
    /// Capacity that "full" stands for, C/kg.
    pub at: f64,
}

impl Material {
    /// True density.
    pub fn density(&self) -> MassDensity {
        MassDensity { dimension: PhantomData, units: PhantomData, value: self.density.uncertain.value }
    }

    /// Reversible practical capacity.
    pub fn capacity(&self) -> Option<SpecificCharge> {
        self.capacity.map(|figure| specific_charge(figure.uncertain.value))
    }

    /// Capacity for stoichiometry 0 to 1 on the curve's own scale: practical capacity / (high − low), never a
    /// theoretical capacity of another scale.
    ///
    /// ```
    /// // 353.5 mAh/g over 0.0016 to 0.95 of LiₓC₆: within 0.3 % of the crystal's 371.9 mAh/g.
    /// let graphite = roulade::material::find("graphite").unwrap();
    /// let per_gram = graphite.host_capacity().unwrap().value / 3600.0;
    /// assert!((per_gram / 371.9 - 1.0).abs() < 0.003);
    /// ```
    pub fn host_capacity(&self) -> Option<SpecificCharge> {
        let (low, high) = self.half?.window;
        Some(self.capacity()? / (high - low))
    }

    /// The ion it stores; lithium where it stores none.
    pub fn ion(&self) -> Ion {
        self.half.map(|half| half.ion).unwrap_or_default()
    }

    /// Its name, and other spellings.
    pub(super) fn spellings(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.name).chain(self.aliases.iter().copied())
    }

    /// The table of its half-cell potential.
    pub fn curve(&self) -> Option<Curve> {
        self.half.and_then(|half| half.curve())
    }
}

fn specific_charge(value: f64) -> SpecificCharge {
    SpecificCharge { dimension: PhantomData, units: PhantomData, value }
}
