//! The figures of a cell: what each is called, its unit, and where it is taken from.

use crate::cell::balance::Windows;
use crate::cell::current_path::{Load, Path, outside};
use crate::cell::design::Design;
use crate::cell::draft::{Draft, far_from, plausibility_of};
use crate::cell::estimate::Estimate;
use crate::cell::ledger::heat_capacity;
use crate::cell::swelling::Swollen;
use crate::quantity::problem::{Problem, Problems, nearest, perhaps, shortened};
use crate::quantity::units::Unit;
use std::sync::OnceLock;

/// A design with its estimate.
#[derive(Clone, Debug)]
pub struct Worked {
    /// The cell.
    pub design: Design,
    /// What it must give.
    pub estimate: Estimate,
    /// What only some figures need is worked out when the first of them asks.
    loaded: OnceLock<(Path, Load)>,
    swollen: OnceLock<Option<Swollen>>,
    spots: OnceLock<[f64; 2]>,
}

impl Draft {
    /// What looks wrong with its entries, each in a sentence: outside what wound cells have, uncertain past what they may be,
    /// or a weighed total far from the one that is worked out. Every answer tells it.
    pub fn plausibility(&self) -> Vec<String> {
        let diameter = self.diameter();
        let mut plausibility: Vec<String> =
            self.inputs().iter().flat_map(|input| plausibility_of(input, diameter)).collect();
        let stated = |path: &str| self.inputs().iter().any(|input| input.path == path);
        if (stated("cell_mass") || stated("can.mass"))
            && let Ok(cell) = Worked::at(self, &self.values())
        {
            let blueprint = cell.design.blueprint();
            let shell = blueprint.can.shell() * blueprint.can.density;
            for (place, weighed, computed) in [
                ("can.mass", blueprint.can.weighed, shell),
                ("cell_mass", blueprint.weighed, cell.estimate.mass),
            ] {
                plausibility.extend(weighed.and_then(|mass| far_from(place, mass.value, computed.value)));
            }
        }
        plausibility
    }
}

impl Worked {
    /// A draft worked out at some values of its inputs, in their order, SI base units.
    ///
    /// # Errors
    /// Where the cell does not hold together at those values, or its electrodes do not reach the voltage window.
    pub fn at(draft: &Draft, values: &[f64]) -> Result<Self, Problems> {
        Self::of(draft.design_at(values)?).map_err(|problems| draft.explained_at(values, problems))
    }

    /// A design worked out.
    ///
    /// # Errors
    /// Where its electrodes do not reach the voltage window.
    pub fn of(design: Design) -> Result<Self, Problems> {
        let estimate = Estimate::of(&design)?;
        Ok(Self {
            design,
            estimate,
            loaded: OnceLock::new(),
            swollen: OnceLock::new(),
            spots: OnceLock::new(),
        })
    }

    /// The way of its current, and what it gives at the rate it states.
    pub fn loaded(&self) -> &(Path, Load) {
        self.loaded.get_or_init(|| {
            let path = Path::of(&self.design);
            (path, Load::of(&self.design, &self.estimate.balance, &path))
        })
    }

    /// The roll at both ends of charge, where the sheet says how the anode swells.
    pub fn swollen(&self) -> Option<&Swollen> {
        self.swollen.get_or_init(|| Swollen::of(&self.design, &self.estimate.balance)).as_ref()
    }

    /// How the resistance changes with half and with twice as many weld spots, over the whole of it.
    pub fn other_spots(&self) -> [f64; 2] {
        *self.spots.get_or_init(|| {
            let total = self.loaded().0.total();
            [0.5, 2.0].map(|times| ((Path::with_spots(&self.design, times).total() - total) / total).value)
        })
    }
}

/// What a figure of a cell is.
#[derive(Debug)]
pub struct Definition {
    /// What it is asked for by.
    pub id: &'static str,
    /// Heading it stands under.
    pub table: &'static str,
    /// What it is called.
    pub label: &'static str,
    /// Unit of the trade.
    pub unit: Unit,
    /// SI value; `None` where the cell has no such figure.
    pub of: fn(&Worked) -> Option<f64>,
    /// What to know of it; empty for nothing.
    pub note: &'static str,
}

impl Definition {
    /// What it is called inside a sentence: the label without a synonym in brackets.
    pub fn name(&self) -> &'static str {
        self.label.split_once(" (").map_or(self.label, |(name, _)| name)
    }
}

