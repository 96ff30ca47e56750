//! What a design sheet holds: the sections and keys of one JSON file per cell, every quantity a text with its unit.
//!
//! Nothing is judged here but the shape of the file. Keys nobody knows are kept, so that the reader can name them all.

use super::section::sheet_section as section;
use super::{Collection, Counts, Entry, FeedKind, NegativeAt, Place, Welded};
use crate::material::Role;

section! {
    /// One cell. Only the can's size and what the two coatings are mixed from must be there.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["can", "cathode", "anode"])))]
    Sheet {
        /// Version of the format: 1.
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 1)))]
        roulade_sheet: u32,
        /// Name of the cell.
        cell: String,
        /// Anything worth keeping.
        remark: String,
        /// Name of the cell whose sheet this one was made from: what the two have in common is then one quantity, and
        /// its uncertainty mostly leaves their difference.
        made_from: String,
        /// The state in which what is "measured" was read, where the cell was not as built: "after formation, discharged, washed,
        /// dried", in any order. Thicknesses, loadings and masses are then changed to those of the cell as built.
        readings_state: String,
        /// What the cell is made for: "energy", "middle" or "power"; a mixture of cells where left out.
        purpose: Entry,
        /// How the current is collected: by tabs, or along the whole edge of each foil; by the size where left out.
        collection: Collection,
        /// What the model as a whole may be off by.
        model: Model,
        /// The can.
        can: Can,
        /// A sleeve around the can, where mass and volume shall count it.
        sleeve: Sleeve,
        /// Hardware, in axial order from the bottom.
        parts: Vec<Part>,
        /// Empty height between the roll and the parts above it.
        void_height: Entry,
        /// The winding.
        winding: Winding,
        /// The cathode.
        cathode: Cathode,
        /// The anode.
        anode: Anode,
        /// Lithium put in beside that of the cathode.
        prelithiation: Prelithiation,
        /// The separator.
        separator: Separator,
        /// The electrolyte.
        electrolyte: Electrolyte,
        /// Where charge and discharge end.
        voltage: Voltage,
        /// How the current leaves the foils and reaches the terminals.
        current_path: CurrentPath,
        /// The whole cell on the balance.
        cell_mass: Entry,
        /// Materials of the user's own, or other figures for materials of the table.
        materials: Vec<Material>,
        /// Which quantities of this sheet move together.
        correlated: Correlated,
    }
}

section! {
    /// Quantities of the sheet that move together: because one reading gave several, say. All others are independent.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["paths", "coefficients"])))]
    Correlated {
        /// The quantities, each by its path: `cathode.loading`, `parts[2].height`.
        paths: Vec<String>,
        /// Correlation coefficients, -1 to 1: a row of one for the second path, of two for the third, and so on.
        coefficients: Vec<Vec<f64>>,
        /// Figures of the cell that were read and made them move together, by their ids: `capacity`, `roll.cathode_length`. Monte
        /// Carlo keeps to them where the model is curved.
        held: Vec<String>,
        /// Standard uncertainty of what was read, one for each of these, in the figure's unit.
        held_u: Vec<f64>,
    }
}

section! {
    /// What the model as a whole may be off by, beside all that is uncertain of the cell.
    Model {
        /// Capacity over that of the estimate, less one: "0 %" switches it off.
        capacity: Entry,
    }
}

section! {
    /// The bare can: its size by name, or its dimensions.
    Can {
        /// The size's name, diameter × height in whole millimetres: "18 × 65". Real cans differ from it by some tenths.
        size: String,
        /// Largest outer diameter.
        diameter: Entry,
        /// Largest outer height, lid and terminals included.
        height: Entry,
        /// Wall thickness.
        wall: Entry,
        /// Bottom thickness.
        bottom: Entry,
        /// Metal of the can: a material of the table.
        material: String,
        /// The empty can on the balance.
        mass: Entry,
    }
}

