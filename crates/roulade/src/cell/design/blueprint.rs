//! The numbers a cell is built from, section by section, and what each must satisfy on its own.

use super::bare_ends::BareEnds;
use super::can::{Can, Sleeve};
use super::collection::{CurrentPath, Ring};
use super::opened::Opened;
use super::swelling::Swelling;
use crate::material::{Blend, LithiumSource};
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, shortened};
use crate::quantity::units::{
    ArealCharge, ArealMassDensity, ElectricPotential, Length, Mass, MassDensity, MassPerCharge, Ratio,
    SpecificCharge, Unit, Volume,
};
use crate::sheet::Place;
use crate::sheet::defaults::field;
use std::sync::Arc;

/// Everything a cell is built from. Plain numbers: see [`super::Design`] for one that holds together.
#[derive(Clone, Debug)]
pub struct Blueprint {
    /// Name of the cell.
    pub name: Arc<str>,
    /// The can.
    pub can: Can,
    /// A sleeve around the can.
    pub sleeve: Option<Sleeve>,
    /// Hardware, in axial order from the bottom.
    pub parts: Arc<[Part]>,
    /// What closes the stack-up.
    pub fit: Fit,
    /// The winding.
    pub winding: Winding,
    /// The cathode.
    pub cathode: Electrode,
    /// The anode.
    pub anode: Electrode,
    /// How far the anode's coating reaches past the cathode's at each edge.
    pub overhang: Length,
    /// Lithium put in beside that of the cathode.
    pub prelithiation: Option<Prelithiation>,
    /// The separator.
    pub separator: Separator,
    /// The electrolyte.
    pub electrolyte: Electrolyte,
    /// Mass fraction of salt in it.
    pub salt: f64,
    /// Where charge and discharge end.
    pub window: VoltageWindow,
    /// How the current leaves the foils and reaches the terminals.
    pub path: Arc<CurrentPath>,
    /// How the anode's coating swells, where that is known.
    pub swelling: Option<Swelling>,
    /// What readings of an opened cell show otherwise than the cell as built.
    pub opened: Opened,
    /// The cell on the balance, where it was weighed.
    pub weighed: Option<Mass>,
    /// What the model as a whole may be off by: capacity over the estimate's, less one.
    pub discrepancy: f64,
}

/// A piece of hardware.
#[derive(Clone, Debug)]
pub struct Part {
    /// What it is called, and what it is made of.
    pub label: Arc<Label>,
    /// Where it sits.
    pub place: Place,
    /// Axial height of the part itself.
    pub height: Length,
    /// Further height that is lost to it: clearance, weld spots, a spring.
    pub axial_clearance: Length,
    /// Its mass.
    pub mass: Mass,
    /// Its solid volume.
    pub volume: Volume,
    /// Whether the mass was given; otherwise it follows from the volume.
    pub weighed: bool,
}

/// What a part has that no draw changes: designs of one cell share it.
#[derive(Debug)]
pub struct Label {
    /// What the part is called.
    pub name: String,
    /// What it is made of, for the drawing.
    pub material: Option<String>,
}

/// What closes the stack-up: one of the two follows from the other.
#[derive(Clone, Copy, Debug)]
pub enum Fit {
    /// The cathode's coated width is known; what is left is void height.
    Width(Length),
    /// The void height is known; what is left is coated width.
    VoidHeight(Length),
}

/// How the roll is wound.
#[derive(Clone, Copy, Debug)]
pub struct Winding {
    /// Diameter of the hole the mandrel left.
    pub core_diameter: Length,
    /// What ends the winding.
    pub fill: Fill,
    /// Slack between turns.
    pub slack: Length,
    /// Separator-only turns at the core.
    pub core_turns: f64,
    /// Turns of anode before the cathode begins.
    pub anode_overhang_start: f64,
    /// Turns of anode after the cathode ends.
    pub anode_overhang_end: f64,
    /// Separator-only turns outside.
    pub outer_turns: f64,
    /// Tape around the roll.
    pub tape_thickness: Length,
    /// Turns of tape.
    pub tape_turns: f64,
    /// Density of the tape.
    pub tape_density: MassDensity,
}

/// What ends the winding.
#[derive(Clone, Copy, Debug)]
pub enum Fill {
    /// The roll fills the bore up to this mean radial clearance.
    Gap(Length),
    /// Lengths measured on the unrolled web.
    Lengths {
        /// Cathode.
        cathode: Length,
        /// Anode, where it was measured.
        anode: Option<Length>,
    },
}

