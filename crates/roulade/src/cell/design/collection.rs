//! How the current leaves the foils and reaches the terminals.

use crate::quantity::problem::{Problem, Problems};
use crate::quantity::units::{
    ArealResistance, DiffusionCoefficient, ElectricalConductivity, ElectricalResistance,
    ElectricalResistivity, Frequency, HeatTransfer, Length, MassDensity, TemperatureCoefficient,
    TemperatureInterval,
};
use crate::sheet::{NegativeAt, Welded};
use std::sync::Arc;

/// The way of the current, and the load it carries.
#[derive(Clone, Debug)]
pub struct CurrentPath {
    /// Capacities drawn per time.
    pub rate: Frequency,
    /// Temperature around the cell, and of the cell as a discharge begins, °C.
    pub temperature: f64,
    /// Heat that leaves each area of the outside for each kelvin above that.
    pub heat_transfer: HeatTransfer,
    /// Rise of temperature that a continuous discharge is allowed.
    pub allowed_rise: TemperatureInterval,
    /// From the cathode's foil to the lid.
    pub cathode: CurrentCollection,
    /// From the anode's foil to the can.
    pub anode: CurrentCollection,
    /// From the upper plate, or the cathode's tabs, to the positive terminal.
    pub lid: ElectricalResistance,
    /// The can.
    pub can: Metal,
    /// Where the current leaves the can.
    pub negative_at: NegativeAt,
    /// What is not metal.
    pub electrochemical: Electrochemical,
    /// Density of the tape over tabs.
    pub tape_density: MassDensity,
}

impl CurrentPath {
    /// What the current passes is there: no spots, or spots without a radius, let none through.
    pub(super) fn check(&self, problems: &mut Problems) {
        for (side, collection) in [("cathode", &self.cathode), ("anode", &self.anode)] {
            let Join { spots, spot_radius, ring, centre_weld_radius, .. } = &collection.join;
            let ring = match ring {
                Ring::Radius(radius) => ("ring_radius", radius.value),
                Ring::Share(share) => ("ring", *share),
            };
            let weld = ("centre_weld_radius", centre_weld_radius.value);
            for (key, value) in [("spots", *spots), ("spot_radius", spot_radius.value), ring, weld] {
                if !(value > 0.0 && value < f64::INFINITY) {
                    let place = format!("current_path.{side}.{key}");
                    problems.push(Problem::new(
                        place,
                        value.to_string(),
                        "a number that is greater than zero",
                    ));
                }
            }
        }
    }
}

/// Resistance of the coatings and the electrolyte.
#[derive(Clone, Copy, Debug)]
pub enum Electrochemical {
    /// Of the whole cell.
    Whole(ElectricalResistance),
    /// Of each area of cathode with anode opposite.
    Areal(ArealResistance),
    /// From coatings, separator and electrolyte.
    Computed(Kinetics),
}

/// How ions and electrons meet, at 25 °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Kinetics {
    /// Conductivity of the electrolyte.
    pub conductivity: ElectricalConductivity,
    /// Charge-transfer resistance of a unit of the particles' surface.
    pub transfer: ArealResistance,
    /// In the anode's coating.
    pub anode: Transport,
    /// In the cathode's coating.
    pub cathode: Transport,
    /// Diffusion coefficient of the salt.
    pub salt_diffusion: DiffusionCoefficient,
    /// Share of the current that the cations carry.
    pub transference: f64,
    /// Exponent by which the separator's tortuosity follows from its porosity.
    pub separator_exponent: f64,
}

/// How lithium gets about in a coating.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Transport {
    /// Exponent α of the tortuosity over the porosity, `τ = ε^(−α)`, where no tortuosity was read.
    pub exponent: f64,
    /// Radius of an active particle.
    pub radius: Length,
    /// Diffusion coefficient in it at 25 °C.
    pub diffusion: DiffusionCoefficient,
}

/// How a metal conducts.
#[derive(Clone, Copy, Debug)]
pub struct Metal {
    /// Resistivity at 20 °C.
    pub at_20: ElectricalResistivity,
    /// Temperature coefficient at 20 °C.
    pub per_kelvin: TemperatureCoefficient,
}

impl Metal {
    /// Resistivity at a temperature in °C: `ρ₂₀·(1 + α·(T − 20))`.
    pub fn at(&self, celsius: f64) -> ElectricalResistivity {
        self.at_20 * (1.0 + self.per_kelvin.value * (celsius - 20.0))
    }
}

/// From one foil to what gathers its current.
#[derive(Clone, Debug)]
pub struct CurrentCollection {
    /// The foil.
    pub foil: Metal,
    /// Where the current leaves it.
    pub feed: Feed,
    /// What it goes through next.
    pub join: Join,
    /// Whether a part of the sheet stands for the tabs: then their mass and volume are that part's.
    pub tabs_are_a_part: bool,
}

/// Where the current leaves a foil.
#[derive(Clone, Debug)]
pub enum Feed {
    /// Along one whole edge.
    Edge,
    /// By tabs, from the core outwards.
    Tabs(Arc<[Tab]>),
}

/// A strip of metal on the foil.
#[derive(Clone, Copy, Debug)]
pub struct Tab {
    /// Its middle, as a share of the foil's length from the core.
    pub at: f64,
    /// Its width along the foil.
    pub width: Length,
    /// Its thickness.
    pub thickness: Length,
    /// Its length past the foil.
    pub length: Length,
    /// Its metal.
    pub metal: Metal,
    /// How far across the foil it is welded.
    pub welded: Welded,
    /// Stretch of foil that has no coating for it, on both sides.
    pub uncoated: Length,
    /// Thickness of the tape over it, on each side.
    pub tape: Length,
    /// Density of its metal.
    pub density: MassDensity,
}

/// Joints, weld spots and the plate that gathers them.
#[derive(Clone, Copy, Debug)]
pub struct Join {
    /// The pressed and welded edge, or the tabs' welds on the foil.
    pub joint: ElectricalResistance,
    /// The part that gathers the edge; without one the edge is welded to the lid or the can.
    pub plate: Option<Plate>,
    /// Weld spots.
    pub spots: f64,
    /// Radius of one spot.
    pub spot_radius: Length,
    /// The ring on which they lie.
    pub ring: Ring,
    /// Radius of the weld in the middle.
    pub centre_weld_radius: Length,
}

/// A part as the plate that gathers an edge.
#[derive(Clone, Copy, Debug)]
pub struct Plate {
    /// Its number among the parts.
    pub part: usize,
    /// Its metal.
    pub metal: Metal,
}

/// The ring on which weld spots lie.
#[derive(Clone, Copy, Debug)]
pub enum Ring {
    /// Its radius.
    Radius(Length),
    /// Its radius over that of the bore.
    Share(f64),
}

impl Ring {
    /// Its radius in a can of this inner diameter.
    pub fn radius(&self, bore: Length) -> Length {
        match self {
            Self::Radius(radius) => *radius,
            Self::Share(share) => 0.5 * bore * *share,
        }
    }
}