section! {
    /// A shrink sleeve or label around the can. Without this section the cell is bare.
    Sleeve {
        /// Thickness of its film.
        thickness: Entry,
        /// Its film: a material of the table.
        material: String,
        /// Whether it counts into both mass and volume; it does where left out.
        counts: Counts,
    }
}

section! {
    /// A piece of hardware: plate, insulator, lid, spring, weld.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["name", "place"])))]
    Part {
        /// What it is called; parts of two cells with one name are the same part.
        name: String,
        /// Where it sits.
        place: Place,
        /// Axial height of the part itself.
        height: Entry,
        /// Further height that is lost to it.
        axial_clearance: Entry,
        /// What it is made of: a material of the table. Links mass and volume.
        material: String,
        /// Its mass.
        mass: Entry,
        /// Its solid volume.
        volume: Entry,
        /// Share of the room it takes (its height times the bore) that is solid.
        solid_fraction: Entry,
        /// Anything worth keeping.
        remark: String,
    }
}

section! {
    /// How the roll is wound.
    Winding {
        /// Diameter of the hole the mandrel left.
        core_diameter: Entry,
        /// Mean distance from the roll to the can's wall.
        radial_clearance: Entry,
        /// Slack between turns, per turn.
        slack: Entry,
        /// Separator-only turns at the core.
        core_turns: Entry,
        /// Turns of anode before the cathode begins.
        anode_overhang_start: Entry,
        /// Turns of anode after the cathode ends.
        anode_overhang_end: Entry,
        /// Separator-only turns outside.
        outer_turns: Entry,
        /// Thickness of the tape around the roll.
        tape_thickness: Entry,
        /// Turns of tape.
        tape_turns: Entry,
        /// Measured length of the cathode; the radial clearance then follows.
        cathode_length: Entry,
        /// Measured length of the anode; the tail then follows.
        anode_length: Entry,
    }
}

section! {
    /// The foil.
    Foil {
        /// Metal: a material of the table.
        material: String,
        /// Thickness.
        thickness: Entry,
    }
}

section! {
    /// One component of a coating.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["material"])))]
    Mixed {
        /// A material of the table or of this sheet.
        material: String,
        /// Mass fraction in the dry coating; one component may leave it out and takes the rest.
        share: Entry,
    }
}

section! {
    /// The cathode: foil with the same coating on both faces.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["mix"])))]
    Cathode {
        /// The foil.
        foil: Foil,
        /// What the dry coating is mixed from.
        mix: Vec<Mixed>,
        /// Loading of one face.
        loading: Entry,
        /// Coating thickness of one face.
        thickness: Entry,
        /// Share of the coating's volume that is pores.
        porosity: Entry,
        /// Share of the first charge that the cathode can take back.
        initial_coulombic_efficiency: Entry,
        /// Coated width; the void height then follows.
        width: Entry,
        /// Foil beyond the coating at the connected edge, as cut.
        uncoated_margin: Entry,
        /// Axial height of the folded foil edge outside the separator.
        fold_height: Entry,
        /// Length at the start of winding that is bare on both sides.
        uncoated_start: Entry,
        /// Length at the end of winding that is bare on both sides.
        uncoated_end: Entry,
        /// Further length at the start that is coated on its outer side alone.
        one_sided_start: Entry,
        /// Further length at the end that is coated on its inner side alone.
        one_sided_end: Entry,
        /// Tortuosity of its pores; from the porosity where left out.
        tortuosity: Entry,
    }
}