/// Foil with the same coating on both faces.
#[derive(Clone, Debug)]
pub struct Electrode {
    /// Foil thickness.
    pub foil: Length,
    /// Foil density.
    pub foil_density: MassDensity,
    /// What the foil is made of.
    pub foil_material: Arc<str>,
    /// Loading of one face.
    pub loading: ArealMassDensity,
    /// Coating thickness of one face.
    pub thickness: Length,
    /// Density of the coating without its pores.
    pub solid_density: MassDensity,
    /// What the coating is mixed from.
    pub mix: Arc<[Component]>,
    /// Practical reversible capacity of a gram of coating.
    pub reversible: SpecificCharge,
    /// Capacity of a gram of coating for stoichiometry 0 → 1 on the scale of its curve.
    pub host: SpecificCharge,
    /// Share of the first lithiation (anode) or delithiation (cathode) that comes back.
    pub initial_coulombic_efficiency: Ratio,
    /// Half-cell potential; absent where a nominal voltage stands in its place.
    pub potential: Option<Potential>,
    /// Foil beyond the coating at the connected edge, as cut.
    pub uncoated_margin: Length,
    /// Axial height that the folded edge takes outside the separator.
    pub fold_height: Length,
    /// Stretches without coating at the ends of its length.
    pub bare_ends: BareEnds,
    /// Tortuosity that was read, `MacMullin`'s number times porosity; from the porosity where it was not.
    pub tortuosity: Option<f64>,
}

/// The half-cell potential of a coating.
#[derive(Clone, Debug)]
pub struct Potential {
    /// Potential against stoichiometry.
    pub curve: Blend,
    /// Stoichiometry at assembly, on the curve's scale: 0 for an anode. It may lie beyond the curve.
    pub as_assembled: f64,
    /// Added to the curve's potentials: its error, and what the sheet shifts it by.
    pub shift: ElectricPotential,
}

impl Potential {
    /// Potential at a stoichiometry, V.
    pub fn at(&self, x: f64) -> f64 {
        self.curve.potential(x) + self.shift.value
    }
}

impl Electrode {
    /// Foil with both coatings.
    pub(crate) fn thickness_both(&self) -> Length {
        2.0 * self.thickness + self.foil
    }

    /// Share of the coating's volume that is pores: 1 − m/(t·ρ).
    pub fn porosity(&self) -> Ratio {
        Ratio::new::<uom::si::ratio::ratio>(1.0) - self.loading / (self.thickness * self.solid_density)
    }

    /// Whether it is a metal: without pores.
    pub(crate) fn is_metal(&self) -> bool {
        self.porosity().value < 1e-6
    }
}

/// One component of a coating mix.
#[derive(Clone, Debug)]
pub struct Component {
    /// Material.
    pub name: Arc<str>,
    /// Mass fraction in the dry coating.
    pub share: f64,
    /// True density.
    pub density: MassDensity,
}

/// Lithium put in beside that of the cathode.
#[derive(Clone, Copy, Debug)]
pub struct Prelithiation {
    /// What it comes from.
    pub source: &'static LithiumSource,
    /// Lithium that takes part, for each area where the electrodes face.
    pub areal: ArealCharge,
    /// What stays of its source in the cell for the same area, that lithium included.
    pub mass: ArealMassDensity,
}

/// The separator, each of the two.
#[derive(Clone, Copy, Debug)]
pub struct Separator {
    /// Thickness of the polymer film.
    pub film: Length,
    /// Porosity of the film.
    pub porosity: Ratio,
    /// Density of the polymer.
    pub density: MassDensity,
    /// How far it reaches past the anode's coating at each edge.
    pub margin: Length,
    /// Thickness of the ceramic layer, both sides together; zero without one.
    pub ceramic: Length,
    /// Porosity of the ceramic layer.
    pub ceramic_porosity: Ratio,
    /// Density of the ceramic.
    pub ceramic_density: MassDensity,
}

impl Separator {
    /// Film and ceramic layer.
    pub fn thickness(&self) -> Length {
        self.film + self.ceramic
    }
}

/// The electrolyte.
#[derive(Clone, Copy, Debug)]
pub enum Electrolyte {
    /// Fills the pores and this share of their volume besides.
    Excess {
        /// Density.
        density: MassDensity,
        /// Free electrolyte over electrolyte in the pores.
        share: Ratio,
    },
    /// Weighed or stated as a whole.
    Filled {
        /// Density.
        density: MassDensity,
        /// All of it.
        mass: Mass,
    },
    /// So much for each capacity at open circuit.
    PerCapacity {
        /// Density.
        density: MassDensity,
        /// Mass over capacity.
        ratio: MassPerCharge,
    },
}

/// Cell voltages between which the cell is used.
#[derive(Clone, Copy, Debug)]
pub struct VoltageWindow {
    /// Charge ends here.
    pub upper: ElectricPotential,
    /// Discharge ends here.
    pub lower: ElectricPotential,
    /// Stands in the place of the half-cell curves where given.
    pub nominal: Option<ElectricPotential>,
}

impl Blueprint {
    /// Envelope volume: that of the bare can, or over the sleeve where it counts.
    pub fn envelope(&self) -> Volume {
        self.counted_sleeve().map_or_else(|| self.can.envelope(), |sleeve| sleeve.envelope(&self.can))
    }