/// Other ids a figure is asked for by, former ones among them.
const ALIASES: &[(&str, &str)] = &[
    ("energy_density", "volumetric"),
    ("volumetric_energy_density", "volumetric"),
    ("specific_energy", "gravimetric"),
    ("gravimetric_energy_density", "gravimetric"),
    ("internal_resistance", "resistance"),
    ("dc_resistance", "resistance"),
    ("cycle_current", "continuous_current"),
    ("n_to_p", "balance.n_to_p"),
    ("roll.web_turns", "roll.turns"),
    ("roll.gap", "roll.radial_clearance"),
    ("area.idle", "area.unpaired"),
    ("stack.head_space", "stack.void_height"),
    ("balance.lost", "balance.irreversible"),
    ("balance.cathode_host", "balance.cathode_active_material"),
    ("balance.anode_host", "balance.anode_active_material"),
    ("rate", "c_rate"),
    ("swelling.strain", "swelling.thickness_increase"),
    ("swelling.gap_charged", "swelling.radial_clearance_charged"),
];

/// The figure of an id, or of another name for it: `definition("specific_energy")` is `gravimetric`.
pub fn definition(id: &str) -> Option<&'static Definition> {
    let id = ALIASES.iter().find(|(other, _)| *other == id).map_or(id, |(_, id)| id);
    FIGURES.iter().find(|figure| figure.id == id)
}

/// The heading of the figures that come first.
pub const HEADLINE: &str = "In short";

/// The figure of an id that somebody wrote at a place.
///
/// # Errors
/// Where there is none: with the nearest, or all there are.
pub fn find(id: &str, place: &str) -> Result<&'static Definition, Problem> {
    definition(id.trim()).ok_or_else(|| {
        let ids = || FIGURES.iter().map(|figure| figure.id);
        let expected = match nearest(id, ids()) {
            Some(near) => format!("the id of a figure; {}", perhaps(near)),
            None => format!("the id of a figure, one of: {}", ids().collect::<Vec<_>>().join(", ")),
        };
        Problem::new(place, format!("\"{}\", a figure that is not known", shortened(id)), expected)
    })
}

/// The figures of a list of ids, each once; those that come first where the list is empty.
///
/// # Errors
/// Every id that is none.
pub fn wanted(ids: &[String], place: &str) -> Result<Vec<&'static Definition>, Problems> {
    if ids.is_empty() {
        return Ok(FIGURES.iter().filter(|figure| figure.table == HEADLINE).collect());
    }
    let mut problems = Problems::default();
    let mut wanted: Vec<&'static Definition> = Vec::new();
    for id in ids {
        match find(id, place) {
            Ok(figure) if wanted.iter().any(|other| other.id == figure.id) => {}
            Ok(figure) => wanted.push(figure),
            Err(problem) => problems.push(problem),
        }
    }
    problems.or_else_ok(wanted)
}

macro_rules! shown {
    ($($table:literal { $($id:literal $label:literal $unit:ident $of:expr $(, $note:literal)?;)* })*) => {
        &[$($(Definition {
            id: $id, table: $table, label: $label, unit: Unit::$unit, of: $of, note: concat!($($note)?),
        }),*),*]
    };
}

fn load(w: &Worked) -> &Load {
    &w.loaded().1
}

fn way(w: &Worked) -> &Path {
    &w.loaded().0
}

/// The current whose heat leaves at the rise of temperature that is allowed: `I²·R = h·A·ΔT`, in A.
///
/// `h`, of the surface, and `ΔT` are the sheet's (`sheet/defaults/current_path.rs` has their sources), `A` is the whole outside of
/// the can.
fn continuous(design: &Design, path: &Path) -> Option<f64> {
    let blueprint = design.blueprint();
    let given_off = blueprint.path.heat_transfer.value
        * blueprint.path.allowed_rise.value
        * outside(&blueprint.can).value;
    let resistance = path.total().value;
    (resistance > 0.0).then(|| (given_off / resistance).sqrt())
}

fn windows(w: &Worked, of: fn(&Windows) -> f64) -> Option<f64> {
    w.estimate.balance.windows.as_ref().map(of)
}

