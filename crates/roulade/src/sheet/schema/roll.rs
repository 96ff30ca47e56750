//! The jelly roll: winding, electrodes, separator, electrolyte, and the voltages between which it works.

use crate::sheet::Entry;
use crate::sheet::section::sheet_section as section;

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
        /// Exponent α by which the tortuosity follows from the porosity ε, τ = ε^−α.
        tortuosity_exponent: Entry,
        /// Radius of an active particle.
        particle_radius: Entry,
        /// Diffusion coefficient of lithium in it at 25 °C.
        solid_diffusion: Entry,
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
        /// Exponent α by which the tortuosity follows from the porosity ε, τ = ε^−α.
        tortuosity_exponent: Entry,
        /// Radius of an active particle.
        particle_radius: Entry,
        /// Diffusion coefficient of lithium in it at 25 °C.
        solid_diffusion: Entry,
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
        /// Exponent α by which its tortuosity follows from the porosity ε, τ = ε^−α.
        tortuosity_exponent: Entry,
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
        /// Diffusion coefficient of the salt in it at 25 °C.
        salt_diffusion: Entry,
        /// Share of the current that the lithium ions carry.
        transference_number: Entry,
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
    /// By how much an opened cell differs from the cell as built, beside what follows from its design: for readings that were
    /// taken in another state.
    Opened {
        /// By how much of its thickness a cathode's coating springs back from the press as it is wetted and cycled first.
        cathode_spring_back: Entry,
        /// The same of an anode's coating, without its lithium.
        anode_spring_back: Entry,
        /// Growth of an anode's coating by its lithium over that which is computed.
        swelling: Entry,
        /// Mass of the film on the anode, besides the lithium in it, for the capacity that was lost in it.
        film: Entry,
        /// Residue of unwashed pores over the salt that was in them.
        residue: Entry,
        /// Share of the electrolyte that evaporates from an open cell before it is weighed.
        evaporated: Entry,
    }
}
