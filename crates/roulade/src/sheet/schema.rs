//! What a design sheet holds: the sections and keys of one JSON file per cell, every quantity a text with its unit.
//!
//! Nothing is judged here but the shape of the file. Keys nobody knows are kept, so that the reader can name them all.

mod current_path;
mod hardware;
mod material;
mod roll;

pub use current_path::{CurrentCollection, CurrentPath, Tab};
pub use hardware::{Can, Part, Sleeve};
pub use material::{Material, Metals};
pub use roll::{
    Anode, Cathode, Electrolyte, Foil, Mixed, Opened, Prelithiation, Separator, Voltage, Winding,
};

use super::section::sheet_section as section;
use super::{Collection, Entry};

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
        /// What readings of an opened cell show otherwise than the cell as built.
        opened: Opened,
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