/// Every figure, in the order it is shown.
pub static FIGURES: &[Definition] = shown! {
    "In short" {
        "capacity" "capacity" AmpereHour |w| Some(w.estimate.balance.capacity.value);
        "energy" "energy at open circuit" WattHour |w| Some(w.estimate.balance.energy.value);
        "mean_voltage" "mean voltage" Volt |w| Some(w.estimate.balance.mean_voltage().value);
        "volumetric" "volumetric energy density" WattHourPerLitre |w| Some(w.estimate.volumetric(&w.design).value),
            "open-circuit energy over the envelope of the bare can";
        "gravimetric" "gravimetric energy density (specific energy)" WattHourPerKilogram |w| Some(w.estimate.gravimetric().value),
            "open-circuit energy over the mass of the cell";
        "mass" "mass of the cell" Gram |w| Some(w.estimate.mass.value);
        "envelope" "envelope volume" CubicCentimetre |w| Some(w.design.blueprint().envelope().value),
            "π/4·D²·H over the largest outside dimensions, no sleeve";
    }
    "Winding" {
        "roll.cathode_length" "electrode length, cathode" Metre |w| Some(w.design.roll().lengths().cathode.value);
        "roll.anode_length" "electrode length, anode" Metre |w| Some(w.design.roll().lengths().anode.value);
        "roll.inner_separator_length" "separator length, under the anode" Metre
            |w| Some(w.design.roll().lengths().inner_separator.value);
        "roll.outer_separator_length" "separator length, under the cathode" Metre
            |w| Some(w.design.roll().lengths().outer_separator.value);
        "roll.cathode_turns" "turns of cathode" Turn |w| Some(w.design.roll().cathode_turns());
        "roll.turns" "turns of the whole jelly roll" Turn |w| Some(w.design.roll().web_turns());
        "roll.pitch" "thickness of one turn (pitch)" Micrometre |w| Some(w.design.roll().pitch().value);
        "roll.diameter" "jelly roll diameter, mean" Millimetre |w| Some(2.0 * w.design.outer_radius().value);
        "roll.widest" "jelly roll diameter, widest" Millimetre |w| Some(2.0 * w.design.widest().value),
            "where plies begin and end, the edge stands out by up to one turn";
        "roll.radial_clearance" "radial clearance, mean" Millimetre |w| Some(w.design.radial_clearance().value);
    }
    "Electrodes" {
        "area.inner" "active area, inner faces" SquareCentimetre |w| Some(w.design.active_area().0.value);
        "area.outer" "active area, outer faces" SquareCentimetre |w| Some(w.design.active_area().1.value),
            "facing area: cathode faces with anode opposite";
        "area.unpaired" "unpaired area, cathode faces" SquareCentimetre |w| {
            let (inner, outer) = w.design.active_area();
            let [_, cathode] = w.design.sides();
            let faces = cathode.coated * cathode.width;
            // Two sums of the same terms: what is left of a nanometre's length is rounding.
            let idle = (faces - inner - outer).value;
            Some(if idle.abs() < 1e-9 * faces.value { 0.0 } else { idle })
        };
        "cathode.both" "cathode thickness, coated on both sides" Micrometre |w| Some(w.design.blueprint().cathode.thickness_both().value);
        "anode.both" "anode thickness, coated on both sides" Micrometre |w| Some(w.design.blueprint().anode.thickness_both().value);
        "cathode.loading" "cathode areal mass loading, per side" MilligramPerSquareCentimetre |w| Some(w.design.blueprint().cathode.loading.value);
        "anode.loading" "anode areal mass loading, per side" MilligramPerSquareCentimetre |w| Some(w.design.blueprint().anode.loading.value);
        "cathode.porosity" "cathode porosity" Percent |w| Some(w.design.blueprint().cathode.porosity().value);
        "anode.porosity" "anode porosity" Percent |w| Some(w.design.blueprint().anode.porosity().value);
        "cathode.density" "cathode coating density" GramPerCubicCentimetre
            |w| Some((w.design.blueprint().cathode.loading / w.design.blueprint().cathode.thickness).value);
        "anode.density" "anode coating density" GramPerCubicCentimetre
            |w| Some((w.design.blueprint().anode.loading / w.design.blueprint().anode.thickness).value);
    }
    "Axial stack-up" {
        "stack.cathode_width" "coated width, cathode" Millimetre |w| Some(w.design.stack().cathode_width.value);
        "stack.anode_width" "coated width, anode" Millimetre |w| Some(w.design.anode_width().value);
        "stack.separator_width" "separator width" Millimetre |w| Some(w.design.separator_width().value);
        "stack.hardware" "height of parts and folded foil edges" Millimetre
            |w| Some(w.design.stack().hardware(w.design.blueprint()).value);
        "stack.void_height" "void height (headspace)" Millimetre |w| Some(w.design.stack().void_height.value);
        "parts" "parts" One |w| Some(f64::from(u32::try_from(w.design.blueprint().parts.len()).unwrap_or(u32::MAX))),
            "hardware besides the can";
    }
    "Electrolyte" {
        "electrolyte.mass" "electrolyte mass" Gram |w| Some(w.design.room().electrolyte().value);
        "electrolyte.per_capacity" "electrolyte per capacity" GramPerAmpereHour
            |w| Some((w.design.room().electrolyte() / w.estimate.balance.capacity).value);
        "electrolyte.pores" "pore volume" CubicCentimetre |w| Some(w.design.room().pores.value),
            "of coatings and separator";
        "electrolyte.free" "free electrolyte" CubicCentimetre |w| Some(w.design.room().free.value),
            "what the pores do not hold, in the spaces";
        "void" "void volume" CubicCentimetre |w| Some(w.design.room().void().value),
            "spaces that no electrolyte fills: gas";
    }
    "Heat-path lengths" {
        "heat.radial" "heat path across the layers" Millimetre
            |w| Some((w.design.outer_radius() - 0.5 * w.design.blueprint().winding.core_diameter).value),
            "from the core to the edge of the jelly roll: the longest path to the wall";
        "heat.axial" "heat path along the foils" Millimetre |w| Some(0.5 * w.design.stack().cathode_width.value),
            "half the coated width: the longest path to the nearer end; twice as long where one end alone is cooled";
    }
    "Capacity balance" {
        "balance.cathode_areal" "cathode areal capacity, reversible, per side" MilliampereHourPerSquareCentimetre
            |w| Some(w.estimate.balance.cathode_areal.value);
        "balance.anode_areal" "anode areal capacity, reversible, per side" MilliampereHourPerSquareCentimetre
            |w| Some(w.estimate.balance.anode_areal.value);
        "balance.n_to_p" "N/P ratio" One |w| Some(w.estimate.balance.n_to_p().value),
            "reversible areal capacities over the whole windows of their curves, where the electrodes face each other";
        "balance.irreversible" "irreversible capacity loss, first cycle" AmpereHour |w| Some(w.estimate.balance.lost.value);
        "balance.beforehand" "capacity from prelithiation" AmpereHour |w| {
            let p = w.design.blueprint().prelithiation?;
            let (inner, outer) = w.design.active_area();
            Some((p.areal * (inner + outer)).value)
        };
        "balance.cathode_active_material" "cathode active material, stoichiometry 0 to 1" AmpereHour |w| windows(w, |b| b.cathode_host.value),
            "on the scale of its curve";
        "balance.anode_active_material" "anode active material, stoichiometry 0 to 1" AmpereHour |w| windows(w, |b| b.anode_host.value),
            "on the scale of its curve";
        "balance.cathode_charged" "cathode stoichiometry, charged" One |w| windows(w, |b| b.cathode_charged);
        "balance.cathode_discharged" "cathode stoichiometry, discharged" One |w| windows(w, |b| b.cathode_discharged);
        "balance.anode_charged" "anode stoichiometry, charged" One |w| windows(w, |b| b.anode_charged);
        "balance.anode_discharged" "anode stoichiometry, discharged" One |w| windows(w, |b| b.anode_discharged);
    }
    "Under load" {
        "c_rate" "discharge rate (C-rate)" PerHour |w| Some(w.design.blueprint().path.rate.value);
        "current" "discharge current" Ampere |w| Some(load(w).current.value), "C-rate times capacity at open circuit";
        "resistance" "d.c. internal resistance" Milliohm |w| Some(way(w).total().value),
            "metals, coatings and electrolyte: a pulse of seconds, half charged, at the stated temperature";
        "resistance.metal" "resistance of the metals" Milliohm |w| Some(way(w).metal().value),
            "foils, joints, plates, cap assembly and can";
        "resistance.electrochemical" "resistance of coatings and electrolyte" Milliohm
            |w| Some(way(w).electrochemical().value), "from coatings, separator and electrolyte unless the sheet gives it";
        "resistance.area_specific" "area-specific resistance of coatings and electrolyte" OhmSquareCentimetre |w| {
            let (inner, outer) = w.design.active_area();
            Some((way(w).electrochemical() * (inner + outer)).value)
        };
        "resistance.pores" "area-specific ionic resistance, pores of both coatings" OhmSquareCentimetre
            |w| Some((way(w).areal()?.anode_pores + way(w).areal()?.cathode_pores).value),
            "grows with thickness, and as pores grow narrow";
        "resistance.separator" "area-specific ionic resistance, separator" OhmSquareCentimetre
            |w| Some(way(w).areal()?.separator.value);
        "resistance.particles" "area-specific charge-transfer resistance" OhmSquareCentimetre
            |w| Some(way(w).areal()?.particles().value), "at the particles of both coatings; falls with thickness";
        "reached" "share of the cathode reached at the discharge rate" Percent |w| Some(load(w).reached),
            "of its depth, before the salt in the pores is used up; below 100 % the far part gives nothing";
        "limiting_rate" "limiting C-rate" PerHour |w| Some(w.design.blueprint().path.rate.value * load(w).limit?).filter(|rate| rate.is_finite()),
            "beyond it the current does not reach all of the cathode";
        "resistance.spots_doubled" "change with twice the weld spots" Percent |w| Some(w.other_spots()[1]),
            "of the d.c. internal resistance";
        "resistance.spots_halved" "change with half the weld spots" Percent |w| Some(w.other_spots()[0]),
            "of the d.c. internal resistance";
        "heat" "heat generation in the cell" Watt |w| Some(load(w).heat(way(w).total()).value), "I²·R at that rate";
        "heat.metal" "heat generation in the metals" Watt |w| Some(load(w).heat(way(w).metal()).value);
        "continuous_current" "continuous discharge current" Ampere |w| continuous(&w.design, way(w)),
            "whose heat the outside of the can gives off at the rise of temperature that is allowed: a guide, no rating";
        "warming" "mean rise of temperature during the discharge" Kelvin |w| Some(load(w).warming.mean),
            "one temperature throughout; what coatings and electrolyte resist is taken at it";
        "warming.end" "rise of temperature at the end of the discharge" Kelvin |w| Some(load(w).warming.end),
            "of the whole cell: its core is warmer than its surface";
        "heat_capacity" "heat capacity of the cell" JoulePerKelvin |w| Some(heat_capacity(&w.design)),
            "mass of each part times the specific heat of its kind";
        "loaded_capacity" "capacity under load" AmpereHour |w| Some(load(w).capacity().value),
            "down to the discharge cut-off voltage, less what stays in the particles; from a full cell at rest";
        "loaded_energy" "energy under load" WattHour |w| Some(load(w).energy().value),
            "open-circuit curve of the particles' surfaces, less I·R and what salt takes";
        "loaded_volumetric" "volumetric energy density, under load" WattHourPerLitre
            |w| Some((load(w).energy() / w.design.blueprint().envelope()).value);
        "loaded_gravimetric" "gravimetric energy density, under load" WattHourPerKilogram
            |w| Some((load(w).energy() / w.estimate.mass).value);
    }
    "Swelling" {
        "swelling.thickness_increase" "anode thickness increase at full charge" Percent |w| Some(w.swollen()?.strain_charged.value),
            "over its thickness as built";
        "swelling.plated" "plated metal, each side, charged" Micrometre |w| {
            let anode = &w.design.blueprint().anode;
            let metal = anode.potential.as_ref().is_some_and(|potential| potential.as_assembled > 0.0);
            metal.then_some(w.swollen()?.strain_charged.value * anode.thickness.value)
        }, "on what was there as built; with the pores of the deposit";
        "swelling.discharged_diameter" "roll diameter, mean, discharged" Millimetre
            |w| Some(2.0 * w.swollen()?.radius_discharged.value), "same electrode lengths, nothing else gives way";
        "swelling.charged_diameter" "roll diameter, mean, charged" Millimetre
            |w| Some(2.0 * w.swollen()?.radius_charged.value);
        "swelling.radial_clearance_charged" "radial clearance, charged" Millimetre |w| Some(w.swollen()?.gap_charged.value),
            "below zero the jelly roll presses against the wall";
        "swelling.most_silicon" "largest silicon fraction that fits" Percent |w| Some(w.swollen()?.most_silicon?.value),
            "of the active material that swells most, in the dry coating; same thickness, porosity and stoichiometry";
        "swelling.most_loading" "largest cathode areal mass loading that fits" MilligramPerSquareCentimetre
            |w| Some(w.swollen()?.most_loading.value), "both coatings thicker by one factor, same lengths";
    }
};