section! {
    /// The anode: foil with the same coating on both faces.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["mix"])))]
    Anode {
        /// The foil.
        foil: Foil,
        /// What the dry coating is mixed from.
        mix: Vec<Mixed>,
        /// Loading of one face.
        loading: Entry,
        /// Coating thickness of one face.
        thickness: Entry,
        /// Share of the coating's volume that is pores.
        porosity: Entry,
        /// Mass share of the active part that is silicon: so much of each host of the mix is silicon in its place.
        silicon: Entry,
        /// The same for silicon monoxide; a reading of the silicon in it counts 1.57 times.
        silicon_oxide: Entry,
        /// Reversible areal capacity over that of the cathode; gives the loading where it was not read.
        n_to_p: Entry,
        /// Share of the first charge that the anode gives back.
        initial_coulombic_efficiency: Entry,
        /// How far its coating reaches past the cathode's at each edge.
        overhang: Entry,
        /// How much thicker the coating is when its host is full of lithium than free of it; from the mix where left out.
        swelling: Entry,
        /// Share of the host's growth that the pores take up, where the swelling follows from the mix.
        expansion_into_pores: Entry,
        /// Foil beyond the coating at the connected edge, as cut.
        uncoated_margin: Entry,
        /// Axial height of the folded foil edge outside the separator.
        fold_height: Entry,
        /// Length at the start of winding that is bare on both sides.
        uncoated_start: Entry,
        /// Length at the end of winding that is bare on both sides.
        uncoated_end: Entry,
        /// Further length at the start that is coated on its outer side alone.
        one_sided_start: Entry,
        /// Further length at the end that is coated on its inner side alone.
        one_sided_end: Entry,
        /// Tortuosity of its pores; from the porosity where left out.
        tortuosity: Entry,
    }
}

section! {
    /// Lithium put in beside that of the cathode: metal on the anode, or a compound in the cathode that gives up its lithium
    /// in the first charge.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["source", "areal_capacity"])))]
    Prelithiation {
        /// What it comes from: lithium metal, `Li5FeO4`, `Li2NiO2`, `Li2O`, `Li3N`, `Li2C2O4`.
        source: String,
        /// Lithium that takes part, for each cm² where the electrodes face: on one side of the foil.
        areal_capacity: Entry,
        /// Share of the source's lithium that takes part; the rest stays unused.
        utilisation: Entry,
    }
}

section! {
    /// The separator, each of the two.
    Separator {
        /// Polymer: a material of the table.
        material: String,
        /// Thickness of the polymer film.
        thickness: Entry,
        /// Porosity of the film.
        porosity: Entry,
        /// How far it reaches past the anode's coating at each edge.
        margin: Entry,
        /// Ceramic: a material of the table.
        ceramic: String,
        /// Thickness of the ceramic layer, both sides together.
        ceramic_thickness: Entry,
        /// Porosity of the ceramic layer.
        ceramic_porosity: Entry,
    }
}

section! {
    /// The electrolyte.
    Electrolyte {
        /// Density.
        density: Entry,
        /// Free electrolyte over that in the pores.
        excess: Entry,
        /// All of it, weighed or stated.
        mass: Entry,
        /// Ionic conductivity at 25 °C.
        conductivity: Entry,
        /// All of it for each ampere-hour of the cell's capacity.
        per_capacity: Entry,
        /// Mass fraction of it that is lithium hexafluorophosphate; the rest counts as carbonates.
        salt: Entry,
    }
}

section! {
    /// Where charge and discharge end.
    Voltage {
        /// Charge cut-off voltage.
        charge_cut_off: Entry,
        /// Discharge cut-off voltage.
        discharge_cut_off: Entry,
        /// Stands in the place of the half-cell curves.
        nominal: Entry,
    }
}

section! {
    /// Mole fractions of the metals of a layered oxide, Li(Ni, Co, Mn, Al)O2; one left out is none.
    Metals {
        /// Nickel.
        nickel: Entry,
        /// Cobalt.
        cobalt: Entry,
        /// Manganese.
        manganese: Entry,
        /// Aluminium.
        aluminium: Entry,
        /// Lithium for one of all these metals together.
        lithium: Entry,
    }
}

