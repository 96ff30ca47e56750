//! How the current leaves the foils and reaches the terminals.

use crate::sheet::section::sheet_section as section;
use crate::sheet::{Entry, FeedKind, NegativeAt, Welded};

section! {
    /// How the current leaves the foils and reaches the terminals.
    CurrentPath {
        /// Discharge rate: 1 C empties the cell in an hour.
        c_rate: Entry,
        /// Temperature around the cell, and of the cell as a discharge begins.
        temperature: Entry,
        /// Heat that leaves each area of the can's outside for each kelvin above that.
        heat_transfer: Entry,
        /// Rise of temperature that a continuous discharge is allowed.
        allowed_rise: Entry,
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
        /// The same as a share of the can's inner radius.
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
