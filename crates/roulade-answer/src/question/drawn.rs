//! Questions that are answered by drawing at random.

use roulade::section;
use roulade::sheet::Sheet;

section! {
    /// The question of how far a cell's figures spread, or those of two cells, drawn at random.
    SampledQuestion {
        /// The sheet.
        sheet: Sheet,
        /// A second sheet, to be compared with it.
        second: Sheet,
        /// Figures by their ids; those that come first where left out.
        figures: Vec<String>,
        /// How many draws; 100 000 where left out.
        draws: u32,
        /// Seed of the draws; 1 where left out.
        seed: u32,
    }
}

section! {
    /// The question of a figure's sensitivity.
    SensitivityQuestion {
        /// The sheet.
        sheet: Sheet,
        /// A second sheet: the figure is then what lies between the two.
        second: Sheet,
        /// The figure by its id; "volumetric" where left out.
        figure: String,
        /// How many draws for Sobol's indices; shares of first order alone where left out.
        draws: u32,
        /// Seed of the draws; 1 where left out.
        seed: u32,
    }
}