section! {
    /// How the current leaves the foils and reaches the terminals.
    CurrentPath {
        /// Discharge rate: 1 C empties the cell in an hour.
        c_rate: Entry,
        /// Temperature of the metals.
        temperature: Entry,
        /// Resistance of the coatings and the electrolyte for each cm² that faces the other electrode.
        areal_resistance: Entry,
        /// Charge-transfer resistance of a unit of the particles' surface at 25 °C, where neither figure of the whole is
        /// given.
        charge_transfer: Entry,
        /// The same for the whole cell, in the place of the areal figure.
        electrochemical: Entry,
        /// From the upper plate, or the cathode's tabs, to the positive terminal.
        cap_assembly: Entry,
        /// Where the current leaves the can: at its top, after the whole wall, or at its bottom.
        negative_at: NegativeAt,
        /// From the cathode's foil to the lid.
        cathode: CurrentCollection,
        /// From the anode's foil to the can.
        anode: CurrentCollection,
    }
}

section! {
    /// How one foil is connected.
    CurrentCollection {
        /// Along one whole edge or by tabs; tabs where the foil has no folded edge.
        feed: FeedKind,
        /// The tabs, from the core outwards.
        tabs: Vec<Tab>,
        /// Resistance of the pressed and welded edge, or of the tabs' welds on the foil, all together.
        joint: Entry,
        /// The part that gathers the edge; a metal part on that side called "... collector ..." where left out.
        plate: String,
        /// Weld spots of the edge on the plate or the can, or of the tabs on the can or the lid.
        spots: Entry,
        /// Radius of one spot.
        spot_radius: Entry,
        /// Radius of the ring on which the spots of the edge lie.
        ring_radius: Entry,
        /// The same as a share of the bore's radius.
        ring: Entry,
        /// Radius of the weld in the middle by which plate or tabs pass the current on.
        centre_weld_radius: Entry,
    }
}

section! {
    /// A strip of metal on the foil.
    Tab {
        /// Its middle, as a share of the foil's length from the core.
        at: Entry,
        /// Its width along the foil.
        width: Entry,
        /// Its thickness.
        thickness: Entry,
        /// Its length past the foil.
        length: Entry,
        /// Its metal: a material of the table.
        material: String,
        /// Across the whole width of the foil or at its edge alone.
        welded: Welded,
        /// Stretch of foil that is left bare for it, on both sides.
        uncoated: Entry,
        /// Thickness of the insulating tape over it, on each side.
        tape: Entry,
    }
}

section! {
    /// A material of the user's own, or other figures for one of the table.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["name"])))]
    Material {
        /// Its name; that of a material of the table changes that one in this sheet.
        name: String,
        /// What it does in a cell.
        role: Role,
        /// Measured composition of a cathode active material. What the entries below leave out then comes from the
        /// table's nearest.
        metals: Metals,
        /// Chemical formula, for the ledger of elements: "LiMn0.6Fe0.4PO4".
        formula: String,
        /// True density.
        density: Entry,
        /// Practical reversible capacity, over the window of its curve.
        capacity: Entry,
        /// Initial coulombic efficiency.
        initial_coulombic_efficiency: Entry,
        /// Resistivity of a metal at 20 °C.
        resistivity: Entry,
        /// Volume that a host gains from free of lithium to full.
        expansion: Entry,
        /// Half-cell potential: pairs of stoichiometry and volts against lithium (against sodium for its hosts).
        curve: Vec<(f64, f64)>,
        /// Stoichiometries that the practical capacity stands for, [low, high]; points of the curve beyond them continue it.
        /// The whole curve where left out.
        window: Vec<f64>,
        /// Error of its half-cell potential: a shift with its uncertainty, "0 ± 15 mV"; "0 mV" takes the curve as exact.
        potential: Entry,
        /// How long the curve's continuation past its window is, over what the table states: "1 ± 0.3".
        extension: Entry,
        /// Anything worth keeping.
        remark: String,
    }
}
