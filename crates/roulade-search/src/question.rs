//! The question of a search.

use roulade::quantity::problem::Problems;
use roulade::section;
use roulade::sheet::{Sheet, read};
use roulade::study::form_factors::asked::HoldEntries;

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
        hold: HoldEntries,
        /// Seed of the random numbers; the same seed finds the same.
        seed: u32,
        /// How many designs are tried for each of the two answers.
        trials: u32,
    }
}

impl SearchQuestion {
    /// Reads the question of a search from JSON text.
    ///
    /// # Errors
    /// Where the text is no JSON, with line and column; or every place where its shape is not that of such a question.
    pub fn parse(json: &str) -> Result<Self, Problems> {
        read::text(
            json,
            "a question, {\"free\": [{\"key\": …, \"from\": …, \"to\": …}], \"keep\": […], \"best\": \"volumetric\"}",
        )
    }
}
