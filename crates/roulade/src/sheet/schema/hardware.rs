//! The can, what is around it, and the parts inside.

use crate::sheet::section::sheet_section as section;
use crate::sheet::{Counts, Entry, Place};

section! {
    /// The bare can: its size by name, or its dimensions.
    Can {
        /// The size's name, diameter × height in whole millimetres: "18 × 65", or "18650". Real cans differ from it by some tenths.
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
        /// Share of the room it takes (its height times the area inside the can) that is solid.
        solid_fraction: Entry,
        /// Anything worth keeping.
        remark: String,
    }
}
