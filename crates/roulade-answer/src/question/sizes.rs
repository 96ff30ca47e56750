//! The questions of other sizes: a map over diameter and height, and a sweep along one input or two.

use roulade::section;
use roulade::sheet::Sheet;
use roulade::study::form_factors::asked::{Along, HoldEntries};

section! {
    /// A stretch of one quantity.
    Span {
        /// Where it begins, with its unit.
        from: String,
        /// Where it ends, with its unit.
        to: String,
        /// How many steps it is walked in; one value more than steps.
        steps: u32,
    }
}

section! {
    /// The recipe of a sheet in cans of other diameters and heights.
    MapQuestion {
        /// The sheet.
        sheet: Sheet,
        /// Outer diameters.
        diameter: Span,
        /// Outer heights.
        height: Span,
        /// What is held.
        hold: HoldEntries,
        /// Figures, by id.
        figures: Vec<String>,
    }
}

section! {
    /// A sheet in a can of another size.
    ResizeQuestion {
        /// The sheet.
        sheet: Sheet,
        /// Outer diameter of the other can.
        diameter: String,
        /// Its outer height.
        height: String,
        /// What is held.
        hold: HoldEntries,
    }
}

section! {
    /// A cell along one input, or over two.
    SweepQuestion {
        /// The sheet.
        sheet: Sheet,
        /// One input or two.
        along: Vec<Along>,
        /// What is held where the can changes its size; the sizes of the can are held to it without this too.
        hold: HoldEntries,
        /// Figures, by id.
        figures: Vec<String>,
    }
}