    /// The sleeve, where it counts.
    pub fn counted_sleeve(&self) -> Option<Sleeve> {
        self.sleeve.filter(|sleeve| sleeve.counts)
    }

    /// Each number against what it may be, and the few relations between numbers of one section.
    pub(super) fn check(&self, problems: &mut Problems) {
        let positive = [
            ("can.diameter", "a diameter", self.can.diameter.value),
            ("can.height", "a height", self.can.height.value),
            ("can.wall", "a wall", self.can.wall.value),
            ("can.bottom", "a bottom", self.can.bottom.value),
            ("separator.thickness", "a thickness", self.separator.film.value),
            ("cathode.foil.thickness", "a thickness", self.cathode.foil.value),
            ("cathode.thickness", "a thickness", self.cathode.thickness.value),
            ("cathode.loading", "a loading", self.cathode.loading.value),
            ("anode.foil.thickness", "a thickness", self.anode.foil.value),
            ("anode.thickness", "a thickness", self.anode.thickness.value),
            ("anode.loading", "a loading", self.anode.loading.value),
        ];
        // Almost always all of them hold, and then nothing more is to be done.
        let holds = |value: f64| value > 0.0 && value < f64::INFINITY;
        if !positive.iter().all(|(.., value)| holds(*value)) {
            for (place, what, value) in positive.into_iter().filter(|(.., value)| !holds(*value)) {
                let unit = field(place).map_or(Unit::One, |field| field.unit);
                let found = if value.is_finite() {
                    format!("{what} of {}", notation::print(value, 0.0, unit))
                } else {
                    format!("{what} that is no number")
                };
                problems.push(Problem::new(place, found, format!("{what} that is greater than zero")));
            }
        }
        self.check_relations(problems);
    }

    fn check_relations(&self, problems: &mut Problems) {
        let can = &self.can;
        let bore = can.bore();
        if bore.value <= 0.0 {
            problems.push(Problem::new(
                "can.wall",
                format!(
                    "two walls of {:.3} mm in a can of {:.3} mm",
                    1e3 * can.wall.value,
                    1e3 * can.diameter.value
                ),
                "a wall that is thinner than the can's radius",
            ));
        } else if self.winding.core_diameter >= bore {
            problems.push(Problem::new(
                "winding.core_diameter",
                format!(
                    "a core of {:.2} mm in a can of {:.2} mm inner diameter",
                    1e3 * self.winding.core_diameter.value,
                    1e3 * bore.value
                ),
                "a core that is narrower than the inside of the can",
            ));
        }
        for (place, collection) in [("cathode", &self.path.cathode), ("anode", &self.path.anode)] {
            let plate =
                collection.join.plate.and_then(|plate| Some((plate.part, self.parts.get(plate.part)?)));
            if let Some((i, part)) = plate.filter(|(_, part)| part.height.value <= 0.0) {
                problems.push(Problem::new(
                    format!("parts[{i}].height"),
                    format!(
                        "\"{}\" without a height, through which the current is to flow",
                        shortened(&part.label.name)
                    ),
                    "the plate to have a height, the thickness that carries the current",
                ));
            }
            let ring = collection.join.ring.radius(bore);
            if bore.value > 0.0 && ring >= 0.5 * bore {
                let key =
                    if matches!(collection.join.ring, Ring::Radius(_)) { "ring_radius" } else { "ring" };
                problems.push(Problem::new(
                    format!("current_path.{place}.{key}"),
                    format!(
                        "a ring of {:.2} mm radius in a can of {:.2} mm inner radius",
                        1e3 * ring.value,
                        5e2 * bore.value
                    ),
                    "a ring of spots that lies inside the can",
                ));
            }
        }
        for (place, electrode) in [("cathode.loading", &self.cathode), ("anode.loading", &self.anode)] {
            let porosity = electrode.porosity().value;
            if electrode.thickness.value > 0.0 && !(0.0..1.0).contains(&porosity) {
                problems.push(Problem::new(
                    place,
                    format!(
                        "{:.2} mg/cm² in a coating of {:.1} µm, a density of {:.2} g/cm³ where the mix without pores has {:.2}",
                        100.0 * electrode.loading.value,
                        1e6 * electrode.thickness.value,
                        1e-3 * (electrode.loading / electrode.thickness).value,
                        1e-3 * electrode.solid_density.value
                    ),
                    "a lower loading or a thicker coating, which leaves room for pores",
                ));
            }
        }
        if self.separator.porosity.value <= 0.0 {
            let expected = "a porosity that is greater than zero, since the ions pass through the pores";
            problems.push(Problem::new("separator.porosity", "a film without pores", expected));
        }
        let (lower, upper) = (self.window.lower.value, self.window.upper.value);
        if lower >= upper {
            problems.push(Problem::new(
                "voltage",
                format!(
                    "a discharge cut-off voltage of {lower:.3} V and a charge cut-off voltage of {upper:.3} V"
                ),
                "the discharge cut-off to be below the charge cut-off",
            ));
        }
    }
}
