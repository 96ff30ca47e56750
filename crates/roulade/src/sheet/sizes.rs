//! The questions of other sizes: a map over diameter and height, and a sweep along one input or two.

use super::{Shape, Sheet, Unknown, shape};
use serde::ser::{Serialize, SerializeMap, Serializer};

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
    /// What stays as it is where a recipe goes into another can. What is left out stays as the sheet has it.
    Hold {
        /// Wall thickness, or "with the diameter".
        wall: String,
        /// Bottom thickness.
        bottom: String,
        /// Core diameter.
        core_diameter: String,
        /// Mean gap between roll and wall.
        radial_gap: String,
        /// Empty height above the roll.
        head_space: String,
        /// Masses and volumes of parts: "with the bore", or "as they are".
        parts: String,
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
        hold: Hold,
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
        hold: Hold,
    }
}

section! {
    /// One input of a sweep.
    Along {
        /// Its key in the sheet.
        key: String,
        /// Where it begins, with its unit.
        from: String,
        /// Where it ends, with its unit.
        to: String,
        /// How many steps it is walked in.
        steps: u32,
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
        hold: Hold,
        /// Figures, by id.
        figures: Vec<String>,
    }
}

section! {
    /// An input that a search may choose, and between what.
    Free {
        /// Its key in the sheet.
        key: String,
        /// One end, with its unit.
        from: String,
        /// The other.
        to: String,
    }
}

section! {
    /// A figure that a search must keep within bounds.
    Keep {
        /// Its id.
        figure: String,
        /// It is this or more, with its unit.
        at_least: String,
        /// It is this or less.
        at_most: String,
    }
}

section! {
    /// The search for the best design within ranges and constraints.
    SearchQuestion {
        /// Anything worth keeping.
        remark: String,
        /// The sheet.
        sheet: Sheet,
        /// What may be chosen.
        free: Vec<Free>,
        /// What must be kept.
        keep: Vec<Keep>,
        /// The figure to make as great as can be, by id; "least mass" to make one small.
        best: String,
        /// A second such figure: the trade-off between the two is found too.
        against: String,
        /// What is held where the can changes its size.
        hold: Hold,
        /// Seed of the random numbers; the same seed finds the same.
        seed: u32,
        /// How many designs are tried for each of the two answers.
        trials: u32,
    }
}
